"""Fill and the ledger of a containment section."""

import math

import pytest

from relet.electrical.conductors import Factors
from relet.electrical.containment import (
    CAP,
    Laid,
    Section,
    cable_area,
    inside_area,
    ledger,
)  # fmt: skip
from relet.errors import OutsideTable
from relet.working import Figure, fact, step_of


def f(value: float, unit: str = "", name: str = "x") -> Figure:
    return fact(f"test.{name}", value, unit, "chosen")


FACTORS = {1: 1.0, 2: 0.8, 3: 0.7, 4: 0.65, 5: 0.6, 6: 0.57}


def grouping(circuits: int) -> Figure:
    """Grouping factors of a bunch as an invented short table."""
    if circuits not in FACTORS:
        raise OutsideTable("grouping", f"{circuits}", "1 to 6")
    return f(FACTORS[circuits], "", "Cg")


def laid(name: str, load: float, it: float, **more) -> Laid:
    return Laid(name, f(load, "A"), f(it, "A"), **more)


def test_areas():
    area = cable_area(f(10, "mm"))
    assert area == pytest.approx(math.pi * 25)
    assert cable_area(f(10, "mm"), f(4)) == pytest.approx(math.pi * 100)
    assert inside_area(f(50, "mm"), f(25, "mm")) == 1250


def test_an_existing_circuit_stops_the_next():
    # 32 A on 46 A: holds at 0.70 (32.2 A), fails at 0.65 (29.9 A); the small one has room to spare
    book = ledger(Section("T1", (laid("big", 32, 46), laid("small", 6, 20)), grouping))
    assert (book.count, book.factor, book.failing) == (2, 0.8, ())
    assert book.iz_a == pytest.approx({"big": 36.8, "small": 16.0})
    assert (book.more, book.limit, book.first) == (1, "rating", "big")
    assert "big" in step_of(book.more).text


def test_adding_a_circuit_makes_untouched_ones_fail():
    two = (laid("a", 32, 46), laid("b", 6, 20))
    after = ledger(Section("T1", (*two, laid("c", 16, 27), laid("d", 16, 27)), grouping))
    assert after.failing == ("a",) and after.more == 0 and after.limit == "rating"
    assert ledger(Section("T1", two, grouping)).failing == ()


def test_the_fill_stops_the_next():
    cables = (laid("a", 6, 40, takes=f(40)), laid("b", 6, 40, takes=f(25)))
    book = ledger(Section("T1", cables, grouping, room=f(150)))
    assert (book.more, book.limit, book.taken) == (2, "fill", 65)


@pytest.mark.parametrize("circuits", [(), (laid("a", 6, 40, takes=f(40)), laid("b", 6, 40))])
def test_a_fill_that_is_not_known_leaves_no_room_that_is(circuits):
    book = ledger(Section("T1", circuits, grouping, room=f(150)))
    assert book.taken is None and (book.more, book.limit) == (0, "fill not known")
    assert "the fill is not known" in step_of(book.more).text


def test_the_end_of_the_table_stops_the_next():
    book = ledger(Section("T1", (laid("a", 6, 40),), grouping))
    assert (book.more, book.limit) == (5, "table")
    beyond = ledger(Section("T1", tuple(laid(f"c{k}", 6, 40) for k in range(7)), grouping))
    assert (beyond.factor, beyond.iz_a, beyond.more, beyond.limit) == (None, {}, 0, "table")


def test_an_empty_section_and_one_without_limit():
    assert ledger(Section("T1", (), grouping)).more == 6
    assert ledger(Section("T1", (laid("a", 6, 40),), lambda n: f(1.0))).more == CAP


def test_other_factors_stay():
    hot = Laid("a", f(32, "A"), f(60, "A"), Factors(ca=f(0.87), cg=f(0.1)))
    assert ledger(Section("T1", (hot,), grouping)).iz_a["a"] == pytest.approx(60 * 0.87)
