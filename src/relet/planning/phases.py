"""Phases for single-phase circuits, over all tenancies at once: a circuit that stays keeps the line on its label.

    minimise  sum over tenancies, feeds and tapped runs of what the worst line passes the rating      (first of all)
            + sum over tenancies of the worst line of the unit                                        (then)
            + a little of the worst line of every feed                                                (last)

Currents are phasors in each line's own frame. Heaviest first, each on the line where this sum stays least; then single
moves and exchanges of two, until none helps. The solver proves such a sum only to 4 % in 20 s, because the lines can be
exchanged with one another (libraries.md); a plan needs a good one in milliseconds.
"""

from __future__ import annotations

import cmath
import math
from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from random import Random

from relet.codes import Code
from relet.model import Installation
from relet.planning import held

LINES = ("L1", "L2", "L3")
PASSED = 1e4
"""Price of an ampere above a rating against one below it."""
FEED = 1e-2
"""Price of an ampere on the worst line of a feed against one on the worst line of the unit."""
UNIT = "unit"
OTHER_ORDERS = 24


@dataclass(frozen=True)
class Single:
    """A single-phase circuit.

    id      its own
    groups  feeds and runs that it loads, besides the unit
    loads   current by tenancy, phasor
    fixed   line that it has already, or None
    """

    id: str
    groups: tuple[str, ...]
    loads: Mapping[str, complex]
    fixed: int | None = None


@dataclass(frozen=True)
class Group:
    """Something whose lines are looked at: the unit, a feed, a tapped run.

    rating_a  what a line may carry, inf where nothing bounds it
    three     three-phase load of every line by tenancy, phasor
    """

    id: str
    rating_a: float
    three: Mapping[str, complex]


def standing(stands: Installation, kept: Installation, tenancies: Sequence[str], code: Code) -> list[Single]:
    """Loads of the building's own that stay, on the line that they have."""
    out = []
    for seat, load in stands.loads.items():
        line = held.words(load.facts, "phase", code, "load")
        power = held.number(load.facts, "power_w", code, "load") or 0.0
        pf = held.number(load.facts, "pf", code, "load") or 1.0
        u0 = held.number(load.facts, "u0_v", code, "supply") or 0.0
        if seat in kept.loads and line and line[0] in LINES and u0:
            z = cmath.rect(power / (u0 * pf), -math.acos(min(1.0, pf)))
            out.append(Single(f"load {seat}", (), dict.fromkeys(tenancies, z), LINES.index(line[0])))
    return out


def balance(singles: Sequence[Single], groups: Sequence[Group], tenancies: Sequence[str]) -> dict[str, int]:
    """Line (0, 1, 2) of every circuit. While a rating is passed, other orders are tried, always the same ones."""
    free = sorted((s for s in singles if s.fixed is None), key=lambda s: (-_most(s), s.id))
    best: tuple[float, dict[str, int]] | None = None
    for turn in range(1 + OTHER_ORDERS):
        if turn:
            Random(turn).shuffle(free)
        b = _Balance(groups, tenancies)
        on = _spread(b, singles, free)
        found = b.cost(set(b.rating))
        if best is None or found < best[0] - 1e-9:
            best = (found, on)
        if not b.passed():
            break
    assert best is not None
    return best[1]


def _spread(b: _Balance, singles: Sequence[Single], free: Sequence[Single]) -> dict[str, int]:
    on: dict[str, int] = {}
    for s in singles:
        if s.fixed is not None:
            on[s.id] = s.fixed
            b.put(s, s.fixed, 1)
    for s in free:
        on[s.id] = min(range(3), key=lambda k: (round(b.with_(s, k), 9), k))
        b.put(s, on[s.id], 1)
    for _ in range(20):
        if not (_moved(b, free, on) or _exchanged(b, free, on)):
            break
    return on


def _most(s: Single) -> float:
    return max((abs(z) for z in s.loads.values()), default=0.0)


def _moved(b: _Balance, free: Sequence[Single], on: dict[str, int]) -> bool:
    better = False
    for s in free:
        was = on[s.id]
        b.put(s, was, -1)
        best = min(range(3), key=lambda k: (round(b.with_(s, k), 9), k != was, k))
        b.put(s, best, 1)
        better |= best != was
        on[s.id] = best
    return better


def _exchanged(b: _Balance, free: Sequence[Single], on: dict[str, int]) -> bool:
    better = False
    for n, s in enumerate(free):
        for o in free[n + 1 :]:
            if on[s.id] == on[o.id]:
                continue
            touched = {*s.groups, *o.groups, UNIT}
            before = b.cost(touched)
            _swap(b, s, o, on)
            if b.cost(touched) < before - 1e-9:
                better = True
            else:
                _swap(b, s, o, on)
    return better


def _swap(b: _Balance, s: Single, o: Single, on: dict[str, int]) -> None:
    for one in (s, o):
        b.put(one, on[one.id], -1)
    on[s.id], on[o.id] = on[o.id], on[s.id]
    for one in (s, o):
        b.put(one, on[one.id], 1)


class _Balance:
    """Sums of phasors by group, tenancy and line."""

    def __init__(self, groups: Sequence[Group], tenancies: Sequence[str]) -> None:
        self.tenancies = tuple(tenancies)
        self.rating = {g.id: g.rating_a for g in groups}
        self.lines = {g.id: {t: [g.three.get(t, 0j)] * 3 for t in self.tenancies} for g in groups}

    def put(self, s: Single, line: int, sign: int) -> None:
        for g in (UNIT, *s.groups):
            for t, z in s.loads.items():
                self.lines[g][t][line] += sign * z

    def with_(self, s: Single, line: int) -> float:
        self.put(s, line, 1)
        found = self.cost({UNIT, *s.groups})
        self.put(s, line, -1)
        return found

    def passed(self) -> bool:
        """True if some line passes its rating."""
        return any(
            max(abs(z) for z in lines) > self.rating[g] + 1e-9 for g, by in self.lines.items() for lines in by.values()
        )

    def cost(self, groups: set[str]) -> float:
        total = 0.0
        for g in sorted(groups):
            for t in self.tenancies:
                worst = max(abs(z) for z in self.lines[g][t])
                total += PASSED * max(0.0, worst - self.rating[g]) + (1.0 if g == UNIT else FEED) * worst
        return total


def least_worst_line(three: complex, singles: Sequence[complex]) -> float:
    """The least that the most loaded of three lines can carry: every way of spreading the singles is tried.

    Above nine singles the bound of the average line is given, which is never more.
    """
    if len(singles) > 9:
        return abs(three + sum(singles) / 3)
    best = float("inf")
    sums = [three, three, three]

    def place(n: int) -> None:
        nonlocal best
        if n == len(singles):
            best = min(best, max(abs(z) for z in sums))
            return
        seen: set[complex] = set()
        for k in range(3):
            if sums[k] in seen:
                continue  # lines that carry the same may be exchanged
            seen.add(sums[k])
            before = sums[k]
            sums[k] = before + singles[n]
            place(n + 1)
            sums[k] = before

    place(0)
    return best
