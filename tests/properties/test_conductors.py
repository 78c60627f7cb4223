"""Conductors and containment: the senses in which a rating, a fill and a ledger may move."""

from dataclasses import replace

import pytest
from hypothesis import assume, given
from hypothesis import strategies as st

from relet.electrical.conductors import Factors, installed_rating, needed_rating, working_temperature
from relet.electrical.containment import Laid, Section, ledger
from relet.errors import OutsideTable
from relet.tables.cables import ambient_factor, current_rating, grouping_factor, sizes
from relet.tables.core import table as held
from relet.working import Figure, fact


def f(value: float, unit: str = "", name: str = "x") -> Figure:
    return fact(f"test.{name}", value, unit, "chosen")


SHARE = st.floats(0.2, 1)
ARRANGEMENTS = sorted({r.text("arrangement") for r in held("grouping_factor").rows})
TABLES = [(t, m, p) for t in ("4D2A", "4E2A") for m in ("A", "B", "C") for p in ("1ph", "3ph")]


@given(st.sampled_from(TABLES), st.data())
def test_a_bigger_conductor_never_carries_less(table, data):
    made = sizes(*table)
    small, large = sorted((data.draw(st.sampled_from(made)), data.draw(st.sampled_from(made))))
    factors = Factors(ca=f(0.87), cg=f(0.7))
    low, high = (installed_rating(current_rating(*table, s), factors) for s in (small, large))
    assert low <= high


@given(st.sampled_from([70, 90]), st.floats(25, 60), st.floats(25, 60))
def test_hotter_never_carries_more(insulation, a, b):
    cool, hot = sorted((a, b))
    it = f(57, "A")
    try:
        ratings = [installed_rating(it, Factors(ca=ambient_factor(insulation, t))) for t in (cool, hot)]
    except OutsideTable:
        assume(False)
    assert ratings[1] <= ratings[0]


@given(st.floats(1, 400), SHARE, SHARE, SHARE, st.floats(0.5, 1))
def test_needed_and_installed_turn_each_other_round(in_a, ca, cg, ci, smaller):
    factors = Factors(ca=f(ca), cg=f(cg), ci=f(ci))
    it = needed_rating(f(in_a, "A"), factors)
    assert installed_rating(it, factors) == pytest.approx(in_a)
    worse = Factors(ca=f(ca), cg=f(cg * smaller), ci=f(ci))
    assert needed_rating(f(in_a, "A"), worse) >= it * (1 - 1e-12)


@given(st.floats(20, 60), st.floats(1, 100), st.floats(1, 100))
def test_more_current_never_cools_a_conductor(ambient, a, b):
    low, high = sorted((a, b))
    t = [working_temperature(f(ambient, "degC"), f(70, "degC"), f(i, "A"), f(50, "A")) for i in (low, high)]
    assert t[0] <= t[1] and t[0] >= ambient


def joined(section: Section, newcomer: Laid) -> Section:
    return replace(section, circuits=(*section.circuits, newcomer))


@st.composite
def laid_circuits(draw, most=1.1):
    """Circuits whose load is a share of their tabulated rating, above 1 too much from the start."""
    out = []
    for k in range(draw(st.integers(1, 6))):
        it = draw(st.floats(15, 150))
        takes = f(draw(st.floats(1, 60)))
        out.append(Laid(f"c{k}", f(it * draw(st.floats(0.1, most)), "A"), f(it, "A"), takes=takes))
    return tuple(out)


@given(laid_circuits(), st.sampled_from(ARRANGEMENTS), st.floats(50, 800))
def test_adding_a_circuit_never_improves_another(laid, arrangement, room):
    section = Section("T1", laid, lambda n: grouping_factor(arrangement, n), room=f(room))
    newcomer = Laid("new", f(16, "A"), f(27, "A"), takes=f(20))
    before, after = ledger(section), ledger(joined(section, newcomer))
    assert set(before.failing) <= {*after.failing} or not after.iz_a
    for name, iz in after.iz_a.items():
        if name != "new":
            assert iz <= before.iz_a[name]
    assert after.more <= before.more


@given(laid_circuits(most=0.5), st.sampled_from(ARRANGEMENTS), st.floats(50, 800))
def test_as_many_as_the_ledger_says_may_join_and_no_more(laid, arrangement, room):
    section = Section("T1", laid, lambda n: grouping_factor(arrangement, n), room=f(room))
    book, largest = ledger(section), max(x.takes for x in laid)
    for k in range(int(book.more)):
        section = joined(section, Laid(f"new{k}", f(0.001, "A"), f(100, "A"), takes=largest))
    full = ledger(section)
    if book.more:
        assert full.failing == () and full.taken <= room
    assert (full.more, full.limit) == (0, book.limit)
    if book.limit == "rating" and not book.failing:
        one_more = ledger(joined(section, Laid("last", f(0.001, "A"), f(100, "A"))))
        assert book.first in one_more.failing
