"""Starts and inrush against printed examples. The source stands beside each."""

import math

import pytest

from relet.electrical.impedance import Impedance, conductor
from relet.electrical.motors import (
    machine_of_circuit,
    start_through,
)  # fmt: skip
from relet.electrical.phasors import current_at, displacement
from relet.working import Figure, fact, leaves


def f(value: float, unit: str = "", name: str = "x") -> Figure:
    return fact(f"test.{name}", value, unit, "chosen")


def z(r: float, x: float) -> Impedance:
    return Impedance(f(r, "ohm"), f(x, "ohm"))


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


def drawing(amps: float, pf: float) -> Impedance:
    """The impedance of one line of a machine that draws this at 230 V."""
    one = 230 / amps
    return z(one * pf, one * math.sqrt(1 - pf**2))


def test_behind_nothing_a_machine_draws_its_start():
    start = start_through(f(230, "V"), z(0, 0), z(0, 0), drawing(60, 0.35))
    assert start.current_a == pytest.approx(60) and start.terminal_v == pytest.approx(230)


def test_other_loads_lower_the_origin_before_the_start():
    m = drawing(60, 0.35)
    alone = start_through(f(230, "V"), z(0.1, 0.05), z(0.2, 0.02), m)
    standing = current_at(f(50, "A"), displacement(f(0.9)))
    with_others = start_through(f(230, "V"), z(0.1, 0.05), z(0.2, 0.02), m, standing)
    assert with_others.terminal_v < alone.terminal_v and with_others.current_a < alone.current_a
    e = 230 - standing.value * (0.1 + 0.05j)
    i = e / (0.3 + 0.07j + complex(m.r, m.x))
    assert with_others.origin_v == pytest.approx(abs(e - i * (0.1 + 0.05j)))
    assert len(leaves(with_others.origin_v)) > len(leaves(alone.origin_v))
