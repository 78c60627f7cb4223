"""Why the catalogue holds no circuit for a machine: the fewest demands that cannot be met together, by name."""

from __future__ import annotations

from relet.codes import Code
from relet.model import Catalogue
from relet.planning.circuits import DEMANDS, circuits_for
from relet.planning.costs import Costs
from relet.planning.needs import Need

PARTS = "parts of the catalogue and the price book"


def why_none(need: Need, catalogue: Catalogue, code: Code, costs: Costs, arrangement: str) -> tuple[str, ...]:
    """The demands on a circuit for this machine that clash with the parts at hand: without any one of them there is
    a circuit (deletion filter). Only the parts, if nothing at all suits."""
    dropped: set[str] = set()
    kept = list(DEMANDS)
    if not circuits_for(need, catalogue, code, costs, arrangement, without=frozenset(DEMANDS)):
        return (f"{PARTS}: no outlet with a device for {need.phases} phase{'s' if need.phases > 1 else ''}",)
    for demand in DEMANDS:
        if not circuits_for(need, catalogue, code, costs, arrangement, without=frozenset({*dropped, demand})):
            dropped.add(demand)
            kept.remove(demand)
    return (PARTS, *(_words(need, d) for d in kept))


def _words(need: Need, demand: str) -> str:
    rated = f"{need.plug.in_a:g} A" if need.plug.in_a else need.plug.form
    return {
        "plug": f"the plug of {need.id}" + (f" ({rated})" if rated else ""),
        "current": f"assembly.circuit_rating: {need.id} draws {need.ib_a:.1f} A",
        "residual required": f"protection.residual_current_required: {need.id}",
        "residual type": f"protection.residual_current_type: {need.id} asks for type {need.rcd_type}",
        "leakage": f"protection.standing_leakage: {need.id} leaks {need.leak_ma:g} mA",
        "interlock": f"assembly.interlock: {need.id}",
    }[demand]
