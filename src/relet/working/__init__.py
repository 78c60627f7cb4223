"""Figures that remember what they came from, formulas that are their own printed text, and workings."""

from relet.working.figure import (
    GROUNDS_WEAKEST_LAST,
    Choice,
    Fact,
    Figure,
    Formula,
    Ground,
    Lookup,
    Solved,
    Word,
    choose,
    fact,
    ground_of,
    leaves,
    lookup,
    solved,
    walk,
    weakest_ground,
)
from relet.working.steps import Step, printed, printed_towards, step_of, steps
from relet.working.units import unit_of, without_unit

__all__ = [
    "GROUNDS_WEAKEST_LAST", "Choice", "Fact", "Figure", "Formula", "Ground", "Lookup", "Solved", "Step", "Word",
    "choose", "fact", "ground_of", "leaves", "lookup", "printed", "printed_towards", "solved", "step_of", "steps",
    "unit_of", "walk", "weakest_ground", "without_unit",
]  # fmt: skip
