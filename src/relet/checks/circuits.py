"""Which class a circuit is of, derived from the topology and printed."""

from __future__ import annotations

from dataclasses import dataclass

from relet.checks import things
from relet.checks.study import Study, kept
from relet.model import Seat
from relet.working import Figure


@dataclass(frozen=True, slots=True)
class CircuitClass:
    """Class of the circuit that ends at a seat.

    words   "final circuit with socket-outlets up to 63 A", ...
    within  longest disconnection time, s
    """

    words: str
    within: Figure
    rests: tuple[Figure, ...]


@kept
def circuit_class(study: Study, seat: Seat) -> CircuitClass:
    """A feed to one outlet or load is a final circuit; one to an assembly or board with outgoing devices of its own,
    and a tapped run, is a distribution circuit."""
    i, code = study.case.installation, study.code
    earthing = study.facts.word(things.supply(study), "earthing")
    system = "TT" if earthing == "TT" else "TN"
    rests: tuple[Figure, ...] = (earthing.figure,)
    if seat in i.runs and feeds_devices(study, seat):
        return CircuitClass("distribution circuit", code.limit("disconnection_s", f"{system} distribution"), rests)
    above = things.device_above(study, seat)
    assert above is not None
    rated = things.in_a(study, above)
    socket = things.has_socket(study, seat)
    scope = code.limit("disconnection_scope_a", "socket" if socket else "fixed")
    what = "socket-outlets" if socket else "fixed equipment only"
    rests = (*rests, rated, scope)
    if rated <= scope:
        words = f"final circuit with {what}, up to {float(scope):g} A"
        return CircuitClass(words, code.limit("disconnection_s", f"{system} final"), rests)
    words = f"final circuit with {what}, above {float(scope):g} A"
    return CircuitClass(words, code.limit("disconnection_s", f"{system} distribution"), rests)


def feeds_devices(study: Study, seat: Seat) -> bool:
    """True if a run has overcurrent devices of other circuits downstream."""
    return any(things.is_overcurrent(study, s) for s in study.feeds.below(seat)) or any(
        s in study.case.installation.taps for s in study.feeds.children.get(seat, ())
    )
