"""Parts taken from the catalogue by their declared data, never by name. A part without a datum does not suit."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass

from relet.model import Catalogue, Part, PartKind
from relet.planning.needs import Ip, Need

NEVER_FULL = float("inf")


@dataclass(frozen=True)
class Frame:
    """An enclosure with its incomer that may hang at a place, and what its face and rail take beside incomer and spare.

    in_a  the weaker of the two
    """

    part: Part
    incomer: Part
    apertures: int
    ways: int
    in_a: float

    @property
    def id(self) -> str:
        """Name in the programme: "enclosure|incomer"."""
        return f"{self.part.id}|{self.incomer.id}"


def real(v: object) -> float:
    """A declared number; 0 where nothing is declared."""
    return float(v) if isinstance(v, int | float) and not isinstance(v, bool) else 0.0


def datum(part: Part, field: str) -> float:
    """A declared number of a part; 0 where nothing is declared."""
    return real(part.data.get(field))


def whole(part: Part, field: str) -> int:
    """A declared count of a part; 0 where nothing is declared."""
    return round(datum(part, field))


def of_kind(catalogue: Catalogue, *kinds: PartKind) -> list[Part]:
    """Parts of these kinds that declare something: generic kinds are never picked."""
    return [p for p in catalogue.parts.values() if p.kind in kinds and not p.data.get("generic")]


def ip_codes(part: Part) -> tuple[int, ...]:
    """The ingress codes that a part declares."""
    return tuple(whole(part, f) for f in ("ip", "ip_also") if f in part.data)


def phases_of(poles: object) -> int:
    """Phases of an outlet or run by its poles in words ("3P+N+E") or of a device by their number."""
    if isinstance(poles, str):
        return 3 if poles.startswith("3") else 1
    return 3 if real(poles) >= 3 else 1


def usable(total: int, spare_share: float) -> int:
    """Apertures or ways that may be used when the spare share, and at least one, stays free."""
    return max(0, int(total - max(1.0, spare_share * total) + 1e-9))


def frames(catalogue: Catalogue, phases: int, spare_share: float, arrangement: str, idn_ma: float) -> list[Frame]:
    """Enclosures with every incomer that isolates and locks off.

    The incomer is a main switch, or where one incoming device protects all a residual-current device of `idn_ma`.
    """
    poles = 4 if phases == 3 else 2
    kinds: tuple[PartKind, ...] = ("rccb",) if arrangement == "one incoming device" else ("switch",)
    incomers = [
        p for p in of_kind(catalogue, *kinds)
        if whole(p, "poles") == poles and p.data.get("isolates") and p.data.get("locks_off")
        and (kinds == ("switch",) or datum(p, "idn_ma") == idn_ma)
    ]  # fmt: skip
    out = []
    for e in of_kind(catalogue, "enclosure"):
        for i in incomers:
            if not same_range(e, i) or datum(i, "depth_mm") > (datum(e, "rail_depth_mm") or NEVER_FULL):
                continue
            in_a = min(datum(e, "in_a"), datum(i, "in_a"))
            left = usable(whole(e, "ways"), spare_share) - whole(i, "ways")
            out.append(Frame(e, i, usable(whole(e, "apertures"), spare_share), left, in_a))
    return [f for f in out if f.apertures > 0 and f.ways > 0]


def same_range(a: Part, b: Part) -> bool:
    """True unless both name a range and the ranges differ: one maker's devices are not assumed to fit another's."""
    ra, rb = a.data.get("range"), b.data.get("range")
    return ra is None or rb is None or ra == rb


def outlets_for(need: Need, catalogue: Catalogue, *, plug: bool = True, current: bool = True) -> list[Part]:
    """Outlets and fixed connections that the machine's plug fits and that carry its current there."""
    return [
        p for p in of_kind(catalogue, "outlet", "fixed-connection")
        if phases_of(p.data.get("poles")) == need.phases
        and (not plug or _plug_fits(need, p)) and (not current or _carries(need, p))
    ]  # fmt: skip


def _plug_fits(need: Need, part: Part) -> bool:
    plug, form, poles = need.plug, part.data.get("outlet"), str(part.data.get("poles", ""))
    if phases_of(poles) != need.phases:
        return False
    if plug.form == "":
        return form == "60309" or (form == "fixed" and need.ib_a > 125)
    if plug.form != form:
        return False
    if plug.form == "60309" and datum(part, "in_a") != plug.in_a:
        return False
    return plug.neutral is None or plug.form != "60309" or need.phases == 1 or ("N" in poles) == plug.neutral


def _carries(need: Need, part: Part) -> bool:
    return need.ib_a <= datum(part, "in_a") + 1e-9


def inc_a(outlet: Part, device: Part, share: float) -> float:
    """Rated current of the circuit in an assembly: declared, or a share of the weaker free-air rating, A."""
    declared = datum(outlet, "inc_a")
    free = min(datum(outlet, "in_a"), datum(device, "in_a"))
    return min(declared, datum(device, "in_a")) if declared else share * free


def poles_fit(outlet: Part, device: Part) -> bool:
    """True if the device switches what the outlet brings out: four poles for three phases with neutral."""
    poles, n = str(outlet.data.get("poles", "")), whole(device, "poles")
    if phases_of(poles) == 3:
        return n == 4 if "N" in poles else n in (3, 4)
    return n in (1, 2)


def suits_place(part: Part, ip: Ip) -> bool:
    """True if the part's declared ingress codes meet what the place asks."""
    return ip.met_by(*ip_codes(part))


def cheapest_first(parts: Iterable[Part], price: dict[str, float]) -> list[Part]:
    """Parts in order of price, those without a price left out; equal prices by part number."""
    priced = [(price[p.id], p.id, p) for p in parts if p.id in price]
    return [p for _, _, p in sorted(priced, key=lambda e: (e[0], e[1]))]
