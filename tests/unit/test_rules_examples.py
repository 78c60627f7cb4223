"""Every rule shows what it does on four small units that are one line apart."""

from __future__ import annotations

import difflib

import pytest

from relet.checks.facts import OpenFact
from relet.checks.findings import Verdict
from relet.checks.ranges import Prober
from relet.checks.register import families, functions, register
from relet.checks.study import Study
from rule_examples import ADVISES, ALL, ROOT, RULES, case_of, certain, judged, names, path_of, shown, subject_of

EXPECTED: dict[str, Verdict] = {
    "meets": "meets", "fails": "fails", "refer": "refer", "depends": "depends", "not_applicable": "not applicable",
}  # fmt: skip


def expected(rule: str, name: str) -> Verdict:
    return "advice" if name == "fails" and rule in ADVISES else EXPECTED[name]


def test_every_rule_has_its_four_examples() -> None:
    missing = [f"{rule}: {name}.toml" for rule, name in ALL if not path_of(rule, name).exists()]
    assert not missing, "rules without all four examples:\n" + "\n".join(missing)


def test_no_folder_shows_a_rule_that_is_not_there() -> None:
    assert {p.name for p in ROOT.iterdir() if p.is_dir()} == set(RULES)
    for rule in RULES:
        assert {p.stem for p in (ROOT / rule).iterdir()} == set(names(rule))


@pytest.mark.parametrize("rule", RULES)
def test_examples_are_one_line_from_their_base(rule: str) -> None:
    """The example that meets is the base; each other one changes, adds or takes away one line of it."""
    base = path_of(rule, "meets").read_text(encoding="utf-8").splitlines()
    for name in names(rule)[1:]:
        other = path_of(rule, name).read_text(encoding="utf-8").splitlines()
        changes = [
            o for o in difflib.SequenceMatcher(None, base, other, autojunk=False).get_opcodes() if o[0] != "equal"
        ]
        assert len(changes) == 1, f"{rule}/{name}.toml differs in {len(changes)} places"
        _, a, b, c, d = changes[0]
        assert max(b - a, d - c) == 1, f"{rule}/{name}.toml differs in more than one line"


@pytest.mark.parametrize("rule", RULES)
def test_examples_say_that_they_are_invented_and_fit_one_screen(rule: str) -> None:
    for name in names(rule):
        text = path_of(rule, name).read_text(encoding="utf-8")
        assert "Limekiln Yard" in text
        assert "invented" in text
        assert f"# rule:    {rule}" in text
        assert len(text.splitlines()) <= 60


@pytest.mark.parametrize(("rule", "name"), ALL)
def test_an_example_reads_as_its_name_says(rule: str, name: str) -> None:
    finding = shown(rule, name)
    assert finding.verdict == expected(rule, name), f"{finding.sentence} {finding.value_text} {finding.limit_text}"
    assert finding.sentence


@pytest.mark.parametrize("rule", RULES)
def test_nothing_else_fails_where_a_rule_meets(rule: str) -> None:
    bad = [f"{f.rule} {f.subject}: {f.sentence}" for f in judged(rule, "meets").of("fails", "depends")]
    assert not bad, bad


@pytest.mark.parametrize("rule", RULES)
def test_what_is_open_settles_the_finding_both_ways(rule: str) -> None:
    """A value inside the threshold turns `depends` to meets, one outside to fails (advice, refer)."""
    finding, case = shown(rule, "depends"), case_of(rule, "depends")
    subject = subject_of(rule, "depends")
    otherwise = expected(rule, names(rule)[1])
    assert finding.needs, "it does not say what would settle it"
    for need in finding.needs:
        assert need.surely
        assert need.words.startswith("meets if ")
        fact = next(f for f in _open(rule) if f.path == need.about)
        assert need.about.split(".")[0] in ("standing", "tenancies", "supply", "zones"), "a survey or machine fact"
        if need.options:
            for option in fact.options:
                got = certain(case, rule, subject, {need.about: option}).verdict
                assert got == ("meets" if option in need.options else otherwise), f"{need.about} = {option}: {got}"
        else:
            (inside,) = need.meets_on
            for value in (inside.low, inside.high, (inside.low + inside.high) / 2):
                assert certain(case, rule, subject, {need.about: value}).verdict == "meets"
            hair = (fact.high - fact.low) / 500
            for value in (inside.low - hair, inside.high + hair):
                if fact.low <= value <= fact.high:
                    assert certain(case, rule, subject, {need.about: value}).verdict == otherwise, value


@pytest.mark.parametrize("rule", RULES)
def test_thresholds_agree_with_trying_every_value(rule: str) -> None:
    finding, case, subject = shown(rule, "depends"), case_of(rule, "depends"), subject_of(rule, "depends")
    for need in finding.needs:
        fact = next(f for f in _open(rule) if f.path == need.about)
        values = fact.options or tuple(fact.low + (fact.high - fact.low) * n / 40 for n in range(41))
        for value in values:
            said = value in need.options or any(b.low <= float(value) <= b.high for b in need.meets_on)
            assert (certain(case, rule, subject, {need.about: value}).verdict == "meets") == said, f"{value}"


def _open(rule: str) -> tuple[OpenFact, ...]:
    row = register()[rule]
    prober = Prober(Study(case_of(rule, "depends")))
    return prober.spread(row, families()[row.family], functions()[rule], subject_of(rule, "depends")).facts
