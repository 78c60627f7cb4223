"""Heating under fault against published examples, and the search for the worst current against a fine scan."""

import math

import pytest

from relet.electrical import adiabatic as h
from relet.electrical.bands import Band, Gate, LetThrough
from relet.electrical.devices import breaker, fuse_gg, residual
from relet.tables.cables import k_factor
from relet.working import fact, steps

K = "A s^0.5/mm2"


def q(value, unit=""):
    return fact("test.x", value, unit, "assumed")


def a(value):
    return q(value, "A")


def s(value):
    return q(value, "s")


def test_protective_conductor_of_a_ring():
    """worked_examples: adiabatic, adi_ring_cpc_1p5 (WE01, status V1): 200 A, 1.1 mm2; Cmin 1 by its setup."""
    assert float(h.least_csa(a(200), s(0.4), q(115, K))) == pytest.approx(1.1, abs=0.005)


def test_longest_time_of_a_50_mm2_cable():
    """worked_examples: adiabatic, adi_50mm2_epr_time (WE08, status V1): 0.23 s."""
    assert float(h.longest_time(q(143, K), q(50, "mm2"), a(15000))) == pytest.approx(0.23, abs=0.005)


def test_rating_by_temperatures():
    """worked_examples: adiabatic, adi_95mm2_xlpe_1s (WE16, IEC 60949 example 2, status V1): K 225.669, 13.6 kA."""
    big_k = h.k_of_metal(q(3.45e6, "J/K/m3"), q(234.5, "degC"), q(1.7241e-8, "ohm m"), q(20, "degC"))
    assert float(big_k) == pytest.approx(225.669, abs=0.001)
    k = h.k_of_temperatures("copper", q(90, "degC"), q(250, "degC"), big_k)
    assert float(h.short_time_rating(k, q(95, "mm2"), s(1))) / 1000 == pytest.approx(13.6, abs=0.05)


def test_conductors_behind_four_fuses():
    """worked_examples: adiabatic, adi_fuses_5s_k143 (WE09 Table 9.32, status V2; second recomputed 10.16)."""
    got = [float(h.least_csa(a(i), s(5), q(143, K))) for i in (500, 650, 850, 1100)]
    assert got == pytest.approx([7.82, 10.17, 13.29, 17.2], abs=0.01)


@pytest.mark.parametrize(
    ("metal", "conductor", "insulation", "use", "initial", "final"),
    [
        ("copper", "copper", "70 C thermoplastic", "live", 70, 160),
        ("copper", "copper", "90 C thermosetting", "live", 90, 250),
    ],
)
def test_tabulated_k_out_of_its_temperatures(metal, conductor, insulation, use, initial, final):
    got = h.k_of_temperatures(metal, q(initial, "degC"), q(final, "degC"))
    assert float(got) == pytest.approx(float(k_factor(conductor, insulation, use)), abs=0.5)


# ---------- the search ----------

# a breaker with settings: 1.3 In by 2 h, short delay of 0.4 s from 8.8 In, at once from 14.4 In
DELAYED = Band(
    "breaker, delayed", (Gate(a(130), s(7200), True), Gate(a(880), s(0.4)), Gate(a(1440), s(0.02))), (), "held",
    holds_a=a(105), trips_a=a(130), instant_low_a=a(960), instant_high_a=a(1440),
)  # fmt: skip
CURVE = [LetThrough(a(1000), q(9e3, "A2s")), LetThrough(a(6000), q(3e4, "A2s"))]
CASES = {
    "breaker C with class": ([breaker(a(16), "C", icn_a=a(6000), energy_class=3)], 170, 5500),
    "breaker D, slow at small currents": ([breaker(a(25), "D")], 260, 1500),
    "delayed, a hump below the instantaneous release": ([DELAYED], 900, 5000),
    "fuse, falling": ([fuse_gg(a(63))], 400, 9000),
    "fuse before a breaker, energies cross": ([fuse_gg(a(100)), breaker(a(40), "D")], 500, 9000),
    "maker's curve": ([breaker(a(32), "B").with_energies(CURVE)], 170, 6000),
    "breaker with RCD": ([breaker(a(32), "B"), residual(q(30, "mA"))], 3, 3000),
    "range that starts before the devices clear": ([breaker(a(16), "C")], 40, 3000),
}  # fmt: skip


@pytest.mark.parametrize("name", CASES)
def test_the_worst_current_is_that_of_a_fine_scan(name):
    bands, low, high = CASES[name]
    found = h.heating(bands, a(low), a(high), q(115, K), q(4, "mm2"), s(5))
    assert found.worst is not None
    start = max(low, float(found.clears_from))
    scan = [start * (high / start) ** (n / 3000) for n in range(3001)]
    energies = [min(float(b.let_through_a2s(a(i))) for b in bands) for i in scan]
    assert float(found.worst.energy_a2s) >= max(energies) * (1 - 1e-9)
    assert float(found.worst.energy_a2s) == pytest.approx(max(energies), rel=0.02)
    assert float(found.worst.margin) == pytest.approx(1 - float(found.worst.energy_a2s) / (115 * 4) ** 2)
    assert found.all_cleared == (low >= float(found.clears_from))
    assert start * (1 - 1e-6) <= float(found.worst.current_a) <= high


def test_the_hump_lies_inside_the_range():
    found = h.heating([DELAYED], a(900), a(5000), q(115, K), q(10, "mm2"), s(5))
    assert float(found.worst.current_a) == pytest.approx(1440) and float(found.worst.time_s) == pytest.approx(0.4)
    at_ends = [float(DELAYED.let_through_a2s(a(i))) for i in (900, 5000)]
    assert float(found.worst.energy_a2s) > max(at_ends)


def test_crossing_of_a_falling_and_a_rising_energy_is_found():
    bands = CASES["fuse before a breaker, energies cross"][0]
    found = h.heating(bands, a(850), a(9000), q(115, K), q(10, "mm2"), s(5))
    one, other = (float(b.let_through_a2s(found.worst.current_a)) for b in bands)
    assert found.worst.current_a > 850 and one == pytest.approx(other, rel=1e-6)


def test_what_is_never_cleared_in_time_is_not_judged():
    found = h.heating([breaker(a(32), "D")], a(50), a(300), q(115, K), q(4, "mm2"), s(5))
    assert found.worst is None and not found.all_cleared and float(found.clears_from) == 320


def test_a_device_without_any_gate_in_time_clears_nothing():
    found = h.heating([breaker(a(32), "D")], a(50), a(3000), q(115, K), q(4, "mm2"), s(0.05))
    assert found.worst is None and math.isinf(found.clears_from)


def test_the_working_shows_every_current_looked_at():
    found = h.heating([breaker(a(25), "D")], a(260), a(1500), q(115, K), q(4, "mm2"), s(5))
    last = steps(found.worst.margin)
    assert any(x.text.startswith("worst of the whole range of fault current") for x in last)
    assert len(found.points) == 4  # both ends, both sides of the instantaneous bound
