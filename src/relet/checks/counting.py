"""Counts as figures, for rules that judge words and not amperes."""

from __future__ import annotations

from collections.abc import Iterable
from typing import Final

from relet.working import Figure, fact, solved

NONE: Final = fact("method.none_allowed", 0.0, "", "chosen", "none is allowed", name="allowed")
ONE: Final = fact("method.one_needed", 1.0, "", "chosen", "at least one is needed", name="needed")


def count(n: int, what: str, given: Iterable[Figure] = ()) -> Figure:
    """How many of something there are, with the facts it was counted from."""
    return solved(float(n), "", f"counted: {what}", 0.0, given, name="n")
