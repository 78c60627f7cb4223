"""Conductors against their devices, with printed cable sizing examples. The source stands beside each."""

import pytest

from relet.electrical.conductors import (
    Factors,
    installed_rating,
    needed_rating,
    next_rated,
    smallest_adequate,
    working_temperature,
)  # fmt: skip
from relet.errors import OutsideTable
from relet.tables.cables import current_rating, sizes
from relet.working import Figure, fact, step_of


def f(value: float, unit: str = "", name: str = "x") -> Figure:
    return fact(f"test.{name}", value, unit, "chosen")


@pytest.mark.parametrize("in_a, factors, expected", [
    # T. Linsley, Basic Electrical Installation Work, p. 301: 32 A, Ca 0.94, Cg 1, Cc 1
    (32, Factors(ca=f(0.94), cg=f(1), cc=f(1)), 34.04),
    # UK college textbook extract on Tables 4D2A and 4D2B, parts (a) BS 3036 and (b) BS 88 (recomputed)
    (30, Factors(ca=f(0.94), cf=f(0.725)), 44.02),
    (25, Factors(ca=f(0.94)), 26.60),
    # student design sheet, 25 kW motor, singles in trunking
    (63, Factors(ca=f(0.79), cg=f(0.80)), 99.68),
])  # fmt: skip
def test_rating_needed(in_a, factors, expected):
    assert needed_rating(f(in_a, "A"), factors) == pytest.approx(expected, abs=0.01)


def test_size_from_the_rating_table():
    # same extract: 30 A behind BS 3036 needs 10 mm2 (57 A), 25 A behind BS 88 needs 4 mm2; method C, three-phase
    ratings = {s: current_rating("4D2A", "C", "3ph", s) for s in sizes("4D2A", "C", "3ph")}
    size, it = smallest_adequate(ratings, needed_rating(f(30, "A"), Factors(ca=f(0.94), cf=f(0.725))))
    assert (size, it) == (10, 57)
    assert "10" in step_of(it).text and step_of(it).kind == "choice"
    size, it = smallest_adequate(ratings, needed_rating(f(25, "A"), Factors(ca=f(0.94))))
    assert (size, it) == (4, 32)
    assert smallest_adequate(ratings, f(5000, "A")) is None


def test_factors_left_out_do_not_apply():
    bare = f(20, "A")
    assert needed_rating(bare, Factors()) is bare and installed_rating(bare, Factors()) is bare
    # the fuse factor belongs to the device: it raises what is needed, never lowers what lies there
    assert installed_rating(f(57, "A"), Factors(ca=f(0.94), cf=f(0.725))) == pytest.approx(53.58)
    assert step_of(installed_rating(f(57, "A"), Factors(ca=f(0.94), cg=f(0.8)))).text == "Iz = It * Ca * Cg"


def test_what_is_needed_is_what_is_installed_turned_round():
    factors = Factors(ca=f(0.87), cg=f(0.7), ci=f(0.5), cc=f(0.9), cs=f(1.1), ch=f(0.86))
    assert installed_rating(needed_rating(f(40, "A"), factors), factors) == pytest.approx(40)


def test_next_rated():
    made = [f(x, "A") for x in (6, 10, 16, 20, 25, 32)]
    assert next_rated(made, f(16, "A")) == 16
    assert next_rated(made, f(16.01, "A")) == 20
    assert next_rated(made, f(32.1, "A")) is None


def test_conductor_temperature():
    assert working_temperature(f(30, "degC"), f(70, "degC"), f(20, "A"), f(20, "A")) == 70
    assert working_temperature(f(30, "degC"), f(70, "degC"), f(10, "A"), f(20, "A")) == 40


def test_a_size_that_is_not_made_is_an_error():
    with pytest.raises(OutsideTable):
        current_rating("4D2A", "C", "3ph", 7)
