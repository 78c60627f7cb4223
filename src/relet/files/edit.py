"""Setting one value of a unit file: its comments, its order and everything else stay as they are."""

from __future__ import annotations

from collections.abc import MutableMapping
from pathlib import Path
from typing import Any

import tomlkit
from tomlkit.exceptions import TOMLKitError

from relet.errors import InputError
from relet.files.atomic import write_text
from relet.files.source import load, sourced
from relet.files.unit import read_source
from relet.files.values import UnitFile


def set_value(path: str | Path, place: str, text: str) -> UnitFile:
    """Set one value of a unit file and return the file as it now reads.

    place   a path as facts have it: "supply.ze_ohm", "standing.devices.DB1/2.L1.curve"
    text    what somebody typed: "0,35", "350 mohm", "unknown", "B", true, { one_of = ["B", "C"] }
    raises  InputError, InputErrors: no such place, or a value that cannot stand there; the file is left as it was
    """
    source = load(path, "a unit file")
    read_source(source)  # a file with mistakes is mended by hand first
    doc = tomlkit.parse(source.text)
    _put(doc, place, _typed(text), source.name)
    changed = tomlkit.dumps(doc)
    now = read_source(sourced(source.name, source.path, changed))
    write_text(path, changed)
    return now


def _typed(text: str) -> Any:
    """A TOML value where the text is one, else the text itself: the reader knows what a field takes."""
    typed = text.strip()
    try:
        value = tomlkit.value(typed)
    except (TOMLKitError, ValueError):
        return typed
    return value


def _put(doc: MutableMapping[str, Any], place: str, value: Any, file: str) -> None:
    at: MutableMapping[str, Any] = doc
    rest = place
    while True:
        key = next((k for k in sorted(at, key=len, reverse=True) if rest == k or rest.startswith(k + ".")), None)
        if key is None or key == rest:
            break
        inner = at[key]
        if not isinstance(inner, MutableMapping):
            raise InputError(f"{key} holds a value, not a table.", file=file, place=place)
        at, rest = inner, rest[len(key) + 1 :]
    board, incomer, field = rest.partition("/incomer.")
    if key is None and incomer and place.startswith("standing.devices."):  # written with its board
        _put(doc, f"standing.boards.{board}.incomer.{field}", value, file)
        return
    *tables, last = [rest] if key == rest else rest.split(".")
    for name in tables:
        at[name] = tomlkit.table() if at is doc else tomlkit.inline_table()
        at = at[name]
    at[last] = value
