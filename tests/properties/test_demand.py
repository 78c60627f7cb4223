"""Demand: one load more never lowers a figure, a tighter share never lowers a demand, nothing is lost in a group."""

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from relet.electrical.balance import LINES, Load, line_currents
from relet.electrical.chance import distribution
from relet.electrical.demand import allowance, by_chance, coincident, restart
from relet.tables.machines import Diversity
from relet.working import Figure, fact

CONNECTIONS = [("L1",), ("L2",), ("L3",), ("L1", "L2"), ("L3", "L1"), LINES]


def f(value: float, unit: str = "", name: str = "x") -> Figure:
    return fact(f"test.{name}", value, unit, "chosen")


@st.composite
def loads(draw, least=0, most=7):
    out = []
    for k in range(draw(st.integers(least, most))):
        amps = draw(st.floats(0.1, 60))
        start = draw(st.none() | st.floats(1, 8))
        out.append(
            Load(
                f"m{k}", f(amps, "A", f"m{k}"), f(draw(st.floats(0.2, 1))), draw(st.sampled_from(CONNECTIONS)),
                leading=draw(st.booleans()), third_percent=draw(st.none() | st.floats(0, 60).map(lambda v: f(v, "%"))),
                neutral=draw(st.booleans()), on=f(draw(st.floats(0, 1))),
                start_a=None if start is None else f(amps * start, "A"), start_pf=f(0.35),
            )
        )  # fmt: skip
    return out


SHARES = st.floats(0.0001, 0.9)


def not_below(a, b) -> None:
    assert all(x >= y * (1 - 1e-9) - 1e-9 for x, y in zip(a, b))


def all_of(case) -> tuple[Figure, ...]:
    return (*case.lines, case.neutral)


@given(loads(least=1), SHARES)
def test_one_load_more_never_lowers_a_figure(some, share):
    fewer = some[:-1]
    not_below(all_of(coincident(some)), all_of(coincident(fewer)))
    not_below(all_of(restart(some)), all_of(restart(fewer)))
    # both on their own grid: the coarser may lie above the finer by what its rounding added
    more, less = by_chance(some, f(share)), by_chance(fewer, f(share))
    for a, b, d in zip(more.lines, less.lines, less.distributions):
        assert a >= b - d.rounding_a - 1e-9


@given(loads())
def test_the_coincident_case_is_never_below_everything_on(some):
    case = coincident(some)
    not_below(all_of(case), all_of(line_currents(some)))


@given(loads(), SHARES, SHARES)
def test_a_smaller_share_of_minutes_never_lowers_a_demand(some, a, b):
    low, high = sorted((a, b))
    not_below(by_chance(some, f(low)).lines, by_chance(some, f(high)).lines)


@given(loads(), SHARES, st.sampled_from(LINES))
@settings(max_examples=60)
def test_a_distribution_is_one(some, share, line):
    groups = {"exclusive": [("m0", "m1")], "together": [("m2", "m3")]}
    for how in ({}, groups):
        d = distribution(some, line, **how)
        assert d.probability.sum() == pytest.approx(1) and (d.probability >= 0).all()
        demand = d.demand(f(share))
        assert d.share_above(demand) <= share * (1 + 1e-6)
        top = sum(float(x.current_a) for x in some if line in x.lines)
        assert demand <= top + d.rounding_a + 1e-9


@given(loads(least=1))
def test_turning_the_lines_turns_the_answer(some):
    turn = {"L1": "L2", "L2": "L3", "L3": "L1"}
    turned = [
        Load(x.id, x.current_a, x.pf, tuple(turn[n] for n in x.lines), x.leading, x.third_percent, x.neutral)
        for x in some
    ]
    before, after = line_currents(some), line_currents(turned)
    assert after.lines == pytest.approx((before.lines[2], before.lines[0], before.lines[1]), abs=1e-9)
    assert after.neutral == pytest.approx(float(before.neutral), abs=1e-9)


@given(st.lists(st.floats(0.1, 100), min_size=1, max_size=8), st.floats(0.1, 100), st.floats(0, 100), st.floats(0, 100))
def test_allowances_stay_within_the_connected_load(amps, more, y, z):
    second, rest = sorted((y, z), reverse=True)
    row = Diversity(f(100, "%"), f(second, "%"), f(rest, "%"))
    d = allowance([f(a, "A") for a in amps], row)
    assert max(amps) * (1 - 1e-9) <= d <= sum(amps) * (1 + 1e-9)
    assert allowance([f(a, "A") for a in (*amps, more)], row) >= d * (1 - 1e-9)
