"""The examples of every rule: examples/rules/RULE/{meets,fails,refer,depends,not_applicable}.toml.

One line of each file names the subject whose finding it shows: `# subject: R1`.
"""

from __future__ import annotations

from collections.abc import Mapping
from functools import cache
from pathlib import Path

import msgspec

from relet.checks import Finding, Findings, judge, register
from relet.codes import load_code
from relet.files.opened import open_unit
from relet.model import Case, Claim, Exactly, Map, Scalar

ROOT = Path(__file__).parents[1] / "examples" / "rules"
RULES = tuple(register())
REFERS = frozenset(p.parent.name for p in ROOT.glob("*/refer.toml"))
ADVISES = frozenset(r for r in RULES if load_code().rule(r).force in ("guidance", "policy"))


def names(rule: str) -> tuple[str, str, str, str]:
    """The four files that a rule has."""
    return "meets", "refer" if rule in REFERS else "fails", "depends", "not_applicable"


ALL = tuple((rule, name) for rule in RULES for name in names(rule))


def path_of(rule: str, name: str) -> Path:
    return ROOT / rule / f"{name}.toml"


def subject_of(rule: str, name: str) -> str:
    for line in path_of(rule, name).read_text(encoding="utf-8").splitlines():
        if line.startswith("# subject:"):
            return line.partition(":")[2].strip()
    raise AssertionError(f"{rule}/{name}.toml names no subject")


@cache
def case_of(rule: str, name: str, code: str | None = None) -> Case:
    (case,) = open_unit(path_of(rule, name)).cases(code=code)
    return case


@cache
def judged(rule: str, name: str, code: str | None = None) -> Findings:
    """Everything that is found in an example."""
    return judge(case_of(rule, name, code))


def finding_in(found: Findings, rule: str, subject: str) -> Finding:
    (one,) = [f for f in found.findings if f.rule == rule and f.subject == subject]
    return one


def shown(rule: str, name: str, code: str | None = None) -> Finding:
    """The finding that an example shows."""
    return finding_in(judged(rule, name, code), rule, subject_of(rule, name))


def knowing(case: Case, facts: Mapping[str, Scalar]) -> Case:
    """The case with these facts seen on site."""
    learned = {p: Claim(about=p, holds=Exactly(v), how="seen") for p, v in facts.items()}  # type: ignore[arg-type]
    return msgspec.structs.replace(case, learned=Map({**case.learned, **learned}))


def certain(case: Case, rule: str, subject: str, facts: Mapping[str, Scalar]) -> Finding:
    """The finding of one rule when these facts are known."""
    return finding_in(judge(knowing(case, facts), rules=[rule], thresholds=False, rank=False), rule, subject)
