"""The register, the rule functions and the packs hold the same rules, and rules ask for nothing that a pack lacks."""

from __future__ import annotations

import re
from pathlib import Path

import pytest

import relet.checks
from relet.checks.findings import Judged, NotApplicable, Refer
from relet.checks.ranges import Unjudged, answer
from relet.checks.register import families, functions, register
from relet.checks.study import Study
from relet.codes import code_ids, load_code
from relet.codes.pack import rows_of
from rule_examples import ADVISES, ALL, RULES, case_of, judged

SOURCES = sorted(Path(relet.checks.__file__).parent.rglob("*.py"))
LIMIT = re.compile(r"\.limit\(\s*\"(\w+)\"(?:,\s*(f?)\"([^\"]*)\")?")
HAS = re.compile(r"has_limit\(\"(\w+)\"")


def test_register_and_functions_hold_the_same_rules() -> None:
    assert set(functions()) == set(RULES)
    assert {r.family for r in register().values()} <= set(families())


def test_every_family_is_used() -> None:
    assert {r.family for r in register().values()} == set(families())


@pytest.mark.parametrize("id", code_ids())
def test_a_pack_holds_exactly_the_rules_of_the_register(id: str) -> None:
    assert set(load_code(id).rules()) == set(RULES)
    assert len(load_code(id).rules()) == len(RULES)


@pytest.mark.parametrize("id", code_ids())
def test_rows_of_a_pack_are_no_other_rules(id: str) -> None:
    own = [r["rule"] for _, r in rows_of(load_code(id).folder / "rules.csv")]
    assert set(own) <= set(RULES)
    assert len(own) == len(set(own))


def test_senses_are_known() -> None:
    assert {r.sense for r in register().values()} == {"monotone", "scanned"}
    assert all(r.title and r.inputs and r.check for r in register().values())


def test_limits_asked_for_stand_in_every_pack() -> None:
    asked = {(m[1], m[3] if not m[2] else None) for p in SOURCES for m in LIMIT.finditer(p.read_text(encoding="utf-8"))}
    optional = {m[1] for p in SOURCES for m in HAS.finditer(p.read_text(encoding="utf-8"))}
    assert len(asked) > 15, "the scan found too few: has the way of asking changed?"
    for id in code_ids():
        held = load_code(id).limits()
        keys = {k for k, _ in held}
        for key, case in asked:
            if key in optional or key == "volt_drop_lambda":
                continue
            assert key in keys, f"{id} holds no limit {key}"
            if case:
                assert (key, case) in held, f"{id} holds no limit {key} ({case})"


def test_cases_built_at_run_time_stand_in_every_pack() -> None:
    for id in code_ids():
        code = load_code(id)
        for system in ("TN", "TT"):
            for circuit in ("final", "distribution"):
                assert float(code.limit("disconnection_s", f"{system} {circuit}")) > 0
        for end in ("low", "high"):
            for what in ("outlet", "handle"):
                assert code.default("policy", f"{what}_{end}_m") is not None


@pytest.mark.parametrize(("rule", "name"), ALL)
def test_a_rule_always_answers(rule: str, name: str) -> None:
    """No rule answers with nothing, for any subject of any example."""
    study = Study(case_of(rule, name))
    for row in register().values():
        fam = families()[row.family]
        for subject in fam.subjects(study):
            got = answer(study, row, fam, functions()[row.rule], subject)
            assert isinstance(got, Judged | NotApplicable | Refer | Unjudged), f"{row.rule} {subject}: {got!r}"


@pytest.mark.parametrize(("rule", "name"), ALL)
def test_coverage_lists_every_rule_and_says_why(rule: str, name: str) -> None:
    found = judged(rule, name)
    assert [c.rule for c in found.coverage] == list(RULES)
    for c in found.coverage:
        here = [f for f in found.findings if f.rule == c.rule]
        assert c.count == sum(1 for f in here if f.verdict != "not applicable")
        assert c.state == ("judged" if c.count else "not applicable")
        assert c.count or c.why


@pytest.mark.parametrize(("rule", "name"), ALL)
def test_guidance_and_policy_never_fail(rule: str, name: str) -> None:
    for f in judged(rule, name).findings:
        assert not (f.verdict == "fails" and f.rule in ADVISES), f.rule
        assert not (f.verdict == "advice" and f.rule not in ADVISES), f.rule
