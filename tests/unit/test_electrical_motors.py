"""Starts and inrush against printed examples. The source stands beside each."""

import math

import pytest

from relet.electrical.impedance import Impedance, conductor
from relet.electrical.motors import (
    charging_peak,
    constant_current_dip_percent,
    dip_percent,
    inrush_peak,
    left_percent,
    machine_at_start,
    machine_of_circuit,
    magnetic_margin,
    magnetic_peak,
    magnetic_rms,
    star_delta_start,
    start_current,
    start_through,
    starting,
    torque_share,
)  # fmt: skip
from relet.electrical.phasors import current_at, displacement
from relet.working import Figure, fact, leaves


def f(value: float, unit: str = "", name: str = "x") -> Figure:
    return fact(f"test.{name}", value, unit, "chosen")


def z(r: float, x: float) -> Impedance:
    return Impedance(f(r, "ohm"), f(x, "ohm"))


@pytest.mark.parametrize("r, x, expected", [(0.296, 0.0268, 30.216), (0.1348, 0.0242, 15.82), (0.0688, 0.0224, 9.8)])
def test_constant_current_start(r, x, expected):
    # A. L. Sheldrake, Handbook of Electrical Engineering (Wiley 2003), p. 239, Table 9.33
    dip = constant_current_dip_percent(f(460.74, "A"), z(r, x), displacement(f(0.45)), f(415, "V"))
    assert dip == pytest.approx(expected, abs=0.001)


def test_motor_behind_a_system_and_80_m():
    # J. Mollera, Questions Electrotecniques Diverses, chapter 10: 70.9 A; 207.494 V at 5.2376 degrees
    zq = 380**2 / 5e6
    system = z(zq / math.sqrt(82), 9 * zq / math.sqrt(82))
    cable = conductor(f(3.96, "mohm/m"), f(0.123, "mohm/m"), f(80, "m"))
    motor = machine_of_circuit(z(0.5, 1.5), z(4.39, 39.512), z(0.625, 1.25), f(1))
    start = start_through(f(380 / math.sqrt(3), "V"), system, cable, motor)
    assert start.current_a == pytest.approx(70.9, abs=0.1)
    assert start.terminal_v == pytest.approx(207.494, abs=0.01)
    assert start.terminal_deg == pytest.approx(5.2376, abs=0.001)
    assert start.terminal_v < start.origin_v < start.source_v


def test_a_machine_is_the_impedance_that_draws_its_start():
    phi = displacement(f(0.35))
    m = machine_at_start(f(230, "V"), f(60, "A"), phi)
    assert m.z == pytest.approx(230 / 60) and m.r / m.z == pytest.approx(0.35)
    # behind nothing it draws just that
    start = start_through(f(230, "V"), z(0, 0), z(0, 0), m)
    assert start.current_a == pytest.approx(60) and start.terminal_v == pytest.approx(230)


def test_other_loads_lower_the_origin_before_the_start():
    m = machine_at_start(f(230, "V"), f(60, "A"), displacement(f(0.35)))
    alone = start_through(f(230, "V"), z(0.1, 0.05), z(0.2, 0.02), m)
    standing = current_at(f(50, "A"), displacement(f(0.9)))
    with_others = start_through(f(230, "V"), z(0.1, 0.05), z(0.2, 0.02), m, standing)
    assert with_others.terminal_v < alone.terminal_v and with_others.current_a < alone.current_a
    e = 230 - standing.value * (0.1 + 0.05j)
    i = e / (0.3 + 0.07j + complex(m.r, m.x))
    assert with_others.origin_v == pytest.approx(abs(e - i * (0.1 + 0.05j)))
    assert len(leaves(with_others.origin_v)) > len(leaves(alone.origin_v))


def test_percentages():
    assert left_percent(f(195.5, "V"), f(230, "V")) == pytest.approx(85)
    assert dip_percent(f(228, "V"), f(221.1, "V"), f(230, "V")) == pytest.approx(3)
    assert torque_share(f(115, "V"), f(230, "V")) == pytest.approx(0.25)


@pytest.mark.parametrize("kind, multiple, direct, expected", [
    ("none", 1.0, False, 10.0), ("dol", 7.0, False, 70.0), ("soft", 3.0, False, 30.0), ("drive", 1.5, False, 15.0),
    ("star-delta", 2.5, False, 25.0), ("star-delta", 6.0, True, 20.0),
    ("transformer-inrush", 12.0, False, None), ("capacitor", 20.0, False, None),
])  # fmt: skip
def test_kinds_of_start(kind, multiple, direct, expected):
    found = starting(kind, f(10, "A"), f(multiple), multiple_is_direct=direct)
    assert found == expected if expected is None else found == pytest.approx(expected)


def test_star_is_a_third_of_delta():
    assert star_delta_start(start_current(f(21, "A"), f(6))) == pytest.approx(42)


def test_inrush_against_the_magnetic_band():
    # like for like: 12 times the current stays below a lower bound of 10 In only with In above 1.2 times it
    crest = inrush_peak(f(10, "A"), f(12))
    assert crest == pytest.approx(120 * math.sqrt(2))
    assert inrush_peak(f(10, "A"), f(12), "crest of rms") == pytest.approx(120)
    assert magnetic_margin(magnetic_peak(f(10), f(12, "A")), crest) == pytest.approx(1)
    assert magnetic_margin(magnetic_rms(f(5), f(16, "A")), f(70, "A")) == pytest.approx(80 / 70)


def test_charging_is_limited_by_the_loop():
    most = charging_peak(f(230, "V"), f(0.5, "ohm"))
    assert most == pytest.approx(650.5, abs=0.1)
    assert charging_peak(f(230, "V"), f(0.5, "ohm"), f(200, "A")) == 200
    assert charging_peak(f(230, "V"), f(0.5, "ohm"), f(900, "A")) == most
