"""One small loader for published figures: a table is a CSV file, a row knows its line, a figure its source.

    table("ccc_4D1A").row(method="B", loading="3ph", csa_mm2=6).figure("it_A", "A")

`data/index.csv` declares every table: name, file, key columns, and the unit of each value column. Adding a figure is
one row in its file; adding a table is one line in the index. Importing this module reads no file; a table is parsed
when it is first asked for and kept.

Status of a figure:
    V2  two or more published copies agree       V1  one published copy
    M+  from memory, spot-checked in print       M   from memory only
    C   computed here from other rows            P   common practice, no source
    A   stated assumption                        user  from the person's own copy
"""

from __future__ import annotations

import csv
from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass
from functools import lru_cache
from pathlib import Path
from typing import Final

from relet.errors import OutsideTable
from relet.working import Figure, lookup

Cell = str | float | None

DATA: Final = Path(__file__).parent / "data"

STATUSES_WORST_LAST: Final = ("user", "V2", "V1", "C", "P", "A", "M+", "M")
"""The order in which a status weakens: the same as the grounds that `relet.working` gives them."""


def worst_status(statuses: Iterable[str]) -> str:
    """The weakest of several statuses. Raises ValueError for one that is not known."""
    return STATUSES_WORST_LAST[max(STATUSES_WORST_LAST.index(s) for s in statuses)]


@dataclass(frozen=True, slots=True)
class Column:
    """A value column: its unit ("@unit": stands in the row's column unit), and the columns of its status and source."""

    name: str
    unit: str
    status: str = "status"
    source: str = "source"


@dataclass(frozen=True, slots=True)
class Entry:
    """One line of the index."""

    name: str
    file: str
    keys: tuple[str, ...]
    columns: Mapping[str, Column]
    line: int


class Row:
    """One row of a table. Cells are text, numbers (in numeric columns) or None (empty)."""

    __slots__ = ("cells", "line", "table")

    def __init__(self, table: Table, line: int, cells: Mapping[str, Cell]) -> None:
        self.table, self.line, self.cells = table, line, cells

    @property
    def label(self) -> str:
        """The key of the row in words: "method B, loading 3ph, csa_mm2 6"."""
        return ", ".join(f"{k} {_shown(self.cells[k])}" for k in self.table.entry.keys if self.cells[k] is not None)

    @property
    def status(self) -> str:
        """The weakest status in the row."""
        return self.text("status")

    def text(self, column: str) -> str:
        """A cell as text; an empty cell is an empty text."""
        cell = self.cells[column]
        return "" if cell is None else _shown(cell)

    def number(self, column: str) -> float | None:
        """A cell as a number, or None when it is empty. Raises TypeError for a cell of words."""
        cell = self.cells[column]
        if isinstance(cell, str):
            if not _is_number(cell):
                raise TypeError(f"table {self.table.name}, line {self.line}: {column} holds words ({cell!r})")
            return float(cell)
        return cell

    def figure(self, column: str, unit: str, given: Sequence[float] = (), *, name: str = "") -> Figure:
        """The cell as a figure with its source, status and edition.

        unit    must be the unit that the index declares for the column (TypeError otherwise)
        given   the arguments that selected the row; those that are figures become part of the working
        raises  OutsideTable: the cell is empty, the publication gives no figure there
        """
        about = self.table.entry.columns[column]
        held = self.text(about.unit[1:]) if about.unit.startswith("@") else about.unit
        if held != unit:
            raise TypeError(f"table {self.table.name}: {column} is in {held or 'no unit'}, not {unit or 'no unit'}")
        value = self.number(column)
        if value is None:
            raise OutsideTable(self.table.name, f"{column} for {self.label}", "no figure in that cell")
        figures = tuple(g for g in given if isinstance(g, Figure))
        source, status = self.text(about.source), self.text(about.status)
        edition = "" if (held := self.text("edition")) == "none" else held
        return lookup(self.table.name, self.label, value, unit, source, status, edition, figures, name=name or column)

    def maybe(self, column: str, unit: str, given: Sequence[float] = (), *, name: str = "") -> Figure | None:
        """As figure(), but None where the cell is empty."""
        return None if self.cells[column] is None else self.figure(column, unit, given, name=name)

    def __repr__(self) -> str:
        return f"Row({self.table.name}:{self.line} {self.label})"


class Table:
    """A parsed table: `rows` in the order of the file, found by any of their columns."""

    __slots__ = ("_found", "entry", "header", "numeric", "rows")

    def __init__(self, entry: Entry, root: Path) -> None:
        self.entry = entry
        self.header, raw = read_csv(root / entry.file)
        self.numeric = frozenset(c for i, c in enumerate(self.header) if all(_is_number(cells[i]) for _, cells in raw))
        self.rows = tuple(
            Row(self, line, {c: _cell(text, c in self.numeric) for c, text in zip(self.header, cells)})
            for line, cells in raw
        )
        self._found: dict[tuple[str, ...], dict[tuple[Cell, ...], tuple[Row, ...]]] = {}

    @property
    def name(self) -> str:
        """Name of the table in the index."""
        return self.entry.name

    def where(self, **key: Cell) -> tuple[Row, ...]:
        """Every row whose columns hold exactly these values, in the order of the file; empty if none."""
        columns = tuple(key)
        found = self._found.get(columns)
        if found is None:
            grouped: dict[tuple[Cell, ...], list[Row]] = {}
            for r in self.rows:
                grouped.setdefault(tuple(r.cells[c] for c in columns), []).append(r)
            found = self._found[columns] = {k: tuple(rows) for k, rows in grouped.items()}
        return found.get(tuple(key.values()), ())

    def some(self, **key: Cell) -> tuple[Row, ...]:
        """As where(), but OutsideTable naming table, value and what is held when there is no such row."""
        rows = self.where(**key)
        if not rows:
            raise OutsideTable(self.name, _named(key), self._held(key))
        return rows

    def row(self, **key: Cell) -> Row:
        """The one row with this key. Raises OutsideTable if there is none, ValueError if the key names several."""
        rows = self.some(**key)
        if len(rows) > 1:
            raise ValueError(f"table {self.name}: {_named(key)} names {len(rows)} rows")
        return rows[0]

    def at_least(self, column: str, value: float, **key: Cell) -> Row:
        """The row with the smallest `column` not below `value`: the next larger count, the next hotter row.

        Nothing is interpolated. Raises OutsideTable above the last row.
        """
        rows = sorted(self.some(**key), key=lambda r: r.number(column) or 0.0)
        for r in rows:
            if (r.number(column) or 0.0) >= value:
                return r
        raise OutsideTable(self.name, f"{column} {_shown(value)}" + _and(key), _range(column, rows))

    def band(self, over: str, up_to: str, value: float, **key: Cell) -> Row:
        """The row whose band holds `value`: above `over` (exclusive), up to `up_to` (inclusive), empty ends open.

        Raises OutsideTable when no band holds it.
        """
        rows = self.some(**key)
        for r in rows:
            low, high = r.number(over), r.number(up_to)
            if (low is None or value > low) and (high is None or value <= high):
                return r
        bands = [f"{r.text(over) or 'any'} to {r.text(up_to) or 'any'}" for r in rows]
        raise OutsideTable(self.name, f"{_shown(value)}" + _and(key), f"bands ({over}, {up_to}): {'; '.join(bands)}")

    def _held(self, key: Mapping[str, Cell]) -> str:
        """What the table holds at the first part of the key that finds nothing."""
        rows: Sequence[Row] = self.rows
        for c, v in key.items():
            matching = [r for r in rows if r.cells[c] == v]
            if not matching:
                return _range(c, rows)
            rows = matching
        return f"{len(self.rows)} rows"


def read_csv(path: Path) -> tuple[tuple[str, ...], list[tuple[int, list[str]]]]:
    """Header and (line number, cells) of a CSV file whose comment lines begin with #.

    Rows hold no line breaks, so a line is a row. Raises ValueError for a row of another length than the header.
    """
    with path.open(encoding="utf-8", newline="") as f:
        numbered = [(n, line) for n, line in enumerate(f, 1) if line.strip() and not line.startswith("#")]
    if not numbered:
        return (), []
    parsed = list(csv.reader(line for _, line in numbered))
    header = tuple(parsed[0])
    for (n, _), cells in zip(numbered[1:], parsed[1:]):
        if len(cells) != len(header):
            raise ValueError(f"{path.name}:{n}: {len(cells)} cells under a header of {len(header)}")
    return header, [(n, cells) for (n, _), cells in zip(numbered[1:], parsed[1:])]


@lru_cache(maxsize=8)
def index(root: Path = DATA) -> Mapping[str, Entry]:
    """Every declared table by name; read once."""
    return read_index(root)


def read_index(root: Path) -> dict[str, Entry]:
    """Every table that `index.csv` of a data folder declares, read anew."""
    header, raw = read_csv(root / "index.csv")
    entries: dict[str, Entry] = {}
    for line, cells in raw:
        at = dict(zip(header, cells))
        columns = {c.name: c for c in map(_column, filter(None, at["figures"].split("|")))}
        keys = tuple(filter(None, at["keys"].split("|")))
        entries[at["name"]] = Entry(at["name"], at["file"], keys, columns, line)
    return entries


def table(name: str, root: Path = DATA) -> Table:
    """A table by its name in the index; parsed once. Raises OutsideTable for a name that is not declared."""
    return _table(name, root)


@lru_cache(maxsize=512)
def _table(name: str, root: Path) -> Table:
    entries = index(root)
    if name not in entries:
        raise OutsideTable("index", f"name {name}", "tables " + ", ".join(sorted(entries)))
    return Table(entries[name], root)


def _column(text: str) -> Column:
    name, unit, *more = text.split(":")
    return Column(name, unit, *more)


def _is_number(text: str) -> bool:
    if not text:
        return True
    try:
        float(text)
    except ValueError:
        return False
    return True


def _cell(text: str, numeric: bool) -> Cell:
    if not text:
        return None
    return float(text) if numeric else text


def _shown(cell: Cell) -> str:
    return f"{cell:g}" if isinstance(cell, float | int) else str(cell or "")


def _named(key: Mapping[str, Cell]) -> str:
    return ", ".join(f"{k} {_shown(v)}" for k, v in key.items())


def _and(key: Mapping[str, Cell]) -> str:
    return f" ({_named(key)})" if key else ""


def _range(column: str, rows: Iterable[Row]) -> str:
    cells = {r.cells[column] for r in rows} - {None}
    numbers = sorted(c for c in cells if isinstance(c, float))
    if len(numbers) == len(cells) and len(numbers) > 20:
        return f"{column} {numbers[0]:g} to {numbers[-1]:g} in {len(numbers)} steps"
    words = [_shown(c) for c in numbers] if numbers else sorted(str(c) for c in cells)
    return f"{column} " + "; ".join(words)
