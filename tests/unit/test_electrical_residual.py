"""Residual current: standing currents, types, grading, electrodes."""

import pytest

from relet.electrical.residual import (
    allowed_standing,
    blinded,
    covers,
    graded,
    grading_ratio,
    greatest_electrode,
    high_protective_current,
    least_rated,
    least_type,
    left,
    standing,
    taken_percent,
    times,
    touch_voltage,
)  # fmt: skip
from relet.tables.protection import rcd_types, standing_share
from relet.working import Figure, fact

ORDER = ("AC", "A", "F", "B")


def f(value: float, unit: str = "", name: str = "x") -> Figure:
    return fact(f"test.{name}", value, unit, "chosen")


@pytest.mark.parametrize("idn, ra", [(30, 1666.67), (100, 500), (300, 166.67), (500, 100)])
def test_electrode_limits(idn, ra):
    # electricians' forum list of electrode limits (prints 1667 and 167, rounded up to the favourable side)
    limit = greatest_electrode(f(50, "V"), f(idn, "mA"))
    assert limit == pytest.approx(ra, abs=0.005)
    assert touch_voltage(limit, f(idn, "mA")) == pytest.approx(50)
    assert touch_voltage(f(1667, "ohm"), f(30, "mA")) > 50


def test_standing_currents():
    # 30 % of 30 mA is 9 mA (published case of BS 7671 531.3.2)
    idn = f(30, "mA")
    allowed = allowed_standing(idn, standing_share())
    assert allowed == pytest.approx(9)
    s = standing([times(f(4), f(0.75, "mA")), f(3.5, "mA")])
    assert s == pytest.approx(6.5)
    assert taken_percent(s, idn) == pytest.approx(100 * 6.5 / 30)
    assert left(allowed, s) == pytest.approx(2.5)
    assert standing([]) == 0


@pytest.mark.parametrize("machines, circuit, expected", [
    ([3.5, 3.5], 7.0, "none"), ([3.6], 3.6, "machine"), ([3.5, 3.5, 3.5], 10.5, "circuit"), ([11.0], 11.0, "circuit"),
    ([10.0], 10.0, "machine"), ([], 0.0, "none"),
])  # fmt: skip
def test_high_protective_conductor_current(machines, circuit, expected):
    found = high_protective_current([f(m, "mA") for m in machines], f(circuit, "mA"), f(3.5, "mA"), f(10, "mA"))
    assert found == expected


def test_types():
    assert [[covers(a, b, ORDER) for b in ORDER] for a in ORDER] == [
        [True, False, False, False], [True, True, False, False], [True, True, True, False], [True] * 4,
    ]  # fmt: skip
    assert least_type(["A", "F", "A"], ORDER) == "F" and least_type([], ORDER) == "AC"
    assert set(rcd_types()) == set(ORDER)
    with pytest.raises(ValueError, match="'X'"):
        covers("X", "A", ORDER)


def test_a_type_a_above_a_type_b_load_is_blinded():
    path = {"DB1/incomer": "A", "A4/incomer": "B"}
    found = blinded(path, {"drive": "B", "heater": "AC"}, ORDER)
    assert [(b.device, b.load) for b in found] == [("DB1/incomer", "drive")]
    assert blinded({"A4/incomer": "B"}, {"drive": "B"}, ORDER) == []


@pytest.mark.parametrize("upper, lower, delayed, ok", [
    (100, 30, True, True), (100, 30, False, False), (300, 100, True, True), (30, 30, True, False),
    (80, 30, True, False),
])  # fmt: skip
def test_grading(upper, lower, delayed, ok):
    # pairs of common practice: 100 mA type S above 30 mA, 300 mA type S above 100 mA (common practice, no source)
    ratio = grading_ratio(f(upper, "mA"), f(lower, "mA"))
    assert graded(ratio, f(3), upper_delayed=delayed) is ok


def test_rated_current():
    up = f(63, "A")
    assert least_rated(up, None) is up
    assert least_rated(up, [f(16, "A"), f(16, "A")]) == 32
    assert least_rated(up, [f(32, "A")] * 3) == 63
