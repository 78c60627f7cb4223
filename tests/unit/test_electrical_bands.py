"""Bands of breakers, fuses and residual current devices against the gates they are built from."""

import math

import pytest

from relet.electrical.bands import LetThrough
from relet.electrical.devices import breaker, fuse_gg, residual
from relet.errors import OutsideTable
from relet.tables.core import table
from relet.tables.protection import Conventional, FuseEnergy, Gates
from relet.working import fact, steps


def q(value, unit=""):
    return fact("test.x", value, unit, "assumed")


def a(value):
    return q(value, "A")


def s(value):
    return q(value, "s")


# Test points a to e of IEC 60898-1 Table 7 (V2 and M+ in the tables), typed here once more by hand
@pytest.mark.parametrize(
    ("curve", "in_a", "current", "slowest"),
    [
        ("B", 16, 1.45 * 16, 3600), ("C", 80, 1.45 * 80, 7200), ("B", 32, 2.55 * 32, 60), ("B", 40, 2.55 * 40, 120),
        ("C", 16, 5 * 16, 15), ("C", 63, 5 * 63, 30), ("C", 16, 159.9, 15), ("C", 16, 160, 0.1), ("B", 16, 80, 0.1),
        ("D", 25, 250, 4), ("D", 40, 400, 8), ("D", 25, 500, 0.1), ("C", 16, 6000, 0.1), ("C", 16, 1.44 * 16, math.inf),
    ],
)  # fmt: skip
def test_slow_edge_of_breakers(curve, in_a, current, slowest):
    assert float(breaker(a(in_a), curve).slowest_s(a(current))) == slowest


@pytest.mark.parametrize(
    ("curve", "current", "fastest"),
    [
        ("C", 1.13 * 16, math.inf),
        ("C", 40, 1),
        ("C", 80, 0.1),
        ("C", 80.1, 0),
        ("B", 48, 0.1),
        ("B", 48.1, 0),
        ("D", 160, 0.1),
    ],
)
def test_fast_edge_of_breakers(curve, current, fastest):
    assert float(breaker(a(16), curve).fastest_s(a(current))) == fastest


@pytest.mark.parametrize(
    ("curve", "in_a", "within", "current"),
    [
        # 0.4 s: the upper magnetic bound (BS 7671 Table 41.3 rests on it)
        ("B", 16, 0.4, 80), ("C", 16, 0.4, 160), ("D", 16, 0.4, 320),
        # 5 s: the same, but a type D from 10 to 32 A surely opens in 4 s at 10 In; above 32 A it may take 8 s
        ("C", 63, 5, 630), ("D", 16, 5, 160), ("D", 40, 5, 800), ("C", 32, 15, 160), ("B", 6, 0.05, math.inf),
    ],
)  # fmt: skip
def test_least_current_that_surely_opens_a_breaker(curve, in_a, within, current):
    assert float(breaker(a(in_a), curve).trips_within(s(within))) == current


def test_magnetic_and_conventional_currents():
    b = breaker(a(20), "C")
    assert (float(b.instant_low_a), float(b.instant_high_a)) == (100, 200)
    assert (float(b.holds_a), float(b.trips_a)) == pytest.approx((22.6, 29))


@pytest.mark.parametrize(
    ("in_a", "at_0p4_s", "at_5_s", "at_0p1_s"),
    # 5 s and 0.1 s: gates. 0.4 s: printed for type gG in an instrument manual (FU15 in the tables, V1)
    [
        (10, 82, 46.5, 110),
        (16, 110, 65, 150),
        (32, 275, 150, 350),
        (50, 470, 250, 610),
        (63, 550, 320, 820),
        (80, 840, 425, 1100),
        (100, 1020, 580, 1450),
    ],
)
def test_least_current_that_surely_opens_a_fuse(in_a, at_0p4_s, at_5_s, at_0p1_s):
    fuse = fuse_gg(a(in_a))
    assert float(fuse.trips_within(s(5))) == pytest.approx(at_5_s)
    assert float(fuse.trips_within(s(0.1))) == pytest.approx(at_0p1_s)
    drawn = float(fuse.trips_within(s(0.4)))
    assert at_0p4_s <= drawn <= 1.1 * at_0p4_s


def test_no_current_printed_for_a_fuse_is_greater_than_the_one_it_is_judged_by():
    printed = {g: p for r in table("gg_gates").rows if (p := r.number("ia_0p4s_printed_A")) and (g := r.number("in_A"))}
    assert len(printed) == 11
    for in_a, ia in printed.items():
        fuse = fuse_gg(a(in_a))
        assert fuse.trips_within(s(0.4)) >= ia
        assert fuse.slowest_s(a(ia * (1 - 1e-9))) >= 0.4 * (1 - 1e-6)


def test_a_fuse_band_passes_through_its_gates():
    fuse = fuse_gg(a(63))
    assert float(fuse.slowest_s(a(320))) == pytest.approx(5) and float(fuse.slowest_s(a(820))) == pytest.approx(0.1)
    assert float(fuse.fastest_s(a(160))) == pytest.approx(10) and float(fuse.fastest_s(a(450))) == pytest.approx(0.1)
    assert float(fuse.slowest_s(a(1.6 * 63))) == pytest.approx(3600)
    assert math.isinf(fuse.slowest_s(a(100))) and math.isinf(fuse.fastest_s(a(1.25 * 63)))


def test_operating_energy_of_a_fuse_at_great_currents():
    """gG 16 A: the greater of pre-arcing limit (1000) and operating limit (1210) of the tables (M)."""
    assert float(fuse_gg(a(16)).let_through_a2s(a(6000))) == pytest.approx(1210)
    # between 0.1 s and 0.01 s more may be let through
    assert fuse_gg(a(16)).let_through_a2s(a(200)) > 1210


def test_a_fuse_from_a_makers_sheet():
    conv = Conventional(q(1.25), q(1.6), q(1, "h"))
    gates = Gates(a(30), a(60), a(80), a(140))
    fuse = fuse_gg(a(16), conv, gates, FuseEnergy(None, None, q(250, "A2s"), q(900, "A2s")))
    assert float(fuse.let_through_a2s(a(6000))) == pytest.approx(900)
    assert float(fuse.instant_low_a) == 80


def test_class_limit_bounds_let_through_up_to_the_rated_capacity_only():
    b = breaker(a(16), "C", icn_a=a(6000), energy_class=3)
    assert float(b.let_through_a2s(a(200))) == pytest.approx(200**2 * 0.1)
    assert float(b.let_through_a2s(a(3000))) == 42000  # EN 60898-1 Annex ZA, from memory
    assert float(b.let_through_a2s(a(7000))) == pytest.approx(7000**2 * 0.1)
    assert breaker(a(16), "D", icn_a=a(6000), energy_class=3).energies == ()


def test_a_makers_curve_counts_at_the_next_higher_point():
    points = [LetThrough(a(6000), q(25000, "A2s")), LetThrough(a(1000), q(8000, "A2s"))]
    b = breaker(a(16), "B").with_energies(points)
    assert float(b.let_through_a2s(a(900))) == 8000 and float(b.let_through_a2s(a(1001))) == 25000


@pytest.mark.parametrize(
    ("idn", "delay", "current", "slowest"),
    [(30, "general", 0.03, 0.3), (30, "general", 0.06, 0.15), (30, "general", 0.2, 0.15), (30, "general", 0.25, 0.04),
     (100, "general", 0.5, 0.04), (100, "S", 0.1, 0.5), (100, "S", 0.5, 0.15), (30, "general", 0.029, math.inf)],
)  # fmt: skip
def test_residual_current_devices(idn, delay, current, slowest):
    """IEC 61008-1 Table 1 (V2 in the tables)."""
    assert float(residual(q(idn, "mA"), delay).slowest_s(a(current))) == slowest


def test_a_delayed_device_holds_and_a_general_one_need_not():
    assert float(residual(q(100, "mA"), "S").fastest_s(a(0.1))) == 0.13
    assert float(residual(q(30, "mA")).fastest_s(a(0.02))) == 0
    assert math.isinf(residual(q(30, "mA")).fastest_s(a(0.015)))


def test_what_the_standard_does_not_hold_is_not_invented():
    with pytest.raises(OutsideTable):
        breaker(a(16), "K")
    with pytest.raises(OutsideTable):
        fuse_gg(a(35))
    with pytest.raises(OutsideTable):
        residual(q(30, "mA"), "none")


def test_the_working_shows_the_gate_and_what_decided_it():
    text = [x.text for x in steps(breaker(a(16), "C").slowest_s(a(100)))]
    assert text[-1] == "time of the last gate passed: number 4 of 5"
    assert any("mcb_time_current: test d" in t for t in text) and "I = m * In" in text
    assert "straight in log-log" in steps(fuse_gg(a(63)).slowest_s(a(500)))[-1].source
