"""What is told of a finding: its JSON form, its working, its verdict words, and the exit code."""

from __future__ import annotations

import json
import math
from dataclasses import replace

import pytest

from relet.checks import Finding, findings_json, judge, merge_findings
from relet.checks.counting import NONE, count
from relet.checks.findings import Findings, Judged, at_least, at_most
from relet.working import Formula, Step, fact, printed
from rule_examples import ALL, case_of, certain, judged, knowing, shown

FINDING = {"rule", "subject", "verdict", "force", "value", "limit", "unit", "margin", "clause", "sentence", "grounds",
           "status", "working", "needs"}  # fmt: skip
BASIS = {"code", "figures", "catalogue", "method"}
VERDICTS = {"meets", "fails", "depends", "refer", "advice", "not applicable"}


@pytest.mark.parametrize(("rule", "name"), ALL)
def test_the_json_form_is_as_documented(rule: str, name: str) -> None:
    form = findings_json(judged(rule, name))
    assert form["format"] == "relet/findings/1"
    assert {"basis", "coverage", "findings"} <= set(form)
    assert set(form["basis"]) >= BASIS
    text = json.dumps(form, allow_nan=False)
    assert json.loads(text) == form
    for f in form["findings"]:
        assert set(f) >= FINDING
        assert f["verdict"] in VERDICTS
        assert f["value"] is None or math.isfinite(f["value"])
        if f["verdict"] in ("fails", "advice", "meets"):
            assert f["working"], f"{f['rule']} {f['subject']} shows no working"
            assert f["value"] is not None or f["value_text"]


@pytest.mark.parametrize(("rule", "name"), ALL)
def test_every_printed_formula_gives_its_printed_result(rule: str, name: str) -> None:
    """The numbers put in, put into the formula as it is printed, give the value and its printed form."""
    for finding in judged(rule, name).findings:
        for step in _formulas(finding):
            again = Formula(step.text, step.unit, source="as printed", **{n: "" for n, _ in step.put_in})
            if not math.isfinite(step.value):
                continue
            value = again.evaluate(dict(step.put_in))
            assert value == pytest.approx(step.value, rel=1e-12, abs=1e-15), step.text
            assert printed(value) == step.printed


def test_many_formulas_are_shown() -> None:
    every = {s.text for rule, name in ALL for f in judged(rule, name).findings for s in _formulas(f)}
    assert len(every) > 40, "few formulas were tried: do findings still show their working?"


def _formulas(finding: Finding) -> list[Step]:
    return [s for s in finding.working() if s.kind == "formula"]


@pytest.mark.parametrize(("rule", "name"), ALL)
def test_printed_figures_lie_on_the_unfavourable_side(rule: str, name: str) -> None:
    for f in judged(rule, name).findings:
        j = f.worst
        if j is None or j.counted or f.best is None or f.best is not f.worst:
            continue
        value, limit = (t.split()[0] for t in (f.value_text, f.limit_text))
        try:
            v, lim = float(value), float(limit)
        except ValueError:
            continue
        if abs(float(j.value)) < 1e-9 or not j.value.unit:
            continue
        if j.sense == "at_most":
            assert v >= float(j.value) * (1 - 1e-9)
            assert lim <= float(j.limit) * (1 + 1e-9)
        else:
            assert v <= float(j.value) * (1 + 1e-9)
            assert lim >= float(j.limit) * (1 - 1e-9)


def test_exit_codes_follow_fails_and_depends_alone() -> None:
    assert judged("conductor.overload", "meets").exit_code == 0
    assert judged("conductor.overload", "fails").exit_code == 1
    assert judged("conductor.overload", "depends").exit_code == 3
    assert judged("place.height", "fails").of("advice")
    assert judged("place.height", "fails").exit_code == 0
    assert judged("place.explosive", "refer").of("refer")
    assert judged("place.explosive", "refer").exit_code == 0


def test_what_fails_goes_before_what_depends() -> None:
    both = merge_findings([judged("conductor.overload", "fails"), judged("conductor.overload", "depends")])
    assert both.exit_code == 1
    assert [f.verdict for f in both.worst_first[:2]] == ["fails", "depends"]


def test_merged_coverage_counts_both() -> None:
    one = judged("conductor.overload", "meets")
    two = merge_findings([one, judged("load.supply_capacity", "meets")])
    by_rule = {c.rule: c for c in two.coverage}
    assert by_rule["load.supply_capacity"].state == "judged"
    assert by_rule["conductor.overload"].count == 1
    assert len(two.coverage) == len(one.coverage)


def test_a_count_that_is_met_is_no_narrow_margin() -> None:
    quantity = at_most(fact("x", 9.0, "A", "measured"), fact("y", 10.0, "A", "measured"), "A quantity.")
    met = at_most(count(0, "faults"), NONE, "A count.")
    over = at_most(count(2, "faults"), NONE, "A count.")
    assert met.margin > quantity.margin > over.margin
    assert met.meets
    assert not over.meets


def test_a_figure_that_is_nothing_but_noise_prints_as_zero() -> None:
    finding = shown("load.unbalance", "meets")
    noise = fact("x", 3e-14, "%", "measured")
    j = Judged(noise, finding.worst.limit, "at_most", "Noise.") if finding.worst else None
    assert replace(finding, worst=j, best=j).value_text == "0 %"


def test_counts_over_a_range_print_as_one_range() -> None:
    finding = shown("assembly.interlock", "depends")
    assert finding.value_text == "0 to 1 outlets without interlock or adjacent switch"
    assert finding.limit_text == "none"


def test_least_and_most_read_as_such() -> None:
    one = at_least(count(0, "devices"), fact("n", 1.0, "", "chosen"), "At least one.")
    assert one.counted == "devices"
    assert one.margin == -1.0


def test_grounds_name_the_weakest_fact() -> None:
    assert shown("conductor.overload", "depends").grounds == "unknown"
    assert shown("load.supply_capacity", "meets").grounds in ("assumed", "from memory", "nameplate")


def test_next_look_is_the_one_that_settles() -> None:
    found = judged("fault.disconnection", "depends")
    assert found.next[0].about == "standing.devices.DB1/1.curve"
    assert found.next[0].way == "look"
    assert found.next[0].words == "letter on DB1/1"
    assert found.next[0].settles >= 1


def test_ranking_and_thresholds_can_be_left_out() -> None:
    quick = judge(case_of("conductor.overload", "depends"), thresholds=False, rank=False)
    assert not quick.next
    assert all(not f.needs for f in quick.findings)
    assert [f.verdict for f in quick.findings] == [f.verdict for f in judged("conductor.overload", "depends").findings]


def test_only_some_rules_may_be_asked_for() -> None:
    found = judge(case_of("conductor.overload", "meets"), rules=["conductor.overload"])
    assert {f.rule for f in found.findings} == {"conductor.overload"}
    assert [c.rule for c in found.coverage] == ["conductor.overload"]


def test_what_is_learned_goes_before_what_the_piece_holds() -> None:
    case = knowing(case_of("conductor.overload", "meets"), {"standing.runs.R1.csa_mm2": 2.5})
    (finding,) = judge(case, rules=["conductor.overload"]).findings
    assert finding.verdict == "fails"


def test_judging_changes_nothing() -> None:
    case = case_of("fault.disconnection", "depends")
    before: Findings = judge(case)
    after = judge(case)
    assert findings_json(before) == findings_json(after)
    assert certain(case, "fault.disconnection", "R1", {}).verdict == "depends"
