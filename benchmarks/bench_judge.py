"""How long judging takes: what stands with a dozen unknowns, and a certain unit, cold, with full working."""

from __future__ import annotations

from pathlib import Path
from typing import Any

import pytest

from relet.checks import judge
from relet.files.opened import open_unit
from relet.model import Case

EXAMPLE = Path(__file__).parents[1] / "examples" / "limekiln_yard" / "unit_7.toml"


def cases() -> dict[str, Case]:
    return {c.where: c for c in open_unit(EXAMPLE).cases()}


@pytest.mark.parametrize("where", sorted(cases()))
def test_verdicts(benchmark: Any, where: str) -> None:
    case = cases()[where]
    found = benchmark(lambda: judge(case, thresholds=False, rank=False))
    assert found.findings


@pytest.mark.parametrize("where", sorted(cases()))
def test_verdicts_and_thresholds(benchmark: Any, where: str) -> None:
    case = cases()[where]
    found = benchmark.pedantic(lambda: judge(case), rounds=3, iterations=1)
    assert found.coverage
