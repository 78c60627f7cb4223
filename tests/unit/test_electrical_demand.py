"""Demand: printed examples, listing of all states, and the cases that bite."""

import cmath
import itertools
import math

import numpy as np
import pytest

from relet.electrical.balance import (
    LINES,
    Load,
    drawn,
    line_currents,
    longest_sum,
    neutral_share,
    star_point,
    unbalance,
)  # fmt: skip
from relet.electrical.chance import distribution
from relet.electrical.currents import active_w, design_current
from relet.electrical.demand import (
    allowance,
    by_allowances,
    by_chance,
    by_factors,
    coincident,
    coincident_sum,
    count,
    diversified,
    diversity_factor,
    first_and_balance,
    load_factor,
    mean_power,
    restart,
    share_of,
    used,
    worst_of,
)  # fmt: skip
from relet.electrical.impedance import Impedance
from relet.electrical.phasors import polar
from relet.tables.machines import Diversity
from relet.working import Figure, fact, leaves, step_of


def f(value: float, unit: str = "", name: str = "x") -> Figure:
    return fact(f"test.{name}", value, unit, "chosen")


def load(name: str, amps: float, lines: str, pf: float = 1.0, **more) -> Load:
    figures = {k: f(v, "%" if k == "third_percent" else "A" if k == "start_a" else "") for k, v in more.items()
               if isinstance(v, float)}  # fmt: skip
    return Load(name, f(amps, "A", name), f(pf), tuple(lines.split()), **{**more, **figures})


# ---------- allowances and factors ----------


def test_allowances_of_a_dwelling():
    # trade body's question of the day on On-Site Guide Table 1B (17th edition): 44.8, 7.92, 16, 21.6; 90.32 A
    row = Diversity(f(100, "%"), f(40, "%"), f(40, "%"))
    rings = allowance([f(32, "A"), f(32, "A")], row)
    lighting = share_of(coincident_sum([f(6, "A"), f(6, "A")]), f(66, "%"))
    cooker = first_and_balance(f(32, "A"), f(10, "A"), f(30, "%"), f(5, "A"))
    assert [rings, lighting, cooker] == pytest.approx([44.8, 7.92, 21.6])
    assert coincident_sum([rings, lighting, f(16, "A"), cooker]) == pytest.approx(90.32)


def test_allowance_orders_its_loads():
    row = Diversity(f(100, "%"), f(80, "%"), f(60, "%"))
    assert allowance([f(5, "kW"), f(20, "kW"), f(10, "kW"), f(8, "kW")], row) == pytest.approx(20 + 8 + 0.6 * 13)
    assert allowance([f(7, "A")], row) == pytest.approx(7)
    with pytest.raises(ValueError, match="at least one"):
        allowance([], row)


def test_allowances_on_a_line_count_a_class_without_a_row_in_full():
    loads = [
        load("a", 20, "L1", kind="motors"),
        load("b", 10, "L1 L2 L3", kind="motors"),
        load("k", 30, "L1", kind="kiln"),
        load("z", 99, "L2", kind="motors"),
    ]
    row = {"motors": Diversity(f(100, "%"), f(50, "%"), f(50, "%"))}
    assert by_allowances(loads, row, "L1") == pytest.approx(20 + 5 + 30)
    assert by_allowances([], row, "L1") == 0


def test_three_workshops():
    # Electrical Installation Guide, chapter A, example of ku and ks: 18.9, 15.6, 37.8, 65 kVA (rows from memory)
    def kva(n: float, each: float, ku: float) -> Figure:
        return used(count(f(n), f(each, "kVA")), f(ku))

    machines = coincident_sum([kva(4, 5, 0.8), kva(2, 2, 0.8)], f(0.75))
    a = coincident_sum([machines, coincident_sum([f(18, "kVA")], f(0.2)), f(3, "kVA")], f(0.9))
    b = coincident_sum([kva(1, 15, 0.8), coincident_sum([f(10.6, "kVA")], f(0.4)), f(1, "kVA")], f(0.9))
    ovens = coincident_sum([kva(2, 2.5, 1), kva(2, 15, 1)], f(1))
    c = coincident_sum([ovens, coincident_sum([f(18, "kVA")], f(0.28)), f(2, "kVA")], f(0.9))
    assert [a, b, c] == pytest.approx([18.9, 15.6, 37.8], abs=0.1)
    assert coincident_sum([a, b, c], f(0.9)) == pytest.approx(65, abs=1)


def test_four_feeders():
    # trade-press column on demand and diversity factor: 558 kVA
    fed = zip((250, 200, 150, 400), (0.9, 0.8, 0.75, 0.85))
    s = coincident_sum([used(f(kva, "kVA"), f(d)) for kva, d in fed])
    assert s == pytest.approx(837.5)
    assert diversified(s, f(1.5)) == pytest.approx(558, abs=1)


def test_diversity_and_load_factor():
    # V. K. Mehta, Principles of Power System, example 3.5, p. 51: 1.12; 513.7 kW; 20.5 %
    factor = diversity_factor([f(x, "kW") for x in (1500, 750, 100, 450)], f(2500, "kW"))
    mean = mean_power(f(4_500_000, "kWh"), f(8760, "h"))
    assert factor == pytest.approx(1.12)
    assert mean == pytest.approx(513.7, abs=0.05)
    assert load_factor(mean, f(2500, "kW")) == pytest.approx(20.5, abs=0.05)


def test_factors_on_a_line():
    loads = [load("m", 20, "L1", kind="motors"), load("h", 10, "L1", kind="heat"), load("z", 50, "L3")]
    assert by_factors(loads, {"motors": f(0.75)}, f(0.9), "L1") == pytest.approx(0.9 * (15 + 10))
    assert by_factors(loads, {}, f(0.9), "L2") == 0


# ---------- chance ----------


@pytest.mark.parametrize("n, p, k, expected", [
    # Elementary Statistics, 12th edition (Pearson), 5-3, exercises 33 and 36; published binomial solutions for n 20
    (20, 0.48, 12, 0.1007), (30, 0.72, 20, 0.1247),
    (20, 0.05, 0, 0.3585), (20, 0.05, 1, 0.3774), (20, 0.05, 2, 0.1887), (20, 0.05, 3, 0.0596),
])  # fmt: skip
def test_equal_loads_are_binomial(n, p, k, expected):
    d = distribution([load(f"m{i}", 1, "L1", on=p) for i in range(n)], "L1")
    assert (d.step_a, d.rounding_a) == (1.0, 0.0)
    assert d.probability[k] == pytest.approx(expected, abs=0.0001)
    assert d.probability.sum() == pytest.approx(1)


def test_demand_for_five_in_a_hundred_minutes():
    d = distribution([load(f"m{i}", 1, "L1", on=0.05) for i in range(20)], "L1")
    assert d.demand(f(0.05)) == 3  # P(<= 3) = 0.9841, P(<= 2) = 0.9245
    assert d.demand(f(0.0)) == 20
    assert d.share_above(f(2, "A")) == pytest.approx(1 - 0.9245, abs=0.0001)
    assert d.share_above(f(20, "A")) == 0
    assert d.mean() == pytest.approx(1)


def states(loads, line):
    """Every state of independent loads with its chance: the plain listing that the convolution must agree with."""
    on_line = [x for x in loads if line in x.lines]
    for state in itertools.product((0, 1), repeat=len(on_line)):
        chance = math.prod(x.on if s else 1 - x.on for x, s in zip(on_line, state))
        yield sum(float(x.current_a) for x, s in zip(on_line, state) if s), chance


def test_unequal_loads_agree_with_the_listing_of_all_states():
    rng = np.random.default_rng(7)
    loads = [load(f"m{i}", float(rng.uniform(1, 30)), "L1", on=float(rng.uniform(0.05, 0.9))) for i in range(11)]
    d = distribution(loads, "L1")
    assert 0 < d.rounding_a <= 11 * d.step_a < 0.7
    listing = sorted(states(loads, "L1"))
    for share in (0.5, 0.1, 0.01, 0.001):
        above, exact = 0.0, 0.0
        for amps, chance in reversed(listing):
            above += chance
            if above > share:
                exact = amps
                break
        assert exact <= d.demand(f(share)) <= exact + d.rounding_a + 1e-9
        assert d.share_above(f(exact, "A")) >= sum(c for a, c in listing if a > exact + 1e-9) - 1e-12
    assert d.mean() == pytest.approx(sum(a * c for a, c in listing), abs=d.rounding_a)


def test_groups():
    three = [load("a", 10, "L1", on=0.5), load("b", 20, "L1", on=0.4), load("c", 5, "L2", on=0.9)]
    together = distribution(three, "L1", together=[("a", "b")])
    assert together.probability[30] == pytest.approx(0.5) and together.probability[0] == pytest.approx(0.5)
    exclusive = distribution(three, "L1", exclusive=[("a", "b")])
    assert [exclusive.probability[k] for k in (0, 10, 20)] == pytest.approx([0.1, 0.5, 0.4])
    assert len(exclusive.probability) == 21
    # on another line the partner takes its share of the time and draws nothing here
    split = distribution(three, "L2", exclusive=[("a", "c")])
    assert [split.probability[k] for k in (0, 5)] == pytest.approx([0.5 / 1.4, 0.9 / 1.4])
    with pytest.raises(ValueError, match="more than one group"):
        distribution(three, "L1", together=[("a", "b")], exclusive=[("b", "c")])
    with pytest.raises(ValueError, match="chance to be on"):
        distribution([load("a", 1, "L1", on=1.5)], "L1")


def test_a_load_without_a_chance_is_on():
    d = distribution([load("a", 7, "L1"), load("b", 3, "L1", on=0.1)], "L1")
    assert d.demand(f(0.5)) == 7 and d.demand(f(0.01)) == 10
    assert by_chance([], f(0.01)).lines == (0, 0, 0)


# ---------- sums of lines, neutral, unbalance ----------


def test_10_8_5_kw():
    # V. K. Mehta, Principles of Power System, example 14.7, p. 368: 43.3, 34.6, 21.7 A; neutral 18.9 A
    amps = [design_current("single", f(400 / math.sqrt(3), "V"), power_w=f(p * 1000, "W"), pf=f(1)) for p in (10, 8, 5)]
    assert amps == pytest.approx([43.3, 34.6, 21.7], abs=0.1)
    sums = line_currents([Load(n, i, f(1), (n,)) for n, i in zip(LINES, amps)])
    assert sums.neutral == pytest.approx(18.9, abs=0.1)
    assert sums.lines == pytest.approx(amps)


def test_24_18_12_kw():
    # J. Bird, Electrical Circuit Theory and Technology, problem 20.4 (240 V): 100, 75, 50 A; neutral 43.3 A
    amps = [design_current("single", f(240, "V"), power_w=f(p * 1000, "W"), pf=f(1)) for p in (24, 18, 12)]
    assert line_currents([Load(n, i, f(1), (n,)) for n, i in zip(LINES, amps)]).neutral == pytest.approx(43.3, abs=0.1)


def test_lamps_and_motor():
    # V. K. Mehta, example 14.8, p. 369: neutral 45.64 A; 224.72, 231.9, 209.11 A; 43010 W, 27713 W
    loads = [load(f"lamps {n}", i, n) for n, i in zip(LINES, (70, 84, 33))]
    sums = line_currents([*loads, load("motor", 200, "L1 L2 L3", pf=0.2)])
    assert sums.neutral == pytest.approx(45.64, abs=0.01)
    assert sums.lines == pytest.approx((224.72, 231.9, 209.11), abs=0.01)
    assert sum(active_w(x.current_a, f(230, "V"), f(1), "single") for x in loads) == pytest.approx(43010)
    assert active_w(f(200, "A"), f(400, "V"), f(0.2)) == pytest.approx(27713, abs=0.5)


def test_star_point_through_46_ohm():
    # J. Mollera, Questions Electrotecniques Diverses, chapter 1, Millman: 33.3433 V at 13.17 degrees; 0.7249 A
    u = tuple(polar(f(230, "V"), f(a, "deg")) for a in (0, 240, 120))
    z = tuple(Impedance(f(r, "ohm"), f(0, "ohm")) for r in (0.05, 0.08, 0.07))
    star = star_point(u, z, Impedance(f(46, "ohm"), f(0, "ohm")))
    assert star.shift_v.magnitude == pytest.approx(33.3433, abs=1e-4)
    assert star.shift_v.angle == pytest.approx(13.17, abs=0.01)
    assert star.neutral_a == pytest.approx(0.7249, abs=1e-4)
    assert star.lines_a == pytest.approx((3953.6056, 3174.7573, 3453.8265), abs=1e-3)
    broken = star_point(u, z, None)
    assert broken.neutral_a == 0 and broken.shift_v.magnitude > star.shift_v.magnitude


def test_triplen_harmonics_add_in_the_neutral():
    # IEC 60364-5-52 Annex E, example as remembered: 39 A balanced with 40 % third harmonic, neutral 46.8 A
    lamps = [load(n, 39, n, third_percent=40.0) for n in LINES]
    assert line_currents(lamps).neutral == pytest.approx(46.8)
    assert line_currents([load("drive", 39, "L1 L2 L3", third_percent=40.0)]).neutral == pytest.approx(0, abs=1e-9)
    with_neutral = line_currents([load("drive", 39, "L1 L2 L3", third_percent=40.0, neutral=True)])
    assert with_neutral.neutral == pytest.approx(46.8)
    one = line_currents([load("lamp", 10, "L2", third_percent=30.0)])
    assert one.neutral == pytest.approx(math.hypot(10, 3))


def test_a_load_between_lines_leaves_the_neutral():
    sums = line_currents([load("welder", 25, "L1 L3", pf=0.6, third_percent=20.0)])
    assert sums.lines == pytest.approx((25, 0, 25)) and sums.neutral == pytest.approx(0, abs=1e-9)
    with pytest.raises(ValueError, match="one, two or three"):
        load("odd", 1, "L1 L1")


def test_unbalance():
    assert unbalance(f(30, "A"), f(30, "A"), f(30, "A")) == 0
    assert unbalance(f(60, "A"), f(0, "A"), f(0, "A")) == pytest.approx(200)
    assert unbalance(f(45, "A"), f(30, "A"), f(15, "A")) == pytest.approx(50)
    nothing = [f(0, "A")] * 3
    assert unbalance(*nothing) == 0 and neutral_share(f(0, "A"), *nothing) == 0
    sums = line_currents([load("a", 60, "L1")])
    assert sums.unbalance_percent == pytest.approx(200) and sums.neutral_share_percent == pytest.approx(300)
    assert sums.worst == 60


def test_worst_neutral_agrees_with_the_listing_of_all_choices():
    rng = np.random.default_rng(3)
    loads = [
        load(f"m{i}", float(rng.uniform(2, 40)), LINES[int(rng.integers(3))], pf=float(rng.uniform(0.3, 1)))
        for i in range(9)
    ] + [load("balanced", 50, "L1 L2 L3", pf=0.8), load("welder", 30, "L1 L2", pf=0.5)]
    v = [sum(drawn(x).lines) for x in loads]
    most = max(abs(sum(itertools.compress(v, on))) for on in itertools.product((0, 1), repeat=len(v)))
    assert coincident(loads).neutral == pytest.approx(most)
    assert coincident(loads).neutral > line_currents(loads).neutral


def test_longest_sum_with_a_start_agrees_with_the_listing():
    rng = np.random.default_rng(11)
    v = rng.normal(size=7) + 1j * rng.normal(size=7)
    s = 4 * (rng.normal(size=7) + 1j * rng.normal(size=7))
    may = np.array([True, False, True, True, False, False, True])
    most = 0.0
    for on in itertools.product((0, 1), repeat=7):
        total = sum(itertools.compress(v, on))
        most = max(most, abs(total), *(abs(total - v[k] + s[k]) for k in range(7) if on[k] and may[k]))
    found = longest_sum(v, s, may)
    assert found.length == pytest.approx(most)
    start = s[found.start] - v[found.start]
    assert abs(v[found.on].sum() + start) == pytest.approx(most)


# ---------- the cases that bite ----------


def shop() -> list[Load]:
    return [
        load("kiln", 32, "L1 L2 L3"),
        load("heater", 13, "L1"),
        load("pump", 6, "L1", pf=0.8, start_a=36.0, start_pf=0.4),
        load("mill", 8, "L1 L2 L3", pf=0.8, start_a=60.0, start_pf=0.35),
        load("fan", 4, "L2", pf=0.7, start_a=20.0),
    ]


def lag(amps: float, pf: float) -> complex:
    return cmath.rect(amps, -math.acos(pf))


def test_the_largest_start_comes_last_on_each_line():
    case = coincident(shop())
    l1 = abs(32 + 13 + lag(6, 0.8) + lag(60, 0.35))
    l2 = abs(32 + lag(4, 0.7) + lag(60, 0.35))
    assert case.lines[:2] == pytest.approx((l1, l2))
    assert "mill (starting)" in step_of(case.lines[0]).text and "fan" not in step_of(case.lines[0]).text
    assert "pump (starting)" in step_of(case.neutral).text
    assert {x.name for x in leaves(case.lines[0])} >= {"kiln", "heater", "pump", "mill"}


def test_restart():
    back = restart(shop())
    assert back.lines[0] == pytest.approx(abs(32 + 13 + lag(36, 0.4) + lag(60, 0.35)))
    held = restart(shop(), stays_off=["mill", "pump"])
    assert held.lines[0] == pytest.approx(45) and held.lines[1] == pytest.approx(abs(32 + lag(20, 0.7)))
    assert "mill" not in held.counted


def test_nothing_connected():
    for case in (line_currents([]), coincident([]), restart([])):
        assert case.lines == (0, 0, 0) and case.neutral == 0


def test_worst_of():
    worst = worst_of({"by chance": f(40, "A"), "coincident": f(70, "A"), "restart": f(65, "A")})
    assert worst == 70 and "coincident" in step_of(worst).text
