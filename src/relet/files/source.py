"""From a path to a read TOML document: every way in which a file cannot be read is one clear error."""

from __future__ import annotations

import gc
import os
import re
import tomllib
from collections.abc import Iterator
from contextlib import contextmanager
from dataclasses import dataclass
from functools import cached_property
from pathlib import Path
from typing import Any, Final

from relet.errors import InputError
from relet.files.lines import Lines
from relet.files.words import clean, nearest, shown
from relet.working import unit_of

MOST_BYTES: Final = 8_000_000
LONGEST_LINE: Final = 20_000
TAIL_UNREAD: Final = "                Nothing after this line could be read, so later mistakes are not listed yet."
_AT: Final = re.compile(r" \(at (?:line (\d+), column (\d+)|end of document)\)$")
_COMMA: Final = re.compile(r"=\s*([-+]?\d+,\d+)(?=\s*(?:[A-Za-z%]|[,}\]#]|$))")
_KEY_BEFORE: Final = re.compile(r"""([A-Za-z0-9_-]+|"[^"]*"|'[^']*')\s*$""")


@dataclass(frozen=True)
class Source:
    """One TOML document.

    name   as it was asked for: the head of every message
    data   the document, or what could be read of it before `broken`
    broken the first line that could not be read, with what is wrong there; None for a sound document
    """

    name: str
    path: Path
    text: str
    data: dict[str, Any]
    broken: InputError | None = None

    @cached_property
    def lines(self) -> Lines:
        """Line by path."""
        return Lines(self.text)


@contextmanager
def uncollected() -> Iterator[None]:
    """No search for circular garbage meanwhile: reading makes much that stays, and the search doubles its time."""
    was = gc.isenabled()
    gc.disable()
    try:
        yield
    finally:
        if was:
            gc.enable()


def load(path: str | Path, what: str = "a unit file", starter: str = "") -> Source:
    """Read a TOML file.

    what     "a unit file": what was expected, for messages
    raises   InputError: no such file, a folder, not readable, too large, empty, not UTF-8, not text
    """
    name, at = str(path), Path(path)
    text = _text(name, _bytes(name, at, what))
    if not text.strip():
        raise InputError(f"the file is empty. Expected: {what}.{starter}", file=name)
    return sourced(name, at, text)


def sourced(name: str, path: Path, text: str) -> Source:
    """A document from its text; nothing is read from the disk."""
    data, broken = _parsed(name, text)
    return Source(name, path, text, data, broken)


def _bytes(name: str, at: Path, what: str) -> bytes:
    try:
        if at.is_dir():
            raise InputError(f"this is a folder. Expected: {what}.", file=name)
        if not at.exists():
            raise InputError(f"there is no such file. Expected: {what}.{_near_file(at)}", file=name)
        if not at.is_file():
            raise InputError(f"this is not a file that can be read twice. Expected: {what}.", file=name)
        size = at.stat().st_size
        if size > MOST_BYTES:
            raise InputError(f"{size / 1e6:.1f} MB is too large. Allowed: up to {MOST_BYTES / 1e6:.0f} MB.", file=name)
        return at.read_bytes()
    except (OSError, ValueError) as e:  # ValueError: a NUL in the path itself
        raise InputError(f"cannot be read: {_reason(e)}.", file=name.replace("\0", "?")) from None


def _reason(error: Exception) -> str:
    return os.strerror(error.errno) if isinstance(error, OSError) and error.errno else str(error)


def _near_file(at: Path) -> str:
    folder = at.parent
    if not folder.is_dir():
        return f" There is no folder {folder} either."
    near = nearest(at.name, [p.name for p in folder.iterdir() if p.suffix == ".toml"])
    return f' Nearest: "{folder / near}".' if near else ""


def _text(name: str, raw: bytes) -> str:
    if raw[:2] in (b"\xff\xfe", b"\xfe\xff"):
        raise InputError("this text is in UTF-16. Allowed: UTF-8. Save it again as UTF-8.", file=name, line=1)
    try:
        text = raw.decode("utf-8-sig")
    except UnicodeDecodeError as e:
        line = raw.count(b"\n", 0, e.start) + 1
        what = f"byte 0x{raw[e.start]:02x} is not UTF-8 text. Allowed: UTF-8. Save the file again as UTF-8."
        raise InputError(what, file=name, line=line) from None
    if (nul := text.find("\0")) >= 0:
        raise InputError(
            "a NUL byte stands here, so this is no text file or a damaged one. Allowed: plain text.",
            file=name, line=text.count("\n", 0, nul) + 1,
        )  # fmt: skip
    return _lines_in_measure(name, text.replace("\r\n", "\n"))


def _lines_in_measure(name: str, text: str) -> str:
    """The text, if a person could have written its lines; endless ones take readers endless time."""
    if len(text) <= LONGEST_LINE:
        return text
    for number, line in enumerate(text.split("\n"), 1):
        if len(line) > LONGEST_LINE:
            what = f"this line is {len(line)} characters long. Allowed: up to {LONGEST_LINE}."
            raise InputError(what, file=name, line=number)
    return text


def _parsed(name: str, text: str) -> tuple[dict[str, Any], InputError | None]:
    try:
        return tomllib.loads(text), None
    except RecursionError:
        what = "values are nested too deeply to be read. Allowed: a value of at most a few brackets."
        return {}, InputError(what, file=name, line=_deepest(text))
    except (tomllib.TOMLDecodeError, ValueError) as e:  # ValueError: a number of thousands of digits
        error = _syntax(name, text, str(e))
    head = "\n".join(text.split("\n")[: (error.line or 1) - 1])
    try:
        return tomllib.loads(head), error
    except (ValueError, RecursionError):
        return {}, error


def _deepest(text: str) -> int:
    counts = [line.count("[") + line.count("{") for line in text.split("\n")]
    return counts.index(max(counts)) + 1


def _syntax(name: str, text: str, said: str) -> InputError:
    """What is wrong on the first line that could not be read, in words of this trade."""
    rows = text.rstrip().split("\n")
    at = _AT.search(said)
    number = min(int(at[1]), len(rows)) if at and at[1] else len(rows)
    row = rows[number - 1]
    lines = Lines("\n".join(rows[:number]))
    path = lines.path_near(number)
    comma = _COMMA.search(row)
    if comma is not None:
        return _decimal_comma(name, number, path, row, comma)
    place, reason = ".".join(path), _AT.sub("", said)
    if "overwrite" in reason or "twice" in reason or "uplicate" in reason:
        first = lines.at(path)
        before = f" It stands first in line {first}." if first is not None and first != number else ""
        what = f"a name stands twice.{before} Allowed: each name once."
    elif at is None:
        what = "a number of thousands of digits cannot be read. Allowed: a number."
    elif not at[1]:
        what = f"the file ends in the middle of a value: {reason}. Is it whole?"
    else:
        what = f"this line cannot be read: {reason} (column {at[2]}). Met: {shown(row.strip())[1:-1]}"
    return InputError(clean(what), file=name, line=number, place=clean(place, 300))


def _decimal_comma(name: str, number: int, path: tuple[str, ...], row: str, comma: re.Match[str]) -> InputError:
    typed = comma[1]
    key = _KEY_BEFORE.search(row[: comma.start()])
    last = key[1].strip("\"'") if key else ""
    place = ".".join(path if not last or path[-1:] == (last,) else (*path, last))
    unit = unit_of(last)
    what = (
        f'"{typed}" is not a number here. In this file write {typed.replace(",", ".")} with a point, '
        f'or "{typed}{" " + unit if unit else ""}" in quotes.'
    )
    return InputError(clean(what), file=name, line=number, place=clean(place, 300))
