"""The reason of an impossible programme, on cases small enough to see it."""

from __future__ import annotations

import itertools

from hypothesis import given, settings
from hypothesis import strategies as st

from relet.planning.clash import clash
from relet.planning.programme import Programme
from relet.planning.solver import Limits, solve

QUICK = Limits(seconds=10, gap=0.0, threads=1)


def test_pin_against_forbid() -> None:
    p = Programme()
    a, b = p.choice("at A"), p.choice("at B")
    p.equal("one place", [(1.0, a), (1.0, b)], 1.0)
    p.at_least("pin", [(1.0, a)], 1.0, "pin kiln to A")
    p.at_most("forbid", [(1.0, a)], 0.0, "forbid wall east")
    p.at_most("cap", [(1.0, a), (1.0, b)], 1.0, "at most 1 assembly")
    assert clash(p, QUICK) == ("pin kiln to A", "forbid wall east")


def test_three_together() -> None:
    """x + y >= 2 by two wishes of one each, against a cap of one: all three are needed, the fourth is not."""
    p = Programme()
    x, y = p.choice("x"), p.choice("y")
    p.at_least("wx", [(1.0, x)], 1.0, "x")
    p.at_least("wy", [(1.0, y)], 1.0, "y")
    p.at_most("cap", [(1.0, x), (1.0, y)], 1.0, "cap")
    p.at_most("loose", [(1.0, x), (1.0, y)], 2.0, "loose")
    assert clash(p, QUICK) == ("x", "y", "cap")


def test_feasible_has_no_clash() -> None:
    p = Programme()
    p.at_least("wx", [(1.0, p.choice("x"))], 1.0, "x")
    assert clash(p, QUICK) == ()


def _build(rows: list[tuple[list[int], int]], only: set[int]) -> Programme:
    p = Programme()
    x = [p.choice(f"x{j}") for j in range(4)]
    for r, (weights, low) in enumerate(rows):
        if r in only:
            p.at_least(f"r{r}", [(float(w), c) for w, c in zip(weights, x)], float(low), f"rule {r}")
    return p


ROW = st.tuples(st.lists(st.integers(-2, 2), min_size=4, max_size=4), st.integers(-2, 4))


@settings(max_examples=25, deadline=None)
@given(st.lists(ROW, min_size=2, max_size=6))
def test_the_clash_is_minimal(rows: list[tuple[list[int], int]]) -> None:
    """Brute force over all 16 points: the clash alone is impossible, and less any one of it is possible."""

    def possible(only: set[int]) -> bool:
        return any(
            all(sum(w * v for w, v in zip(rows[r][0], x)) >= rows[r][1] for r in only)
            for x in itertools.product((0, 1), repeat=4)
        )

    every = set(range(len(rows)))
    programme = _build(rows, every)
    if possible(every):
        assert solve(programme.arrays(), QUICK).status == "optimal"
        return
    found = {int(name.split()[1]) for name in clash(programme, QUICK)}
    assert not possible(found)
    assert all(possible(found - {r}) for r in found)
