"""Impedances and conductor readings against published examples and plain complex arithmetic."""

import pytest

from relet.electrical import impedance as z
from relet.tables.cables import (
    armour,
    armour_reactance,
    conductor_resistance,
    temperature_coefficient,
    temperature_multiplier,
)
from relet.working import fact, steps


def q(value, unit=""):
    return fact("test.x", value, unit, "assumed")


def ohm(r, x=0.0):
    return z.Impedance(q(r, "ohm"), q(x, "ohm"))


def as_complex(i):
    return complex(i.r, i.x)


def test_three_boards_with_resistance_and_reactance_apart():
    """Loop at three boards (worked_examples: earth_loop, WE12, status V1): 0.030, 0.066, 0.097 ohm."""
    a = z.series(ohm(0.005, 0.017), ohm(0.008, 0.004), ohm(0.008, 0.001))
    b = z.series(a, ohm(0.008, 0.004), ohm(0.032))
    c = z.series(b, ohm(0.023), ohm(0.007, 0.008))
    assert [float(i.z) for i in (a, b, c)] == pytest.approx([0.0304, 0.0663, 0.0971], abs=5e-5)
    assert [(float(i.r), float(i.x)) for i in (a, b, c)] == [
        pytest.approx((0.021, 0.022)), pytest.approx((0.061, 0.026)), pytest.approx((0.091, 0.034)),
    ]  # fmt: skip


@pytest.mark.parametrize(
    ("r", "x", "path", "printed"),
    # Motor feeder in five sizes (worked_examples: earth_loop, WE09 Tables 9.35 and 9.34, status V2)
    [
        (1.016, 0.0268, 0.1, 1.1206), (0.6872, 0.025, 0.1, 0.7922), (0.5948, 0.0242, 0.1, 0.6999),
        (0.4998, 0.0236, 0.1, 0.6053), (0.4288, 0.0224, 0.1, 0.5344), (4.916, 0.0268, 1.0, 5.9193),
        (5.807, 0.025, 1.0, 6.8102), (2.221, 0.0242, 1.0, 3.2244), (2.462, 0.0236, 1.0, 3.4654),
        (2.791, 0.0224, 1.0, 3.7944),
    ],
)  # fmt: skip
def test_loop_of_a_motor_feeder(r, x, path, printed):
    assert float(z.series(ohm(0.00308, 0.0308), ohm(r, x), ohm(path)).z) == pytest.approx(printed, abs=0.0002)


def test_split_of_a_reading_over_two_conductors():
    """worked_examples: conductor_tests, WE25 (formula printed, status V1)."""
    r1, r2 = z.split_r1_r2(q(0.35, "ohm"), q(2.5, "mm2"), q(1.5, "mm2"))
    assert (float(r1), float(r2)) == pytest.approx((0.131, 0.219), abs=0.0005)


def test_readings_round_a_ring():
    """worked_examples: conductor_tests, WE26 (derivation read, values computed, status C)."""
    r1, r2 = q(0.5, "ohm"), q(0.835, "ohm")
    assert float(z.ring_cross_connected(r1, r2)) == pytest.approx(0.334, abs=0.0005)
    assert float(z.ring_cross_connected(r1, r2, q(0.5))) == pytest.approx(0.334, abs=0.0005)
    assert float(z.ring_cross_connected(r1, r2, q(0.0))) == pytest.approx(0.313, abs=0.0005)
    # equal conductors: the same at every outlet
    assert {round(float(z.ring_cross_connected(r1, r1, q(p))), 12) for p in (0, 0.2, 0.5, 0.9)} == {0.25}
    assert float(z.ring_point(r1, r2, q(0.5))) == pytest.approx((0.5 + 0.835) / 4)


def test_resistance_rises_with_temperature():
    r20, alpha = q(0.35, "ohm"), temperature_coefficient()
    hot = z.resistance_at(r20, alpha, q(70, "degC"), q(20, "degC"))
    assert float(hot) == pytest.approx(0.35 * 1.2)
    back = z.resistance_moved(hot, alpha, q(70, "degC"), q(20, "degC"), q(20, "degC"))
    assert float(back) == pytest.approx(0.35)
    assert float(z.temperature_factor(alpha, q(20, "degC"), q(70, "degC"), q(20, "degC"))) == pytest.approx(1.2)


def test_conductor_out_of_table_figures():
    r = conductor_resistance(q(2.5, "mm2"))
    cold = z.conductor(r, q(0.08, "mohm/m"), q(20, "m"))
    hot = z.conductor(r, q(0.08, "mohm/m"), q(20, "m"), temperature_multiplier(70, "live"))
    assert float(cold.r) == pytest.approx(0.1482) and float(hot.r) == pytest.approx(0.1482 * 1.2)
    assert float(hot.x) == pytest.approx(0.0016)
    assert any(s.kind == "lookup" for s in steps(hot.z))


def test_armour_beside_a_protective_conductor():
    steel = z.conductor(armour(4, 16).resistance, armour_reactance(), q(30, "m"), temperature_multiplier(90, "armour"))
    copper = z.conductor(conductor_resistance(q(16, "mm2")), q(0.08, "mohm/m"), q(30, "m"))
    both = z.parallel(steel, copper)
    a, b = as_complex(steel), as_complex(copper)
    assert as_complex(both) == pytest.approx(a * b / (a + b))
    assert float(both.z) < min(float(steel.z), float(copper.z))


def test_equal_conductors_side_by_side():
    assert as_complex(z.parallel_equal(ohm(0.4, 0.1), q(2))) == pytest.approx(0.2 + 0.05j)
    assert as_complex(z.parallel(ohm(0.4, 0.1), ohm(0.4, 0.1))) == pytest.approx(0.2 + 0.05j)


def test_sequence_and_loop_are_two_views_of_one_element():
    z1, z0 = ohm(0.2, 0.07), ohm(0.8, 0.3)
    back = z.return_of_sequence(z1, z0)
    assert as_complex(z.series(z1, back)) == pytest.approx(as_complex(z.loop_of_sequence(z1, z0)))


def test_a_smaller_ze_makes_a_measured_loop_worse():
    low, high = (z.zs_at_working_temperature(q(ze, "ohm"), q(0.9, "ohm"), q(1.2)) for ze in (0.1, 0.35))
    assert low > high
    assert float(high) == pytest.approx(0.35 + 0.55 * 1.2)


def test_one_part_is_its_own_sum_and_many_are_one_step():
    a = ohm(0.1, 0.2)
    assert z.series(a) == a
    assert steps(z.series(a, ohm(0.3), ohm(0.5)).r)[-1].text == "R = R1 + R2 + R3"
    assert float(ohm(3, 4).z) == 5 and float(ohm(1, 1).angle) == pytest.approx(45)
