"""Demand by three stated methods, and the cases that really bite.

(a) handbook allowances by class of load, (b) utilisation and coincidence factors, (c) chance (relet.electrical.chance),
(d) the coincident case and the restart after loss of supply. All are shown; the verdict uses the worst of the chosen
method and the cases (worst_of). Factors come in as figures of a table. Sums of amperes within one line are arithmetic
in (a) to (c), never below the phasor sum.
"""

from __future__ import annotations

import math
from collections.abc import Iterable, Mapping, Sequence
from dataclasses import replace
from typing import Final, NamedTuple

import numpy as np
from numpy.typing import NDArray

from relet.electrical.balance import LINES, Drawn, LineCurrents, Load, drawn, given_by, longest_sum
from relet.electrical.chance import Distribution, Groups, distribution
from relet.electrical.impedance import total
from relet.tables.machines import Diversity
from relet.working import Figure, Formula, choose, solved

_ALLOWANCE: Final = "handbook allowance between final circuits (IET On-Site Guide)"
_FACTORS: Final = "utilisation and coincidence factors (UTE C 15-105 practice)"
_UNITS: Final = ("A", "kVA", "kW", "W")

LARGEST: Final = {u: Formula("D = X / 100 * I1", u, X="%", I1=u, source=_ALLOWANCE) for u in _UNITS}
TWO: Final = {
    u: Formula("D = X / 100 * I1 + Y / 100 * I2", u, X="%", I1=u, Y="%", I2=u, source=_ALLOWANCE) for u in _UNITS
}
MANY: Final = {
    u: Formula(
        "D = X / 100 * I1 + Y / 100 * I2 + Z / 100 * Irest", u, X="%", I1=u, Y="%", I2=u, Z="%", Irest=u,
        source=_ALLOWANCE,
    )
    for u in _UNITS
}  # fmt: skip
SHARE: Final = {u: Formula("D = p / 100 * I", u, p="%", I=u, source=_ALLOWANCE) for u in _UNITS}
FIRST_AND_BALANCE = Formula(
    "D = min(I, Ifull) + p / 100 * max(0, I - Ifull)", "A", I="A", Ifull="A", p="%", source=_ALLOWANCE
)
USED: Final = {u: Formula("D = ku * S", u, ku="", S=u, source=_FACTORS) for u in _UNITS}
TOGETHER: Final = {u: Formula("D = ks * S", u, ks="", S=u, source=_FACTORS) for u in _UNITS}
COUNT: Final = {u: Formula("S = n * S1", u, n="", S1=u, source="n equal loads") for u in _UNITS}
DIVERSIFIED: Final = {
    u: Formula("D = S / F", u, S=u, F="", source="definition of the diversity factor") for u in _UNITS
}
DIVERSITY: Final = {
    u: Formula("F = S / Dmax", "", S=u, Dmax=u, source="sum of the single maxima over the common one") for u in _UNITS
}
MEAN_POWER = Formula("Pmean = E / t", "kW", E="kWh", t="h", source="mean power over a time")
LOAD_FACTOR = Formula("LF = 100 * Pmean / Pmax", "%", Pmean="kW", Pmax="kW", source="mean power over greatest power")

# ---------- (a) allowances by class of load ----------


def allowance(currents: Sequence[Figure], row: Diversity) -> Figure:
    """X % of the largest, Y % of the second, Z % of the sum of the rest, all of one class (A, W, kW or kVA).

    raises  ValueError for none
    """
    if not currents:
        raise ValueError("an allowance needs at least one load")
    ordered = sorted(currents, key=lambda f: -f)
    u = ordered[0].unit
    if len(ordered) == 1:
        return LARGEST[u](row.largest, ordered[0])
    if len(ordered) == 2:
        return TWO[u](row.largest, ordered[0], row.second, ordered[1])
    rest = total(ordered[2:], "Irest", "sum of the rest of the class")
    return MANY[u](row.largest, ordered[0], row.second, ordered[1], row.rest, rest)


def share_of(connected: Figure, percent: Figure) -> Figure:
    """A share of the connected load of a class."""
    return SHARE[connected.unit](percent, connected)


def first_and_balance(current_a: Figure, full_a: Figure, percent: Figure, extra_a: Figure | None = None) -> Figure:
    """The first amperes in full, a share of the balance, and an extra (a socket on a cooker panel), A."""
    d = FIRST_AND_BALANCE(current_a, full_a, percent)
    return d if extra_a is None else total([d, extra_a], "D", _ALLOWANCE)


def by_allowances(loads: Sequence[Load], rows: Mapping[str, Diversity], line: str) -> Figure:
    """Demand of one line, A: each class of load with its allowance; a class without a row counts in full."""
    classes: dict[str, list[Figure]] = {}
    for x in loads:
        if line in x.lines:
            classes.setdefault(x.kind, []).append(x.current_a)
    parts = [
        allowance(currents, rows[kind]) if kind in rows else total(currents, "D", f"{kind or 'no class'}: in full")
        for kind, currents in classes.items()
    ]
    return total(parts, "D", f"{_ALLOWANCE}, sum of the classes on {line}") if parts else _nothing(line)


# ---------- (b) utilisation and coincidence ----------


def used(rating: Figure, ku: Figure) -> Figure:
    """What a load really takes of its rating: ku S (A, W, kW or kVA)."""
    return USED[rating.unit](ku, rating)


def count(number: Figure, one: Figure) -> Figure:
    """`number` equal loads."""
    return COUNT[one.unit](number, one)


def coincident_sum(demands: Sequence[Figure], ks: Figure | None = None) -> Figure:
    """Demand of a board or group: ks times the sum of what it feeds; trees nest. ks None: all at once."""
    s = total(demands, "S", "sum of what is fed")
    return s if ks is None else TOGETHER[s.unit](ks, s)


def by_factors(loads: Sequence[Load], ku: Mapping[str, Figure], ks: Figure, line: str) -> Figure:
    """Demand of one line, A: each load by the ku of its kind (none: in full), the sum by ks."""
    on = [x for x in loads if line in x.lines]
    parts = [used(x.current_a, ku[x.kind]) if x.kind in ku else x.current_a for x in on]
    return coincident_sum(parts, ks) if parts else _nothing(line)


def diversified(demand: Figure, diversity_factor: Figure) -> Figure:
    """Common demand from the sum of single maxima and a diversity factor of 1 or more: S / F."""
    return DIVERSIFIED[demand.unit](demand, diversity_factor)


def diversity_factor(maxima: Sequence[Figure], common: Figure) -> Figure:
    """Sum of the single maxima over the greatest common demand."""
    return DIVERSITY[common.unit](total(maxima, "S", "sum of the single maxima"), common)


def mean_power(energy_kwh: Figure, hours: Figure) -> Figure:
    """Mean power, kW, from metered energy."""
    return MEAN_POWER(energy_kwh, hours)


def load_factor(mean_kw: Figure, greatest_kw: Figure) -> Figure:
    """Mean power in % of the greatest."""
    return LOAD_FACTOR(mean_kw, greatest_kw)


# ---------- (c) by chance ----------


class ByChance(NamedTuple):
    """Demand of the three lines at one share of working minutes, with the distributions behind it."""

    lines: tuple[Figure, Figure, Figure]
    distributions: tuple[Distribution, Distribution, Distribution]


def by_chance(loads: Sequence[Load], share: Figure, *, together: Groups = (), exclusive: Groups = ()) -> ByChance:
    """Current of each line passed for at most `share` of the working minutes; see relet.electrical.chance."""
    d1, d2, d3 = (distribution(loads, name, together=together, exclusive=exclusive) for name in LINES)
    return ByChance((d1.demand(share), d2.demand(share), d3.demand(share)), (d1, d2, d3))


# ---------- (d) the cases that bite ----------


def coincident(loads: Sequence[Load], *, case: str = "coincident") -> LineCurrents:
    """Everything that the case names on together, motors as they then run, the largest start last.

    loads  what takes part, each with the current it then draws; one that something built keeps off does not take part.
           A habit ("never together") excludes nothing.
    For each line and the neutral apart: the start is the one that gives most there, and a load that would cancel
    others is left off (balance.longest_sum), so one load more never lowers a figure. Each figure names what it
    counted.
    """
    return _case(loads, np.array([x.start_a is not None for x in loads], bool), case)


def restart(loads: Sequence[Load], *, stays_off: Iterable[str] = (), case: str = "restart after loss") -> LineCurrents:
    """Supply comes back: everything that starts by itself starts at once, the rest is as it was, A.

    stays_off  loads held off by something built (restart inhibit, undervoltage release, latched contactor)
    """
    held = set(stays_off)
    back = [
        x if x.start_a is None else replace(x, current_a=x.start_a, pf=x.pf if x.start_pf is None else x.start_pf)
        for x in loads
        if x.id not in held
    ]
    return _case(back, np.zeros(len(back), bool), case)


def _case(loads: Sequence[Load], may_start: NDArray[np.bool_], case: str) -> LineCurrents:
    """Each conductor at its worst over what may be on."""
    running = np.array([_conductors(drawn(x)) for x in loads], complex).reshape(-1, 4)
    starting = np.array([_conductors(drawn(x, starting=True)) for x in loads], complex).reshape(-1, 4)
    third = sum(drawn(x).third for x in loads)
    figures = []
    for c, where in enumerate((*LINES, "neutral with third harmonics")):
        longest = longest_sum(running[:, c], starting[:, c], may_start)
        value = longest.length if c < 3 else math.hypot(longest.length, third)
        start = None if longest.start is None else loads[longest.start].id
        counted = [x for x, on in zip(loads, longest.on) if on or (c == 3 and x.third_percent is not None)]
        names = ", ".join(f"{x.id} (starting)" if x.id == start else x.id for x in counted) or "nothing"
        how = f"phasor sum, {case}, {where}: {names}"
        name = f"I{c + 1}" if c < 3 else "IN"
        figures.append(solved(value, "A", how, 0.0, given_by(counted, starting=start), name=name))
    return LineCurrents((figures[0], figures[1], figures[2]), figures[3], case, tuple(x.id for x in loads))


def _conductors(d: Drawn) -> tuple[complex, ...]:
    """Fundamental in L1, L2, L3 and neutral."""
    return (*d.lines, sum(d.lines, 0j))


# ---------- together ----------


def worst_of(demands: Mapping[str, Figure]) -> Figure:
    """The greatest of several demands of one line, by name of method or case."""
    names = list(demands)
    worst = max(names, key=lambda k: demands[k])
    return choose(demands.values(), max, f"worst of {', '.join(names)}: {worst}", name="D")


def _nothing(line: str) -> Figure:
    return solved(0.0, "A", f"nothing on {line}", 0.0, (), name="D")
