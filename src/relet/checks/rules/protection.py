"""Residual current: required, type, rating, standing current, selectivity. Inrush against the magnetic band."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from typing import Final

from relet.checks import things
from relet.checks.counting import NONE, ONE, count
from relet.checks.facts import Missing
from relet.checks.findings import Judged, NotApplicable, at_least, at_most, worst
from relet.checks.loads import Drawn, below
from relet.checks.loops import band
from relet.checks.register import family, rule
from relet.checks.study import Study
from relet.codes import Code
from relet.electrical.impedance import total
from relet.electrical.topology import holder
from relet.model import Seat
from relet.tables.protection import rcd_type_covers
from relet.working import Figure, Formula, Word, choose, fact

SHARE_OF_IDN = Formula("Imax = share * IdN", "mA", share="", IdN="mA", source="share of the rated residual current")
RATIO = Formula("ratio = IdNup / IdN", "", IdNup="mA", IdN="mA", source="two residual-current devices in series")
STARTING = Formula("Istart = m * Ib", "A", m="", Ib="A", source="starting current as a multiple of running current")
INRUSH = Formula("I = Istart + Irest", "A", Istart="A", Irest="A", source="largest start last, the rest running")
LEAST_SOCKET: Final = Word("A", "method.least_type", "chosen", "least type on a path to a socket-outlet")
NOT_YET: Final = fact("method.nothing_runs", 0.0, "A", "chosen", "nothing else runs there", name="Irest")


# ---------- required ----------


@dataclass(frozen=True, slots=True)
class Socket:
    """A socket-outlet: its rated current and the residual-current devices in its path."""

    seat: str
    rated: Figure
    idn: tuple[Figure, ...]


def _outlets(study: Study) -> Iterable[str]:
    return tuple(study.case.installation.outlets)


@family("socket", subjects=_outlets, none="there is no outlet")
def socket(study: Study, subject: str) -> Socket | NotApplicable:
    """An outlet with every residual-current device above it."""
    seat = Seat(subject)
    if things.is_fixed(study, seat):
        return NotApplicable("a fixed connection, no socket-outlet")
    if not study.feeds.fed(seat):
        raise Missing(f"{things.prefix(study)}.runs", f"the run that feeds {holder(study.feeds.path(seat)[0])}")
    rated = study.facts.number(things.outlet(study, seat), "in_a", "A", name="In")
    idn = tuple(
        study.facts.number(things.device(study, s), "idn_ma", "mA", name="IdN")
        for s in things.residual_above(study, seat)
    )
    return Socket(subject, rated, idn)


@rule("protection.residual_current_required")
def residual_required(c: Socket, code: Code) -> Judged | NotApplicable:
    """Every socket-outlet up to the rated current of the code is behind additional protection. No exception."""
    if c.rated > code.limit("socket_rcd_up_to_a"):
        return NotApplicable(
            f"a {float(c.rated):g} A socket-outlet is above {float(code.limit('socket_rcd_up_to_a')):g} A"
        )
    limit = code.limit("socket_rcd_idn_ma")
    rests = (c.rated, code.limit("socket_rcd_up_to_a"))
    if not c.idn:
        none = count(0, "residual-current devices in the path to the outlet", rests)
        return at_least(none, ONE, "The outlet has no residual-current device in its path.", rests=(*rests, limit))
    least = choose(c.idn, min, "most sensitive device in the path", name="IdN")
    return at_most(least, limit, "Rated residual current of the most sensitive device before the outlet.", rests=rests)


# ---------- every residual-current device ----------


@dataclass(frozen=True, slots=True)
class Residual:
    """A residual-current device and all that hangs on it.

    upstream     rated current of the overcurrent device (or cut-out) that protects it, None for one with its own
    above        the next residual-current device upstream, with IdN and delay
    """

    seat: str
    kind: str
    idn: Figure
    type: Word
    rated: Figure
    upstream: Figure | None
    outgoing: Figure | None
    above: tuple[str, Figure, Word] | None
    loads: tuple[Drawn, ...]
    sockets: int


def _residuals(study: Study) -> Iterable[str]:
    return tuple(s for s in study.case.installation.devices if things.is_residual(study, s) and study.feeds.fed(s))


@family("residual", subjects=_residuals, none="there is no residual-current device")
def residual(study: Study, subject: str) -> Residual:
    """A residual-current device with its neighbours and loads."""
    seat = Seat(subject)
    owner, kind = things.device(study, seat), things.device_kind(study, seat)
    f, i = study.facts, study.case.installation
    upstream = outgoing = None
    if kind == "rccb":
        before = things.device_above(study, seat)
        supply = things.supply(study)
        upstream = (
            things.in_a(study, before) if before is not None else f.number(supply, "cut_out_fuse_a", "A", name="In")
        )
        out = [things.in_a(study, s) for s in _next_devices(study, seat)]
        if out and f.yes(owner, "sum_rated"):
            outgoing = total(out, "In", "sum of the outgoing devices, which its maker allows")
    above = None
    for s in things.residual_above(study, seat):
        o = things.device(study, s)
        above = (s, f.number(o, "idn_ma", "mA", name="IdNup"), f.word(o, "rcd_delay"))
        break
    sockets = sum(1 for s in study.feeds.below(seat) if s in i.outlets and not things.is_fixed(study, s))
    return Residual(
        subject, kind, f.number(owner, "idn_ma", "mA", name="IdN"), f.word(owner, "rcd_type"), things.in_a(study, seat),
        upstream, outgoing, above, below(study, seat), sockets,
    )  # fmt: skip


def _next_devices(study: Study, seat: Seat) -> list[Seat]:
    """Overcurrent devices straight below, no other overcurrent device between."""
    out, stack = [], list(study.feeds.children.get(seat, ()))
    while stack:
        s = stack.pop()
        if things.is_overcurrent(study, s):
            out.append(s)
        else:
            stack.extend(study.feeds.children.get(s, ()))
    return sorted(out)


@rule("protection.residual_current_type")
def residual_type(c: Residual, code: Code) -> Judged | NotApplicable:
    """The type of the device suits every load below it, directly or behind another device; AC never before a socket."""
    needed = [(d.name, d.rcd_type) for d in c.loads]
    if c.sockets:
        needed.append(("any plug in a socket-outlet", LEAST_SOCKET))
    if not needed:
        return NotApplicable("nothing hangs on it")
    short = [name for name, t in needed if not rcd_type_covers(str(c.type), str(t))]
    words = f"Loads that a type {c.type} device does not suit" + (f": {', '.join(short)}." if short else ".")
    given = (c.type.figure, *(t.figure for _, t in needed))
    return at_most(count(len(short), "loads whose type is not covered", given), NONE, words)


@rule("protection.residual_current_rating")
def residual_rating(c: Residual, code: Code) -> Judged | NotApplicable:
    """The rated current is not below the device upstream, or the sum of the outgoing ones where its maker allows."""
    if c.upstream is None:
        return NotApplicable("it has an overcurrent part of its own")
    by_upstream = at_least(c.rated, c.upstream, "Rated current of the device against the overcurrent device upstream.")
    if c.outgoing is None:
        return by_upstream
    by_sum = at_least(c.rated, c.outgoing, "Rated current of the device against the sum of its outgoing devices.")
    return by_sum if by_sum.margin > by_upstream.margin else by_upstream


@rule("protection.standing_leakage")
def standing_leakage(c: Residual, code: Code) -> Judged | NotApplicable:
    """Standing protective-conductor currents take no more than their share of the rated residual current."""
    if not c.loads:
        return NotApplicable("nothing is known to hang on it")
    standing = total([d.leak_ma for d in c.loads], "Ileak", "arithmetic sum of standing currents")
    limit = SHARE_OF_IDN(code.limit("standing_share"), c.idn)
    return at_most(standing, limit, "Standing protective-conductor current of everything on the device.")


@rule("protection.selectivity_residual")
def selectivity_residual(c: Residual, code: Code) -> Judged | NotApplicable:
    """Two residual-current devices in series: the upper one is less sensitive by the ratio and delayed."""
    if c.above is None:
        return NotApplicable("no other residual-current device in its path")
    seat, idn_up, delay = c.above
    ratio = at_least(
        RATIO(idn_up, c.idn), code.limit("rcd_grading_ratio"), f"Rated residual current of {seat} against this one.",
        rests=(delay.figure,),
    )  # fmt: skip
    delayed = count(int(delay == "S"), f"delayed devices (type S) among {seat}", (delay.figure,))
    return worst(ratio, at_least(delayed, ONE, f"{seat}, upstream, must be delayed (type S)."))


# ---------- inrush ----------


@dataclass(frozen=True, slots=True)
class Inrush:
    """An overcurrent device and the greatest current that flows through it without any fault."""

    seat: str
    bears: Figure
    largest: str
    peak: Figure
    rests: tuple[Figure, ...]


def _breakers(study: Study) -> Iterable[str]:
    return tuple(s for s in study.case.installation.devices if things.is_overcurrent(study, s) and study.feeds.fed(s))


@family("inrush", subjects=_breakers, none="there is no overcurrent device")
def inrush(study: Study, subject: str) -> Inrush | NotApplicable:
    """The largest start with everything else running, line by line."""
    seat = Seat(subject)
    loads = below(study, seat)
    starting = [d for d in loads if d.start_multiple > 1 and d.lines]
    if not starting:
        return NotApplicable("nothing below it starts with more than its running current")
    b = band(study, seat)
    fuse = things.device_kind(study, seat) == "fuse-switch"
    bears = b.fast[0].current if fuse else b.instant_low_a
    best: tuple[Figure, str] | None = None
    for d in starting:
        for line in d.lines:
            rest = [x.current_a for x in loads if x is not d and line in x.lines]
            through = total(rest, "Irest", "the rest as it runs, arithmetic sum") if rest else NOT_YET
            peak = INRUSH(STARTING(d.start_multiple, d.current_a), through)
            if best is None or peak > best[0]:
                best = (peak, d.name)
    if best is None:
        raise Missing(f"{seat}", "a line")
    rests = () if fuse else (things.curve(study, seat).figure,)
    return Inrush(subject, bears, best[1], best[0], rests)


@rule("protection.inrush")
def inrush_rule(c: Inrush, code: Code) -> Judged:
    """No start trips the device: the current stays below the lower edge of its magnetic band."""
    return at_most(c.peak, c.bears, f"Current while {c.largest} starts, against what the device bears.", rests=c.rests)
