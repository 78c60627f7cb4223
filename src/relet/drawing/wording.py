"""What is held about a piece, in the short words of a drawing: "B or C 32 A", "14 to 22 m", "? mm2" for unknown.

Only words: nothing is computed or judged here.
"""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass

from relet.model import (
    Assembly,
    Between,
    Board,
    Catalogue,
    Device,
    Exactly,
    FixedLoad,
    Held,
    Machine,
    OneOf,
    Open,
    Outlet,
    Part,
    Piece,
    Run,
    Scalar,
    Supply,
    Tap,
)
from relet.schedules.numbers import JOIN
from relet.schedules.numbers import number as number_text


@dataclass(frozen=True, slots=True)
class Words:
    """Words for a drawing; doubt: part of it is not known for certain."""

    text: str
    doubt: bool = False


def part_of(piece: Piece, catalogue: Catalogue) -> Part | None:
    """The catalogue part of a piece, None for one that the catalogue does not hold."""
    return catalogue.parts.get(piece.part)


def held(piece: Piece | FixedLoad | Machine | Supply, name: str, catalogue: Catalogue | None = None) -> Held | None:
    """What is held about one fact: the piece's own claim, else its part's data, else None."""
    if name in piece.facts:
        return piece.facts[name].holds
    if catalogue is not None and isinstance(piece, Piece):
        part = part_of(piece, catalogue)
        if part is not None and name in part.data:
            return Exactly(part.data[name])
    return None


def exact(h: Held | None) -> Scalar | None:
    """The value where exactly one is held."""
    return h.value if isinstance(h, Exactly) else None


def number(piece: Piece | Machine, name: str, catalogue: Catalogue | None, otherwise: float) -> float:
    """A number where exactly one is held (the middle of a range), for drawing only."""
    h = held(piece, name, catalogue)
    if isinstance(h, Between):
        return (h.low + h.high) / 2
    v = exact(h)
    return float(v) if isinstance(v, int | float) and not isinstance(v, bool) else otherwise


def plain_number(v: Scalar) -> str:
    """A number without needless noughts; words as they are."""
    return number_text(v) if isinstance(v, float | int) and not isinstance(v, bool) else str(v)


def say(h: Held | None, unit: str = "", *, missing: str = "?") -> Words:
    """A held value with its unit."""
    tail = f"{JOIN}{unit}" if unit else ""
    match h:
        case Exactly():
            return Words(plain_number(h.value) + tail)
        case Between():
            return Words(f"{number_text(h.low)} to {number_text(h.high)}{tail}", True)
        case OneOf():
            return Words(" or ".join(plain_number(o) for o in h.options) + tail, True)
        case Open():
            return Words("?" + tail, True)
        case None:
            return Words(missing + tail if missing else "", bool(missing))


def join(words: Iterable[Words], by: str = " ") -> Words:
    """Several words in a row; empty ones left out."""
    some = [w for w in words if w.text]
    return Words(by.join(w.text for w in some), any(w.doubt for w in some))


def kind_of(piece: Piece, catalogue: Catalogue) -> str:
    """Kind of part: that of the catalogue, else the generic name the file gives."""
    part = part_of(piece, catalogue)
    return part.kind if part is not None else piece.part


def device_words(d: Device, catalogue: Catalogue) -> tuple[Words, Words]:
    """Rating line and residual-current line: "B 32 A 3P", "30 mA type A"."""
    kind = kind_of(d, catalogue)
    bends = kind in ("mcb", "rcbo", "fuse-switch", "mccb")
    curve = say(held(d, "curve", catalogue), missing="?" if kind in ("mcb", "rcbo") else "") if bends else Words("")
    rating = join((curve, say(held(d, "in_a", catalogue), "A"), _poles(d, catalogue)))
    if kind in ("rcbo", "rccb"):
        idn = say(held(d, "idn_ma", catalogue), "mA")
        delay = exact(held(d, "rcd_delay", catalogue))
        kinds = say(held(d, "rcd_type", catalogue))
        late = Words("" if delay in (None, "general") else str(delay))
        return rating, join((idn, Words(f"type {kinds.text}", kinds.doubt), late))
    category = held(d, "category", catalogue)
    return rating, say(category, missing="") if kind in ("switch", "contactor") else Words("")


def _poles(d: Device, catalogue: Catalogue) -> Words:
    h = held(d, "poles", catalogue)
    return say(OneOf(tuple(f"{o}P" for o in h.options)) if isinstance(h, OneOf) else _with_p(h), missing="")


def _with_p(h: Held | None) -> Held | None:
    return Exactly(f"{plain_number(h.value)}P") if isinstance(h, Exactly) and not isinstance(h.value, str) else h


def phase_words(piece: Piece, catalogue: Catalogue) -> Words:
    """ "L2", or "" where nothing is held."""
    return say(held(piece, "phase", catalogue), missing="")


def is_button(o: Outlet, catalogue: Catalogue) -> bool:
    """A button for emergency switching off that sits in an aperture."""
    return exact(held(o, "function", catalogue)) == "emergency-switching-off"


def outlet_words(o: Outlet, catalogue: Catalogue) -> Words:
    """ "16 A 2P+E 6 h", "13 A twin", "fixed 32 A 3P+N+E"."""
    form = exact(held(o, "outlet", catalogue))
    if is_button(o, catalogue):
        return Words("button, emergency switching off")
    if form is None and part_of(o, catalogue) is None:
        return Words(o.part, True)
    if form == "1363":
        gangs = exact(held(o, "gangs", catalogue))
        size = say(held(o, "in_a", catalogue), "A", missing="")
        return join((size, Words("twin" if gangs == 2 else "single")))
    hour = held(o, "clock_h", catalogue)
    words = (
        Words("fixed" if form == "fixed" else ""),
        say(held(o, "in_a", catalogue), "A"),
        say(held(o, "poles", catalogue)),
        say(hour, "h", missing="") if form == "60309" else Words(""),
        Words("interlocked" if exact(held(o, "interlocked", catalogue)) is True else ""),
    )
    return join(words)


def run_words(r: Run, catalogue: Catalogue) -> tuple[Words, Words]:
    """Conductors and length: "4 + cpc 2.5 mm2", "14 to 22 m"; a tapped run gives its rating instead of conductors."""
    length = say(held(r, "length_m", catalogue), "m")
    if r.tapped:
        return join((Words("tapped run"), say(held(r, "in_a", catalogue), "A"))), length
    csa, cpc = say(held(r, "csa_mm2", catalogue)), held(r, "cpc_mm2", catalogue)
    earth = say(cpc, missing="")
    both = f"{csa.text} + {earth.text}" if earth.text else csa.text
    return Words(f"{both}{JOIN}mm²", csa.doubt or earth.doubt), length


def holder_words(piece: Assembly | Board, catalogue: Catalogue) -> Words:
    """ "outlet assembly 63 A IP44", "distribution board, 8 ways"."""
    if isinstance(piece, Board):
        return Words(f"distribution board, {piece.ways} ways")
    in_a, ip = held(piece, "in_a", catalogue), held(piece, "ip", catalogue)
    code = say(ip, missing="")
    return join((Words("outlet assembly"), say(in_a, "A", missing=""), Words(f"IP{code.text}" if code.text else "")))


def tap_words(t: Tap, catalogue: Catalogue) -> Words:
    """ "at 4 m"."""
    along = say(held(t, "along_m", catalogue), "m")
    return Words(f"at {along.text}", along.doubt)


def power_words(m: Machine | FixedLoad) -> Words:
    """ "2.2 kW", "1.8 to 3 kW", "7.5 kW shaft", "6 A", "? kW"."""
    if "power_w" in m.facts:
        h = m.facts["power_w"].holds
        return say(h, "W") if _top(h) < 1000 else say(_kilo(h), "kW")
    if "shaft_kw" in m.facts:
        return join((say(m.facts["shaft_kw"].holds, "kW"), Words("shaft")))
    if "current_a" in m.facts:
        return say(m.facts["current_a"].holds, "A")
    return Words(f"?{JOIN}kW", True)


def _top(h: Held) -> float:
    match h:
        case Exactly() if isinstance(h.value, int | float):
            return float(h.value)
        case Between():
            return h.high
        case _:
            return 1000.0


def _kilo(h: Held) -> Held:
    match h:
        case Exactly() if isinstance(h.value, int | float):
            return Exactly(h.value / 1000)
        case Between():
            return Between(h.low / 1000, h.high / 1000)
        case OneOf():
            return OneOf(tuple(o / 1000 if isinstance(o, int | float) else o for o in h.options))
        case _:
            return h


def assumed(m: Machine, *names: str) -> bool:
    """Whether any of these facts comes from the library of kinds or a default: written in italics."""
    return any(n in m.facts and m.facts[n].how in ("kind", "default") for n in names)
