"""What a unit file says, as the model holds it."""

from __future__ import annotations

from datetime import date
from pathlib import Path

import pytest

from relet.errors import InputErrors
from relet.files import UnitFile, read_unit
from relet.model import Between, Claim, Exactly, OneOf, Open, Seat

EXAMPLE = Path(__file__).parent / "data_files" / "unit_3.toml"


@pytest.fixture(scope="module")
def example() -> UnitFile:
    return read_unit(EXAMPLE)


def read(tmp_path: Path, *changes: tuple[str, str]) -> UnitFile:
    text = EXAMPLE.read_text(encoding="utf-8")
    for old, new in changes:
        assert text.count(old) == 1, old
        text = text.replace(old, new)
    path = tmp_path / "unit.toml"
    path.write_text(text, encoding="utf-8")
    return read_unit(path)


def ze(tmp_path: Path, written: str) -> Claim:
    return read(tmp_path, ('ze_ohm          = "unknown"', f"ze_ohm = {written}")).unit.supply.facts["ze_ohm"]


ZE = "supply.ze_ohm"


@pytest.mark.parametrize(
    ("written", "claim"),
    [
        ("0.35", Claim(about=ZE, holds=Exactly(0.35), how="seen")),
        ('"0,35 ohm"', Claim(about=ZE, holds=Exactly(0.35), how="seen")),
        ('"350 mohm"', Claim(about=ZE, holds=Exactly(0.35), how="seen")),
        ('"unknown"', Claim(about=ZE, holds=Open(), how="seen")),
        ("{ told = 0.35 }", Claim(about=ZE, holds=Exactly(0.35), how="told")),
        ('{ told = "0,35", by = "owner" }', Claim(about=ZE, holds=Exactly(0.35), how="told", note="owner")),
        ("{ seen = 0.35 }", Claim(about=ZE, holds=Exactly(0.35), how="seen")),
        (
            '{ read = 0.31, on = 2026-11-18, with = "loop tester 1" }',
            Claim(about=ZE, holds=Exactly(0.31), how="read", on=date(2026, 11, 18), note="loop tester 1"),
        ),
        ("{ read = 0.5, plus_minus = 0.25 }", Claim(about=ZE, holds=Between(0.25, 0.75), how="read")),
        ("{ low = 0.1, high = 0.8 }", Claim(about=ZE, holds=Between(0.1, 0.8), how="seen")),
        ('{ low = "100 mohm", high = 0.8 }', Claim(about=ZE, holds=Between(0.1, 0.8), how="seen")),
        ("{ told = { low = 0.1, high = 0.8 } }", Claim(about=ZE, holds=Between(0.1, 0.8), how="told")),
        ("{ one_of = [0.35, 0.8] }", Claim(about=ZE, holds=OneOf((0.35, 0.8)), how="seen")),
        ("{ told = { one_of = [0.35, 0.8] } }", Claim(about=ZE, holds=OneOf((0.35, 0.8)), how="told")),
    ],
)
def test_every_way_to_write_a_value(tmp_path: Path, written: str, claim: Claim) -> None:
    assert ze(tmp_path, written) == claim


@pytest.mark.parametrize(
    ("written", "told"),
    [
        ("{ low = 0.8, high = 0.1 }", "contradicts itself: low is above high"),
        ("{ low = 0.8 }", "half a range. Write both low and high"),
        ("{ lo = 0.1, high = 0.8 }", 'Nearest: "low"'),
        ("{ one_of = [0.3] }", "one_of needs two values or more"),
        ("{ one_of = [0.3, 0.3] }", "names 0.3 twice"),
        ("{ one_of = 0.3 }", "one_of needs two values or more"),
        ("{ read = 0.3, told = 0.5 }", "two claims about one fact (read and told)"),
        ('{ read = 0.3, on = "yesterday" }', "is not a day"),
        ("{ read = 0.3, on = 2026-01-01T10:00:00 }", "is not a day"),
        ("{ read = 0.3, whit = 5 }", 'Nearest: "with"'),
        ("{ read = 0.3, with = 5 }", "is not a text in quotes"),
        ("{ read = 0.3, plus_minus = -1 }", "is not a number from 0 up"),
        ('{ told = "unknown", plus_minus = 1 }', "plus_minus needs one number"),
        ("{}", "is not a way to write a value"),
        ("true", "true is not a number. Allowed: 0.001 to 2000 ohm"),
        ("[1]", "[1] is not a number"),
        ("9000", "9000 ohm is too large for a loop impedance (0.001 to 2000 ohm). For 9000 mohm write ze_ohm = 9."),
        ("-0.3", "too small"),
        ('"0.3 A"', '"0.3 A" is not a number in ohm'),
        ('"1,500"', "may mean 1.5 or 1500"),
        ("{ told = { low = 1 } }", "half a range"),
        ("{ one_of = [0.3, 9000] }", "too large"),
    ],
)
def test_every_way_not_to_write_it(tmp_path: Path, written: str, told: str) -> None:
    with pytest.raises(InputErrors) as caught:
        ze(tmp_path, written)
    text = str(caught.value)
    assert "unit.toml:34: supply.ze_ohm: " in text and told in text
    assert text.endswith("\n1 mistake, nothing was changed")


def test_addresses_of_facts(example: UnitFile) -> None:
    devices = example.standing.devices
    assert devices[Seat("DB1/2.L1")].facts["curve"].about == "standing.devices.DB1/2.L1.curve"
    assert example.unit.supply.facts["bonding.water"].about == "supply.bonding.water"
    assert example.unit.policy.facts["lead_reach_m.industrial"].about == "policy.lead_reach_m.industrial"
    press = example.tenancies["quoin"].machines["cylinder_press"]
    assert press.facts["power_w"] == Claim(
        about="tenancies.quoin.machines.cylinder_press.power_w", holds=Between(1800, 3000), how="seen"
    )


def test_an_address_has_a_line(example: UnitFile) -> None:
    assert example.lines["standing.devices.DB1/2.L1.curve"] == 55
    assert example.lines["supply.bonding.water"] == 36
    assert example.lines["tenancies.quoin.machines.cylinder_press.power_w"] == 78
    with pytest.raises(KeyError):
        example.lines["nowhere.at.all"]


def test_the_incomer_of_a_board_is_a_device(example: UnitFile) -> None:
    assert example.standing.devices[Seat("DB1/incomer")].part == "switch-disconnector-100-4p"


def test_a_run_to_a_name_that_is_nothing_else_makes_a_load(example: UnitFile) -> None:
    load = example.standing.loads[Seat("lights")]
    assert (load.serves, load.facts["power_w"].holds, load.facts["power_w"].how) == ("lighting", Open(), "default")


def test_readings_are_values_with_their_unit(example: UnitFile, tmp_path: Path) -> None:
    (one,) = example.readings
    assert (one.id, one.of, one.at, one.value, one.unit) == ("T1", "insulation", "R1", 140, "Mohm")
    assert (one.on, one.with_) == (date(2026, 11, 18), "insulation tester 1")
    r1r2 = read(tmp_path, ('of = "insulation"', 'of = "r1r2"')).readings[0]
    assert (r1r2.value, r1r2.unit) == (0.14, "ohm")


def test_a_kind_fills_in_what_is_left_out_and_marks_it(example: UnitFile) -> None:
    folder = example.tenancies["quoin"].machines["folder"]
    power = folder.facts["power_w"]
    assert power.how == "kind" and isinstance(power.holds, Between)
    assert power.note.startswith("kind print_folder, typical ") and "status P" in power.note
    assert {"phases", "pf", "start", "rcd_type", "plug", "on_probability"} <= set(folder.facts)
    assert all(c.about == f"tenancies.quoin.machines.folder.{f}" for f, c in folder.facts.items())


def test_what_the_file_says_goes_before_its_kind(example: UnitFile) -> None:
    guillotine = example.tenancies["quoin"].machines["guillotine"]
    assert guillotine.facts["power_w"] == Claim(
        about="tenancies.quoin.machines.guillotine.power_w", holds=Exactly(1500), how="told"
    )
    assert guillotine.facts["off_by"].how == "seen" and guillotine.facts["pf"].how == "kind"


def test_a_load_given_one_way_takes_no_other_from_the_kind(tmp_path: Path) -> None:
    unit = read(tmp_path, ("power_w = { told = 1500 }", "shaft_kw = 1.1"))
    facts = unit.tenancies["quoin"].machines["guillotine"].facts
    assert "power_w" not in facts and facts["shaft_kw"].holds == Exactly(1.1)


def test_other_phases_than_usual_take_no_plug_from_the_kind(tmp_path: Path) -> None:
    unit = read(tmp_path, ("power_w = { told = 1500 }", "phases = 1"))
    facts = unit.tenancies["quoin"].machines["guillotine"].facts
    assert facts["phases"].holds == Exactly(1) and "plug" not in facts


def test_a_machine_without_name_is_called_by_its_id(example: UnitFile, tmp_path: Path) -> None:
    unit = read(tmp_path, ('name = "plate oven",  ', ""))
    assert unit.tenancies["quoin"].machines["plate_oven"].name == "plate oven"


def test_tenancies_in_the_order_in_which_they_come(tmp_path: Path) -> None:
    more = (
        "# ---- what we want",
        "[tenancies.after]\nfrom = 2030-01-01\n[tenancies.before]\nfrom = 2020-01-01\nto = 2027-02-01\n"
        '[tenancies.aside]\nfrom = "unknown"\n# ---- what we want',
    )
    unit = read(tmp_path, more)
    assert [t.id for t in unit.in_order] == ["aside", "before", "quoin", "after"]
    assert unit.tenancies["after"].to is None


def test_wishes_rules_and_stock(tmp_path: Path) -> None:
    unit = read(tmp_path, ("# ---- what we want", '[stock]\n"mcb-b16-1p" = 3\n# ---- what we want'))
    assert unit.wishes.keep == ("X1", "R1") and dict(unit.wishes.pins) == {"cylinder_press": "X1"}
    assert unit.wishes.forbid == (("east", "landlord lets the wall for racking"),)
    assert unit.tenancies["quoin"].never_together == (("guillotine", "folder"),)
    assert unit.tenancies["quoin"].stays_on == ("lights", "bench")
    assert dict(unit.stock) == {"mcb-b16-1p": 3}


def test_equal_content_has_equal_digest_and_a_changed_fact_another(example: UnitFile, tmp_path: Path) -> None:
    same = read(tmp_path, ("# Limekiln Yard, Unit 3.", "# Other words.\n# "))
    other = read(tmp_path, ("ceiling_m = 4.2", "ceiling_m = 4.3"))
    assert same.digest == example.digest != other.digest


def test_the_policy_left_out_takes_the_default_code(tmp_path: Path) -> None:
    unit = read(tmp_path, ('code         = "bs7671-2018-a4"\n', ""))
    assert unit.unit.policy.code == "bs7671-2018-a4"
    assert unit.unit.policy.facts["spare_share"].how == "chosen"


# ---- values that the model holds by itself and that may still be in doubt


def test_a_height_in_doubt_is_a_claim_and_has_a_number_to_draw_with(tmp_path: Path) -> None:
    unit = read(
        tmp_path, ("at_m = [0.0, 5.0], height_m = 0.4", "at_m = [0.0, 5.0], height_m = { low = 0.4, high = 0.8 }")
    )
    x2 = unit.standing.outlets[Seat("X2")]
    assert x2.height_m == pytest.approx(0.6)
    assert x2.facts["height_m"] == Claim(about="standing.outlets.X2.height_m", holds=Between(0.4, 0.8), how="seen")


def test_a_height_not_known_stays_open(tmp_path: Path) -> None:
    unit = read(tmp_path, ("at_m = [0.0, 5.0], height_m = 0.4", 'at_m = [0.0, 5.0], height_m = "unknown"'))
    x2 = unit.standing.outlets[Seat("X2")]
    assert x2.height_m is None and x2.facts["height_m"].holds == Open()


def test_a_plain_height_is_no_claim(example: UnitFile) -> None:
    x2 = example.standing.outlets[Seat("X2")]
    assert x2.height_m == 0.4 and "height_m" not in x2.facts


def test_a_kind_of_place_in_doubt_keeps_the_one_that_asks_for_a_specialist_in_mind(tmp_path: Path) -> None:
    unit = read(tmp_path, ('kind = "dry_dust"', 'kind = { one_of = ["dry_dust", "paint"] }'))
    zone = unit.unit.space.zones["press_floor"]
    assert zone.kind == "paint" and zone.facts["kind"].holds == OneOf(("dry_dust", "paint"))
    assert zone.facts["kind"].about == "zones.press_floor.kind"


def test_a_kind_of_place_in_doubt_names_only_kinds(tmp_path: Path) -> None:
    with pytest.raises(InputErrors, match=r'zones\.press_floor\.kind: "pait" is not a kind of place.*Nearest: "paint"'):
        read(tmp_path, ('kind = "dry_dust"', 'kind = { one_of = ["dry_dust", "pait"] }'))


def test_a_pin_may_name_the_tenancy_of_its_machine(tmp_path: Path) -> None:
    more = "[tenancies.later.machines]\nbench = { at_m = [1, 1], power_w = 100 }\n# ---- what we want"
    both = ('pins    = { cylinder_press = "X1" }', 'pins = { "quoin.bench" = "X1", "later.bench" = "X2" }')
    unit = read(tmp_path, ("# ---- what we want", more), both)
    assert dict(unit.wishes.pins) == {"quoin.bench": "X1", "later.bench": "X2"}
    with pytest.raises(InputErrors, match=r"wishes\.pins\.later\.folder: no machine of that name"):
        read(tmp_path, ("# ---- what we want", more), (both[0], 'pins = { "later.folder" = "X1" }'))
