"""What must hold for every search over the range of fault current."""

from hypothesis import given, settings
from hypothesis import strategies as st

from relet.electrical.adiabatic import heating
from relet.electrical.devices import breaker, fuse_gg
from relet.tables.protection import gg_ratings, mcb_ratings
from relet.working import fact

K = "A s^0.5/mm2"


def q(value, unit=""):
    return fact("test.x", value, unit, "assumed")


breakers = st.builds(
    lambda i, c: breaker(q(i, "A"), c, icn_a=q(10000, "A"), energy_class=3),
    st.sampled_from(mcb_ratings()), st.sampled_from("BCD"),
)  # fmt: skip
fuses = st.builds(lambda i: fuse_gg(q(i, "A")), st.sampled_from([i for i in gg_ratings() if i >= 16]))
devices = st.lists(st.one_of(breakers, fuses), min_size=1, max_size=3)
amps = st.floats(1.5, 4.3)


def search(bands, low, high, size=4.0):
    return heating(bands, q(low, "A"), q(high, "A"), q(115, K), q(size, "mm2"), q(5, "s"))


@given(devices, amps, amps, st.floats(0, 1))
@settings(max_examples=150, deadline=None)
def test_no_current_of_the_range_is_worse(bands, a, b, share):
    low, high = sorted((10**a, 10**b))
    found = search(bands, low, high)
    if found.worst is not None:
        start = max(low, float(found.clears_from))
        current = q(start * (high / start) ** share, "A")
        assert min(float(d.let_through_a2s(current)) for d in bands) <= found.worst.energy_a2s * (1 + 1e-6)
        assert found.worst.time_s <= 5 * (1 + 1e-9)


@given(devices, amps, amps, amps, amps)
@settings(max_examples=100, deadline=None)
def test_a_wider_range_is_never_better(bands, a, b, c, d):
    one, two, three, four = sorted(10**v for v in (a, b, c, d))
    inner, outer = search(bands, two, three), search(bands, one, four)
    if inner.worst is not None:
        assert outer.worst is not None
        assert outer.worst.energy_a2s >= inner.worst.energy_a2s * (1 - 1e-6)


@given(devices, amps, amps, st.floats(1, 50), st.floats(1, 3))
@settings(max_examples=100, deadline=None)
def test_a_bigger_conductor_never_has_less_margin(bands, a, b, size, factor):
    low, high = sorted((10**a, 10**b))
    small, big = search(bands, low, high, size), search(bands, low, high, size * factor)
    if small.worst is not None:
        assert big.worst.margin >= small.worst.margin - 1e-12


@given(devices, devices, amps, amps)
@settings(max_examples=100, deadline=None)
def test_another_device_in_the_path_never_heats_more_where_both_clear(bands, more, a, b):
    low, high = sorted((10**a, 10**b))
    alone, both = search(bands, low, high), search([*bands, *more], low, high)
    if alone.worst is not None and alone.all_cleared:
        assert both.worst.energy_a2s <= alone.worst.energy_a2s * (1 + 1e-6)
