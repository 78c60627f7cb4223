"""Design current against printed examples. The source stands beside each."""

import math

import pytest

from relet.electrical.currents import (
    active_w,
    as_share,
    correction_kvar,
    design_current,
    effective_current,
    input_power,
    kvar_per_phase,
    line_voltage,
    of_kva,
    phase_voltage,
    winding_current,
)  # fmt: skip
from relet.electrical.motors import locked_rotor_kva
from relet.electrical.phasors import displacement
from relet.working import Figure, fact, leaves, steps


def f(value: float, unit: str = "", name: str = "x") -> Figure:
    return fact(f"test.{name}", value, unit, "chosen")


def test_single_phase_6_kw():
    # T. Linsley, Basic Electrical Installation Work (Newnes), 17th edition printing p. 301: 26.09 A
    assert design_current("single", f(230, "V"), power_w=f(6000, "W"), pf=f(1)) == pytest.approx(26.09, abs=0.005)


def test_three_phase_16_kw():
    # UK college textbook extract on Tables 4D2A, 4D2B, example part (a): 23.09 A (recomputed)
    assert design_current("three", f(400, "V"), power_w=f(16000, "W"), pf=f(1)) == pytest.approx(23.09, abs=0.005)


def test_shaft_power_25_kw():
    # student design sheet, 25 kW motor, pf 0.7, efficiency 0.85: 60.65 A
    ib = design_current("three", f(400, "V"), shaft_kw=f(25, "kW"), pf=f(0.7), efficiency=f(0.85))
    assert ib == pytest.approx(60.65, abs=0.01)


def test_motor_12_75_kw():
    # J. Bird, Electrical Circuit Theory and Technology (Newnes), problem 20.11; answers from memory
    p = input_power(f(12.75, "kW"), as_share(f(85, "%")))
    line = design_current("three", f(415, "V"), power_w=p, pf=f(0.77))
    assert p == pytest.approx(15000)
    assert line == pytest.approx(27.10, abs=0.01)
    assert winding_current(line) == pytest.approx(15.65, abs=0.01)


def test_code_letter():
    # J. Mollera, Questions Electrotecniques Diverses, chapter 10: 72.5 A
    kva = locked_rotor_kva(f(6.7, "kVA/hp"), f(7.5, "hp"))
    assert of_kva(kva, f(400, "V")) == pytest.approx(72.5, abs=0.1)


def test_site_transformer_5_kva():
    # P / U, computed: 45.45 A at 110 V
    assert of_kva(f(5, "kVA"), f(110, "V"), "single") == pytest.approx(45.45, abs=0.005)


@pytest.mark.parametrize("idle, expected", [(None, 24.79), (0.0, 24.79), (10.0, math.sqrt(32**2 * 0.6 + 100 * 0.4))])
def test_welder(idle, expected):
    # IEC 60974-1 relation as remembered; 32 A at 60 % gives 24.8 A
    i = effective_current(f(32, "A"), f(60, "%"), None if idle is None else f(idle, "A"))
    assert i == pytest.approx(expected, abs=0.005)


def test_power_factor_correction():
    # V. K. Mehta, Principles of Power System (S. Chand), example 6.4, p. 111: 1.99 kvar, 0.663 each
    q = correction_kvar(f(5, "kW"), f(0.75), f(0.9))
    assert q == pytest.approx(1.99, abs=0.005)
    assert kvar_per_phase(q) == pytest.approx(0.663, abs=0.0005)


def test_power_and_current_are_each_other_turned_round():
    for connection, u in (("single", 230.0), ("two lines", 400.0), ("three", 400.0)):
        i = design_current(connection, f(u, "V"), power_w=f(7300, "W"), pf=f(0.83))
        assert active_w(i, f(u, "V"), f(0.83), connection) == pytest.approx(7300)
        assert of_kva(f(7.3 / 0.83, "kVA"), f(u, "V"), connection) == pytest.approx(i)


def test_plate_amperes_stand_as_they_are():
    plate = f(14.2, "A")
    assert design_current("three", f(400, "V"), current_a=plate, power_w=f(1, "W"), pf=f(1)) is plate


@pytest.mark.parametrize(
    "held, missing",
    [
        ({}, "none of"),
        ({"power_w": f(100, "W")}, "power factor"),
        ({"shaft_kw": f(1, "kW"), "pf": f(0.8)}, "efficiency"),
    ],
)
def test_what_is_missing_is_named(held, missing):
    with pytest.raises(ValueError, match=missing):
        design_current("single", f(230, "V"), **held)


def test_displacement():
    assert displacement(f(0.5)) == pytest.approx(60) and displacement(f(0.5), leading=True) == pytest.approx(-60)
    assert displacement(f(1)) == 0 and math.isnan(displacement(f(1.01)))
    assert phase_voltage(line_voltage(f(230, "V"))) == pytest.approx(230)


def test_the_working_reaches_the_facts():
    ib = design_current(
        "three", f(400, "V", "u"), shaft_kw=f(25, "kW", "shaft"), pf=f(0.7, "", "pf"), efficiency=f(0.85)
    )
    assert {x.name for x in leaves(ib)} == {"u", "shaft", "pf", "x"}
    assert steps(ib)[-1].put_text.startswith("29412 / (sqrt(3)")
