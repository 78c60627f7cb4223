"""Volt drop and starts: longer or more current never drops less, a stiffer source never leaves less voltage."""

import math

import pytest
from hypothesis import given
from hypothesis import strategies as st

from relet.electrical.impedance import Impedance
from relet.electrical.motors import start_through
from relet.electrical.phasors import added, current_at, displacement
from relet.electrical.voltdrop import approximate, ct, exact, path_drop, rate, tabulated
from relet.working import Figure, fact


def f(value: float, unit: str = "", name: str = "x") -> Figure:
    return fact(f"test.{name}", value, unit, "chosen")


def z(r: float, x: float) -> Impedance:
    return Impedance(f(r, "ohm"), f(x, "ohm"))


def drawing(amps: float, pf: float) -> Impedance:
    """The impedance of one line of a machine that draws this at 230 V."""
    one = 230 / amps
    return z(one * pf, one * math.sqrt(1 - pf**2))


OHM = st.floats(1e-4, 0.5)
AMPS = st.floats(0.1, 100)
PF = st.floats(0.1, 1)


@given(st.floats(0.1, 50), AMPS, st.floats(0.1, 300), st.floats(1, 3))
def test_longer_or_more_current_never_drops_less(mv, amps, metres, more):
    vd = tabulated(f(mv, "mV/A/m"), f(amps, "A"), f(metres, "m"))
    assert tabulated(f(mv, "mV/A/m"), f(amps, "A"), f(metres * more, "m")) >= vd
    assert tabulated(f(mv, "mV/A/m"), f(amps * more, "A"), f(metres, "m")) >= vd


@given(st.floats(0.1, 20), st.floats(0, 2), PF, st.floats(10, 50), st.floats(0, 1))
def test_a_cooler_conductor_never_drops_more(r, x, pf, it, share):
    phi = displacement(f(pf))
    c = ct(f(70, "degC"), f(30, "degC"), f(230, "degC"), f(1), f(1), f(it * share, "A"), f(it, "A"))
    assert 0.8 < c <= 1 + 1e-12
    assert rate(f(r, "mV/A/m"), f(x, "mV/A/m"), phi, c) <= rate(f(r, "mV/A/m"), f(x, "mV/A/m"), phi) + 1e-12


@given(OHM, OHM, AMPS, PF)
def test_the_exact_drop_is_never_below_the_approximate_one(r, x, amps, pf):
    i, phi = f(amps, "A"), displacement(f(pf))
    approx = approximate(i, z(r, x), phi)
    found = exact(f(230, "V"), i, z(r, x), phi)
    assert found >= approx - 1e-9
    # they part by the square of the part across the voltage, at most
    assert found - approx <= (amps * float(z(r, x).z)) ** 2 / 230 + 1e-9


@given(st.lists(st.tuples(OHM, OHM, AMPS, PF), min_size=1, max_size=6))
def test_a_path_is_never_worse_than_its_sections_added(parts):
    loads = [current_at(f(a, "A"), displacement(f(pf))) for _, _, a, pf in parts]
    sections = [(z(r, x), added("I", loads[k:])) for k, (r, x, _, _) in enumerate(parts)]
    together = path_drop(sections)
    apart = sum(abs(i.value) * float(zz.z) for zz, i in sections)
    assert together.magnitude <= apart * (1 + 1e-9)
    longer = [(z(r * 2, x * 2), i) for (r, x, _, _), (_, i) in zip(parts, sections)]
    assert path_drop(longer).magnitude == pytest.approx(2 * float(together.magnitude))


@given(OHM, OHM, OHM, OHM, st.floats(1, 500), PF, st.floats(1, 5))
def test_a_weaker_source_or_a_longer_path_never_leaves_more(r, x, rp, xp, amps, pf, more):
    machine = drawing(amps, pf)
    base = start_through(f(230, "V"), z(r, x), z(rp, xp), machine)
    weak = start_through(f(230, "V"), z(r * more, x * more), z(rp, xp), machine)
    far = start_through(f(230, "V"), z(r, x), z(rp * more, xp * more), machine)
    assert weak.terminal_v <= base.terminal_v * (1 + 1e-9) and far.terminal_v <= base.terminal_v * (1 + 1e-9)
    assert base.current_a <= amps * (1 + 1e-9)
    assert base.terminal_v <= base.origin_v * (1 + 1e-9) and base.origin_v <= 230 * (1 + 1e-9)


@given(OHM, OHM, st.floats(1, 500), PF, st.floats(1, 3))
def test_a_larger_start_never_leaves_more(r, x, amps, pf, more):
    left = [start_through(f(230, "V"), z(r, x), z(0.01, 0.001), drawing(a, pf)).terminal_v for a in (amps, amps * more)]
    assert left[1] <= left[0] * (1 + 1e-9)
