"""The starter file, the JSON Schema, and setting one value."""

from __future__ import annotations

import difflib
import json
import subprocess
import sys
import tomllib
from datetime import date, datetime
from pathlib import Path
from typing import Any

import jsonschema
import pytest

from relet.codes import code_ids, load_code
from relet.errors import InputError, InputErrors
from relet.files import read_unit, set_value, starter
from relet.files import schema as schemas
from relet.files.catalogue import read_catalogue
from relet.files.fields import register
from relet.model import Exactly, OneOf, Open, Seat

EXAMPLE = Path(__file__).parent / "data_files" / "unit_3.toml"


def with_text_dates(value: Any) -> Any:
    if isinstance(value, dict):
        return {k: with_text_dates(v) for k, v in value.items()}
    if isinstance(value, list):
        return [with_text_dates(v) for v in value]
    return value.isoformat() if isinstance(value, date | datetime) else value


def document(path: Path) -> Any:
    return with_text_dates(tomllib.loads(path.read_text(encoding="utf-8")))


# ---- starter


def test_the_starter_reads_cleanly(tmp_path: Path) -> None:
    unit = read_unit(starter(tmp_path / "new.toml"))
    assert unit.unit.supply.facts["ze_ohm"].holds == Open()
    assert unit.in_order[0].machines


def test_the_starter_leaves_a_file_alone(tmp_path: Path) -> None:
    path = tmp_path / "mine.toml"
    path.write_text("mine")
    with pytest.raises(InputError, match="there is a file of that name already"):
        starter(path)
    assert path.read_text() == "mine" and len(list(tmp_path.iterdir())) == 1


def test_what_the_starter_holds_as_comments_reads_cleanly_too(tmp_path: Path) -> None:
    lines = starter(tmp_path / "new.toml").read_text(encoding="utf-8").split("\n")
    first = next(i for i, line in enumerate(lines) if line.startswith("[unit]"))
    opened = [line[2:] if i > first and line.startswith("# ") and "----" not in line else line
              for i, line in enumerate(lines)]  # fmt: skip
    path = tmp_path / "opened.toml"
    path.write_text("\n".join(opened), encoding="utf-8")
    unit = read_unit(path)
    assert unit.wishes.keep and unit.readings and unit.unit.policy.facts


# ---- schema


def test_the_shipped_schema_is_current() -> None:
    assert schemas.FILE.read_text(encoding="utf-8") == schemas.text(), "run python -m relet.files.schema"


def test_the_schema_is_one() -> None:
    jsonschema.Draft202012Validator.check_schema(schemas.unit_schema())


def test_example_and_starter_meet_the_schema(tmp_path: Path) -> None:
    check = jsonschema.Draft202012Validator(json.loads(schemas.FILE.read_text(encoding="utf-8")))
    for path in (EXAMPLE, starter(tmp_path / "new.toml")):
        assert [e.message for e in check.iter_errors(document(path))] == []


@pytest.mark.parametrize(
    ("place", "value"),
    [
        (("supply", "earthing"), "TNS"),
        (("supply", "ze_ohm"), {"lo": 1}),
        (("supply", "colour"), "red"),
        (("unit", "outline_m"), "square"),
        (("unit",), None),
        (("tenancies", "quoin", "machines", "folder", "power_w"), 2.2),
        (("tenancies", "quoin", "machines", "folder", "at_m"), [1]),
    ],
)
def test_the_schema_refuses_what_the_reader_refuses(place: tuple[str, ...], value: Any) -> None:
    doc = document(EXAMPLE)
    at = doc
    for part in place[:-1]:
        at = at[part]
    if value is None:
        del at[place[-1]]
    else:
        at[place[-1]] = value
    assert not jsonschema.Draft202012Validator(schemas.unit_schema()).is_valid(doc)


def test_every_field_of_the_register_can_be_met() -> None:
    for thing, fields in register().items():
        for name, field in fields.items():
            assert field.low <= field.high, (thing, name)
            assert field.form in ("number", "whole", "word", "text", "flag", "words"), (thing, name)
            assert (field.form == "word") <= bool(field.words), (thing, name)
            assert not field.unit or field.form in ("number", "whole"), (thing, name)


# ---- one value


@pytest.mark.parametrize(
    ("place", "text", "held"),
    [
        ("supply.ze_ohm", "0,35", Exactly(0.35)),
        ("supply.ze_ohm", "350 mohm", Exactly(0.35)),
        ("supply.ze_ohm", "unknown", Open()),
        ("supply.ze_ohm", '{ read = 0.31, on = 2026-11-18, with = "loop tester 1" }', Exactly(0.31)),
        ("supply.earthing", "TT", Exactly("TT")),
        ("supply.main_switch_a", "100", Exactly(100)),
        ("supply.bonding.oil", "none", Exactly("none")),
        ("policy.spare_share", "30 %", Exactly(0.3)),
        ("standing.devices.DB1/1.curve", "C", Exactly("C")),
        ("standing.devices.DB1/2.L1.curve", '{ one_of = ["B", "C"] }', OneOf(("B", "C"))),
        ("standing.devices.DB1/incomer.in_a", "100", Exactly(100)),
        ("standing.runs.R2.length_m", "22 m", Exactly(22.0)),
        ("tenancies.quoin.machines.plate_oven.power_w", "2.9 kW", Exactly(2900.0)),
    ],
)
def test_one_value_is_set_and_the_rest_stays(tmp_path: Path, place: str, text: str, held: object) -> None:
    path = tmp_path / "unit.toml"
    before = EXAMPLE.read_text(encoding="utf-8")
    path.write_text(before, encoding="utf-8")
    unit = set_value(path, place, text)
    where, _, field = place.rpartition(".")
    owner: Any = {
        "supply": unit.unit.supply, "supply.bonding": unit.unit.supply, "policy": unit.unit.policy,
        "standing.runs.R2": unit.standing.runs[Seat("R2")],
        "tenancies.quoin.machines.plate_oven": unit.tenancies["quoin"].machines["plate_oven"],
    }.get(where) or unit.standing.devices[Seat(where.removeprefix("standing.devices."))]  # fmt: skip
    assert owner.facts["bonding.oil" if "bonding" in where else field].holds == held
    changed = [d for d in difflib.ndiff(before.split("\n"), path.read_text(encoding="utf-8").split("\n"))
               if d[0] in "+-"]  # fmt: skip
    assert len(changed) <= 2
    assert read_unit(path).digest == unit.digest


def test_comments_stay(tmp_path: Path) -> None:
    path = tmp_path / "unit.toml"
    path.write_text(EXAMPLE.read_text(encoding="utf-8"), encoding="utf-8")
    set_value(path, "supply.agreed_kva", "60")
    (line,) = [ln for ln in path.read_text(encoding="utf-8").split("\n") if ln.startswith("agreed_kva")]
    assert line.split("#")[0].split() == ["agreed_kva", "=", "60"] and line.endswith("# ask the landlord for the bill")


@pytest.mark.parametrize(
    ("place", "text", "told"),
    [
        ("supply.earthing", "TNS", 'Nearest: "TN-S"'),
        ("supply.ze", "3", 'Nearest: "ze_ohm"'),
        ("supply.ze_ohm.deep", "3", "ze_ohm holds a value, not a table"),
        ("tenancies.quoin.machines.plate_oven.power_w", "2.9", "For 2.9 kW write power_w = 2900."),
        ("nowhere.at.all", "3", "nowhere"),
        ("standing.runs.R1.to", "X7", 'there is no "X7" here'),
    ],
)
def test_what_cannot_be_set_leaves_the_file_alone(tmp_path: Path, place: str, text: str, told: str) -> None:
    path = tmp_path / "unit.toml"
    path.write_bytes(EXAMPLE.read_bytes())
    with pytest.raises((InputError, InputErrors)) as caught:
        set_value(path, place, text)
    assert told in str(caught.value)
    assert path.read_bytes() == EXAMPLE.read_bytes()


# ---- the register


THING_OF_PART = {
    "enclosure": "assembly", "board": "board", "outlet": "outlet", "fixed-connection": "outlet", "mcb": "device",
    "rcbo": "device", "rccb": "device", "fuse-switch": "device", "switch": "device", "contactor": "device",
    "mccb": "device", "tapped-run": "run", "tap-off": "tap", "containment": "containment",
}  # fmt: skip


def test_a_file_can_say_every_fact_that_a_code_takes_a_default_for() -> None:
    fields = register()
    for code in code_ids():
        for d in load_code(code).defaults():
            scope, _, inner = f"{d.of}.{d.field}".rpartition(".")
            thing = {"policy.lead_reach_m": "lead_reach"}.get(scope, scope)
            assert inner in fields[thing], (code, d.of, d.field)


def test_a_file_can_say_of_a_piece_whatever_a_catalogue_says_of_its_part() -> None:
    fields = register()
    for part in read_catalogue(None).parts.values():
        thing = THING_OF_PART.get(part.kind)
        if thing is None:
            continue
        for name, value in part.data.items():
            if (thing, name) == ("board", "ways"):
                continue  # the board holds it itself
            assert name in fields[thing], (part.id, thing, name)
            assert fields[thing][name].scalar(value) == value, (part.id, name)


def test_reading_does_not_load_the_library_that_keeps_comments() -> None:
    loaded = "print('tomlkit' in sys.modules)"
    asked = f"import sys, relet.files; {loaded}; relet.files.write_plan; {loaded}"
    done = subprocess.run([sys.executable, "-c", asked], capture_output=True, text=True, check=True)
    assert done.stdout.split() == ["False", "True"]
