"""Check every code pack: `python -m relet.codes.lint [PACKS FOLDER]`, exit 1 with `file:line: what` for each problem.

    every row       as many cells as the header, a known source code, a known status
    every file      no doubled key, no web address
    rules           a known force, one row for each rule that any other pack holds
    limits          numbers
    editions.csv    a known mark, and nothing named that the pack does not hold

Sources stand in packs/sources.csv or in the register of the tables.
"""

from __future__ import annotations

import csv
import re
import sys
import tomllib
from collections.abc import Iterator, Sequence
from pathlib import Path
from typing import Final, get_args

from relet.codes.pack import MARKS, PACKS, Code, Force, code_ids, load_code
from relet.tables.core import DATA, STATUSES_WORST_LAST, read_csv
from relet.tables.lint import Problem

KEYS: Final[dict[str, tuple[str, ...]]] = {
    "rules.csv": ("rule",), "limits.csv": ("key", "case"), "defaults.csv": ("of", "field"),
    "cable_kinds.csv": ("cable",), "editions.csv": ("of",), "sources.csv": ("code",),
}  # fmt: skip
"""The files of a pack and of the folder of packs, with what names a row."""

_ADDRESS: Final = re.compile(r"https?://|www\.|ftp://", re.IGNORECASE)
_NUMBERS: Final[dict[str, tuple[str, ...]]] = {"limits.csv": ("value",), "defaults.csv": ("low", "high")}

Line = tuple[int, dict[str, str]]


def lint(root: Path = PACKS) -> list[Problem]:
    """Every problem in the packs under a folder."""
    register = _Rows(root, root / "sources.csv")
    problems = list(register.problems)
    known = {r["code"] for _, r in register.lines} | _codes_of_tables()
    held: dict[str, set[str]] = {}
    for id in code_ids(root):
        folder = root / id
        problems += _head(root, folder, known)
        for path in sorted(folder.glob("*.csv")):
            if path.name not in KEYS:
                problems.append(Problem(f"{id}/{path.name}", 1, "no such file belongs to a pack"))
                continue
            rows = _Rows(root, path)
            problems += [*rows.problems, *_rows(rows, known)]
        if not problems:
            code = load_code(id, root)
            held[id] = set(code.rules())
            problems += _editions(code)
    every = set().union(*held.values()) if held else set()
    for id, rules in held.items():
        problems += [Problem(f"{id}/rules.csv", 1, f"no row for the rule {rule}") for rule in sorted(every - rules)]
    return sorted(problems)


class _Rows:
    """The rows of one file with their line numbers, and what is wrong with them as rows."""

    def __init__(self, root: Path, path: Path) -> None:
        self.name, self.file = path.relative_to(root).as_posix(), path.name
        self.lines: list[Line] = []
        self.problems: list[Problem] = []
        text = path.read_text(encoding="utf-8").splitlines() if path.exists() else []
        if not text:
            self.problems.append(Problem(self.name, 1, "the file is missing or empty"))
            return
        self.problems += [
            Problem(self.name, n, "holds a web address") for n, t in enumerate(text, 1) if _ADDRESS.search(t)
        ]
        numbered = [(n, t) for n, t in enumerate(text, 1) if t.strip() and not t.startswith("#")]
        cells = [(n, next(csv.reader([t]))) for n, t in numbered]
        header = cells[0][1]
        first: dict[tuple[str, ...], int] = {}
        for n, row in cells[1:]:
            if len(row) != len(header):
                self.problems.append(Problem(self.name, n, f"{len(row)} cells, the header has {len(header)}"))
                continue
            one = dict(zip(header, row))
            key = tuple(one.get(k, "") for k in KEYS[self.file])
            if key in first:
                named = " ".join(filter(None, key))
                self.problems.append(Problem(self.name, n, f"the key {named} stands in line {first[key]} too"))
            first.setdefault(key, n)
            self.lines.append((n, one))


def _rows(rows: _Rows, known: set[str]) -> Iterator[Problem]:
    for n, r in rows.lines:
        if not r.get("source"):
            yield Problem(rows.name, n, "no source")
        unknown = [s for s in r.get("source", "").split(";") if s and s not in known]
        if unknown:
            yield Problem(rows.name, n, f"source {', '.join(unknown)} is in no register")
        if "status" in r and r["status"] not in STATUSES_WORST_LAST:
            yield Problem(rows.name, n, f"status {r['status']!r} is not one of {' '.join(STATUSES_WORST_LAST)}")
        if "force" in r and r["force"] not in get_args(Force):
            yield Problem(rows.name, n, f"force {r['force']!r} is not one of {' '.join(get_args(Force))}")
        if "mark" in r and r["mark"] not in MARKS:
            yield Problem(rows.name, n, f"mark {r['mark']!r} is not one of {', '.join(MARKS)}")
        for column in _NUMBERS.get(rows.file, ()):
            if (r[column] and not _is_number(r[column])) or (rows.file == "limits.csv" and not r[column]):
                yield Problem(rows.name, n, f"{column} {r[column]!r} is not a number")


def _head(root: Path, folder: Path, known: set[str]) -> Iterator[Problem]:
    name = (folder / "pack.toml").relative_to(root).as_posix()
    head = tomllib.loads((folder / "pack.toml").read_text(encoding="utf-8"))
    for key in ("id", "name", "short", "published", "status", "source"):
        if key not in head:
            yield Problem(name, 1, f"{key} is missing")
    unknown = [s for s in str(head.get("source", "")).split(";") if s not in known]
    if unknown:
        yield Problem(name, 1, f"source {', '.join(unknown)} is in no register")
    if head.get("status") not in STATUSES_WORST_LAST:
        yield Problem(name, 1, f"status {head.get('status')!r} is not one of {' '.join(STATUSES_WORST_LAST)}")


def _editions(code: Code) -> Iterator[Problem]:
    rules, limits = set(code.rules()), {k for k, _ in code.limits()}
    for of in code.marked():
        if of not in rules | limits | {"*", "cable_kinds"}:
            yield Problem(f"{code.id}/editions.csv", 1, f"{of} is no rule, limit or group of this pack")


def _codes_of_tables() -> set[str]:
    header, raw = read_csv(DATA / "sources.csv")
    return {cells[header.index("code")] for _, cells in raw}


def _is_number(text: str) -> bool:
    try:
        float(text)
    except ValueError:
        return False
    return True


def main(arguments: Sequence[str]) -> int:
    """Print every problem; 0 if there is none."""
    root = Path(arguments[0]) if arguments else PACKS
    problems = lint(root)
    for p in problems:
        print(p, file=sys.stderr)
    if not problems:
        print(f"{len(code_ids(root))} code packs: every row has a known source and status")
    return 1 if problems else 0


if __name__ == "__main__":
    raise SystemExit(main(sys.argv[1:]))
