"""Phases: by hand, against every way of spreading, and what stays keeps its line."""

from __future__ import annotations

import itertools

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from relet.planning.phases import UNIT, Group, Single, balance, least_worst_line

NONE = float("inf")


def single(id: str, amps: float, *groups: str, t: str = "a", fixed: int | None = None) -> Single:
    return Single(id, groups, {t: complex(amps)}, fixed)


def worst(singles: list[Single], on: dict[str, int], tenancy: str = "a") -> float:
    return max(abs(sum(s.loads.get(tenancy, 0) for s in singles if on[s.id] == k)) for k in range(3))


def test_three_equal_loads_take_a_line_each() -> None:
    several = [single(n, 10) for n in "xyz"]
    assert sorted(balance(several, [Group(UNIT, NONE, {})], ["a"]).values()) == [0, 1, 2]


def test_six_loads_by_hand() -> None:
    """9, 8, 6, 5, 3, 2 make 33: 11 on each line as 9+2, 8+3, 6+5."""
    several = [single(str(n), n) for n in (9, 8, 6, 5, 3, 2)]
    assert worst(several, balance(several, [Group(UNIT, NONE, {})], ["a"])) == pytest.approx(11)


def test_a_feed_is_kept_within_its_rating_before_the_unit_is_even() -> None:
    """Two 20 A loads on one 32 A feed: apart, although a third load elsewhere would like one of the lines."""
    several = [single("p", 20, "f"), single("q", 20, "f"), single("r", 30)]
    on = balance(several, [Group(UNIT, NONE, {}), Group("f", 32, {})], ["a"])
    assert on["p"] != on["q"]


def test_what_has_a_line_keeps_it() -> None:
    several = [single("p", 10, fixed=1), single("q", 10), single("r", 10)]
    on = balance(several, [Group(UNIT, NONE, {})], ["a"])
    assert on["p"] == 1 and sorted(on.values()) == [0, 1, 2]


def test_one_line_for_all_tenancies() -> None:
    """Two circuits that meet in one tenancy, and one of each in two others: the worst of all is looked at."""
    several = [Single("p", (), {"a": 10 + 0j, "b": 10 + 0j}), Single("q", (), {"a": 10 + 0j, "c": 10 + 0j})]
    on = balance(several, [Group(UNIT, NONE, {})], ["a", "b", "c"])
    assert on["p"] != on["q"]


@settings(max_examples=60, deadline=None)
@given(st.lists(st.floats(1, 32), min_size=1, max_size=6), st.floats(0, 30))
def test_least_worst_line_is_that_of_all_ways(amps: list[float], three: float) -> None:
    every = min(
        max(three + sum(a for a, k in zip(amps, on) if k == line) for line in range(3))
        for on in itertools.product(range(3), repeat=len(amps))
    )
    assert least_worst_line(complex(three), [complex(a) for a in amps]) == pytest.approx(every)


@settings(max_examples=40, deadline=None)
@given(st.lists(st.floats(1, 32), min_size=2, max_size=7))
def test_balance_is_near_the_best(amps: list[float]) -> None:
    """Moves and exchanges alone are not always best; within a fifth of the largest load of it in 40 random cases."""
    several = [single(f"{n}", a) for n, a in enumerate(amps)]
    found = worst(several, balance(several, [Group(UNIT, NONE, {})], ["a"]))
    best = least_worst_line(0j, [complex(a) for a in amps])
    assert found <= best + 0.2 * max(amps)
