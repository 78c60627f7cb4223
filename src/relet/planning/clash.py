"""Why no plan exists: a minimal set of rules and wishes, by name, that cannot be met together.

Every row that carries a rule gets a priced slack shared by that rule:

    a x <= b + M drop[g]        drop[g] in {0, 1}, cost 1          "drop"

1. *Elastic filter.* Solve for the fewest dropped rules; make those hard (drop[g] = 0) and solve again, until nothing
   is feasible: the rules made hard then hold a clash.
2. *Deletion filter.* Every other rule is dropped for good. Drop each rule of the set in turn: still infeasible
   without it: it was no part of the reason and stays dropped; else it is one of the clash and stays.

What is left is minimal: drop any one of it and the rest can be met. (Chinneck's filters for irreducible infeasible
sets, here over groups of rows instead of single ones; method from memory.)
"""

from __future__ import annotations

import threading
from collections.abc import Iterable

from relet.planning.programme import NO_LIMIT, Programme, Term
from relet.planning.solver import Limits, solve

_WIDE = 1e5
"""Slack for a row whose worst case is not bounded by its columns."""


def clash(programme: Programme, limits: Limits, stop: threading.Event | None = None) -> tuple[str, ...]:
    """The rules that clash, in the order in which they stand in the programme.

    programme  one that is infeasible; its objective is not looked at
    limits     for each of the small programmes solved on the way
    returns    () if the programme is infeasible whatever is dropped, or feasible
    """
    elastic, drop = _elastic(programme)
    hard: list[str] = []
    while True:
        fewest = _solve(elastic, drop, limits, hard=hard, dropped=(), stop=stop)
        if fewest is None:
            break
        found = [g for g in drop if g not in hard and fewest[drop[g]] > 0.5]
        if not found:
            return ()
        hard += found
    kept = list(hard)
    for rule in hard:
        without = [g for g in kept if g != rule]
        others = [g for g in drop if g not in without]
        if _solve(elastic, drop, limits, hard=without, dropped=others, stop=stop) is None:
            kept = without
    return tuple(g for g in drop if g in kept)


def _elastic(programme: Programme) -> tuple[Programme, dict[str, int]]:
    p = Programme()
    for name, low, high, whole in zip(programme.names, programme.low, programme.high, programme.whole):
        p.variable(name, low=low, high=high, whole=whole)
    drop = {g: p.choice(f"drop[{g}]", cost=1.0) for g in dict.fromkeys(programme.rules) if g}
    for r, name in enumerate(programme.rows):
        terms: list[Term] = [(a, c) for c, a in zip(*programme.terms[r])]
        low, high, rule = programme.row_low[r], programme.row_high[r], programme.rules[r]
        if not rule:
            p.row(name, terms, low, high)
            continue
        least, most = _reach(programme, r)
        if high < NO_LIMIT:
            p.at_most(name, [*terms, (-max(0.0, min(most, high + _WIDE) - high), drop[rule])], high, rule)
        if low > -NO_LIMIT:
            p.at_least(name, [*terms, (max(0.0, low - max(least, low - _WIDE)), drop[rule])], low, rule)
    return p, drop


def _reach(programme: Programme, row: int) -> tuple[float, float]:
    least = most = 0.0
    for column, a in zip(*programme.terms[row]):
        ends = (a * programme.low[column], a * programme.high[column])
        least += min(ends)
        most += max(ends)
    return least, most


def _solve(
    elastic: Programme,
    drop: dict[str, int],
    limits: Limits,
    *,
    hard: Iterable[str],
    dropped: Iterable[str],
    stop: threading.Event | None,
) -> list[float] | None:
    a = elastic.arrays()
    for g in hard:
        a.high[drop[g]] = 0.0
    for g in dropped:
        a.low[drop[g]] = 1.0
        a.cost[drop[g]] = 0.0
    answer = solve(a, limits, stop=stop)
    if answer.status == "infeasible":
        return None
    # stopped without a plan: nothing is proven, so the rule under trial is kept
    return [1.0] * len(elastic.names) if answer.values is None else [float(v) for v in answer.values]
