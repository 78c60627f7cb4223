"""A three-phase machine on a supply with one line: never passed over, by check or by planner."""

from __future__ import annotations

import re
from pathlib import Path

import pytest

from relet.checks import judge
from relet.errors import NotFeasible
from relet.files.opened import Opened, open_unit
from relet.planning import Choices, Problem, plan

UNIT = Path(__file__).parents[2] / "examples" / "limekiln_yard" / "unit_9.toml"


@pytest.fixture
def one_line(tmp_path: Path) -> Opened:
    text = re.sub(r"^phases\s*= 3", "phases = 1", UNIT.read_text(encoding="utf-8"), count=1, flags=re.M)
    path = tmp_path / "u.toml"
    path.write_text(text, encoding="utf-8")
    return open_unit(path)


def test_the_check_names_the_machines(one_line: Opened) -> None:
    case = one_line.standing_case(one_line.unit_file.in_order[0])
    found = judge(case, rules=["load.supply_capacity"]).findings
    assert [f.verdict for f in found] == ["fails"]
    assert "tunnel dryer" in found[0].sentence


def test_the_planner_says_why_there_is_no_plan(one_line: Opened) -> None:
    u = one_line.unit_file
    problem = Problem(
        unit=u.unit, standing=u.standing, tenancies=u.in_order, wishes=u.wishes, catalogue=one_line.catalogue,
        code=one_line.code, choices=Choices(seconds=5),
    )  # fmt: skip
    with pytest.raises(NotFeasible) as told:
        plan(problem, one_line.prices, lambda case, rules=None: judge(case, rules=rules, thresholds=False, rank=False))
    assert "supply.phases" in str(told.value)
