"""Monotone senses of loops: longer or hotter never lowers them, a bigger conductor never raises them."""

from hypothesis import given
from hypothesis import strategies as st

from relet.electrical import impedance as z
from relet.tables.cables import conductor_resistance, temperature_coefficient
from relet.working import fact

SIZES = (1.5, 2.5, 4, 6, 10, 16, 25, 35, 50)


def q(value, unit=""):
    return fact("test.x", value, unit, "assumed")


def run(size, length, hot_c):
    r, x = conductor_resistance(q(size, "mm2")), q(0.08, "mohm/m")
    factor = z.temperature_factor(temperature_coefficient(), q(20, "degC"), q(hot_c, "degC"), q(20, "degC"))
    one = z.conductor(r, x, q(length, "m"), factor)
    return z.series(z.Impedance(q(0.1, "ohm"), q(0.05, "ohm")), one, one).z


lengths, temperatures, sizes = st.floats(0, 200), st.floats(20, 90), st.integers(0, len(SIZES) - 2)


@given(sizes, lengths, lengths, temperatures)
def test_longer_never_lowers_the_loop(size, a, b, hot):
    assert run(SIZES[size], min(a, b), hot) <= run(SIZES[size], max(a, b), hot)


@given(sizes, lengths, temperatures)
def test_bigger_never_raises_the_loop(size, length, hot):
    assert run(SIZES[size + 1], length, hot) <= run(SIZES[size], length, hot)


@given(sizes, lengths, temperatures, temperatures)
def test_hotter_never_lowers_the_loop(size, length, a, b):
    assert run(SIZES[size], length, min(a, b)) <= run(SIZES[size], length, max(a, b))


ohms = st.floats(1e-3, 10)


@given(ohms, ohms, ohms, ohms)
def test_a_second_way_agrees_with_complex_arithmetic(ra, xa, rb, xb):
    got = z.parallel(z.Impedance(q(ra, "ohm"), q(xa, "ohm")), z.Impedance(q(rb, "ohm"), q(xb, "ohm")))
    a, b = complex(ra, xa), complex(rb, xb)
    assert abs(complex(got.r, got.x) - a * b / (a + b)) <= 1e-9 * abs(a + b)


@given(ohms, ohms, st.floats(0, 1))
def test_cross_connected_reading_is_greatest_in_the_middle(ra, rb, p):
    middle = z.ring_cross_connected(q(ra, "ohm"), q(rb, "ohm"))
    assert z.ring_cross_connected(q(ra, "ohm"), q(rb, "ohm"), q(p)) <= middle * (1 + 1e-12)
