"""The linter of code packs finds what it is for: each spoiled file is told with its line."""

from __future__ import annotations

import shutil
from pathlib import Path

import pytest

from relet.codes import PACKS
from relet.codes.lint import lint, main


def spoiled(tmp_path: Path, file: str, before: str, after: str) -> list[str]:
    root = tmp_path / "packs"
    shutil.copytree(PACKS, root)
    text = (root / file).read_text(encoding="utf-8")
    assert before in text
    (root / file).write_text(text.replace(before, after, 1), encoding="utf-8")
    return [str(p) for p in lint(root)]


def test_the_shipped_packs_are_clean(capsys: pytest.CaptureFixture[str]) -> None:
    assert lint() == []
    assert main([]) == 0
    assert "3 code packs" in capsys.readouterr().out


C_MIN = "c_min,,0.95,,411.4.4,M,M+,2018,"
CASES = [
    ("bs7671-2018-a2-a3/limits.csv", C_MIN, C_MIN.replace(",M,M+", ",Z99,M+"), "source Z99 is in no register"),
    ("bs7671-2018-a2-a3/limits.csv", C_MIN, C_MIN.replace(",M,M+", ",M,sure"), "status 'sure' is not one of"),
    ("bs7671-2018-a2-a3/limits.csv", C_MIN, C_MIN.replace(",M,M+", ",,M+"), "no source"),
    ("bs7671-2018-a2-a3/limits.csv", C_MIN, C_MIN.replace("0.95", "most"), "value 'most' is not a number"),
    ("bs7671-2018-a2-a3/limits.csv", C_MIN, f"{C_MIN}\n{C_MIN}", "the key c_min stands in line 3 too"),
    ("bs7671-2018-a2-a3/limits.csv", C_MIN, C_MIN[:-1], "cells, the header has"),
    ("bs7671-2018-a2-a3/limits.csv", "voltage factor of the least", "see https:" + "//nowhere.invalid", "web address"),
    ("iec60364/rules.csv", "place.reach,policy", "place.reach,wish", "force 'wish' is not one of"),
    ("iec60364/rules.csv", "place.reach,", "place.stretch,", "no row for the rule place.reach"),
    ("bs7671-2018-a4/editions.csv", "c_min,unchanged as far as public sources tell", "c_min,surely", "mark 'surely'"),
    ("bs7671-2018-a4/editions.csv", "c_min,", "c_least,", "c_least is no rule, limit or group"),
    ("bs7671-2018-a4/pack.toml", "A4-11", "A4-99", "source A4-99 is in no register"),
    ("bs7671-2018-a4/pack.toml", '"V1"', '"heard"', "status 'heard'"),
    ("sources.csv", "A1-2,", "A1-1,", "the key A1-1 stands in line"),
]


@pytest.mark.parametrize(("file", "before", "after", "told"), CASES)
def test_a_spoiled_pack_is_told(tmp_path: Path, file: str, before: str, after: str, told: str) -> None:
    problems = spoiled(tmp_path, file, before, after)
    assert any(p.startswith(f"{file}:") and told in p for p in problems), problems


def test_it_exits_with_1_and_names_each_problem(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    spoiled(tmp_path, "iec60364/rules.csv", "place.reach,policy", "place.reach,wish")
    assert main([str(tmp_path / "packs")]) == 1
    assert "iec60364/rules.csv:" in capsys.readouterr().err
