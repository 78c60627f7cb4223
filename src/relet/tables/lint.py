"""Check every table: `python -m relet.tables.lint [DATA FOLDER]`, exit 1 with `file:line: what` for each problem.

    every row      as many cells as the header, a known source code, a known status, an edition
    every table    no doubled key, value columns in the header, no web address, numbers where a figure is declared
    ratings        within (table, method, loading, arrangement) none falls as the conductor grows
    volt drop      within (table, loading, arrangement) z does not grow with the conductor
    grouping       within an arrangement no factor rises with the number of circuits
    resistance     none rises as the conductor grows

It prints, per file and in total, how many rows rest on memory or on assumption.
"""

from __future__ import annotations

import re
import sys
from collections import Counter
from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass
from itertools import pairwise
from pathlib import Path
from typing import Final

from relet.tables.core import DATA, STATUSES_WORST_LAST, Entry, Row, Table, read_csv, read_index

_ADDRESS: Final = re.compile(r"https?://|www\.|ftp://", re.IGNORECASE)

ORDERED: Final = (
    # table names that begin so, what must hold along which column, within which group
    ("ccc_", "csa_mm2", "it_A", ("method", "loading", "arrangement"), +1),
    ("vd_", "csa_mm2", "z_mV_per_A_m", ("loading", "arrangement"), -1),
    ("grouping_factor", "circuits", "factor", ("arrangement",), -1),
    ("ambient_factor", "ambient_temp_degC", "factor", ("base", "medium", "conductor_temp_degC"), -1),
    ("conductor_resistance", "csa_mm2", "class1_plain_mohm_per_m", (), -1),
    ("conductor_resistance", "csa_mm2", "class2_plain_mohm_per_m", (), -1),
    ("conductor_resistance", "csa_mm2", "class5_plain_mohm_per_m", (), -1),
    ("gg_gates", "in_A", "imin_10s_A", (), +1),
    ("gg_gates", "in_A", "imax_5s_A", (), +1),
    ("iec60890_k", "ae_m2", "k", ("case",), -1),
    ("iec60890_c", "x", "c", ("case", "installation_curve"), +1),
)
"""(table, along, value, within, sense): +1 the value must not fall along the column, -1 it must not rise."""


@dataclass(frozen=True, slots=True, order=True)
class Problem:
    """One thing wrong in one line of one file."""

    file: str
    line: int
    what: str

    def __str__(self) -> str:
        return f"{self.file}:{self.line}: {self.what}"


def lint(root: Path = DATA) -> tuple[list[Problem], dict[str, Counter[str]]]:
    """Every problem under a data folder, and the count of each status per file."""
    try:
        entries = read_index(root)
        sources = _sources(root)
    except (OSError, ValueError, KeyError, TypeError) as e:
        return [Problem("index.csv", 1, f"index or source register cannot be read: {e}")], {}
    problems = list(_files(root, entries.values()))
    counts: dict[str, Counter[str]] = {}
    for entry in entries.values():
        try:
            held = Table(entry, root)
        except OSError as e:
            problems.append(Problem("index.csv", entry.line, f"{entry.name}: {e.strerror}: {entry.file}"))
            continue
        except ValueError as e:
            at = re.match(r".*?:(\d+): (.*)", str(e))
            line, what = (int(at[1]), at[2]) if at else (1, str(e))
            problems.append(Problem(entry.file, line, what))
            continue
        missing = [c for c in ("source", "status", "edition", *entry.keys, *entry.columns) if c not in held.header]
        if missing:
            problems.append(Problem(entry.file, 1, f"column {', '.join(missing)} is missing"))
            continue
        counts[entry.file] = Counter(r.text("status") for r in held.rows)
        problems += [*_rows(held, sources), *_doubled(held), *_ordered(held)]
    return sorted(problems), counts


def _sources(root: Path) -> frozenset[str]:
    header, raw = read_csv(root / "sources.csv")
    codes = [cells[header.index("code")] for _, cells in raw]
    twice = [c for c, n in Counter(codes).items() if n > 1]
    if twice:
        raise ValueError(f"sources.csv: code {', '.join(twice)} stands twice")
    return frozenset(codes)


def _files(root: Path, entries: Iterable[Entry]) -> Iterator[Problem]:
    """Files that no table declares, and web addresses anywhere."""
    declared = {e.file for e in entries} | {"index.csv", "sources.csv"}
    for path in sorted(root.rglob("*.csv")):
        name = path.relative_to(root).as_posix()
        if name not in declared:
            yield Problem(name, 1, "no table in index.csv declares this file")
        for n, line in enumerate(path.read_text(encoding="utf-8").splitlines(), 1):
            if _ADDRESS.search(line):
                yield Problem(name, n, "holds a web address")


def _rows(held: Table, sources: frozenset[str]) -> Iterator[Problem]:
    """Sources, statuses, edition, and numbers where figures are declared."""
    file = held.entry.file
    about = held.entry.columns.values()
    status_columns = {"status", *(c.status for c in about), *(c for c in held.header if c.startswith("status_"))}
    source_columns = {"source", *(c.source for c in about)}
    for r in held.rows:
        for c in sorted(source_columns):
            text = r.text(c)
            if not text and c == "source":
                yield Problem(file, r.line, "no source")
            unknown = [code for code in text.split(";") if code and code not in sources]
            if unknown:
                yield Problem(file, r.line, f"source {', '.join(unknown)} is not in sources.csv")
        for c in sorted(status_columns):
            text = r.text(c)
            if not text and c == "status":
                yield Problem(file, r.line, "no status")
            if text and text not in STATUSES_WORST_LAST:
                yield Problem(file, r.line, f"{c} {text} is not one of {' '.join(STATUSES_WORST_LAST)}")
        if not r.text("edition"):
            yield Problem(file, r.line, "no edition")
        both = {("status", "source"), *((c.status, c.source) for c in about if r.cells[c.name] is not None)}
        for status, source in sorted(both):
            if r.text(status) == "C" and "M" in r.text(source).split(";"):
                yield Problem(file, r.line, f"{status} C rests on memory (M in {source}): M+ or M")
        for column in about:
            if r.cells[column.name] is None:
                continue
            if not column.unit.startswith("@") and column.name not in held.numeric:
                yield from _words(held, r, column.name)
            elif not r.text(column.status):
                yield Problem(file, r.line, f"{column.name} has no status in {column.status}")


def _words(held: Table, r: Row, column: str) -> Iterator[Problem]:
    try:
        r.number(column)
    except TypeError:
        yield Problem(held.entry.file, r.line, f"{column} holds words: {r.text(column)!r}")


def _doubled(held: Table) -> Iterator[Problem]:
    seen: dict[tuple[object, ...], int] = {}
    for r in held.rows:
        key = tuple(r.cells[k] for k in held.entry.keys)
        if key in seen:
            yield Problem(held.entry.file, r.line, f"the key {r.label} stands in line {seen[key]} too")
        seen.setdefault(key, r.line)


def _ordered(held: Table) -> Iterator[Problem]:
    for name, along, value, within, sense in ORDERED:
        if not held.name.startswith(name) or value not in held.header:
            continue
        groups: dict[tuple[object, ...], list[Row]] = {}
        for r in held.rows:
            if isinstance(r.cells[along], float) and isinstance(r.cells[value], float):
                groups.setdefault(tuple(r.cells[c] for c in within), []).append(r)
        for rows in groups.values():
            rows.sort(key=lambda r: r.number(along) or 0.0)
            for a, b in pairwise(rows):
                before, after = a.number(value) or 0.0, b.number(value) or 0.0
                if (after - before) * sense < 0:
                    verb = "falls" if sense > 0 else "rises"
                    what = f"{value} {verb} from {before:g} to {after:g} as {along} grows ({b.label})"
                    yield Problem(held.entry.file, b.line, what)


def report(counts: dict[str, Counter[str]]) -> str:
    """How many rows rest on memory (M, M+) and on assumption (A, P), per file and in total."""
    total: Counter[str] = Counter()
    lines = []
    for file, count in sorted(counts.items()):
        total += count
        memory, assumed = count["M"] + count["M+"], count["A"] + count["P"]
        if memory or assumed:
            lines.append(f"{file:52} {sum(count.values()):5} rows  {memory:4} from memory  {assumed:4} assumed")
    memory, assumed = total["M"] + total["M+"], total["A"] + total["P"]
    head = f"{len(counts)} tables, {sum(total.values())} rows: {memory} rest on memory, {assumed} on assumption"
    return "\n".join(
        [*lines, head, "by status: " + "  ".join(f"{s} {total[s]}" for s in STATUSES_WORST_LAST if total[s])]
    )


def main(arguments: Sequence[str]) -> int:
    """Print the report and every problem; 0 if there is none."""
    root = Path(arguments[0]) if arguments else DATA
    problems, counts = lint(root)
    if counts:
        print(report(counts))
    for p in problems:
        print(p, file=sys.stderr)
    return 1 if problems else 0


if __name__ == "__main__":
    raise SystemExit(main(sys.argv[1:]))
