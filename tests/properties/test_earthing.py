"""Monotone senses of earthing: a bigger line never asks for a smaller protective conductor."""

from hypothesis import given
from hypothesis import strategies as st

from relet.electrical import earthing as e
from relet.working import fact


def q(value, unit=""):
    return fact("test.x", value, unit, "assumed")


csa = st.floats(1, 400)


@given(csa, csa)
def test_bigger_line_never_asks_for_less(a, b):
    k = q(143, "A s^0.5/mm2")
    small, big = (e.protective_csa(q(v, "mm2"), q(16, "mm2"), q(35, "mm2"), k, k) for v in sorted((a, b)))
    assert big >= small
    assert e.main_bonding_csa(big, q(6, "mm2"), q(25, "mm2")) >= e.main_bonding_csa(small, q(6, "mm2"), q(25, "mm2"))


@given(st.floats(10, 1000), st.floats(1, 5000))
def test_the_electrode_limit_is_where_the_touch_voltage_reaches_its_limit(idn, ra):
    limit = e.electrode_limit(q(50, "V"), q(idn, "mA"))
    touch = e.touch_voltage(q(ra, "ohm"), q(idn, "mA"))
    assert (ra <= limit * (1 + 1e-12)) == (touch <= 50 * (1 + 1e-12)) or abs(touch - 50) < 1e-6
