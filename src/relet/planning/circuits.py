"""Kinds of circuit an assembly may hold: an outlet and the device that feeds it, and which machines each suits."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass

from relet.codes import Code
from relet.errors import OutsideTable
from relet.model import Catalogue, Part
from relet.planning.costs import Costs
from relet.planning.needs import RCD_TYPES, Need
from relet.planning.parts import (
    datum,
    inc_a,
    ip_codes,
    of_kind,
    outlets_for,
    phases_of,
    poles_fit,
    same_range,
    whole,
)
from relet.planning.pieces import device as a_device
from relet.planning.pieces import outlet as an_outlet
from relet.tables.protection import mcb_magnetic


@dataclass(frozen=True)
class Circuit:
    """An outlet behind a device.

    inc_a     rated current of the circuit in an assembly, A
    gangs     plugs it takes;  total_a  current of all of them together
    idn_ma    residual current of its own device, 0 without one
    """

    outlet: Part
    device: Part
    inc_a: float
    gangs: int
    total_a: float
    idn_ma: float

    @property
    def id(self) -> str:
        """Name in the programme: "outlet+device"."""
        return f"{self.outlet.id}+{self.device.id}"

    @property
    def apertures(self) -> int:
        """Openings it takes on the face."""
        return whole(self.outlet, "apertures")

    @property
    def ways(self) -> int:
        """Modules it takes on the rail."""
        return whole(self.device, "ways")

    @property
    def phases(self) -> int:
        """1 or 3."""
        return phases_of(self.outlet.data.get("poles"))


DEMANDS = ("plug", "current", "residual required", "residual type", "leakage", "interlock")
"""What a machine demands of its circuit; `relet.planning.lacking` tells which of them no part meets."""


def circuits_for(
    need: Need, catalogue: Catalogue, code: Code, costs: Costs, arrangement: str, without: frozenset[str] = frozenset()
) -> list[Circuit]:
    """Circuits that suit a machine, the cheapest device for each outlet and each way of protecting it; cheapest first.

    Which rules are looked at here: plug and poles, current, residual current where the code asks for it and its type,
    standing current, interlock and its duty, inrush. The checks have the last word on all of them.

    without  DEMANDS that are not looked at, to find out which one no part meets
    """
    out: list[tuple[float, Circuit]] = []
    for o in outlets_for(need, catalogue, plug="plug" not in without, current="current" not in without):
        if not costs.known(o.id) or not ("interlock" in without or _switch_suits(need, o, code)):
            continue
        best: dict[str, tuple[float, Circuit]] = {}
        for d in _devices(need, o, catalogue, code, arrangement, without):
            if not costs.known(d.id):
                continue
            c = circuit(o, d, code)
            if "current" not in without and c.inc_a + 1e-9 < need.heats_a:
                continue
            if c.idn_ma and "leakage" not in without and not _quiet(need, c, code):
                continue
            price = circuit_price(c, costs)
            if d.kind not in best or (price, -datum(d, "in_a"), d.id) < _order(best[d.kind]):
                best[d.kind] = (price, c)
        out += best.values()
    return [c for _, c in sorted(out, key=lambda e: (e[0], e[1].id))]


def circuit(outlet: Part, device: Part, code: Code) -> Circuit:
    """A kind of circuit from its two parts."""
    share = float(code.limit("rt_share_of_free_air"))
    gangs = max(1, whole(outlet, "gangs"))
    total = datum(outlet, "total_a") or datum(outlet, "in_a")
    inc = inc_a(outlet, device, share)
    return Circuit(outlet, device, inc, gangs, min(total, datum(device, "in_a")), datum(device, "idn_ma"))


def circuit_price(c: Circuit, costs: Costs) -> float:
    """Price of putting one such circuit in."""
    return outlet_price(c.outlet, costs) + device_price(c.device, costs) + costs.test


def outlet_price(part: Part, costs: Costs) -> float:
    """Price of putting one outlet in."""
    return costs.put_in(an_outlet("design.t", "A/face/1", part, "A/rail/1"))


def device_price(part: Part, costs: Costs) -> float:
    """Price of putting one device in."""
    return costs.put_in(a_device("design.t", "A/rail/1", part))


def _order(e: tuple[float, Circuit]) -> tuple[float, float, str]:
    return (e[0], -datum(e[1].device, "in_a"), e[1].device.id)


def _devices(
    need: Need, o: Part, catalogue: Catalogue, code: Code, arrangement: str, without: frozenset[str]
) -> list[Part]:
    socket = o.data.get("outlet") in ("60309", "1363")
    guarded = socket and datum(o, "in_a") <= float(code.limit("socket_rcd_up_to_a"))
    guarded = guarded and "residual required" not in without
    least_a = 0.0 if "current" in without else need.ib_a
    most_ma = float(code.limit("socket_rcd_idn_ma"))
    most_a = max(datum(o, "in_a"), datum(o, "total_a"))
    out = []
    for d in of_kind(catalogue, "mcb", "rcbo"):
        if not poles_fit(o, d) or not least_a <= datum(d, "in_a") <= most_a or not same_range(o, d):
            continue
        if not d.data.get("isolates"):
            continue
        if arrangement == "one incoming device":
            if d.kind == "mcb":
                out.append(d)
            continue
        if guarded and (d.kind != "rcbo" or datum(d, "idn_ma") > most_ma):
            continue
        if d.kind == "rcbo" and "residual type" not in without and not covers(d, need.rcd_type):
            continue
        out.append(d)
    calm = [d for d in out if _stands_the_start(need, d)]
    return calm or out


def covers(device: Part, rcd_type: str) -> bool:
    """True if the device's type of residual current suits loads that ask for a type."""
    have = str(device.data.get("rcd_type", ""))
    return have in RCD_TYPES and RCD_TYPES.index(have) >= RCD_TYPES.index(rcd_type)


def _quiet(need: Need, c: Circuit, code: Code) -> bool:
    return need.leak_ma <= float(code.limit("standing_share")) * c.idn_ma + 1e-9


def _stands_the_start(need: Need, d: Part) -> bool:
    try:
        low = mcb_magnetic(str(d.data.get("curve", ""))).low
    except OutsideTable:
        return True
    return low is None or need.start_a <= float(low) * datum(d, "in_a") + 1e-9


def _switch_suits(need: Need, o: Part, code: Code) -> bool:
    """Above the rated current from which a plug may not be the switch: an interlock whose duty suits the load."""
    if o.data.get("outlet") == "1363":
        return True
    over = datum(o, "in_a") > float(code.limit("interlock_over_a"))
    if o.data.get("outlet") == "60309" and over and not o.data.get("interlocked"):
        return False
    duty = str(o.data.get("category", ""))
    if (over or o.data.get("interlocked")) and need.motor_w > float(code.limit("ac23_motor_over_w")):
        return duty == "AC-23A"
    return not over or bool(duty)


def thin_out(found: Mapping[str, Sequence[Circuit]], costs: Costs) -> dict[str, tuple[Circuit, ...]]:
    """For each need the circuits worth a place in the programme.

    A circuit is worth one if, for some need, none that is cheaper does as much in every respect. One that is worth it
    for nobody could only help by being shared by needs none of which would choose it alone; it is left out.
    """
    price = {c.id: circuit_price(c, costs) for several in found.values() for c in several}
    pool: set[str] = set()
    for several in found.values():
        pool |= {c.id for c in several if not any(_does_all(b, c) and _before(b, c, price) for b in several)}
    out = {}
    for need, several in found.items():
        kept = [c for c in several if c.id in pool]
        out[need] = tuple(
            c for c in kept if not any(_does_all(b, c) and price[b.id] * DEARER < price[c.id] for b in kept)
        )
    return out


DEARER = 1.5
"""Above this ratio of price no sharing with another tenant makes up for the dearer of two circuits."""


def _before(b: Circuit, c: Circuit, price: Mapping[str, float]) -> bool:
    return (price[b.id], b.id) < (price[c.id], c.id)


def _does_all(b: Circuit, c: Circuit) -> bool:
    """True if b does all that c does and takes no more room."""
    return (
        b.apertures <= c.apertures
        and b.ways <= c.ways
        and set(ip_codes(b.outlet)) >= set(ip_codes(c.outlet))
        and b.inc_a >= c.inc_a
        and b.total_a >= c.total_a
        and b.gangs >= c.gangs
    )
