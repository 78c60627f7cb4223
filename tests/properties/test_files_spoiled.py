"""However a unit file is spoiled, it is read or it is told what is wrong with it; nothing else is ever raised."""

from __future__ import annotations

import copy
import tempfile
import tomllib
from datetime import date, datetime
from functools import lru_cache
from pathlib import Path
from typing import Any

import tomlkit
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from relet.errors import InputError, InputErrors
from relet.files import read_unit
from relet.files.lines import Lines

EXAMPLE = (Path(__file__).parents[1] / "unit" / "data_files" / "unit_3.toml").read_text(encoding="utf-8")
FEW = settings(max_examples=120, deadline=None, suppress_health_check=list(HealthCheck))
TEXT = st.text(st.characters(exclude_categories=["Cs"]), max_size=12)
WORDS = ("unknown", "open", "X1", "DB1/1", "0,35", "2.2 kW", "TN-S", "B", "R1", "end", "cylinder_press")
NAMES = ("read", "told", "low", "high", "one_of", "on", "with", "facts", "(facts)", "[key]", "kind", "at_m", "from")
LEAVES = (
    st.integers(-(2**40), 2**40) | st.floats() | st.booleans() | TEXT | st.dates(date(1, 1, 1))
    | st.datetimes(datetime(1, 1, 1)) | st.sampled_from(WORDS)
)  # fmt: skip
VALUES = st.recursive(
    LEAVES,
    lambda inner: st.lists(inner, max_size=3) | st.dictionaries(
        st.sampled_from(NAMES) | TEXT, inner, max_size=3,
    ),
    max_leaves=6,
)  # fmt: skip


def read_or_told(raw: bytes) -> None:
    with tempfile.TemporaryDirectory() as folder:
        path = Path(folder) / "unit.toml"
        path.write_bytes(raw)
        rows = raw.count(b"\n") + 1
        try:
            read_unit(path)
        except InputErrors as e:
            assert e.mistakes
            for m in e.mistakes:
                assert m.line is None or 1 <= m.line <= rows
                assert m.what and len(m.what) < 3000 and "\0" not in str(m)
        except InputError as e:
            assert str(e).startswith(str(path)) and len(str(e)) < 3000


@FEW
@given(st.integers(0, len(EXAMPLE)))
def test_cut_anywhere(at: int) -> None:
    read_or_told(EXAMPLE[:at].encode())


@FEW
@given(st.integers(0, len(EXAMPLE)), st.integers(0, 30), st.binary(max_size=20) | TEXT.map(str.encode))
def test_overwritten_anywhere(at: int, gone: int, put: bytes) -> None:
    raw = EXAMPLE.encode()
    read_or_told(raw[:at] + put + raw[at + gone :])


@FEW
@given(st.binary(max_size=200))
def test_any_bytes(raw: bytes) -> None:
    read_or_told(raw)


@lru_cache
def places() -> list[tuple[Any, ...]]:
    out: list[tuple[Any, ...]] = []

    def walk(at: Any, where: tuple[Any, ...]) -> None:
        for k, v in at.items() if isinstance(at, dict) else ():
            out.append((*where, k))
            walk(v, (*where, k))

    walk(tomllib.loads(EXAMPLE), ())
    return out


@settings(FEW, max_examples=300)
@given(st.data())
def test_any_value_anywhere(data: st.DataObject) -> None:
    doc: Any = copy.deepcopy(tomllib.loads(EXAMPLE))
    for _ in range(data.draw(st.integers(1, 3))):
        where = data.draw(st.sampled_from(places()))
        at = doc
        for part in where[:-1]:  # as far as earlier changes have left the way
            at = at.get(part) if isinstance(at, dict) else None
        if not isinstance(at, dict):
            continue
        if data.draw(st.booleans()):
            at[where[-1]] = data.draw(VALUES)
        elif data.draw(st.booleans()):
            key = data.draw(st.sampled_from(["facts", "(facts)", "[key]", "x.y", "", "end", "A1/face/1"]) | TEXT)
            at[key] = data.draw(st.just(at.get(where[-1])) | VALUES) or 0
        else:
            at.pop(where[-1], None)
    read_or_told(tomlkit.dumps(doc).encode())


@FEW
@given(st.dictionaries(TEXT, st.dictionaries(TEXT, VALUES, min_size=1, max_size=4), min_size=1, max_size=4))
def test_lines_are_found_whatever_the_names_and_values(tables: dict[str, dict[str, Any]]) -> None:
    rows: list[str] = []
    expected: dict[tuple[str, ...], int] = {}
    for table, pairs in tables.items():
        rows.append(f"[{tomlkit.item({table: 0}).as_string().split(' = ')[0]}]  # a {{ [ comment = 1")
        expected[(table,)] = len(rows)
        for key, value in pairs.items():
            holder = tomlkit.inline_table()
            holder[key] = value if value is not None else 0
            rows.append(holder.as_string()[1:-1] + "  # b ] = [")
            expected[(table, key)] = len(rows)
            rows += ["", "# x = 1"]
    text = "\n".join(rows)
    try:
        read = tomllib.loads(text)
    except ValueError:
        return  # the writer, not ours, made something that is no TOML
    assert {(t, k) for t in read for k in read[t]} == {p for p in expected if len(p) == 2}
    lines = Lines(text)
    for path, line in expected.items():
        assert lines.at(path) == line
        assert lines.at((*path, "inside", 0)) == line
