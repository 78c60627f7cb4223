"""judge(case) -> Findings: every rule of the register for every subject, over everything that is not known."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from typing import Final

import relet.checks.rules  # noqa: F401  (fills the register)
from relet import __version__
from relet.checks.asking import asking
from relet.checks.facts import OpenFact
from relet.checks.findings import (
    Basis,
    Covered,
    Finding,
    Findings,
    MeasureNext,
    Need,
    NotApplicable,
    Refer,
    Verdict,
)
from relet.checks.ranges import Answer, Prober, Spread, Trial, Unjudged, answer, needs, settled_share
from relet.checks.register import RegisterRow, families, functions, register
from relet.checks.study import Study
from relet.codes import FORCES_THAT_FAIL, UNCONFIRMED, Code, RuleRow, weakest_mark
from relet.model import Case
from relet.working import Lookup, ground_of, leaves

METHOD: Final = f"relet {__version__}"
_FROM_MEMORY: Final = frozenset({"M", "M+"})


def judge(
    case: Case, *, code: Code | None = None, rules: Sequence[str] | None = None, thresholds: bool = True,
    rank: bool = True,
) -> Findings:  # fmt: skip
    """Judge a case.

    rules       only these; None: all of the register
    thresholds  work out what settles a finding that depends (off: verdicts only, faster)
    rank        rank what to look at, ask or read next
    returns     findings worst first within each rule's subjects, with coverage
    """
    base = Study(case, code=code)
    prober = Prober(base)
    out: list[Finding] = []
    covered: list[Covered] = []
    open_ones: list[tuple[Finding, Spread, RegisterRow]] = []
    for row in register().values():
        if rules is not None and row.rule not in rules:
            continue
        fam, f, stands = families()[row.family], functions()[row.rule], base.code.rule(row.rule)
        found: list[Finding] = []
        for subject in fam.subjects(base):
            spread = prober.spread(row, fam, f, subject)
            finding = _finding(case, row, stands, subject, spread)
            if finding.verdict == "depends" and thresholds and spread.facts:
                otherwise = "" if isinstance(spread.elsewhere, Unjudged) else _otherwise(spread, stands)
                settles = needs(prober, spread, row, fam, f, subject, otherwise)
                finding = _with_needs(finding, settles)
            if finding.verdict == "depends":
                open_ones.append((finding, spread, row))
            found.append(finding)
        out.extend(found)
        covered.append(_covered(row, stands, found, fam.none))
    ranked = _rank(prober, open_ones) if rank and thresholds else ()
    return Findings(_basis(base, out), tuple(out), tuple(covered), ranked, _assumed(out))


def merge_findings(several: Iterable[Findings]) -> Findings:
    """Findings of several cases (what stands, and each design) as one."""
    all_of = list(several)
    first = all_of[0]
    coverage: dict[str, Covered] = {}
    for found in all_of:
        for c in found.coverage:
            before = coverage.get(c.rule)
            if before is None or before.state == c.state:
                count = c.count + (before.count if before else 0)
                coverage[c.rule] = Covered(c.rule, c.title, c.force, c.clause, c.state, count, c.why)
            elif c.state == "judged" or before.state == "judged":
                j = c if c.state == "judged" else before
                coverage[c.rule] = Covered(c.rule, c.title, c.force, c.clause, "judged", c.count + before.count, j.why)
    findings = tuple(f for found in all_of for f in found.findings)
    ranked: dict[str, MeasureNext] = {}
    total = sum(len(found.of("depends")) for found in all_of)
    for found in all_of:
        for m in found.next:
            was = ranked.get(m.about)
            settles = m.settles + (was.settles if was else 0)
            share = (m.share * m.of) / (total or 1) + (was.share if was else 0.0)
            ranked[m.about] = MeasureNext(m.about, m.words, m.way, m.minutes, share, settles, total)
    order = tuple(sorted(ranked.values(), key=lambda m: (-m.share / m.minutes, m.about)))
    memory = {(t, r) for f in findings for t, r in _memory_rows(f)}
    unconfirmed = sum(1 for f in findings if f.mark == UNCONFIRMED and f.worst is not None)
    b = first.basis
    basis = Basis(b.code, b.code_id, b.figures, b.catalogue, b.method, len(memory), unconfirmed)
    assumed = tuple(sorted({a for found in all_of for a in found.assumed}))
    return Findings(basis, findings, tuple(coverage.values()), order, assumed)


def _finding(case: Case, row: RegisterRow, stands: RuleRow, subject: str, spread: Spread) -> Finding:
    verdict, sentence = _verdict(spread, stands)
    missing: tuple[Need, ...] = ()
    for a in (spread.base, spread.elsewhere):
        if isinstance(a, Unjudged) and verdict == "depends":
            missing = (
                Need(a.path, words=f"{a.what} is not held; give it at {a.path}" if a.path != a.what else a.what),
            )
    deciding = () if spread.worst is None else (spread.worst.value, spread.worst.limit, *spread.worst.rests)
    rows = (leaf.origin for f in deciding for leaf in leaves(f))
    mark = weakest_mark(stands.mark, (o.edition for o in rows if isinstance(o, Lookup)))
    return Finding(
        rule=row.rule, subject=subject, where=case.where, verdict=verdict, force=stands.force, clause=stands.clause,
        sentence=sentence, title=row.title, rule_status=stands.status, mark=mark,
        worst=spread.worst, best=spread.best, needs=missing, rests_on=tuple(f.path for f in spread.facts),
        monotone=row.sense == "monotone",
    )  # fmt: skip


def _verdict(spread: Spread, stands: RuleRow) -> tuple[Verdict, str]:
    other = spread.elsewhere
    if isinstance(other, Refer):
        words = f"{other.question} Ask: {other.specialist}. Bring back: {other.bring_back}."
        return "refer" if spread.only_refers else "depends", words
    if isinstance(other, Unjudged) and (spread.worst is None or spread.worst.meets):
        return "depends", f"Cannot be judged yet: {other.what}."
    if spread.worst is None or spread.best is None:
        why = other.why if isinstance(other, NotApplicable) else "does not apply"
        return "not applicable", why
    if spread.worst.meets:
        return "meets", spread.worst.sentence
    if spread.best.meets or isinstance(other, NotApplicable):
        return "depends", spread.worst.sentence
    return _otherwise(spread, stands), spread.best.sentence


def _otherwise(spread: Spread, stands: RuleRow) -> Verdict:
    """The verdict where a rule is not met."""
    if isinstance(spread.elsewhere, Refer):
        return "refer"
    return "fails" if stands.force in FORCES_THAT_FAIL else "advice"


def _with_needs(f: Finding, settles: tuple[Need, ...]) -> Finding:
    return Finding(
        f.rule, f.subject, f.where, f.verdict, f.force, f.clause, f.sentence, f.title, f.rule_status, f.mark,
        f.worst, f.best, (*settles, *f.needs), f.rests_on, f.monotone,
    )  # fmt: skip


def _covered(row: RegisterRow, stands: RuleRow, found: Sequence[Finding], none: str) -> Covered:
    judged = [f for f in found if f.verdict != "not applicable"]
    if judged:
        state, why = "judged", ""
    elif found:
        state, why = "not applicable", "; ".join(dict.fromkeys(f.sentence for f in found[:3]))
    else:
        state, why = "not applicable", none
    return Covered(row.rule, row.title, stands.force, stands.clause, state, len(judged), why)


def _memory_rows(f: Finding) -> set[tuple[str, str]]:
    return {
        (leaf.origin.table, leaf.origin.row)
        for leaf in f.decided_by
        if isinstance(leaf.origin, Lookup) and leaf.origin.status in _FROM_MEMORY
    }


def _basis(base: Study, out: Sequence[Finding]) -> Basis:
    memory = {r for f in out for r in _memory_rows(f)}
    unconfirmed = sum(1 for f in out if f.mark == UNCONFIRMED and f.worst is not None)
    return Basis(
        base.code.edition_line(), base.code.id, "shipped tables", base.case.catalogue.edition, METHOD, len(memory),
        unconfirmed,
    )  # fmt: skip


def _assumed(out: Sequence[Finding]) -> tuple[str, ...]:
    seen: set[str] = set()
    for f in out:
        for leaf in f.decided_by:
            if ground_of(leaf) == "assumed":
                o = leaf.origin
                seen.add(o.row if isinstance(o, Lookup) else getattr(o, "path", ""))
    return tuple(sorted(seen - {""}))


def _rank(prober: Prober, open_ones: Sequence[tuple[Finding, Spread, RegisterRow]]) -> tuple[MeasureNext, ...]:
    total = len(open_ones)
    shares: dict[str, list[float]] = {}
    facts: dict[str, OpenFact] = {}
    for finding, spread, row in open_ones:
        fam, f = families()[row.family], functions()[row.rule]
        for fact in spread.facts:

            def ask(trial: Trial) -> Answer:
                return answer(prober.study(trial), row, fam, f, finding.subject)  # noqa: B023

            points = fact.options if not fact.is_range else fact.probes(3)
            shares.setdefault(fact.path, []).append(settled_share(prober, spread, fact, ask, points))
            facts[fact.path] = fact
        if not spread.facts and finding.needs:
            about = finding.needs[0].about
            shares.setdefault(about, []).append(1.0)
    out = []
    for path, got in shares.items():
        share = sum(got) / total
        if share <= 0:
            continue
        words, way, minutes = asking(path, facts.get(path))
        out.append(MeasureNext(path, words, way, minutes, share, sum(1 for s in got if s >= 1), total))
    return tuple(sorted(out, key=lambda m: (-m.share / m.minutes, m.about)))
