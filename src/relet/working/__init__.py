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

__all__ = [
    "GROUNDS_WEAKEST_LAST", "Choice", "Fact", "Figure", "Formula", "Ground", "Lookup", "Solved", "Step", "Word",
    "choose", "fact", "ground_of", "leaves", "lookup", "printed", "printed_towards", "solved", "step_of", "steps",
    "walk", "weakest_ground",
]  # fmt: skip
