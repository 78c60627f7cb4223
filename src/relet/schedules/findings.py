"""Findings, coverage, what to measure next and what stands in the way of a paper, as rows."""

from __future__ import annotations

from collections.abc import Collection, Iterable

from relet.checks.findings import WORST_FIRST, Basis, Covered, Finding, Findings, MeasureNext, Verdict
from relet.model import Case
from relet.model.values import Value
from relet.schedules.facts import name_of, short
from relet.schedules.numbers import JOIN, count, margin, number, said, share
from relet.schedules.shown import FORCE_WORDS, FROM_MEMORY, Shown, status_words


class FindingRow(Value, frozen=True, kw_only=True):
    """One finding, ready to print. `key` is its address; value, limit and margin in that order.

    trust          weakest ground, weakest status and mark of the edition, in a row
    subject_words  what the subject is, "" where its name says it already
    """

    key: str
    rule: str
    family: str
    title: str
    subject: str
    subject_words: str
    verdict: Verdict
    force: str
    value: Shown
    limit: Shown
    margin: str
    clause: str
    sentence: str
    grounds: str
    status: str
    status_words: str
    mark: str
    trust: str
    needs: tuple[str, ...]
    searched: bool


class CoverRow(Value, frozen=True, kw_only=True):
    """How far one rule was judged."""

    rule: str
    title: str
    force: str
    clause: str
    state: str
    count: str
    why: str


class NextRow(Value, frozen=True, kw_only=True):
    """One look, question or reading, ranked."""

    rank: str
    words: str
    way: str
    minutes: str
    settles: str
    share: str
    about: str


class VerdictCount(Value, frozen=True, kw_only=True):
    """How many findings read one verdict."""

    verdict: Verdict
    count: str
    some: bool


def finding_row(f: Finding, case: Case) -> FindingRow:
    """A finding as a row."""
    at = f"finding:{f.key}"
    unit = f.worst.value.unit if f.worst is not None else ""
    limit_unit = f.worst.limit.unit if f.worst is not None else ""
    subject, words = short(f.subject), name_of(case, f.subject)
    needs = tuple(n.words + ("" if n.surely else ", if the rest is at its best") for n in f.needs if n.words)
    grounds = f.grounds if f.worst is not None else ""
    status = status_words(f.status)
    trust = filter(None, ("" if status.startswith(grounds) else grounds, status, f.mark))
    return FindingRow(
        key=f.key, rule=f.rule, family=f.rule.split(".", 1)[0], title=f.title, subject=subject,
        subject_words=words if words != subject.replace("_", " ") else "", verdict=f.verdict,
        force=FORCE_WORDS.get(f.force, f.force),
        value=Shown(text=said(f.value_text, unit), at=at, doubt=f.verdict == "depends"),
        limit=Shown(text=said(f.limit_text, limit_unit), at=at),
        margin=margin(f.margin, judged=f.worst is not None), clause=f.clause, sentence=f.sentence,
        grounds=grounds, status=f.status, status_words=status,
        mark=f.mark, trust="; ".join(trust), needs=needs, searched=not f.monotone,
    )  # fmt: skip


def finding_rows(found: Findings, case: Case, *verdicts: Verdict) -> tuple[FindingRow, ...]:
    """Findings worst first; only those with one of these verdicts where some are given."""
    chosen = found.worst_first if not verdicts else [f for f in found.worst_first if f.verdict in verdicts]
    return tuple(finding_row(f, case) for f in chosen)


def findings_at(found: Findings, seats: Collection[str]) -> tuple[Finding, ...]:
    """Findings about one of these seats or something inside it, worst first."""
    inside = tuple(f"{s}/" for s in seats)
    return tuple(f for f in found.worst_first if f.subject in seats or f.subject.startswith(inside))


def marks(found: Findings) -> dict[str, str]:
    """The gravest verdict of each thing that deserves a mark in a drawing."""
    out: dict[str, str] = {}
    for f in found.worst_first:
        if f.verdict in ("fails", "depends", "refer"):
            out.setdefault(f.subject, f.verdict)
    return out


def worst_verdict(found: Iterable[Finding]) -> Verdict:
    """The gravest verdict among some findings; "not applicable" where there are none."""
    return min((f.verdict for f in found), key=WORST_FIRST.index, default="not applicable")


def counts(found: Findings) -> tuple[VerdictCount, ...]:
    """Number of findings by verdict, gravest first."""
    return tuple(VerdictCount(verdict=v, count=str(n), some=n > 0) for v, n in found.counts().items())


def coverage_rows(covered: Iterable[Covered]) -> tuple[CoverRow, ...]:
    """How far each rule was judged."""
    return tuple(
        CoverRow(
            rule=c.rule, title=c.title, force=FORCE_WORDS.get(c.force, c.force), clause=c.clause, state=c.state,
            count=str(c.count) if c.state == "judged" else "", why=c.why,
        )
        for c in covered
    )  # fmt: skip


def next_rows(ranked: Iterable[MeasureNext]) -> tuple[NextRow, ...]:
    """What to look at, ask or read next, the most useful minutes first."""
    return tuple(
        NextRow(
            rank=str(n), words=m.words, way=m.way, minutes=number(m.minutes, "min"),
            settles=f"{m.settles} of {m.of}", share=share(m.share), about=m.about,
        )
        for n, m in enumerate(ranked, 1)
    )  # fmt: skip


class BasisRow(Value, frozen=True, kw_only=True):
    """What every figure rests on; `line` is printed on every page."""

    code: str
    code_id: str
    figures: str
    catalogue: str
    method: str
    memory: str
    unconfirmed: str
    line: str


def basis_row(b: Basis) -> BasisRow:
    """The basis in words."""
    memory = f"figures from memory that decide:{JOIN}{b.memory_decides}"
    unconfirmed = f"edition unconfirmed:{JOIN}{b.unconfirmed}"
    return BasisRow(
        code=b.code, code_id=b.code_id, figures=b.figures, catalogue=b.catalogue, method=b.method,
        memory=str(b.memory_decides), unconfirmed=str(b.unconfirmed), line=f"{b.code}; {memory}; {unconfirmed}",
    )  # fmt: skip


class PaperState(Value, frozen=True, kw_only=True):
    """What a paper may be called, and what stands in the way of more."""

    name: str
    draft: bool
    in_the_way: tuple[str, ...]


def paper_state(found: Findings) -> PaperState:
    """Draft, while something fails, depends, waits for a specialist, or rests on an assumed fact where law, code or
    product rule."""
    way: list[str] = []
    tally = found.counts()
    if tally["fails"]:
        way.append(f"{count(tally['fails'], 'finding fails', 'findings fail')}")
    if tally["depends"]:
        way.append(f"{count(tally['depends'], 'finding depends', 'findings depend')} on what is not known")
    if tally["refer"]:
        way.append(f"{count(tally['refer'], 'question waits', 'questions wait')} for a specialist")
    weak = [f for f in found.findings if f.force in ("law", "code", "product") and f.worst is not None]
    assumed = sum(1 for f in weak if f.grounds in ("assumed", "unknown"))
    if assumed:
        way.append(f"{count(assumed, 'verdict rests', 'verdicts rest')} on assumed facts")
    memory = sum(1 for f in weak if f.status in FROM_MEMORY)
    signature = (
        *([f"{count(memory, 'verdict rests', 'verdicts rest')} on figures from memory"] if memory else []),
        "test results of the finished work are not entered",
    )
    if way:
        return PaperState(name="draft", draft=True, in_the_way=(*way, *signature))
    return PaperState(name="for construction", draft=False, in_the_way=signature)
