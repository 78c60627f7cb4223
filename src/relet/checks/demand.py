"""Demand at an element of a case: the chosen method, and the cases that bite, per line and in the neutral.

Verdicts use the worst of them. A habit ("never together") excludes nothing from the cases; it only informs the
statistical method. Intermittent loads count with the current that heats like them, since demand is a heating question.
A start lasts seconds: the cases with starts are shown beside the demand (with_starts), and what a start does is judged
by the rules of starting.
"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace
from typing import Final, NamedTuple

from relet.checks import things
from relet.checks.loads import Drawn, below, everything
from relet.checks.study import Study, kept
from relet.electrical.balance import LINES, LineCurrents, Load, unbalance
from relet.electrical.demand import by_allowances, by_chance, by_factors, coincident, restart, worst_of
from relet.electrical.motors import START
from relet.electrical.topology import ORIGIN
from relet.model import Seat
from relet.tables.machines import coincidence, diversity, utilisation
from relet.working import Figure, Formula, choose

AS_THEY_RUN = Formula("Irun = p * Ib", "A", p="", Ib="A", source="motors as they then run: mean over working minutes")

STATISTICAL: Final = "statistical"
ALLOWANCES: Final = "handbook"
FACTORS: Final = "coincidence"
_CLASS_ROWS: Final = {
    "motors": "motors other than lifts", "heating": "heating and power (not the rows below)",
    "outlets": "other socket-outlets and stationary equipment", "lighting": "lighting",
}  # fmt: skip
_OTHER_USE: Final = "lighting, heating, socket-outlets"
_USE_ROWS: Final = {"motors": "motors", "heating": _OTHER_USE, "outlets": _OTHER_USE, "lighting": _OTHER_USE}


class Demand(NamedTuple):
    """Demand at an element, A.

    lines     worst of the chosen method and the cases, per line
    neutral   worst neutral of the cases
    cases     load cases by name
    """

    lines: tuple[Figure, Figure, Figure]
    neutral: Figure
    cases: tuple[LineCurrents, ...]

    @property
    def worst(self) -> Figure:
        """The most loaded line."""
        return choose(self.lines, max, "most loaded line", name="Ib")

    @property
    def unbalance(self) -> Figure:
        """Greatest unbalance over the load cases, %."""
        return choose([unbalance(*c.lines) for c in self.cases], max, "worst load case", name="unbalance")


def as_load(d: Drawn, *, spread: tuple[int, ...] = ()) -> Load:
    """A machine or fixed load as demand sees it."""
    on = tuple(LINES[n] for n in (d.lines or spread))
    return Load(
        d.id, d.heats_a, d.pf, on, third_percent=d.third_percent, on=d.chance, neutral=len(on) == 1,
        kind="motors" if d.is_motor else "lighting" if d.lighting else "heating" if d.is_heater else "outlets",
    )  # fmt: skip


@kept
def loads_at(study: Study, *seats: Seat) -> tuple[Load, ...]:
    """Loads through one element, or through several side by side.

    At the origin machines that are not plugged in yet are spread over the lines.
    """
    if seats != (ORIGIN,):
        drawn = {d.id: d for seat in seats for d in below(study, seat) if d.lines}
        return tuple(as_load(d) for d in drawn.values())
    held = [0.0, 0.0, 0.0]
    out: list[Load] = []
    waiting: list[Drawn] = []
    for d in everything(study):
        if d.lines:
            out.append(as_load(d))
            for n in d.lines:
                held[n] += float(d.heats_a)
        else:
            waiting.append(d)
    three = things.three_phase(study)
    for d in sorted(waiting, key=lambda d: -float(d.heats_a)):
        least = min(range(3 if three else 1), key=lambda n: held[n])
        held[least] += float(d.heats_a)
        pair = (least, (least + 1) % 3) if d.connection == "two lines" and three else (least,)
        out.append(as_load(d, spread=pair))
    return tuple(out)


def _groups(study: Study, loads: tuple[Load, ...]) -> dict[str, tuple[str, ...]]:
    out: dict[str, list[str]] = {}
    by_id = {d.id: d for d in everything(study)}
    for x in loads:
        if by_id[x.id].together:
            out.setdefault(by_id[x.id].together, []).append(x.id)
    return {k: tuple(v) for k, v in out.items()}


@kept
def demand(study: Study, *seats: Seat) -> Demand:
    """Demand at an element: the worst of the chosen method, of each start group, and of restart after loss."""
    loads = loads_at(study, *seats)
    policy = things.policy(study)
    chosen = str(study.facts.word(policy, "diversity"))
    share = study.facts.number(policy, "time_share", "", name="share")
    groups = _groups(study, loads)
    method = _by_method(study, chosen, loads, share, tuple(groups.values()))
    cases = _cases(study, loads, groups)
    lines = _lines([worst_of({f"{chosen} method": method[n], **{c.case: c.lines[n] for c in cases}}) for n in range(3)])
    neutral = choose([c.neutral for c in cases], max, "worst load case", name="IN")
    return Demand(lines, neutral, cases)


def _by_method(
    study: Study, name: str, loads: tuple[Load, ...], share: Figure, together: tuple[tuple[str, ...], ...]
) -> tuple[Figure, Figure, Figure]:
    """Demand of the three lines by one of the three methods."""
    if name == ALLOWANCES:
        rows = {k: diversity(v) for k, v in _CLASS_ROWS.items()}
        return _three(lambda line: by_allowances(loads, rows, line))
    if name == FACTORS:
        ku = {k: utilisation(v) for k, v in _USE_ROWS.items()}
        ks = coincidence(max(1, len(loads)))
        return _three(lambda line: by_factors(loads, ku, ks, line))
    tenancy = study.case.tenancy
    exclusive = tenancy.never_together if tenancy is not None else ()
    return by_chance(loads, share, together=together, exclusive=exclusive).lines


@kept
def by_methods(study: Study, *seats: Seat) -> tuple[tuple[str, Figure], ...]:
    """Current of the most loaded line by each of the three methods, to be shown beside one another."""
    loads = loads_at(study, *seats)
    share = study.facts.number(things.policy(study), "time_share", "", name="share")
    groups = tuple(_groups(study, loads).values())
    return tuple(
        (n, choose(_by_method(study, n, loads, share, groups), max, f"most loaded line, {n} method", name="Ib"))
        for n in (STATISTICAL, ALLOWANCES, FACTORS)
    )


@kept
def with_starts(study: Study, *seats: Seat) -> tuple[tuple[str, Figure], ...]:
    """Current of the most loaded line for seconds, A: the largest start last, and everything starting at once."""
    loads = _starting(study, loads_at(study, *seats))
    by_id = {d.id: d for d in everything(study)}
    last = coincident(
        _weighted(loads, {x.id for x in loads if by_id[x.id].is_heater}),
        case="all heaters on together, the largest start last",
    )
    back = restart(loads, stays_off=_held(study), case="restart after loss of supply, everything starts at once")
    return tuple((c.case, choose(c.lines, max, f"most loaded line, {c.case}", name="Istart")) for c in (last, back))


def _starting(study: Study, loads: tuple[Load, ...]) -> tuple[Load, ...]:
    """The loads, each motor with what it draws while it starts."""
    by_id = {d.id: d for d in everything(study)}
    out: list[Load] = []
    for x in loads:
        d = by_id[x.id]
        if d.is_motor and d.start_multiple > 1:
            pf = None
            if x.id in things.machines(study):
                pf = study.facts.number(things.machine(study, x.id), "start_pf", "", name="pfstart")
            x = replace(x, start_a=START(d.start_multiple, d.current_a), start_pf=pf)
        out.append(x)
    return tuple(out)


def _cases(study: Study, loads: tuple[Load, ...], groups: dict[str, tuple[str, ...]]) -> tuple[LineCurrents, ...]:
    by_id = {d.id: d for d in everything(study)}
    heaters = {x.id for x in loads if by_id[x.id].is_heater}
    out = []
    for name, members in groups.items():
        full = {m for m in members if m in heaters}
        if full and full != heaters:
            out.append(coincident(_weighted(loads, full), case=f"start group {name}"))
    held = _held(study)
    back = tuple(x for x in loads if x.id not in held)
    out.append(coincident(_weighted(loads, heaters), case="all heaters on together"))
    out.append(coincident(_weighted(back, {x.id for x in back}), case="restart after loss of supply"))
    return tuple(out)


def _held(study: Study) -> frozenset[str]:
    return frozenset(m for m in things.machines(study) if _held_off(study, m))


def _held_off(study: Study, id: str) -> bool:
    """True where something built keeps the machine from starting by itself when supply comes back."""
    owner = things.machine(study, id)
    return bool(study.facts.yes(owner, "restart_inhibit")) if study.facts.says(owner, "restart_inhibit") else False


def _weighted(loads: tuple[Load, ...], full: set[str]) -> tuple[Load, ...]:
    """Those in `full` at their whole current, the others as they then run."""
    return tuple(
        x if x.id in full or x.on is None else replace(x, current_a=AS_THEY_RUN(x.on, x.current_a)) for x in loads
    )


def _three(of: Callable[[str], Figure]) -> tuple[Figure, Figure, Figure]:
    return _lines([of(line) for line in LINES])


def _lines(three: list[Figure]) -> tuple[Figure, Figure, Figure]:
    return three[0], three[1], three[2]
