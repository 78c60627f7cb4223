"""Sizes of paper, lines and made things, from `sizes.csv`: for looks, never for a verdict."""

from __future__ import annotations

import csv
from functools import cache
from importlib import resources


@cache
def _sizes() -> dict[str, float]:
    text = resources.files("relet.drawing").joinpath("sizes.csv").read_text(encoding="utf-8")
    rows = csv.DictReader(line for line in text.splitlines() if not line.startswith("#"))
    return {row["item"]: float(row["value"]) for row in rows}


def size(item: str) -> float:
    """One size by its row; the unit stands in the table beside it. Raises KeyError for a row that is not there."""
    return _sizes()[item]
