"""How commands speak: JSON on standard output, plain columns for people, cautions at the foot."""

from __future__ import annotations

import json
import shutil
import textwrap
from collections.abc import Callable, Iterable, Sequence
from typing import Any

from relet.checks.findings import Finding, Findings, Verdict
from relet.model import SolverReport
from relet.schedules.numbers import gap, not_above

VERDICT_WIDTH = 14


def put_json(form: Any) -> None:
    """A documented form on standard output. Not-a-number never leaves the house."""
    print(json.dumps(form, indent=1, ensure_ascii=False, allow_nan=False))


def columns(rows: Iterable[Sequence[str]], widths: Sequence[int]) -> Iterable[str]:
    """Rows in columns of these widths; the last column is as long as it likes."""
    for row in rows:
        head = "".join(f"{cell:<{w}} " for cell, w in zip(row, widths))
        yield (head + "  ".join(row[len(widths) :])).rstrip()


def finding_lines(f: Finding) -> Iterable[str]:
    """One finding for a person: verdict, rule, subject, value against limit; then the sentence and what settles it."""
    figures = f"{f.value_text} against {f.limit_text}" if f.worst is not None else ""
    yield f"{f.verdict:<{VERDICT_WIDTH}} {f.rule:<36} {f.subject:<18} {figures}".rstrip()
    room = max(60, min(120, shutil.get_terminal_size((110, 24)).columns)) - VERDICT_WIDTH - 1
    basis = "; ".join(p for p in (f.clause, f.mark, f"grounds: {f.grounds}" if f.worst else "") if p)
    notes = [f.sentence, *(n.words + f"  [{n.about}]" for n in f.needs[:4]), f"({basis})"]
    for note in notes:
        for line in textwrap.wrap(note, room):
            yield " " * (VERDICT_WIDTH + 1) + line


def told(found: Findings, name: Callable[[str], str], *verdicts: Verdict) -> Iterable[str]:
    """Open findings, worst first. What reads alike in several cases is told once, under all that it holds for.

    name  a case's name in words by where it is judged ("standing", "design.harbour")
    """
    alike: dict[tuple[str, ...], list[Finding]] = {}
    for f in found.worst_first:
        if f.verdict in verdicts:
            alike.setdefault(tuple(finding_lines(f)), []).append(f)
    groups: dict[tuple[str, ...], list[tuple[str, ...]]] = {}
    for lines, several in alike.items():
        groups.setdefault(tuple(dict.fromkeys(f.where for f in several)), []).append(lines)
    for where, some in groups.items():
        yield "\n" + ", ".join(map(name, where))
        for lines in some:
            yield from lines


def counts_line(found: Findings) -> str:
    """Verdicts by number."""
    return "  ".join(f"{v} {n}" for v, n in found.counts().items())


def solved_line(s: SolverReport) -> str:
    """What a plan costs, and how much less any could. The bound is rounded down, the gap up."""
    return f"price {s.price:,.2f}   not below {not_above(s.bound)}   gap {gap(s.gap)}   {s.seconds:g} s"


def basis_lines(found: Findings) -> Iterable[str]:
    """On what the verdicts rest, and the caution."""
    b = found.basis
    yield f"Basis: {b.code}; catalogue {b.catalogue}; {b.method}."
    yield f"Figures from memory that decide: {b.memory_decides}. Findings with edition unconfirmed: {b.unconfirmed}."
    yield "A design aid for competent persons. Work dead: isolate, lock, prove. Nothing here says a conductor is dead."
