"""Plan files: read against their unit, written whole or not at all."""

from __future__ import annotations

import os
from pathlib import Path

import pytest

from relet.errors import InputError, InputErrors
from relet.files import UnitFile, plan_text, read_plan, read_unit, write_plan
from relet.model import Assembly, Claim, Exactly, Installation, Map, Run, Scheme, Seat, SolverReport, Use, merge

EXAMPLE = Path(__file__).parent / "data_files" / "unit_3.toml"
BY_HAND = """\
format = "relet/plan/1"
unit   = "limekiln-3"

[backbone.boards]
DB1 = { at_m = [0.6, 0.2], height_m = 1.6, ways = 8 }

[backbone.devices]
"DB1/incomer" = { part = "switch-disconnector-100-4p" }
"DB1/1" = { part = "mcb", curve = { one_of = ["B", "C"] }, in_a = 32, poles = 3 }
"DB1/3" = { part = "mcb-c63-3p" }

[backbone.runs]
R1 = { from = "DB1/1", to = "X1", cable = "singles-70-in-trunking", csa_mm2 = 6, length_m = 16 }
R7 = { from = "DB1/3", to = "A1", cable = "singles-70-in-trunking", csa_mm2 = "16 mm2", length_m = 22 }

[backbone.outlets]
X1 = { part = "outlet-60309-32a-3pne", at_m = [4.0, 8.0], height_m = 1.2, ip = 44 }

[backbone.assemblies]
A1 = { part = "enclosure-6-18", at_m = [0, 5], height_m = 1.2, stays = true, label = "west" }

[contents.quoin.devices]
"A1/incomer" = { part = "switch-63-4p" }
"A1/rail/3" = { part = "rcbo-c16-2p-30a", phase = "L1" }

[contents.quoin.outlets]
"A1/face/1" = { part = "outlet-60309-16a-2pe", behind = "A1/rail/3" }

[uses.quoin]
cylinder_press = "X1"
guillotine = "A1/face/1"
"""


@pytest.fixture(scope="module")
def unit() -> UnitFile:
    return read_unit(EXAMPLE)


def plan(tmp_path: Path, unit: UnitFile, *changes: tuple[str, str]) -> Scheme:
    text = BY_HAND
    for old, new in changes:
        assert text.count(old) == 1, old
        text = text.replace(old, new)
    path = tmp_path / "plan.toml"
    path.write_text(text, encoding="utf-8")
    return read_plan(path, unit)


def test_a_plan_by_hand(tmp_path: Path, unit: UnitFile) -> None:
    scheme = plan(tmp_path, unit)
    assert scheme.made_for == "" and scheme.solved is None
    assert scheme.uses["quoin"].plugged[Seat("guillotine")] == "A1/face/1"  # type: ignore[index]
    whole = scheme.installation("quoin")
    assert whole.assemblies[Seat("A1")] == Assembly(
        part="enclosure-6-18", at_m=(0, 5), height_m=1.2, stays=True, label="west"
    )
    r7 = whole.runs[Seat("R7")]
    assert r7.facts["csa_mm2"] == Claim(about="plan.runs.R7.csa_mm2", holds=Exactly(16.0), how="chosen")
    rail = whole.devices[Seat("A1/rail/3")]
    assert rail.facts["phase"].about == "design.quoin.devices.A1/rail/3.phase"


def test_a_piece_that_is_kept_stays_equal_to_the_one_that_stands(tmp_path: Path, unit: UnitFile) -> None:
    backbone = plan(tmp_path, unit).backbone
    for group, seat in (("boards", "DB1"), ("devices", "DB1/1"), ("devices", "DB1/incomer"), ("outlets", "X1")):
        assert getattr(backbone, group)[seat] == getattr(unit.standing, group)[seat]
    r1 = backbone.runs[Seat("R1")]  # its size was looked up and its length measured: chosen by this plan
    assert r1.facts["csa_mm2"].about == "plan.runs.R1.csa_mm2" and r1.facts["csa_mm2"].how == "chosen"


MISTAKES = {
    "another unit": (('"limekiln-3"', '"limekiln-7"'), 'unit: "limekiln-7" is not the unit of'),
    "another tenancy": (("[uses.quoin]", "[uses.quoim]"), "uses.quoim: no tenancy of that name"),
    "an unknown machine": (("guillotine = ", "guilotine = "), "uses.quoin.guilotine: no machine of that name"),
    "an unknown outlet": (
        ('= "A1/face/1"\n', '= "A1/face/2"\n'),
        'uses.quoin.guillotine: there is no outlet "A1/face/2"',
    ),
    "a run from nowhere": (('from = "DB1/3"', 'from = "DB1/4"'), 'backbone.runs.R7.from: there is no "DB1/4"'),
    "an outlet behind nothing": (
        ('behind = "A1/rail/3"', 'behind = "A1/rail/4"'),
        'contents.quoin.outlets.A1/face/1.behind: there is no "A1/rail/4"',
    ),
    "other content than the backbone": (
        ('"A1/incomer" = { part', '"DB1/3" = { part'),
        "contents.quoin.devices.DB1/3: DB1/3 stands in the backbone with other content (line 10)",
    ),
    "an assembly outside": (
        ("at_m = [0, 5]", "at_m = [-1, 5]"),
        "backbone.assemblies.A1.at_m: [-1, 5] lies 1.0 m outside",
    ),
    "a word for a number": (
        ("length_m = 22", 'length_m = "far"'),
        'backbone.runs.R7.length_m: "far" is not a number in m',
    ),
    "a size that cannot be": (("csa_mm2 = 6,", "csa_mm2 = 6000,"), "backbone.runs.R1.csa_mm2: 6000 mm2 is too large"),
    "an unknown section": (("[uses.quoin]", "[use.quoin]"), 'use: no such name is known here. Nearest: "uses"'),
    "a unit file": (('"relet/plan/1"', '"relet/unit/1"'), "is not the format of a plan file"),
}


@pytest.mark.parametrize("case", MISTAKES, ids=lambda c: c.replace(" ", "_"))
def test_mistakes_in_a_plan(tmp_path: Path, unit: UnitFile, case: str) -> None:
    change, what = MISTAKES[case]
    with pytest.raises((InputErrors, InputError)) as caught:
        plan(tmp_path, unit, change)
    told = str(caught.value)
    assert what in told and f"{tmp_path / 'plan.toml'}:" in told


def scheme_of(unit: UnitFile) -> Scheme:
    new = Installation(
        assemblies=Map({Seat("A1"): Assembly(part="enclosure-6-18", at_m=(0, 5.0), height_m=1.2, place="west-5")}),
        runs=Map({Seat("R7"): Run(part="", from_=Seat("DB1/1"), to=Seat("A1"), cable="swa-90")}),
    )
    return Scheme(
        backbone=merge(unit.standing, new),
        contents=Map({"quoin": Installation()}),
        uses=Map({"quoin": Use(tenancy="quoin", plugged=Map({"folder": Seat("X1")}))}),
        made_for=unit.digest,
        solved=SolverReport(
            price=1.5, bound=float("-inf"), gap=0.5, places=3, binaries=4, rows=5, seconds=1.2, rounds=2, stopped=True,
            log=('round 1: "fault.disconnection" failed', "a long line " * 20),
        ),
        why=Map({"A1": "nearest to the presses\nand to the board"}),
    )  # fmt: skip


def test_what_is_written_is_read_back(tmp_path: Path, unit: UnitFile) -> None:
    scheme = scheme_of(unit)
    write_plan(scheme, tmp_path / "plan.toml", unit)
    assert read_plan(tmp_path / "plan.toml", unit) == scheme
    write_plan(read_plan(tmp_path / "plan.toml", unit), tmp_path / "again.toml", unit)
    assert (tmp_path / "again.toml").read_bytes() == (tmp_path / "plan.toml").read_bytes()


def test_one_thing_one_line(unit: UnitFile) -> None:
    lines = plan_text(scheme_of(unit), unit).split("\n")
    assert sum(line.startswith("R1 = {") for line in lines) == 1
    assert 'by = "planner"' in lines


def test_a_choice_that_agrees_with_what_stands_stays_a_choice(tmp_path: Path, unit: UnitFile) -> None:
    scheme = scheme_of(unit)
    r3 = scheme.backbone.runs[Seat("R3")]
    chosen = Claim(about="plan.runs.R3.length_m", holds=Exactly(24), how="chosen")
    facts = r3.facts.put("length_m", chosen)
    run = Run(part="", from_=r3.from_, to=r3.to, cable=r3.cable, facts=facts)
    backbone = {f: getattr(scheme.backbone, f) for f in Installation.__struct_fields__}
    backbone["runs"] = scheme.backbone.runs.put(Seat("R3"), run)
    scheme = Scheme(backbone=Installation(**backbone), contents=Map(), uses=Map(), made_for=unit.digest)
    write_plan(scheme, tmp_path / "plan.toml", unit)
    assert read_plan(tmp_path / "plan.toml", unit) == scheme


def test_a_fact_that_no_file_can_say_is_not_written(tmp_path: Path, unit: UnitFile) -> None:
    odd = Claim(about="plan.assemblies.A1.colour", holds=Exactly("red"), how="chosen")
    a1 = Assembly(part="enclosure-6-18", at_m=(0, 5), height_m=1.2, facts=Map({"colour": odd}))
    scheme = Scheme(
        backbone=Installation(assemblies=Map({Seat("A1"): a1})), contents=Map(), uses=Map(), made_for=unit.digest
    )
    with pytest.raises(ValueError, match="cannot be written"):
        write_plan(scheme, tmp_path / "plan.toml", unit)
    assert list(tmp_path.iterdir()) == []


def test_a_folder_in_place_of_the_plan(tmp_path: Path, unit: UnitFile) -> None:
    with pytest.raises(InputError, match="this is a folder"):
        write_plan(scheme_of(unit), tmp_path, unit)


def test_no_folder_for_the_plan(tmp_path: Path, unit: UnitFile) -> None:
    with pytest.raises(InputError, match="there is no folder"):
        write_plan(scheme_of(unit), tmp_path / "no" / "plan.toml", unit)


def test_a_place_that_cannot_be_written(tmp_path: Path, unit: UnitFile, monkeypatch: pytest.MonkeyPatch) -> None:
    def refuse(self: Path, *args: object, **kwargs: object) -> None:
        raise PermissionError(13, "Permission denied")

    monkeypatch.setattr(Path, "open", refuse)
    with pytest.raises(InputError, match=r"cannot be written: Permission denied\. Nothing was changed"):
        write_plan(scheme_of(unit), tmp_path / "plan.toml", unit)


@pytest.mark.parametrize("fault", [OSError(28, "No space left on device"), KeyboardInterrupt()])
def test_nothing_half_written(
    tmp_path: Path, unit: UnitFile, monkeypatch: pytest.MonkeyPatch, fault: BaseException
) -> None:
    (tmp_path / "plan.toml").write_text("as it was")

    def fail(descriptor: int) -> None:
        raise fault

    monkeypatch.setattr(os, "fsync", fail)
    with pytest.raises((InputError, KeyboardInterrupt)):
        write_plan(scheme_of(unit), tmp_path / "plan.toml", unit)
    assert [p.name for p in tmp_path.iterdir()] == ["plan.toml"]
    assert (tmp_path / "plan.toml").read_text() == "as it was"


def test_a_height_in_doubt_is_read_back_as_it_was(tmp_path: Path, unit: UnitFile) -> None:
    scheme = plan(
        tmp_path, unit, ("at_m = [0, 5], height_m = 1.2", "at_m = [0, 5], height_m = { low = 1.0, high = 1.4 }")
    )
    assert "height_m" in scheme.backbone.assemblies[Seat("A1")].facts
    write_plan(scheme, tmp_path / "again.toml", unit)
    assert read_plan(tmp_path / "again.toml", unit) == scheme


@pytest.mark.parametrize("how", ["chosen", "told"])
def test_a_height_with_its_source_is_read_back_as_it_was(tmp_path: Path, unit: UnitFile, how: str) -> None:
    scheme = plan(tmp_path, unit, ("at_m = [0, 5], height_m = 1.2", f"at_m = [0, 5], height_m = {{ {how} = 1.3 }}"))
    assert scheme.backbone.assemblies[Seat("A1")].facts["height_m"].how == how
    write_plan(scheme, tmp_path / "again.toml", unit)
    assert read_plan(tmp_path / "again.toml", unit) == scheme


def test_a_height_that_contradicts_its_own_claim_is_not_written(tmp_path: Path, unit: UnitFile) -> None:
    claim = Claim(about="plan.assemblies.A1.height_m", holds=Exactly(1.0), how="chosen")
    a1 = Assembly(part="enclosure-6-18", at_m=(0, 5), height_m=2.0, facts=Map({"height_m": claim}))
    scheme = Scheme(
        backbone=Installation(assemblies=Map({Seat("A1"): a1})), contents=Map(), uses=Map(), made_for=unit.digest
    )
    with pytest.raises(ValueError, match="does not agree"):
        write_plan(scheme, tmp_path / "plan.toml", unit)
