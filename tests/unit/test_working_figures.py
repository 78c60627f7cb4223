"""Grounds: how far a figure can be trusted, in one order."""

from __future__ import annotations

from relet.tables.cables import typical_reactance
from relet.tables.core import STATUSES_WORST_LAST, table
from relet.working import GROUNDS_WEAKEST_LAST, Figure, fact, ground_of, leaves, lookup, weakest_ground


def from_row(status: str) -> Figure:
    return lookup("t", "row", 1.0, "", "S", status)


def test_grounds_weaken_as_statuses_do() -> None:
    grounds = [GROUNDS_WEAKEST_LAST.index(ground_of(from_row(s))) for s in STATUSES_WORST_LAST]
    assert grounds == sorted(grounds)


def test_a_computed_row_is_not_called_published() -> None:
    computed = table("reactance_derived").rows[0].figure("x_mohm_per_m", "mohm/m")
    assert ground_of(computed) == "computed"
    assert weakest_ground([from_row("V1"), computed]) == "computed"
    assert weakest_ground([fact("x", 1.0, "", "declared"), computed]) == "declared"


def test_the_typical_reactance_says_that_it_is_from_memory() -> None:
    assert [ground_of(f) for f in leaves(typical_reactance())] == ["from memory"]
