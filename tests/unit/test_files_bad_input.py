"""A file that cannot be read as a whole gives one clear error, and never a traceback."""

from __future__ import annotations

import os
from pathlib import Path

import pytest

from relet.errors import InputError, InputErrors, ReletError
from relet.files import read_unit

EXAMPLE = (Path(__file__).parent / "data_files" / "unit_3.toml").read_bytes()


def said(path: Path) -> str:
    with pytest.raises(ReletError) as caught:
        read_unit(path)
    return str(caught.value)


def said_of(tmp_path: Path, raw: bytes) -> str:
    path = tmp_path / "unit.toml"
    path.write_bytes(raw)
    return said(path).replace(str(path), "unit.toml")


def test_a_missing_file_is_told_the_nearest(tmp_path: Path) -> None:
    (tmp_path / "unit_7.toml").write_bytes(EXAMPLE)
    told = said(tmp_path / "unit_77.toml")
    assert "there is no such file" in told and f'Nearest: "{tmp_path / "unit_7.toml"}"' in told


def test_a_missing_folder(tmp_path: Path) -> None:
    assert "There is no folder" in said(tmp_path / "no" / "unit.toml")


def test_a_folder_in_place_of_a_file(tmp_path: Path) -> None:
    assert said(tmp_path) == f"{tmp_path}: this is a folder. Expected: a unit file."


def test_a_pipe_in_place_of_a_file(tmp_path: Path) -> None:
    os.mkfifo(tmp_path / "pipe")
    assert "not a file that can be read twice" in said(tmp_path / "pipe")


@pytest.mark.parametrize("raw", [b"", b" \n\n\t", b"\xef\xbb\xbf"])
def test_an_empty_file(tmp_path: Path, raw: bytes) -> None:
    assert said_of(tmp_path, raw).startswith("unit.toml: the file is empty. Expected: a unit file. `relet new FILE`")


def test_not_utf_8_names_the_line(tmp_path: Path) -> None:
    told = said_of(tmp_path, EXAMPLE.replace(b'"Unit 3"', b'"Unit \xe9"'))
    assert told == "unit.toml:15: byte 0xe9 is not UTF-8 text. Allowed: UTF-8. Save the file again as UTF-8."


def test_utf_16_is_named(tmp_path: Path) -> None:
    assert "UTF-16" in said_of(tmp_path, EXAMPLE.decode().encode("utf-16"))


def test_a_byte_order_mark_and_dos_line_ends_are_no_mistake(tmp_path: Path) -> None:
    path = tmp_path / "unit.toml"
    path.write_bytes(b"\xef\xbb\xbf" + EXAMPLE.replace(b"\n", b"\r\n"))
    assert read_unit(path).unit.id == "limekiln-3"


def test_a_nul_byte_names_the_line(tmp_path: Path) -> None:
    told = said_of(tmp_path, EXAMPLE.replace(b'Unit 3"', b'Unit \x003"', 1))
    assert told.startswith("unit.toml:15: a NUL byte stands here")


def test_binary_data(tmp_path: Path) -> None:
    assert said_of(tmp_path, bytes(range(256)) * 40).count("\n") == 0


def test_too_large_a_file_names_the_limit(tmp_path: Path) -> None:
    told = said_of(tmp_path, b"#" * 8_000_001)
    assert told == "unit.toml: 8.0 MB is too large. Allowed: up to 8 MB."


def test_five_megabytes_of_nonsense_is_one_short_error(tmp_path: Path) -> None:
    told = said_of(tmp_path, b"a" * 5_000_000)
    assert len(told) < 300 and "unit.toml:1:" in told


def test_a_truncated_file_names_its_last_line(tmp_path: Path) -> None:
    cut = EXAMPLE[: EXAMPLE.index(b'"loop tester 1" }   measured') + 4000]
    told = said_of(tmp_path, cut)
    assert told.startswith("unit.toml:") and "Nothing after this line could be read" in told


def test_cut_in_the_middle_of_a_text(tmp_path: Path) -> None:
    told = said_of(tmp_path, b'format = "relet/unit/1"\n[unit]\nid = "x')
    assert "unit.toml:3: unit.id: " in told and "line" in told


@pytest.mark.parametrize("deep", ["[" * 3000, "{a=" * 3000, "x = " + "[" * 3000])
def test_deep_nesting(tmp_path: Path, deep: str) -> None:
    told = said_of(tmp_path, b'format = "relet/unit/1"\na = ' + deep.encode())
    assert "unit.toml:2:" in told


def test_deep_nesting_that_is_sound(tmp_path: Path) -> None:
    told = said_of(tmp_path, b'format = "relet/unit/1"\nunit = ' + b"[" * 2000 + b"]" * 2000)
    assert "nested too deeply" in told and "unit.toml:2:" in told


def test_a_number_of_thousands_of_digits(tmp_path: Path) -> None:
    told = said_of(tmp_path, EXAMPLE.replace(b"ways     = 8", b"ways     = " + b"9" * 10_000))
    assert len(told) < 600 and "unit.toml" in told


@pytest.mark.parametrize("number", ["inf", "-inf", "nan", "+nan"])
@pytest.mark.parametrize("field", ["ze_ohm          = ", "ceiling_m = ", "height_m = "])
def test_infinity_and_no_number(tmp_path: Path, field: str, number: str) -> None:
    lines = EXAMPLE.decode().split("\n")
    at = next(i for i, line in enumerate(lines) if line.startswith(field))
    lines[at] = field + number
    told = said_of(tmp_path, "\n".join(lines).encode())
    assert told.startswith(f"unit.toml:{at + 1}: ") and "1 mistake, nothing was changed" in told


def test_infinite_coordinates(tmp_path: Path) -> None:
    told = said_of(tmp_path, EXAMPLE.replace(b"at_m = [11.3, 0.7]", b"at_m = [inf, 0.7]"))
    assert "compressor.at_m: [inf, 0.7] is not a point" in told


def test_a_name_that_stands_twice_names_both_lines(tmp_path: Path) -> None:
    told = said_of(tmp_path, EXAMPLE.replace(b"folder         =", b"guillotine     ="))
    assert "unit.toml:81: tenancies.quoin.machines.guillotine: a name stands twice. It stands first in line 80." in told


def test_a_plan_in_place_of_a_unit(tmp_path: Path) -> None:
    told = said_of(tmp_path, b'# x\nformat = "relet/plan/1"\nunit = "a"\n')
    assert told.startswith('unit.toml:2: format: "relet/plan/1" is not the format of a unit file')
    assert told.endswith('Allowed: "relet/unit/1".')


def test_another_toml_file(tmp_path: Path) -> None:
    assert 'the line format = "relet/unit/1" is missing' in said_of(tmp_path, b"[project]\nname = 'x'\n")


def test_only_the_format_line(tmp_path: Path) -> None:
    told = said_of(tmp_path, b'format = "relet/unit/1"\n')
    assert "unit: [unit] is missing" in told and "supply: [supply] is missing" in told


def test_many_mistakes_are_counted_and_the_first_hundred_told(tmp_path: Path) -> None:
    text = EXAMPLE.decode() + "".join(f"\n[tenancies.t{i}]\nname = {i}" for i in range(400))
    told = said_of(tmp_path, text.encode())
    assert told.count("\n") == 100
    assert told.endswith("400 mistakes, the first 100 are listed, nothing was changed")


@pytest.mark.parametrize("table", ["unit", "supply", "standing", "tenancies", "wishes", "stock", "policy", "zones"])
@pytest.mark.parametrize("value", ["5", '"x"', "true", "[1, 2]", "2026-01-01"])
def test_a_value_where_a_table_belongs(tmp_path: Path, table: str, value: str) -> None:
    head, *_ = EXAMPLE.decode().split("[unit]")
    told = said_of(tmp_path, f"{head}\n{table} = {value}\n".encode())
    assert "where a table is expected" in told or "is missing" in told
    assert f"{table}:" in told


def test_errors_are_of_the_one_tree() -> None:
    assert issubclass(InputError, ReletError) and issubclass(InputErrors, ReletError)


def test_an_endless_line_names_the_limit(tmp_path: Path) -> None:
    told = said_of(tmp_path, EXAMPLE + b"\nkey" + b".a" * 1_000_000)
    assert told == "unit.toml:98: this line is 2000003 characters long. Allowed: up to 20000."
