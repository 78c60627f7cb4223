"""The tabulated figures that decide verdicts: each row once, the weakest status first."""

from __future__ import annotations

import hashlib
import re

from relet.checks.findings import WORST_FIRST, Finding, Findings, Verdict
from relet.errors import OutsideTable
from relet.model.values import Value
from relet.schedules.numbers import number
from relet.schedules.shown import Shown, status_words
from relet.tables.core import STATUSES_WORST_LAST
from relet.tables.sources import sources
from relet.working import Figure, Lookup


class FigureRow(Value, frozen=True, kw_only=True):
    """One row of a table that decides at least one verdict.

    id      short name of the row, stable between runs
    decides how many findings; keys: their addresses, gravest first; verdict: the gravest
    """

    id: str
    table: str
    row: str
    name: str
    value: Shown
    source: str
    publications: tuple[str, ...]
    status: str
    status_words: str
    edition: str
    decides: str
    keys: tuple[str, ...]
    verdict: Verdict


def row_id(table: str, row: str) -> str:
    """A short stable name of a table row."""
    return hashlib.sha256(f"{table}\n{row}".encode()).hexdigest()[:10]


def figure_rows(found: Findings) -> tuple[FigureRow, ...]:
    """Table rows that decide, weakest status first, then those that decide most."""
    held: dict[tuple[str, str], tuple[Figure, Lookup, list[Finding]]] = {}
    for f in found.worst_first:
        for leaf in f.decided_by:
            if isinstance(leaf.origin, Lookup):
                key = (leaf.origin.table, leaf.origin.row)
                several = held.setdefault(key, (leaf, leaf.origin, []))[2]
                if not several or several[-1] is not f:
                    several.append(f)
    order = sorted(
        held.values(), key=lambda h: (-STATUSES_WORST_LAST.index(h[1].status), -len(h[2]), h[1].table, h[1].row)
    )
    return tuple(_row(*h) for h in order)


def _row(figure: Figure, o: Lookup, about: list[Finding]) -> FigureRow:
    id_ = row_id(o.table, o.row)
    text = number(float(figure), figure.unit) if figure.unit != "word" else o.row
    return FigureRow(
        id=id_, table=o.table, row=o.row, name=figure.name, value=Shown(text=text, at=f"row:{id_}"), source=o.source,
        publications=publications(o.source), status=o.status, status_words=status_words(o.status),
        edition=o.edition.removeprefix("; "),
        decides=str(len(about)), keys=tuple(f.key for f in about),
        verdict=min((f.verdict for f in about), key=WORST_FIRST.index),
    )  # fmt: skip


def publications(source: str) -> tuple[str, ...]:
    """The publications behind a source cell ("S02;S45", or codes in brackets behind a clause); unknown codes are left
    as they are."""
    inside = re.search(r"\[([^\]]*)\]", source)
    codes = [c.strip() for c in (inside.group(1) if inside else source).split(";")]
    out: list[str] = []
    for code in codes:
        try:
            out += [str(s) for s in sources(code)]
        except OutsideTable:
            continue
    return tuple(dict.fromkeys(out))
