"""What must hold for every band: more current never opens later, fast never after slow, and gates agree both ways."""

import math

from hypothesis import given, settings
from hypothesis import strategies as st

from relet.electrical.bands import LetThrough
from relet.electrical.devices import breaker, fuse_gg, residual
from relet.tables.protection import gg_ratings, mcb_ratings
from relet.working import fact


def q(value, unit=""):
    return fact("test.x", value, unit, "assumed")


breakers = st.builds(
    lambda i, c: breaker(q(i, "A"), c, icn_a=q(6000, "A"), energy_class=3),
    st.sampled_from([i for i in mcb_ratings() if i <= 125]),
    st.sampled_from("BCD"),
)
fuses = st.builds(lambda i: fuse_gg(q(i, "A")), st.sampled_from(gg_ratings()))
residuals = st.builds(
    lambda i, d: residual(q(i, "mA"), d), st.sampled_from((10, 30, 100, 300, 500)), st.sampled_from(("general", "S"))
)
bands = st.one_of(breakers, fuses, residuals)
decades = st.floats(-2, 4.5)


@given(bands, decades, decades)
@settings(max_examples=300, deadline=None)
def test_more_current_never_opens_later(band, a, b):
    low, high = (q(10**v, "A") for v in sorted((a, b)))
    assert band.slowest_s(high) <= band.slowest_s(low) * (1 + 1e-9)
    assert band.fastest_s(high) <= band.fastest_s(low) * (1 + 1e-9)


@given(bands, decades)
@settings(max_examples=300, deadline=None)
def test_the_fast_edge_is_never_behind_the_slow_one(band, a):
    current = q(10**a, "A")
    slow, fast = band.slowest_s(current), band.fastest_s(current)
    assert fast <= slow * (1 + 1e-9) or math.isinf(slow)


@given(bands, st.floats(-2, 3.5), st.floats(1e-6, 3))
@settings(max_examples=300, deadline=None)
def test_from_its_least_current_on_the_device_opens_in_time(band, decade, more):
    time = q(10**decade, "s")
    least = band.trips_within(time)
    if math.isfinite(least):
        assert band.slowest_s(q(float(least) * (1 + more), "A")) <= time * (1 + 1e-6)


@given(bands, st.floats(-2, 3.5), st.floats(-2, 3.5))
@settings(max_examples=200, deadline=None)
def test_a_tighter_time_never_needs_less_current(band, a, b):
    short, long = (q(10**v, "s") for v in sorted((a, b)))
    assert band.trips_within(short) >= band.trips_within(long) * (1 - 1e-9)


@given(bands, decades)
@settings(max_examples=300, deadline=None)
def test_energy_is_never_more_than_the_slow_edge_allows(band, a):
    current = q(10**a, "A")
    assert band.let_through_a2s(current) <= float(current) ** 2 * band.slowest_s(current) * (1 + 1e-9)


@given(breakers, decades, st.floats(1, 1e6))
@settings(max_examples=100, deadline=None)
def test_a_makers_limit_never_lets_more_through(band, a, energy):
    current = q(10**a, "A")
    limited = band.with_energies([*band.energies, LetThrough(q(1e5, "A"), q(energy, "A2s"))])
    assert limited.let_through_a2s(current) <= max(float(band.let_through_a2s(current)), energy)
