"""Demand against the supply, and how evenly it lies on the three lines."""

from __future__ import annotations

from collections.abc import Callable, Iterable
from dataclasses import dataclass

from relet.checks import things
from relet.checks.counting import NONE, count
from relet.checks.demand import Demand, by_methods, demand, with_starts
from relet.checks.findings import Judged, NotApplicable, at_most
from relet.checks.loads import everything, voltages
from relet.checks.register import family, rule
from relet.checks.study import Study
from relet.codes import Code
from relet.electrical.currents import of_kva
from relet.electrical.topology import ORIGIN
from relet.model import Seat
from relet.working import Figure, choose


@dataclass(frozen=True, slots=True)
class Supply:
    """The supply with everything that draws from it.

    limits   what may not be passed, A per line, by name
    methods  the three methods beside one another and the two cases with starts, made when they are shown
    misfits  machines that ask for three lines of a supply that has one
    """

    three: bool
    misfits: tuple[str, ...]
    draws: bool
    demand: Demand
    limits: tuple[tuple[str, Figure], ...]
    methods: Callable[[], tuple[tuple[str, Figure], ...]]


def _supply(study: Study) -> Iterable[str]:
    return ("supply",)


@family("supply", subjects=_supply, none="there is no supply")
def supply(study: Study, subject: str) -> Supply:
    """Demand at the origin and every limit of the supply."""
    s, f = things.supply(study), study.facts
    three = things.three_phase(study)
    phases = f.number(s, "phases", "")
    v = voltages(study)
    kva = f.number(s.cased(f"{float(phases):g}"), "agreed_kva", "kVA", name="Sagreed")
    limits = [
        ("cut-out fuse", f.number(s, "cut_out_fuse_a", "A", name="In")),
        ("agreed capacity", of_kva(kva, v.u if three else v.u0, "three" if three else "single")),
    ]
    for name in ("meter_a", "tails_a"):
        held = f.maybe(s, name, "A")
        if held is not None:
            limits.append((name.removesuffix("_a"), held))
    i = study.case.installation
    for seat in i.boards:
        incomer = Seat(f"{seat}/incomer")
        if incomer in i.devices and study.feeds.parent.get(incomer) == ORIGIN:
            limits.append(("main switch", things.in_a(study, incomer)))
    methods = lambda: (*by_methods(study, ORIGIN), *with_starts(study, ORIGIN))  # noqa: E731
    misfits = () if three else tuple(d.name for d in everything(study) if d.connection != "single")
    return Supply(three, misfits, bool(everything(study)), demand(study, ORIGIN), tuple(limits), methods)


@rule("load.supply_capacity")
def supply_capacity(c: Supply, code: Code) -> Judged | NotApplicable:
    """The most loaded line, in the worst load case, stays within the least of what the supply can give."""
    if not c.draws:
        return NotApplicable("nothing draws from the supply")
    if c.misfits:
        words = f"Machines that ask for more lines than the supply has: {', '.join(c.misfits)}."
        return at_most(count(len(c.misfits), "machines for more than one line"), NONE, words)
    least = min(c.limits, key=lambda n: float(n[1]))[0]
    limit = choose([f for _, f in c.limits], min, f"least of {', '.join(n for n, _ in c.limits)}: {least}", name="Ilim")
    sentence = f"Demand of the most loaded line against the least of what the supply can give ({least})."
    return at_most(c.demand.worst, limit, sentence, *(lambda n=n: c.methods()[n][1] for n in range(5)))


@rule("load.unbalance")
def unbalance(c: Supply, code: Code) -> Judged | NotApplicable:
    """In no load case is a line too far from the mean of the three."""
    if not c.three:
        return NotApplicable("the supply has one line")
    if not c.draws:
        return NotApplicable("nothing draws from the supply")
    limit = code.limit("unbalance_percent")
    sentence = "Departure of the line farthest from the mean of the three, in the worst load case."
    return at_most(c.demand.unbalance, limit, sentence, c.demand.neutral)
