"""Heat, residual currents and harmonics: the senses in which they may move."""

import pytest
from hypothesis import assume, given
from hypothesis import strategies as st

from relet.electrical.harmonics import sizing
from relet.electrical.heat import (
    Faces,
    allowed_losses,
    effective_surface,
    pole_losses,
)  # fmt: skip
from relet.errors import OutsideTable
from relet.tables.assemblies import enclosure_constant, heat_exponent
from relet.tables.cables import harmonic_neutral_factor
from relet.working import Figure, fact

ORDER = ("AC", "A", "F", "B")


def f(value: float, unit: str = "", name: str = "x") -> Figure:
    return fact(f"test.{name}", value, unit, "chosen")


@given(st.floats(5, 400), st.floats(0.1, 1.5), st.floats(1, 1.6), st.floats(0, 50), st.floats(0, 30), st.floats(1, 3))
def test_hotter_ambient_or_more_losses_never_cool(losses, k, c, ambient, hotter, more):
    def inside(p: float) -> float:
        """The method the right way round: ambient and c k P^x."""
        return ambient + c * k * p ** float(heat_exponent())

    def allowed(limit: float, t: float) -> Figure:
        return allowed_losses(f(limit, "degC"), f(t, "degC"), f(k, "K/W^x"), f(c), heat_exponent())

    limit = inside(losses)
    assert allowed(limit, ambient) == pytest.approx(losses, rel=1e-6)
    assert allowed(limit, ambient + hotter) <= allowed(limit, ambient) * (1 + 1e-9)
    assert allowed(inside(losses * more), ambient) >= allowed(limit, ambient) * (1 - 1e-9)


@given(st.floats(0.1, 2), st.floats(0.1, 2), st.floats(0.1, 1), st.floats(1, 1.5))
def test_a_larger_enclosure_never_runs_hotter(w, h, d, more):
    b = Faces(f(1.4), f(0.9), f(0.5), f(0.9), f(0.9), f(0))
    small = effective_surface(f(w, "m"), f(h, "m"), f(d, "m"), b)
    large = effective_surface(f(w * more, "m"), f(h, "m"), f(d, "m"), b)
    assert small <= large
    try:
        k = [enclosure_constant(x) for x in (small, large)]
    except OutsideTable:
        assume(False)
    may = [allowed_losses(f(55, "degC"), f(25, "degC"), x, f(1), heat_exponent()) for x in k]
    # the curves for small and for large enclosures need not meet where one ends and the other begins
    assume((small <= 1.25) == (large <= 1.25))
    assert may[1] >= may[0] * (1 - 1e-9)


@given(st.floats(0.1, 63), st.floats(1, 3))
def test_losses_go_with_the_square(amps, more):
    one, two = (pole_losses(f(3), f(4, "W"), f(a, "A"), f(32, "A")) for a in (amps, amps * more))
    assert two == pytest.approx(float(one) * more**2)


@given(st.floats(1, 200), st.floats(0, 90), st.floats(1, 2))
def test_more_current_never_asks_for_less_cable(ib, percent, more):
    row = harmonic_neutral_factor(f(percent, "%"))
    small, large = (sizing(f(i, "A"), f(percent, "%"), row.size_on, row.factor) for i in (ib, ib * more))
    assert large.size_a >= small.size_a
    assert small.size_a >= ib * (1 - 1e-9)
