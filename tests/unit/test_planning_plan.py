"""The planner whole: the shipped units planned and proven, what fails fed back, what cannot be told by name."""

from __future__ import annotations

import json
import os
import signal
import subprocess
import sys
from dataclasses import replace as changed
from pathlib import Path

import msgspec
import pytest

from relet.checks import judge
from relet.errors import NotFeasible
from relet.files.opened import Opened, open_unit
from relet.files.plan_out import write_plan
from relet.model import Case, Map, Scheme, Wishes
from relet.planning import Choices, Problem, plan
from relet.pricing import price_installation

EXAMPLES = Path(__file__).parents[2] / "examples" / "limekiln_yard"
RELET = Path(sys.executable).with_name("relet")


def verdicts(case: Case, *, rules: object = None) -> object:
    return judge(case, rules=rules, thresholds=False, rank=False)  # type: ignore[arg-type]


def problem(opened: Opened, tenancy: str = "", **wishes: object) -> Problem:
    u = opened.unit_file
    chosen = tuple(t for t in u.in_order if tenancy in ("", t.id))
    return Problem(
        unit=u.unit, standing=u.standing, tenancies=chosen,
        wishes=msgspec.structs.replace(u.wishes, **wishes) if wishes else u.wishes, catalogue=opened.catalogue,
        code=opened.code, choices=Choices(seconds=25),
    )  # fmt: skip


@pytest.fixture(scope="module")
def unit_7() -> Opened:
    return open_unit(EXAMPLES / "unit_7.toml")


@pytest.fixture(scope="module")
def all_tenancies(unit_7: Opened) -> Scheme:
    return plan(problem(unit_7), unit_7.prices, verdicts, made_for=unit_7.unit_file.digest)


def test_the_demo_unit_closes_to_one_percent(all_tenancies: Scheme) -> None:
    s = all_tenancies.solved
    assert s is not None
    assert s.places >= 40
    assert s.gap <= 0.01
    assert s.bound <= s.price


def test_nothing_fails_and_what_depends_hangs_on_the_survey(unit_7: Opened, all_tenancies: Scheme) -> None:
    at = changed(unit_7, schemes=Map(dict.fromkeys(all_tenancies.contents, all_tenancies)))
    for t in all_tenancies.contents:
        found = judge(at.design_case(t))
        assert not found.of("fails"), [(f.rule, f.subject) for f in found.of("fails")]
        for f in found.of("depends"):
            abouts = [n.about for n in f.needs]
            assert any(a.startswith(("supply.", "standing.", "tenancies.")) for a in abouts), (
                f.rule,
                f.subject,
                abouts,
            )


def test_every_machine_is_plugged_in_within_reach(unit_7: Opened, all_tenancies: Scheme) -> None:
    at = changed(unit_7, schemes=Map(dict.fromkeys(all_tenancies.contents, all_tenancies)))
    for t in all_tenancies.contents:
        case = at.design_case(t)
        assert case.tenancy is not None and case.use is not None
        assert set(case.use.plugged) == set(case.tenancy.machines)
        reach = judge(case, rules=["place.reach"], thresholds=False, rank=False).findings
        assert {f.verdict for f in reach} <= {"meets", "not applicable"}


def test_the_plan_is_no_dearer_than_the_one_by_hand(unit_7: Opened) -> None:
    ours = plan(problem(unit_7, "harbour"), unit_7.prices, verdicts)
    by_hand = unit_7.schemes["harbour"]

    def price(s: Scheme) -> float:
        return price_installation(s.installation("harbour"), unit_7.prices, unit_7.catalogue).total

    assert price(ours) <= price(by_hand)


def test_a_plan_file_reads_back_to_the_same_verdicts(unit_7: Opened, all_tenancies: Scheme, tmp_path: Path) -> None:
    path = tmp_path / "p.toml"
    write_plan(all_tenancies, path, unit_7.unit_file)
    again = open_unit(EXAMPLES / "unit_7.toml", [path])
    before = changed(unit_7, schemes=Map(dict.fromkeys(all_tenancies.contents, all_tenancies)))
    for t in all_tenancies.contents:
        a = judge(before.design_case(t), thresholds=False, rank=False).counts()
        assert a == judge(again.design_case(t), thresholds=False, rank=False).counts()


def test_what_the_checks_refuse_comes_back_as_a_constraint() -> None:
    opened = open_unit(EXAMPLES / "unit_9.toml")
    told: list[str] = []
    scheme = plan(problem(opened), opened.prices, verdicts, tell=told.append)
    s = scheme.solved
    assert s is not None and s.rounds >= 2
    assert any("conductor.overload fails" in line and "added: a feed above" in line for line in told)
    assert any(line.startswith("round 2: price") for line in told)
    at = changed(opened, schemes=Map({"oat": scheme}))
    assert not judge(at.design_case("oat")).of("fails")


def test_a_forbidden_wall_and_the_reach_that_needs_it_are_told_by_name() -> None:
    opened = open_unit(EXAMPLES / "unit_9.toml")
    wishes = Wishes(pins=Map({"press_a": "west-3.5"}), forbid=(("west", "let for racking"),))
    u = opened.unit_file
    asked = Problem(
        unit=u.unit, standing=u.standing, tenancies=u.in_order, wishes=wishes, catalogue=opened.catalogue,
        code=opened.code, choices=Choices(seconds=10),
    )  # fmt: skip
    with pytest.raises(NotFeasible) as told:
        plan(asked, opened.prices, verdicts)
    assert any("forbid west" in c for c in told.value.clash)
    assert any("press_" in c for c in told.value.clash)
    assert len(told.value.clash) == 2  # minimal: without either the presses can be served


def test_ctrl_c_keeps_the_best_and_leaves_nothing_half_written(tmp_path: Path) -> None:
    out = tmp_path / "p.toml"
    child = subprocess.Popen(
        [str(RELET), "design", str(EXAMPLES / "unit_7.toml"), "--out", str(out), "--json"],
        stdout=subprocess.PIPE, stderr=subprocess.PIPE, text=True, start_new_session=True,
    )  # fmt: skip
    assert child.stderr is not None
    for line in child.stderr:  # a first plan is in hand
        if line.startswith(("best", "round 1")):
            break
    os.kill(child.pid, signal.SIGINT)
    stdout, stderr = child.communicate(timeout=120)
    assert "Traceback" not in stderr
    assert [p.name for p in tmp_path.iterdir()] in ([], ["p.toml"])
    if child.returncode == 2:
        assert "before it was stopped" in stderr
    else:
        form = json.loads(stdout)
        assert form["format"] == "relet/design/1"
        assert out.exists()


def test_a_read_only_place_is_refused_before_planning(tmp_path: Path) -> None:
    done = subprocess.run(
        [str(RELET), "design", str(EXAMPLES / "unit_9.toml"), "--out", str(tmp_path / "no" / "p.toml")],
        capture_output=True, text=True, timeout=60, check=False,
    )  # fmt: skip
    assert done.returncode == 2
    assert "no folder" in done.stderr
