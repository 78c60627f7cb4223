"""Read a catalogue, `relet/catalogue/1`: parts by number, one line each, with what their maker declares."""

from __future__ import annotations

import csv
import math
from dataclasses import dataclass
from functools import lru_cache
from pathlib import Path
from typing import Any, Final, get_args

from relet.errors import InputError, InputErrors
from relet.files.source import Source, load
from relet.files.words import listed, near_hint, number_text, shown
from relet.model import Catalogue, Map, Part, PartKind
from relet.model.facts import Scalar

FORMAT: Final = "relet/catalogue/1"
SHIPPED: Final = Path(__file__).parent / "shipped"
KINDS: Final[tuple[str, ...]] = get_args(PartKind)


@dataclass(frozen=True, slots=True)
class PartField:
    """One declared quantity: its form, the window in which it is believed, and what it is."""

    field: str
    form: str
    low: float
    high: float
    words: tuple[str, ...]
    is_: str


@lru_cache(maxsize=1)
def part_fields() -> dict[str, PartField]:
    """Every declared quantity that a part may have, by name."""
    with (SHIPPED / "part_fields.csv").open(encoding="utf-8", newline="") as f:
        rows = list(csv.DictReader(line for line in f if not line.startswith("#")))
    return {
        r["field"]: PartField(
            r["field"], r["form"], float(r["low"] or "-inf"), float(r["high"] or "inf"),
            tuple(r["words"].split("|")) if r["words"] else (), r["is"],
        )
        for r in rows
    }  # fmt: skip


def read_catalogue(path: str | Path | None = None) -> Catalogue:
    """Read a catalogue file; None: the shipped, invented one.

    raises  InputError, InputErrors: every mistake that the file can still show, with line, place, value and allowed
    """
    return _shipped() if path is None else _read(path)


@lru_cache(maxsize=1)
def _shipped() -> Catalogue:
    return _read(SHIPPED / "catalogue.toml")


def _read(path: str | Path) -> Catalogue:
    source = load(path, "a catalogue file")
    mistakes = Mistakes(source)
    mistakes.format(FORMAT)
    mistakes.unknown((), source.data, ("format", "edition", "note", "parts"))
    edition = mistakes.text(("edition",), source.data.get("edition"))
    note = mistakes.text(("note",), source.data.get("note", ""))
    parts: dict[str, Part] = {}
    for id_, row in mistakes.table(("parts",), source.data.get("parts", {})).items():
        part = _part(id_, row, mistakes)
        if part is not None:
            parts[id_] = part
    mistakes.tell()
    return Catalogue(edition=edition, parts=Map(parts), note=note)


def _part(id_: str, row: Any, mistakes: Mistakes) -> Part | None:
    at = ("parts", id_)
    if not isinstance(row, dict):
        mistakes.add(at, f'{shown(row)} is not a part. Allowed: {{ kind = "mcb", name = "...", in_a = 16, ... }}.')
        return None
    kind = row.get("kind")
    if kind not in KINDS:
        met = "kind is missing." if kind is None else f"{shown(kind)} is not a kind of part."
        mistakes.add((*at, "kind"), f"{met} Allowed: {listed(KINDS)}.{near_hint(str(kind), KINDS)}")
        return None
    fields = part_fields()
    data: dict[str, Scalar] = {}
    for name, value in row.items():
        if name in ("kind", "name", "note"):
            mistakes.text((*at, name), value)
        elif name not in fields:
            mistakes.add((*at, name), f"no quantity of that name is declared for parts.{near_hint(name, [*fields])}")
        elif (said := _wrong(fields[name], value)) is not None:
            mistakes.add((*at, name), said)
        else:
            data[name] = value
    return Part(id=id_, kind=kind, name=str(row.get("name", id_)), data=Map(data), note=str(row.get("note", "")))


def _wrong(field: PartField, value: Any) -> str | None:
    """What is wrong with a declared value, or None."""
    number = isinstance(value, int | float) and not isinstance(value, bool) and math.isfinite(value)
    window = f"{number_text(field.low)} to {number_text(field.high)}"
    match field.form:
        case "flag" if not isinstance(value, bool):
            return f"{shown(value)} is not a yes or no ({field.is_}). Allowed: true, false."
        case "text" if not isinstance(value, str) or not value:
            return f"{shown(value)} is not a text ({field.is_}). Allowed: words in quotes."
        case "word" if value not in field.words:
            return f"{shown(value)} is not allowed ({field.is_}). Allowed: {listed(field.words)}." + near_hint(
                str(value), field.words
            )
        case "poles" if value not in field.words and not (type(value) is int and field.low <= value <= field.high):
            return f"{shown(value)} is no number of poles. Allowed: 1, 2, 3, 4 for a device, {listed(field.words)}."
        case "whole" if type(value) is not int or not field.low <= value <= field.high:
            return f"{shown(value)} is not allowed ({field.is_}). Allowed: a whole number from {window}."
        case "number" if not number or not field.low <= value <= field.high:
            return f"{shown(value)} is not allowed ({field.is_}). Allowed: a number from {window}."
    return None


class Mistakes:
    """Mistakes of one file, collected with their lines and told together."""

    def __init__(self, source: Source) -> None:
        self.source = source
        self.found: list[InputError] = []

    def add(self, at: tuple[str, ...], what: str) -> None:
        """Note one mistake."""
        line = self.source.lines.at(at) if at else None
        self.found.append(InputError(what, file=self.source.name, line=line, place=".".join(at)))

    def format(self, wanted: str) -> None:
        """The file says what it is."""
        met = self.source.data.get("format")
        if met != wanted and not (self.source.broken is not None and met is None):
            said = "format is missing." if met is None else f"{shown(met)} cannot be read here."
            self.add(("format",), f'{said} Allowed: "{wanted}".')

    def unknown(self, at: tuple[str, ...], row: dict[str, Any], known: tuple[str, ...]) -> None:
        """Names that mean nothing here."""
        for name in row:
            if name not in known:
                self.add((*at, name), f"unknown name. Allowed: {', '.join(known)}.{near_hint(name, known)}")

    def text(self, at: tuple[str, ...], value: Any) -> str:
        """A text, or a mistake and an empty one."""
        if isinstance(value, str):
            return value
        if value is not None or self.source.broken is None:
            met = "it is missing." if value is None else f"{shown(value)} is not a text."
            self.add(at, f"{met} Allowed: words in quotes.")
        return ""

    def table(self, at: tuple[str, ...], value: Any) -> dict[str, Any]:
        """A table, or a mistake and an empty one."""
        if isinstance(value, dict):
            return value
        self.add(at, f"{shown(value)} is not a table. Allowed: [{'.'.join(at)}] with one line per name.")
        return {}

    def number(self, at: tuple[str, ...], value: Any, low: float, high: float, what: str) -> float:
        """A finite number in a window, or a mistake and 0."""
        if isinstance(value, int | float) and not isinstance(value, bool) and low <= value <= high:
            return float(value)
        window = f"{number_text(low)} to {number_text(high)}"
        self.add(at, f"{shown(value)} is not allowed. Allowed: {what}, a number from {window}.")
        return 0.0

    def tell(self) -> None:
        """Raise what was found, in the order of the lines; what could not be read comes last."""
        found = sorted(self.found, key=lambda m: (m.line or 0, m.place))
        if self.source.broken is not None:
            found.append(self.source.broken)
        if len(found) == 1:
            raise found[0]
        if found:
            raise InputErrors(found)
