"""Monotone senses of fault currents, the opposing ones among them."""

from hypothesis import given
from hypothesis import strategies as st

from relet.electrical import faults as f
from relet.electrical.impedance import Impedance
from relet.working import fact


def q(value, unit=""):
    return fact("test.x", value, unit, "assumed")


def path(r, x):
    return Impedance(q(r, "ohm"), q(x, "ohm"))


def source(low, high, a, b, emf=230.0):
    return f.source_of_impedance(q(low, "ohm"), q(high, "ohm"), q(emf, "V"), q(min(a, b), "deg"), q(max(a, b), "deg"))


def least(s, p):
    return float(f.least_fault(s, p, q(0.95), q(230, "V")).current_a)


def greatest(s, p):
    return float(f.greatest_fault(s, p).current_a)


ze, angle, part, grow = st.floats(0.01, 1.0), st.floats(0, 90), st.floats(0, 3), st.floats(1, 5)
HAIR = 1 + 1e-9


@given(ze, angle, angle, part, part, grow)
def test_longer_never_raises_a_fault_current(z, a, b, r, x, factor):
    s = source(z, z, a, b)
    assert greatest(s, path(r * factor, x * factor)) <= greatest(s, path(r, x)) * HAIR
    assert least(s, path(r * factor, x * factor)) <= least(s, path(r, x)) * HAIR


@given(ze, grow, angle, angle, part, part)
def test_lower_ze_never_lowers_the_greatest_fault(z, factor, a, b, r, x):
    assert greatest(source(z, z, a, b), path(r, x)) * HAIR >= greatest(source(z * factor, z * factor, a, b), path(r, x))


@given(ze, grow, angle, angle, angle, part, part)
def test_knowing_less_of_the_source_never_favours(z, factor, a, b, c, r, x):
    known, wide = source(z, z, a, b), source(z / factor, z * factor, min(a, b, c), max(a, b, c))
    p = path(r, x)
    assert greatest(wide, p) * HAIR >= greatest(known, p)
    assert least(wide, p) <= least(known, p) * HAIR


@given(ze, angle, angle, part, part)
def test_least_is_below_greatest(z, a, b, r, x):
    s = source(z, z, a, b)
    assert least(s, path(r, x)) <= greatest(s, path(r, x)) * HAIR


@given(ze, angle, angle, angle, part, part)
def test_every_angle_of_the_range_lies_between(z, a, b, c, r, x):
    inside = min(max(c, min(a, b)), max(a, b))
    one, s, p = source(z, z, inside, inside), source(z, z, a, b), path(r, x)
    assert greatest(s, p) * HAIR >= greatest(one, p)
    assert least(s, p) <= least(one, p) * HAIR
