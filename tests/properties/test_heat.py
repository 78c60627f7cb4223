"""Heat, residual currents and harmonics: the senses in which they may move."""

import pytest
from hypothesis import assume, given
from hypothesis import strategies as st

from relet.electrical.harmonics import sizing
from relet.electrical.heat import (
    Faces,
    allowed_losses,
    derated,
    derated_by_limit,
    effective_surface,
    inside_temperature,
    pole_losses,
    rise,
)  # fmt: skip
from relet.electrical.residual import (
    allowed_standing,
    covers,
    greatest_electrode,
    least_type,
    left,
    standing,
    touch_voltage,
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
    def inside(p: float, t: float) -> Figure:
        return inside_temperature(f(t, "degC"), rise(f(p, "W"), f(k, "K/W^x"), f(c), heat_exponent()).top_k)

    assert inside(losses, ambient + hotter) >= inside(losses, ambient)
    assert inside(losses * more, ambient) >= inside(losses, ambient)
    limit = inside(losses, ambient)
    allowed = [
        allowed_losses(limit, f(t, "degC"), f(k, "K/W^x"), f(c), heat_exponent()) for t in (ambient, ambient + hotter)
    ]
    assert allowed[0] == pytest.approx(losses, rel=1e-6) and allowed[1] <= allowed[0] * (1 + 1e-9)


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
    hot = [rise(f(50, "W"), x, f(1), heat_exponent()).middle_k for x in k]
    # the curves for small and for large enclosures need not meet where one ends and the other begins
    assume((small <= 1.25) == (large <= 1.25))
    assert hot[1] <= hot[0]


@given(st.floats(1, 63), st.floats(0, 120), st.floats(0, 40), st.floats(0, 2))
def test_warmer_air_never_raises_a_rating(in_a, inside, warmer, per_k):
    linear = [derated(f(in_a, "A"), f(t, "degC"), f(30, "degC"), f(per_k, "%/K")) for t in (inside, inside + warmer)]
    square = [
        derated_by_limit(f(in_a, "A"), f(t, "degC"), f(30, "degC"), f(110, "degC")) for t in (inside, inside + warmer)
    ]
    for low, high in (reversed(linear), reversed(square)):
        assert 0 <= low <= high <= in_a


@given(st.floats(0.1, 63), st.floats(1, 3))
def test_losses_go_with_the_square(amps, more):
    one, two = (pole_losses(f(3), f(4, "W"), f(a, "A"), f(32, "A")) for a in (amps, amps * more))
    assert two == pytest.approx(float(one) * more**2)


@given(st.lists(st.floats(0, 10), max_size=8), st.floats(0, 10), st.sampled_from([30, 100, 300]))
def test_one_machine_more_never_leaves_more(currents, one, idn):
    allowed = allowed_standing(f(idn, "mA"), f(0.3))
    few = [f(c, "mA") for c in currents]
    assert left(allowed, standing([*few, f(one, "mA")])) <= left(allowed, standing(few)) + 1e-12


@given(st.lists(st.sampled_from(ORDER), max_size=6))
def test_the_least_type_covers_all_and_no_lesser_does(needed):
    least = least_type(needed, ORDER)
    assert all(covers(least, t, ORDER) for t in needed)
    for lesser in ORDER[: ORDER.index(least)]:
        assert not all(covers(lesser, t, ORDER) for t in needed)


@given(st.floats(5, 1000), st.floats(1, 2))
def test_a_worse_electrode_never_touches_less(idn, more):
    limit = greatest_electrode(f(50, "V"), f(idn, "mA"))
    assert touch_voltage(f(limit * more, "ohm"), f(idn, "mA")) >= 50 * (1 - 1e-9)


@given(st.floats(1, 200), st.floats(0, 90), st.floats(1, 2))
def test_more_current_never_asks_for_less_cable(ib, percent, more):
    row = harmonic_neutral_factor(f(percent, "%"))
    small, large = (sizing(f(i, "A"), f(percent, "%"), row.size_on, row.factor) for i in (ib, ib * more))
    assert large.size_a >= small.size_a
    assert small.size_a >= ib * (1 - 1e-9)
