"""The commands as a new user meets them: exit codes, forms, messages, and that a start stays light."""

from __future__ import annotations

import json
import re
import subprocess
import sys
from dataclasses import replace
from pathlib import Path

import pytest

from relet.checks import Finding, merge_findings, register
from relet.cli.telling import told
from rule_examples import judged

ROOT = Path(__file__).parents[2]
UNIT = ROOT / "examples" / "limekiln_yard" / "unit_7.toml"
RELET = Path(sys.executable).with_name("relet")


def relet(*args: str, cwd: Path | None = None, ok: tuple[int, ...] = (0,)) -> subprocess.CompletedProcess[str]:
    done = subprocess.run([str(RELET), *args], capture_output=True, text=True, cwd=cwd, timeout=180, check=False)
    assert "Traceback" not in done.stderr + done.stdout, done.stderr
    assert done.returncode in ok, (done.returncode, done.stderr)
    return done


def test_start_brings_in_nothing_heavy() -> None:
    heavy = "fastapi uvicorn jinja2 typst highspy numpy shapely openpyxl sqlalchemy rich.progress pydantic.networks"
    code = f"import sys, relet.cli.app; print([m for m in {heavy.split()!r} if m in sys.modules])"
    done = subprocess.run([sys.executable, "-c", code], capture_output=True, text=True, check=True)
    assert done.stdout.strip() == "[]"


def test_every_command_has_an_example_in_its_help() -> None:
    names = re.findall(r"^  (\w+)  ", relet("--help").stdout, re.M)
    assert {"new", "check", "design", "change", "demo", "verify", "figures", "serve"} <= set(names)
    for name in names:
        assert "Example: relet " + name in relet(name, "--help").stdout, name


def test_the_reference_has_not_drifted() -> None:
    sys.path.insert(0, str(ROOT / "tools"))
    from command_reference import PAGE, reference

    assert PAGE.read_text(encoding="utf-8") == reference(), "run: python tools/command_reference.py"


def test_new_writes_a_file_that_check_reads(tmp_path: Path) -> None:
    relet("new", "mine.toml", cwd=tmp_path)
    relet("check", "mine.toml", "-q", cwd=tmp_path, ok=(0, 1, 3))
    again = relet("new", "mine.toml", cwd=tmp_path, ok=(2,))
    assert "left alone" in again.stderr


def test_check_gives_the_documented_form() -> None:
    form = json.loads(relet("check", str(UNIT), "--json", ok=(1, 3)).stdout)
    assert form["format"] == "relet/findings/1"
    assert {"basis", "coverage", "findings"} <= set(form)
    assert len(form["coverage"]) == len(register())
    for finding in form["findings"]:
        assert {
            "rule", "subject", "verdict", "force", "value", "limit", "unit", "margin", "clause", "sentence", "grounds",
            "status", "working", "needs",
        } <= set(finding)  # fmt: skip
    seen = {f["rule"] for f in form["findings"]} | {c["rule"] for c in form["coverage"] if c["state"] != "judged"}
    assert len(seen) == len(register())


@pytest.mark.parametrize("code", ["bs7671-2018-a4", "bs7671-2018-a2-a3", "iec60364"])
def test_check_lists_every_rule_under_every_pack(code: str) -> None:
    form = json.loads(relet("check", str(UNIT), "--json", "--code", code, ok=(0, 1, 3)).stdout)
    assert form["basis"]["code_id"] == code
    assert len(form["coverage"]) == len(register())


def test_an_unknown_code_pack_is_one_clear_error() -> None:
    done = relet("check", str(UNIT), "--code", "nec", ok=(2,))
    assert '"nec"' in done.stderr and "bs7671-2018-a4" in done.stderr


def test_an_unknown_tenancy_names_those_there_are() -> None:
    done = relet("check", str(UNIT), "--tenancy", "harbor", ok=(2,))
    assert "harbour" in done.stderr


def test_change_gives_the_documented_form() -> None:
    form = json.loads(relet("change", str(UNIT), "--from", "standing", "--to", "harbour", "--json").stdout)
    assert form["format"] == "relet/change/1"
    keys = {"steps", "parts_in", "parts_out", "tests_void", "tests_standing", "hours", "price", "loses_supply"}
    assert keys <= set(form)


def test_change_to_a_tenancy_without_a_design_says_so() -> None:
    done = relet("change", str(UNIT), "--from", "standing", "--to", "tern", ok=(2,))
    assert "relet design" in done.stderr


def test_verify_gives_the_documented_form() -> None:
    form = json.loads(relet("verify", "--json").stdout)
    assert form["format"] == "relet/verify/1"
    assert all(c["ok"] for c in form["checks"])


def test_figures_lists_the_weakest_first() -> None:
    form = json.loads(relet("figures", str(UNIT), "--json").stdout)
    assert form["format"] == "relet/figures/1"
    order = ["M", "M+", "A", "P", "C", "V1", "V2", "user"]
    ranks = [order.index(f["status"]) for f in form["figures"]]
    assert ranks == sorted(ranks)


@pytest.mark.parametrize(
    ("name", "content", "says"),
    [
        ("gone.toml", None, "no such file"),
        ("cut.toml", UNIT.read_bytes()[:3000], "cut.toml:"),
        ("wide.toml", "ünit = 1".encode("utf-16"), "UTF-8"),
        ("null.toml", b"\x00\x00", "null.toml"),
        ("empty.toml", b"", "empty.toml"),
        ("big.toml", UNIT.read_bytes() + b"\n# " + b"x" * 9_000_000, "big.toml"),
    ],
)
def test_bad_files_get_one_clear_error(tmp_path: Path, name: str, content: bytes | None, says: str) -> None:
    if content is not None:
        (tmp_path / name).write_bytes(content)
    done = relet("check", name, cwd=tmp_path, ok=(2,))
    assert says in done.stderr
    assert done.stdout == ""


def test_a_folder_in_place_of_a_file(tmp_path: Path) -> None:
    assert "folder" in relet("check", str(tmp_path), ok=(2,)).stderr


def test_pack_writes_the_papers_of_a_design(tmp_path: Path) -> None:
    done = relet("pack", str(UNIT), "--out", str(tmp_path / "papers"))
    names = {p.name for p in (tmp_path / "papers").iterdir()}
    kinds = ("proposal.pdf", "plan.svg", "single_line.svg", "changeover.txt")
    assert names == {f"harbour_{kind}" for kind in kinds}
    assert all(name in done.stdout for name in names)


def test_pack_without_a_design_says_what_makes_one(tmp_path: Path) -> None:
    relet("new", "mine.toml", cwd=tmp_path)
    assert "relet design" in relet("pack", "mine.toml", "--out", "papers", cwd=tmp_path, ok=(2,)).stderr
    assert not (tmp_path / "papers").exists()


def test_what_reads_alike_for_several_tenants_is_told_once() -> None:
    found = merge_findings([judged("place.explosive", "refer"), judged("place.reach", "depends")])
    one = tuple(replace(f, where="design.one") for f in found.findings)
    two = tuple(replace(f, where="design.two") for f in one if f.verdict == "refer")

    def lines(findings: tuple[Finding, ...]) -> list[str]:
        return list(told(replace(found, findings=findings), lambda w: w.removeprefix("design."), "depends", "refer"))

    both, alone = lines(one + two), lines(one)
    assert alone[0] == "\none" and {"\none, two", "\none"} <= set(both)
    assert sorted(x for x in both if not x.startswith("\n")) == sorted(alone[1:])
