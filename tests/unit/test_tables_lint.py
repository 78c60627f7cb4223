"""The table linter finds what spoils a table, names file and line, and passes the shipped data."""

from __future__ import annotations

import shutil
from collections.abc import Callable
from pathlib import Path

import pytest

from relet.tables.core import DATA
from relet.tables.lint import lint, main


@pytest.fixture
def data(tmp_path: Path) -> Path:
    shutil.copytree(DATA, tmp_path / "data")
    return tmp_path / "data"


def test_the_shipped_tables_are_clean(capsys: pytest.CaptureFixture[str]) -> None:
    assert main([]) == 0
    out = capsys.readouterr()
    assert out.err == ""
    assert "rest on memory" in out.out.splitlines()[-2]
    assert "cables/ccc_4D4A.csv" in out.out


def edit(path: Path, change: Callable[[list[str]], list[str]]) -> None:
    path.write_text("\n".join(change(path.read_text(encoding="utf-8").split("\n"))), encoding="utf-8")


def replace(old: str, new: str) -> Callable[[list[str]], list[str]]:
    def change(lines: list[str]) -> list[str]:
        assert sum(old in line for line in lines) >= 1, old
        at = next(i for i, line in enumerate(lines) if old in line)
        return [*lines[:at], lines[at].replace(old, new, 1), *lines[at + 1 :]]

    return change


def double(start: str) -> Callable[[list[str]], list[str]]:
    def change(lines: list[str]) -> list[str]:
        at = next(i for i, line in enumerate(lines) if line.startswith(start))
        return [*lines[: at + 1], lines[at], *lines[at + 1 :]]

    return change


@pytest.mark.parametrize(
    ("file", "change", "says"),
    [
        ("cables/dimensions_singles.csv", replace("S22b,V1", ",V1"), "no source"),
        ("cables/dimensions_singles.csv", replace("S22b,V1", "S999,V1"), "source S999 is not in sources.csv"),
        ("cables/dimensions_singles.csv", replace("S22b,V1", "S22b,"), "no status"),
        ("cables/dimensions_singles.csv", replace("S22b,V1", "S22b,V3"), "status V3 is not one of"),
        ("cables/dimensions_singles.csv", replace("V1,BS 6004", "V1,"), "no edition"),
        ("cables/dimensions_singles.csv", double("2.5,"), "the key csa_mm2 2.5 stands in line"),
        ("cables/ccc_4D1A.csv", double("6,B,3ph"), "the key csa_mm2 6, method B, loading 3ph"),
        ("cables/ccc_4D1A.csv", replace("wall,36,", "wall,26,"), "it_A falls from 28 to 26 as csa_mm2 grows"),
        ("cables/vd_4D1B.csv", replace("18,0,18", "18,0,50"), "z_mV_per_A_m rises from 29 to 50 as csa_mm2 grows"),
        ("cables/grouping_factor.csv", replace("bunched,3,0.7", "bunched,3,0.9"), "factor rises from 0.8 to 0.9"),
        ("cables/dimensions_singles.csv", replace("1.5,1.38", "1.5,about 1.4"), "holds words: 'about 1.4'"),
        ("cables/dimensions_singles.csv", replace("1.5,1.38,", "1.5,"), "cells under a header of"),
        ("protection/gg_gates.csv", replace("2,3.7,9.2", "2,3.7,99"), "imax_5s_A falls from 99"),
        ("protection/gg_gates.csv", replace("# ", "# see https" + "://example.invalid "), "holds a web address"),
        ("cables/temperature_coefficients.csv", replace("C;M,M+", "C;M,C"), "status C rests on memory"),
        ("protection/mcb_energy_class.csv", replace("ZA,M,M,M,M", "ZA,C,M,M,M"), "status_smin C rests on memory"),
        ("index.csv", replace("cables/ccc_4D1A.csv", "cables/nowhere.csv"), "nowhere.csv"),
        ("index.csv", replace("csa_mm2|method|loading|arrangement,it_A:A", "csa_mm2,amps:A"), "column amps is missing"),
        ("sources.csv", double("S02,"), "code S02 stands twice"),
    ],
)
def test_a_spoiled_table_is_told_with_file_and_line(
    data: Path, capsys: pytest.CaptureFixture[str], file: str, change: Callable[[list[str]], list[str]], says: str
) -> None:
    edit(data / file, change)
    assert main([str(data)]) == 1
    told = [line for line in capsys.readouterr().err.splitlines() if says in line]
    assert told, says
    where, line, _ = told[0].split(":", 2)
    assert (data / where).exists() or where == "cables/nowhere.csv"
    assert int(line) >= 1


def test_the_line_is_the_line_of_the_file(data: Path) -> None:
    path = data / "cables/dimensions_singles.csv"
    edit(path, replace("S22b,V1", "S999,V1"))
    lines = path.read_text(encoding="utf-8").split("\n")
    (problem,), _ = lint(data)
    assert "S999" in lines[problem.line - 1]


def test_a_file_that_no_table_declares_is_told(data: Path) -> None:
    (data / "cables/stray.csv").write_text("a,source,status,edition\n1,C,C,none\n", encoding="utf-8")
    problems, _ = lint(data)
    assert [str(p) for p in problems] == ["cables/stray.csv:1: no table in index.csv declares this file"]


def test_a_folder_without_index_is_told(tmp_path: Path) -> None:
    assert main([str(tmp_path)]) == 1
