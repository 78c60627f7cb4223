"""Third harmonics: neutral current and what sizes the cable."""

import math

import pytest

from relet.electrical.harmonics import (
    line_rms,
    neutral_current,
    neutral_of_line,
    neutral_rms,
    of_line_current,
    share_of_many,
    sizing,
    worst_sizing,
)  # fmt: skip
from relet.tables.cables import harmonic_neutral_factor
from relet.working import Figure, fact


def f(value: float, unit: str = "", name: str = "x") -> Figure:
    return fact(f"test.{name}", value, unit, "chosen")


def by_table(ib: float, percent: float):
    row = harmonic_neutral_factor(f(percent, "%"))
    return sizing(f(ib, "A"), f(percent, "%"), row.size_on, row.factor)


@pytest.mark.parametrize("ib, percent, size, neutral, governs", [
    # IEC 60364-5-52:2009 Annex E, example of 39 A (from memory)
    (39, 0, 39.0, 0.0, "line"), (39, 40, 54.4, 46.8, "neutral"),
    # engineer's article on Table 4Aa, two copies: 32 % right (29.07 A); its 44 % case divides the line current and
    # prints 29 A where the neutral governs: 38.37 A
    (25, 32, 29.07, 24.0, "line"), (25, 44, 38.37, 33.0, "neutral"),
])  # fmt: skip
def test_what_sizes_the_cable(ib, percent, size, neutral, governs):
    s = by_table(ib, percent)
    assert s.size_a == pytest.approx(size, abs=0.05)
    assert s.neutral_a == pytest.approx(neutral, abs=0.01)
    assert s.governs == governs


def test_a_range_takes_the_largest():
    several = [by_table(25, p) for p in (10, 20, 32)]
    worst = worst_sizing(several)
    assert worst.size_a == pytest.approx(25 / 0.86) and worst.governs == "line"


def test_shares():
    # 30 % of the fundamental is less of the whole current
    assert of_line_current(f(30, "%")) == pytest.approx(30 / math.sqrt(1.09))
    assert line_rms(f(10, "A"), f(30, "%")) == pytest.approx(10 * math.sqrt(1.09))
    assert neutral_rms(f(3, "A"), f(4, "A")) == pytest.approx(5)
    neutral = neutral_current(f(20, "A"), f(50, "%"))
    assert neutral == pytest.approx(30) and neutral_of_line(neutral, f(20, "A")) == pytest.approx(150)
    assert share_of_many(neutral, f(20, "A")) == pytest.approx(50)
