"""Volt drop against printed examples. The source stands beside each."""

import math

import pytest

from relet.electrical.impedance import Impedance, conductor, parallel_equal
from relet.electrical.phasors import added, current_at, displacement, drop, polar
from relet.electrical.voltdrop import (
    along,
    approximate,
    cooler,
    ct,
    exact,
    fall,
    greatest_rate,
    longest,
    path_drop,
    percent,
    rate,
    rate_of,
    sending_voltage,
    tabulated,
    to_lines,
    to_neutral,
)  # fmt: skip
from relet.working import Figure, fact


def f(value: float, unit: str = "", name: str = "x") -> Figure:
    return fact(f"test.{name}", value, unit, "chosen")


def z(r: float, x: float) -> Impedance:
    return Impedance(f(r, "ohm"), f(x, "ohm"))


@pytest.mark.parametrize("mv, amps, metres, volts", [
    (4.4, 26.0870, 18, 2.066),  # T. Linsley, Basic Electrical Installation Work, p. 301 (printed cut off: 2.06)
    (3.8, 23.0940, 25, 2.19), (9.5, 23.0940, 25, 5.48),  # college textbook extract on 4D2B (recomputed)
    (1.1, 60.65, 34, 2.27),  # 25 kW motor sheet; its printed 3.23 V is wrong twice, this is by its own figures
    (1.1, 100, 150, 16.5),  # trade page, 100 A over 150 m
])  # fmt: skip
def test_tabulated(mv, amps, metres, volts):
    assert tabulated(f(mv, "mV/A/m"), f(amps, "A"), f(metres, "m")) == pytest.approx(volts, abs=0.005)


def test_tabulated_turned_round():
    # the same trade page: 10.5 V allow 0.7 mV/A/m
    limit, i, length = f(10.5, "V"), f(100, "A"), f(150, "m")
    v = greatest_rate(limit, i, length)
    assert v == pytest.approx(0.7)
    assert longest(limit, v, i) == pytest.approx(150)


def test_line_then_lighting():
    # Electrical Installation Guide, chapter G, 2008, p. G23, example 2: 4.125, 2.38, 7.2, 9.6 V, 4.2 %
    line = tabulated(f(0.55, "mV/A/m"), f(150, "A"), f(50, "m"))
    final = tabulated(f(18, "mV/A/m"), f(20, "A"), f(20, "m"))
    assert (line, to_neutral(line), final) == pytest.approx((4.125, 2.38, 7.2), abs=0.005)
    both = along([to_neutral(line), final])
    assert both == pytest.approx(9.6, abs=0.05)
    assert percent(both, f(230, "V")) == pytest.approx(4.2, abs=0.05)
    assert to_lines(to_neutral(line)) == pytest.approx(line)


def test_three_parallel_cables():
    # J. Mollera, Questions Electrotecniques Diverses, chapter 7: 11.16 and 11.19 V, 5.09 and 5.10 %; the print works
    # from rounded R and X (unrounded 11.167 and 11.195), hence 0.01 V
    cable = parallel_equal(conductor(f(0.095, "mohm/m"), f(0.102, "mohm/m"), f(400, "m")), f(3))
    i, phi, u = f(630, "A"), displacement(f(0.87)), f(380 / math.sqrt(3), "V")
    assert approximate(i, cable, phi) == pytest.approx(11.16, abs=0.01)
    assert exact(u, i, cable, phi) == pytest.approx(11.19, abs=0.01)
    assert percent(approximate(i, cable, phi), u) == pytest.approx(5.09, abs=0.01)
    assert percent(exact(u, i, cable, phi), u) == pytest.approx(5.10, abs=0.01)


@pytest.mark.parametrize("r, x, expected", [
    (0.296, 0.0268, 7.299), (0.1872, 0.025, 4.733), (0.1348, 0.0242, 3.498), (0.0998, 0.0236, 2.672),
    (0.0688, 0.0224, 1.9306),
])  # fmt: skip
def test_running_motor_feeder(r, x, expected):
    # A. L. Sheldrake, Handbook of Electrical Engineering (Wiley 2003), pp. 238-239, Tables 9.30 and 9.33
    vd = to_lines(approximate(f(65.82, "A"), z(r, x), displacement(f(0.85))))
    assert percent(vd, f(415, "V")) == pytest.approx(expected, abs=0.001)


def test_distributor_with_two_loads():
    # V. K. Mehta, Principles of Power System, example 14.1, p. 359: 230.7 - j190.72 A; 17.44 - j3.81, 17.85 V
    first = current_at(f(100, "A"), displacement(f(0.707)))
    second = current_at(f(200, "A"), displacement(f(0.8)))
    r, x = f(0.2, "mohm/m"), f(0.1, "mohm/m")
    one, two = conductor(r, x, f(200, "m")), conductor(r, x, f(100, "m"))
    both = added("I", [first, second])
    assert both.value == pytest.approx(complex(230.7, -190.72), abs=0.01)
    vd = path_drop([(one, both), (two, second)])
    assert vd.value == pytest.approx(complex(17.44, -3.81), abs=0.01)
    assert vd.magnitude == pytest.approx(17.85, abs=0.01)


def test_four_wire_line():
    # V. K. Mehta, example 14.10, p. 371: In 10.98 - j19.02 A; E_R 239.82 V at -2.54; E_Y 239.82 at -117.46;
    # E_B 227.22 at 120
    currents = [polar(f(30, "A"), f(a, "deg")) for a in (-30, -90, 120)]
    neutral = added("IN", currents)
    assert neutral.value == pytest.approx(complex(10.98, -19.02), abs=0.01)
    back = drop(neutral, z(0.4, 0))
    sent = [
        sending_voltage(polar(f(230, "V"), f(a, "deg")), drop(i, z(0.2, 0)), back)
        for a, i in zip((0, -120, 120), currents)
    ]
    assert [e.magnitude for e in sent] == pytest.approx([239.82, 239.82, 227.22], abs=0.01)
    assert [e.angle for e in sent] == pytest.approx([-2.54, -117.46, 120], abs=0.01)
    # the third phase is higher at the load than where it is sent from
    assert fall(sent[2].magnitude, f(230, "V")) < 0


def test_ct_at_half_load():
    # BS 7671 Appendix 4 6.1 as remembered: 70 C conductor, half its rating, alone at 30 C: 0.9
    c = ct(f(70, "degC"), f(30, "degC"), f(230, "degC"), f(1), f(1), f(20, "A"), f(40, "A"))
    assert c == pytest.approx(0.9)
    assert cooler(f(4.4, "mV/A/m"), c) == pytest.approx(3.96)
    full = ct(f(70, "degC"), f(30, "degC"), f(230, "degC"), f(1), f(1), f(40, "A"), f(40, "A"))
    assert full == pytest.approx(1)


def test_rate_with_reactance():
    r, x = f(1.25, "mV/A/m"), f(0.16, "mV/A/m")
    phi = displacement(f(0.8))
    assert rate(r, x, phi) == pytest.approx(0.8 * 1.25 + 0.6 * 0.16)
    assert rate(r, x, phi, f(0.9)) == pytest.approx(0.9 * 0.8 * 1.25 + 0.6 * 0.16)
    assert rate_of(f(1, "mohm/m"), three_phase=False) == 2
    assert rate_of(f(1, "mohm/m"), three_phase=True) == pytest.approx(math.sqrt(3))


def test_exact_is_the_difference_of_magnitudes():
    u, i, cable, phi = f(230, "V"), f(80, "A"), z(0.12, 0.06), displacement(f(0.6))
    load_v = u - exact(u, i, cable, phi)
    sent = complex(load_v, 0) + complex(0.12, 0.06) * current_at(i, phi).value
    assert abs(sent) == pytest.approx(230)
    assert math.isnan(exact(u, f(9000, "A"), cable, displacement(f(0.6), leading=True)))
