"""A unit file whose every line can be read and which still cannot be so."""

from __future__ import annotations

from pathlib import Path

import pytest

from relet.errors import InputErrors
from relet.files import read_unit

EXAMPLE = Path(__file__).parent / "data_files" / "unit_3.toml"
DEVICES = '"DB1/2.L2" = { part = "mcb", curve = "B", in_a = 6 }'
RUNS = "\n[standing.outlets]"
WISHES = "[wishes]\n"
PLAN = "# ---- what we want of the plan"
R1 = 'R1 = { from = "DB1/1",    to = "X1",'


def said(tmp_path: Path, *changes: tuple[str, str]) -> list[str]:
    text = EXAMPLE.read_text(encoding="utf-8")
    for old, new in changes:
        assert text.count(old) == 1, (old, text.count(old))
        text = text.replace(old, new)
    path = tmp_path / "unit.toml"
    path.write_text(text, encoding="utf-8")
    with pytest.raises(InputErrors) as caught:
        read_unit(path)
    told = [str(m).replace(f"{path}:", "") for m in caught.value.mistakes]
    for m in caught.value.mistakes:
        assert m.line is not None and 1 <= m.line <= text.count("\n") + 1
    return told


CASES = {
    "a run from nowhere": (
        (R1, 'R1 = { from = "DB1/11",    to = "X1",'),
        "standing.runs.R1.from",
        'there is no "DB1/11" here.',
        'Nearest: "DB1/1"',
    ),
    "a run to a misspelt outlet": (
        ('to = "X2"', 'to = "X3"'),
        "standing.runs.R2.to",
        'there is no "X3" here.',
        'as in serves = "lighting"',
    ),
    "a run to a run": ((R1, 'R1 = { from = "DB1/1",    to = "R2",'), "standing.runs.R1.to", "cannot end at R2", ""),
    "a run to a seat in no assembly": (
        ('to = "X2"', 'to = "A1/face/1"'),
        "standing.runs.R2.to",
        'there is no "A1/face/1"',
        "Allowed: an outlet",
    ),
    "an unknown kind of cable": (
        ('to = "X2", cable = "twin-earth-70"', 'to = "X2", cable = "twin-earth-7"'),
        "standing.runs.R2.cable",
        '"twin-earth-7" is not a kind of cable.',
        'Nearest: "twin-earth-70"',
    ),
    "containment that is not there": (
        (R1, R1 + ' through = ["T1"],'),
        "standing.runs.R1.through",
        'there is no "T1" here',
        "containment",
    ),
    "a device behind nothing": (
        (DEVICES, DEVICES.replace("in_a", 'behind = "DB1/7", in_a')),
        "standing.devices.DB1/2.L2.behind",
        'there is no "DB1/7" here',
        'Nearest: "DB1/1"',
    ),
    "a device on an unknown board": (
        (DEVICES, DEVICES + '\n"DB2/1" = { part = "mcb" }'),
        "standing.devices.DB2/1",
        'there is no board "DB2" here.',
        'Nearest: "DB1"',
    ),
    "a way that the board has not": (
        (DEVICES, DEVICES + '\n"DB1/9" = { part = "mcb" }'),
        "standing.devices.DB1/9",
        "DB1 has 8 ways; there is no way 9.",
        "",
    ),
    "a phase that is none": (
        (DEVICES, DEVICES + '\n"DB1/3.L4" = { part = "mcb" }'),
        "standing.devices.DB1/3.L4",
        '"DB1/3.L4" is not a seat of a device.',
        'one phase), "DB1/incomer"',
    ),
    "a way taken twice": (
        (DEVICES, DEVICES + '\n"DB1/2" = { part = "mcb" }'),
        "standing.devices.DB1/2.L1",
        "DB1/2 (line 57) takes all phases of this way",
        "",
    ),
    "a rail of no assembly": (
        (DEVICES, DEVICES + '\n"A1/rail/1" = { part = "mcb" }'),
        "standing.devices.A1/rail/1",
        'there is no assembly "A1" here',
        "",
    ),
    "a tap of a run that is not tapped": (
        (RUNS, '\n[standing.taps]\n"R1/tap/1" = { part = "tap-off" }\n' + RUNS),
        "standing.taps.R1/tap/1",
        "run R1 is not tapped",
        "tapped = true",
    ),
    "one name for two things": (
        (RUNS, '\n[standing.loads]\nX1 = { power_w = 100 }\n' + RUNS),
        "standing.loads.X1",
        "X1 stands among the outlets too",
        "choose another",
    ),
    "an incomer given twice": (
        (DEVICES, DEVICES + '\n"DB1/incomer" = { part = "mcb" }'),
        "standing.devices.DB1/incomer",
        "the incomer of DB1 stands in line 50 already",
        "",
    ),
    "an outlet fed twice": (
        ('to = "X2"', 'to = "X1"'),
        "standing.runs.R2.to",
        "X1 is fed by R1 (line 62) already",
        "one feed",
    ),
    "a machine kind that is not in the table": (
        ('"print_folder"', '"print_foldr"'),
        "tenancies.quoin.machines.folder.kind",
        '"print_foldr" is not in the table of machine kinds',
        'Nearest: "print_folder"',
    ),
    "a kind of place that is not in the table": (
        ('"dry_dust"', '"dry_dusty"'),
        "zones.press_floor.kind",
        '"dry_dusty" is not a kind of place',
        'Nearest: "dry_dust"',
    ),
    "a zone that says nothing": (
        ("keep_clear = true", "keep_clear = false"),
        "zones.aisle",
        "neither what kind of place it is nor keep_clear",
        "",
    ),
    "a kept piece that does not stand": (
        ('["X1", "R1"]', '["X1", "R11"]'),
        "wishes.keep",
        '"R11" does not stand here',
        'Nearest: "R1"',
    ),
    "a pin to nothing": (
        ('cylinder_press = "X1"', 'cylinder_press = "X9"'),
        "wishes.pins.cylinder_press",
        'there is no "X9" to pin it to',
        'Nearest: "X1"',
    ),
    "a wall that is none": (
        ('forbid  = { wall = "east"', 'forbid  = { wall = "eest"'),
        "wishes.forbid.wall",
        'no wall "eest". This unit has east, north, south, west.',
        'Nearest: "east"',
    ),
    "a rule of an unknown machine": (
        ('["guillotine", "folder"]', '["guillotine", "foldr"]'),
        "tenancies.quoin.rules.never_together",
        'no machine "foldr" in this tenancy',
        'Nearest: "folder"',
    ),
    "a stay that ends before it begins": (
        ('to   = "open"', "to   = 2027-01-01"),
        "tenancies.quoin.to",
        "2027-01-01 is not after from = 2027-02-01.",
        "",
    ),
    "two tenants at once": (
        (PLAN, "[tenancies.before]\nfrom = 2026-01-01\nto = 2027-03-01\n" + PLAN),
        "tenancies.quoin.from",
        "2027-02-01 falls into the stay of before (2026-01-01 to 2027-03-01, line 91)",
        "",
    ),
    "a stay in words": (
        ("from = 2027-02-01", 'from = "spring"'),
        "tenancies.quoin.from",
        '"spring" is not a day',
        "as in 2027-02-01",
    ),
    "a plan of no tenancy": (
        (PLAN, '[designs]\nharbour = "x.toml"\n' + PLAN),
        "designs.harbour",
        'no tenancy "harbour"',
        "",
    ),
    "a plan file that is not there": (
        (PLAN, '[designs]\nquoin = "units.toml"\n' + PLAN),
        "designs.quoin",
        'there is no file "units.toml" beside this one',
        'Nearest: "unit.toml"',
    ),
    "an outline that crosses itself": (
        ("[[0, 0], [12, 0], [12, 8], [0, 8]]      #", "[[0, 0], [12, 8], [12, 0], [0, 8]]      #"),
        "unit.outline_m",
        "crosses or touches itself",
        "",
    ),
    "an outline of two points": (
        ("[[0, 0], [12, 0], [12, 8], [0, 8]]      #", "[[0, 0], [12, 0]]  #"),
        "unit.outline_m",
        "at least 3 different corners",
        "",
    ),
    "an opening past its wall": (
        ('wall = "east",  from_m = 1.0, to_m = 2.0', 'wall = "east",  from_m = 7.5, to_m = 8.5'),
        "openings.side_door.to_m",
        "8.5 lies past the end of the east wall, which is 0 to 8 m long",
        "",
    ),
    "openings over one another": (
        ('wall = "east",  from_m = 1.0, to_m = 2.0', 'wall = "south",  from_m = 7.0, to_m = 9.0'),
        "openings.side_door.from_m",
        "overlaps roller_door (line 20) on the south wall",
        "",
    ),
    "an outlet outside": (
        ("at_m = [0.0, 5.0]", "at_m = [-0.5, 5.0]"),
        "standing.outlets.X2.at_m",
        "[-0.5, 5] lies 0.5 m outside the west wall",
        "",
    ),
    "an outlet above the ceiling": (
        ("at_m = [0.0, 5.0], height_m = 0.4", "at_m = [0.0, 5.0], height_m = 5"),
        "standing.outlets.X2.height_m",
        "5 m is above the ceiling, 4.2 m.",
        "",
    ),
    "less taken in than given at the shaft": (
        ("shaft_kw = 0.75", "shaft_kw = 0.75, power_w = 700"),
        "tenancies.quoin.machines.platen_press.power_w",
        "700 W taken in is less than the 0.75 kW given at the shaft",
        "",
    ),
    "a plug of other phases": (
        ('power_w = "unknown", plug = "13 A"', 'power_w = "unknown", plug = "16 A 3ph"'),
        "tenancies.quoin.machines.plate_oven.plug",
        '"16 A 3ph" contradicts phases = 1',
        "",
    ),
    "star-delta on one phase": (
        ('shaft_kw = 0.75, start = "dol"', 'shaft_kw = 0.75, start = "star-delta"'),
        "tenancies.quoin.machines.platen_press.start",
        "needs three phases",
        "",
    ),
    "a reading of the wrong unit": (
        ("mohm = { read = 140", "ms = { read = 140"),
        "standing.readings.T1.ms",
        "insulation is not read in ms. Allowed: \"mohm\"",
        "",
    ),
    "a reading of nothing": (
        (', mohm = { read = 140, on = 2026-11-18, with = "insulation tester 1" }', ""),
        "standing.readings.T1",
        "holds 0 values",
        "",
    ),
    "a reading at nothing": (
        ('at = "R1"', 'at = "R9"'),
        "standing.readings.T1.at",
        'there is no "R9" here',
        "",
    ),
    "a code that is not there": (
        ('"bs7671-2018-a4"', '"bs7671-2018-a5"'),
        "policy.code",
        '"bs7671-2018-a5" is not a code pack',
        'Nearest: "bs7671-2018-a4"',
    ),
    "a name of a field that is not known": (
        ("length_m = 24", "lenght_m = 24"),
        "standing.runs.R3.lenght_m",
        "no such name is known here.",
        'Nearest: "length_m"',
    ),
    "a section that is not known": (
        (WISHES, "[wish]\n"),
        "wish",
        "no such name is known here.",
        'Nearest: "wishes"',
    ),
    "a machine without a place": (
        ('"print_folder",     at_m = [8.5, 4.0]', '"print_folder"'),
        "tenancies.quoin.machines.folder.at_m",
        "at_m is missing; it is needed here.",
        "",
    ),
    "a machine with a dot in its name": (
        ("folder         =", '"fold.er" ='),
        "tenancies.quoin.machines.fold.er",
        '"fold.er" cannot name a machine',
        "",
    ),
    "a part of a phase": (
        ("at_m = [1.5, 4.2], phases = 1", "at_m = [1.5, 4.2], phases = 2"),
        "tenancies.quoin.machines.plate_oven.phases",
        "2 is not a count of phases. Allowed: 1, 3",
        "",
    ),
}  # fmt: skip


@pytest.mark.parametrize("case", CASES, ids=lambda c: c.replace(" ", "_"))
def test_what_cannot_be_so(tmp_path: Path, case: str) -> None:
    change, place, what, more = CASES[case]
    told = said(tmp_path, change)
    ours = [t for t in told if f" {place}: " in t]
    assert len(ours) == 1 and what in ours[0] and more in ours[0], told
    assert ours[0].rstrip()[-1] in ".)]}", ours[0]


def test_feeds_that_go_round(tmp_path: Path) -> None:
    rest = """
[standing.assemblies]
A1 = { part = "enclosure-6-18", at_m = [0, 4], height_m = 1.2 }
A2 = { part = "enclosure-6-18", at_m = [0, 6], height_m = 1.2 }
"""
    devices = DEVICES + '\n"A1/rail/1" = { part = "mcb" }\n"A2/rail/1" = { part = "mcb" }'
    runs = """R8 = { from = "A1/rail/1", to = "A2", cable = "swa-90" }
R9 = { from = "A2/rail/1", to = "A1", cable = "swa-90" }
"""
    told = said(tmp_path, (DEVICES, devices), (RUNS, runs + rest + RUNS))
    assert len(told) == 1
    assert "standing.runs.R8.from: R8 feeds itself: R8 > A2 > A2/rail/1 > R9 > A1 > A1/rail/1 > R8." in told[0]


def test_mistakes_of_form_and_of_meaning_are_told_together(tmp_path: Path) -> None:
    told = said(
        tmp_path,
        ('earthing        = "TN-S"', 'earthing        = "TNS"'),
        ("ways     = 8", "ways     = true"),
        ('"DB1/2.L2" = {', '"DB1/2.L4" = {'),
        ('cylinder_press = "X1"', 'cylinder_pres = "X1"'),
        ("at_m = [8.5, 4.0]", "at_m = [8.5, 14.0]"),
        ("length_m = 24", "length_m = 24000"),
    )
    places = [t.split(": ")[1] for t in told]
    assert places == [
        "supply.earthing",
        "standing.boards.DB1.ways",
        "standing.devices.DB1/2.L4",
        "standing.runs.R3.length_m",
        "standing.runs.R3.from",
        "tenancies.quoin.machines.folder.at_m",
        "wishes.pins.cylinder_pres",
    ]


def test_a_row_that_cannot_be_read_is_still_known_by_its_name(tmp_path: Path) -> None:
    told = said(
        tmp_path, ('cylinder_press = { name = "cylinder press", at_m = [3.0, 5.5],', "cylinder_press = { at_m = 5,")
    )
    assert len(told) == 1 and "cylinder_press.at_m: 5 is not a point" in told[0]


def test_a_stay_that_is_open_ends_when_the_next_begins(tmp_path: Path) -> None:
    text = EXAMPLE.read_text(encoding="utf-8").replace(PLAN, "[tenancies.next]\nfrom = 2029-01-01\n" + PLAN)
    (tmp_path / "unit.toml").write_text(text, encoding="utf-8")
    assert [t.id for t in read_unit(tmp_path / "unit.toml").in_order] == ["quoin", "next"]
