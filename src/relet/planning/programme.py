"""A mixed-integer programme with a name for every column and row, kept apart from any solver.

    minimise    fixed + sum_j cost[j] x[j]
    subject to  low[r] <= sum_j a[r,j] x[j] <= high[r]      every row r, by name
                low[j] <= x[j] <= high[j]                   some x whole numbers

A row may carry a `rule`: the name of the rule or wish it stands for, as a person reads it. Rows without one are
bookkeeping (definitions, accounting) and are never dropped when the reason of an impossible plan is looked for.
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass, field
from typing import TypeAlias

import numpy as np
from numpy.typing import NDArray

Term: TypeAlias = tuple[float, int]
"""(coefficient, column)."""
Numbers: TypeAlias = NDArray[np.float64]
NO_LIMIT = float("inf")


@dataclass(frozen=True)
class Arrays:
    """A programme as a solver takes it: row-wise sparse matrix (start, index, value) and bounds."""

    cost: Numbers
    low: Numbers
    high: Numbers
    whole: NDArray[np.bool_]
    row_low: Numbers
    row_high: Numbers
    start: NDArray[np.int32]
    index: NDArray[np.int32]
    value: Numbers
    fixed: float


@dataclass
class Programme:
    """Columns and rows under construction."""

    fixed: float = 0.0
    names: list[str] = field(default_factory=list)
    cost: list[float] = field(default_factory=list)
    low: list[float] = field(default_factory=list)
    high: list[float] = field(default_factory=list)
    whole: list[bool] = field(default_factory=list)
    rows: list[str] = field(default_factory=list)
    rules: list[str] = field(default_factory=list)
    row_low: list[float] = field(default_factory=list)
    row_high: list[float] = field(default_factory=list)
    terms: list[tuple[tuple[int, ...], tuple[float, ...]]] = field(default_factory=list)

    def variable(
        self, name: str, *, cost: float = 0.0, low: float = 0.0, high: float = 1.0, whole: bool = False
    ) -> int:
        """A new column; returns its number."""
        self.names.append(name)
        self.cost.append(cost)
        self.low.append(low)
        self.high.append(high)
        self.whole.append(whole)
        return len(self.names) - 1

    def choice(self, name: str, *, cost: float = 0.0) -> int:
        """A new column that is 0 or 1."""
        return self.variable(name, cost=cost, whole=True)

    def row(self, name: str, terms: Iterable[Term], low: float, high: float, rule: str = "") -> None:
        """low <= sum of terms <= high. Terms of the same column are added up."""
        together: dict[int, float] = {}
        for coefficient, column in terms:
            together[column] = together.get(column, 0.0) + coefficient
        kept = {c: v for c, v in together.items() if v != 0.0}
        self.rows.append(name)
        self.rules.append(rule)
        self.row_low.append(low)
        self.row_high.append(high)
        self.terms.append((tuple(kept), tuple(kept.values())))

    def at_most(self, name: str, terms: Iterable[Term], limit: float, rule: str = "") -> None:
        """sum of terms <= limit."""
        self.row(name, terms, -NO_LIMIT, limit, rule)

    def at_least(self, name: str, terms: Iterable[Term], limit: float, rule: str = "") -> None:
        """sum of terms >= limit."""
        self.row(name, terms, limit, NO_LIMIT, rule)

    def equal(self, name: str, terms: Iterable[Term], value: float, rule: str = "") -> None:
        """sum of terms = value."""
        self.row(name, terms, value, value, rule)

    @property
    def binaries(self) -> int:
        """Columns that must be whole numbers."""
        return sum(self.whole)

    def activity(self, row: int, values: Sequence[float] | Numbers) -> float:
        """The sum of terms of a row at given column values."""
        columns, coefficients = self.terms[row]
        return float(sum(a * values[c] for c, a in zip(columns, coefficients)))

    def broken(self, values: Sequence[float] | Numbers, within: float = 1e-6) -> list[str]:
        """Names of the rows and columns that given values do not satisfy."""
        out = [n for n, v, lo, hi in zip(self.names, values, self.low, self.high) if v < lo - within or v > hi + within]
        out += [n for n, v, w in zip(self.names, values, self.whole) if w and abs(v - round(v)) > within]
        for r, name in enumerate(self.rows):
            a = self.activity(r, values)
            if a < self.row_low[r] - within or a > self.row_high[r] + within:
                out.append(name)
        return out

    def price(self, values: Sequence[float] | Numbers) -> float:
        """The objective at given column values."""
        return self.fixed + float(np.dot(self.cost, values))

    def arrays(self) -> Arrays:
        """The whole programme as arrays."""
        lengths = [len(columns) for columns, _ in self.terms]
        return Arrays(
            cost=np.array(self.cost, dtype=np.float64),
            low=np.array(self.low, dtype=np.float64),
            high=np.array(self.high, dtype=np.float64),
            whole=np.array(self.whole, dtype=np.bool_),
            row_low=np.array(self.row_low, dtype=np.float64),
            row_high=np.array(self.row_high, dtype=np.float64),
            start=np.concatenate([[0], np.cumsum(lengths)]).astype(np.int32),
            index=np.array([c for columns, _ in self.terms for c in columns], dtype=np.int32),
            value=np.array([v for _, coefficients in self.terms for v in coefficients], dtype=np.float64),
            fixed=self.fixed,
        )
