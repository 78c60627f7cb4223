"""Demand by chance: the distribution of a line's current when loads are on or off, each with its own probability.

Loads are independent except in groups: members of a `together` group are on at the same moments (with the greatest
of their chances), of an `exclusive` group at most one is on. The distribution is the convolution of the two-point
distributions, exact on its grid; currents are rounded up to the grid, so a demand is never low, and the sum of what
was added by rounding is the residual of every figure. Currents of a line are added arithmetically, which is never
below their phasor sum.

Source of the method: elementary probability (sum of independent variables); with equal currents it is the binomial
distribution.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass
from typing import Final

import numpy as np
from numpy.typing import NDArray

from relet.electrical.balance import Load
from relet.working import Figure, solved

MOST_BINS: Final = 4096
_STEPS: Final = (1.0, 0.5, 0.25, 0.2, 0.1, 0.05, 0.025, 0.02, 0.01)
_HAIR: Final = 1e-9
Groups = Sequence[Sequence[str]]


@dataclass(frozen=True, slots=True)
class Distribution:
    """How often a line carries how much.

    step_a       width of the grid, A: probability[k] belongs to k * step_a
    probability  (bins,) chances, adding to 1
    rounding_a   what rounding up to the grid has added when everything is on, A
    given        the figures it rests on;  counted  the loads by id;  line  "L1", "L2" or "L3"
    """

    line: str
    step_a: float
    probability: NDArray[np.float64]
    rounding_a: float
    given: tuple[Figure, ...]
    counted: tuple[str, ...]

    def demand(self, share: Figure) -> Figure:
        """Current that is passed for at most this share of the working minutes (0.01: one minute in a hundred), A."""
        beyond = self._beyond()
        k = int(np.argmax(beyond <= float(share) * (1 + _HAIR)))
        how = f"on-off loads by convolution, {self.line}: {', '.join(self.counted) or 'nothing'}"
        return solved(k * self.step_a, "A", how, self.rounding_a, (*self.given, share), name=f"I{self.line[1]}")

    def share_above(self, limit_a: Figure) -> Figure:
        """Share of the working minutes in which the line carries more than limit_a."""
        first = math.floor(float(limit_a) / self.step_a + _HAIR) + 1
        beyond = float(self.probability[max(0, first) :].sum()) if first < len(self.probability) else 0.0
        how = f"share of working minutes above the limit, {self.line}"
        return solved(min(1.0, beyond), "", how, self.rounding_a, (*self.given, limit_a), name="share")

    def mean(self) -> Figure:
        """Current on average over the working time, A."""
        value = float(self.probability @ np.arange(len(self.probability))) * self.step_a
        return solved(value, "A", f"mean current, {self.line}", self.rounding_a, self.given, name="Imean")

    def _beyond(self) -> NDArray[np.float64]:
        """Chance of more than k steps, summed from the small end so that a tail keeps its digits."""
        tail = np.cumsum(self.probability[::-1])[::-1]
        return np.append(tail[1:], 0.0)


def distribution(loads: Sequence[Load], line: str, *, together: Groups = (), exclusive: Groups = ()) -> Distribution:
    """Distribution of the current in one line.

    together, exclusive  groups of load ids; an id may be in one group only; ids of absent loads are passed over
    raises               ValueError for an id in two groups or a chance outside 0 to 1
    """
    ids = {x.id for x in loads}
    groups = [tuple(m for m in g if m in ids) for g in (*together, *exclusive)]
    members = [m for g in groups for m in g]
    if len(set(members)) != len(members):
        raise ValueError(f"{sorted({m for m in members if members.count(m) > 1})} stand in more than one group")
    on_line = {x.id: x for x in loads if line in x.lines}
    step = _step([float(x.current_a) for x in on_line.values()])
    bins = {k: math.ceil(float(x.current_a) / step - _HAIR) for k, x in on_line.items()}
    chance = {x.id: _chance(x) for x in loads}

    units: list[list[tuple[float, int]]] = []
    for i, group in enumerate(groups):
        if not any(m in on_line for m in group):
            continue
        if i < len(together):
            units.append([(max(chance[m] for m in group), sum(bins.get(m, 0) for m in group))])
        else:
            over = max(1.0, sum(chance[m] for m in group))
            units.append([(chance[m] / over, bins.get(m, 0)) for m in group])
    units += [[(chance[k], bins[k])] for k in on_line if k not in set(members)]

    p = np.zeros(1 + sum(max(k for _, k in u) for u in units))
    p[0], reach = 1.0, 1
    for unit in units:
        more = max(k for _, k in unit)
        last = p[:reach].copy()
        p[:reach] = last * max(0.0, 1.0 - sum(c for c, _ in unit))
        for c, k in unit:
            p[k : k + reach] += c * last
        reach += more
    rounding = sum(bins[k] * step - float(x.current_a) for k, x in on_line.items())
    grouped = {m for g in groups if any(m in on_line for m in g) for m in g}
    given = tuple(f for x in loads if x.id in on_line or x.id in grouped for f in (x.current_a, x.on) if f is not None)
    return Distribution(line, step, p, max(0.0, rounding), given, tuple(on_line))


def _chance(load: Load) -> float:
    chance = 1.0 if load.on is None else float(load.on)
    if not 0.0 <= chance <= 1.0:
        raise ValueError(f"{load.id}: chance to be on {chance:g}; 0 to 1 is allowed")
    return chance


def _step(currents: Sequence[float]) -> float:
    """The widest grid on which every current lies, else one fine enough that the whole line fits MOST_BINS."""
    total = sum(currents) or 1.0
    for step in _STEPS:
        if total / step <= MOST_BINS and all(abs(c / step - round(c / step)) <= _HAIR for c in currents):
            return step
    return total / MOST_BINS
