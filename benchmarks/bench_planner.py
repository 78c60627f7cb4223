"""How long planning takes, and how near its bound it comes: the demo unit for all tenancies, and the small Unit 9."""

from __future__ import annotations

from pathlib import Path
from typing import Any

import pytest

from relet.checks import Findings, judge
from relet.files.opened import open_unit
from relet.model import Case, Scheme
from relet.planning import Choices, Problem, plan

EXAMPLES = Path(__file__).parents[1] / "examples" / "limekiln_yard"


def verdicts(case: Case, *, rules: Any = None) -> Findings:
    return judge(case, rules=rules, thresholds=False, rank=False)


@pytest.mark.parametrize("unit", ["unit_7", "unit_9"])
def test_plan(benchmark: Any, unit: str) -> None:
    opened = open_unit(EXAMPLES / f"{unit}.toml")
    u = opened.unit_file
    problem = Problem(
        unit=u.unit, standing=u.standing, tenancies=u.in_order, wishes=u.wishes, catalogue=opened.catalogue,
        code=opened.code, choices=Choices(seconds=25),
    )  # fmt: skip
    scheme: Scheme = benchmark.pedantic(lambda: plan(problem, opened.prices, verdicts), rounds=1, iterations=1)
    assert scheme.solved is not None
    benchmark.extra_info.update(gap=scheme.solved.gap, places=scheme.solved.places, rounds=scheme.solved.rounds)
    assert scheme.solved.gap <= 0.01
