"""The five typical mistakes of the example unit file, and what is said about each: exact text, exact line."""

from __future__ import annotations

from pathlib import Path

import pytest

from relet.errors import InputErrors
from relet.files import read_unit

EXAMPLE = Path(__file__).parent / "data_files" / "unit_3.toml"

COMMA = ('ze_ohm          = "unknown"', "ze_ohm          = 0,35")
POWER = ("power_w = { low = 1800, high = 3000 }", "power_w = 2.2")
PIN = ('pins    = { cylinder_press = "X1" }', 'pins    = { cylinder_pres = "X1" }')
PLACE = ("at_m = [11.3, 0.7]", "at_m = [13.1, 0.7]")
EARTHING = ('earthing        = "TN-S"', 'earthing        = "TNS"')

SAID_COMMA = (
    'unit_3.toml:34: supply.ze_ohm: "0,35" is not a number here. '
    'In this file write 0.35 with a point, or "0,35 ohm" in quotes.\n'
    "                Nothing after this line could be read, so later mistakes are not listed yet."
)
SAID_POWER = (
    "unit_3.toml:78: tenancies.quoin.machines.cylinder_press.power_w: 2.2 W is too small for a machine "
    "(10 to 250000 W). For 2.2 kW write power_w = 2200."
)
SAID_PIN = (
    "unit_3.toml:95: wishes.pins.cylinder_pres: no machine of that name in any tenancy. "
    "Nearest: cylinder_press (tenancy quoin, line 78)."
)
SAID_PLACE = (
    "unit_3.toml:84: tenancies.quoin.machines.compressor.at_m: [13.1, 0.7] lies 1.1 m outside the east wall. "
    "The unit reaches from [0, 0] to [12, 8]."
)
SAID_EARTHING = (
    'unit_3.toml:31: supply.earthing: "TNS" is not an earthing arrangement. '
    'Allowed: "TN-S", "TN-C-S", "TT", { one_of = [...] }, "unknown". Nearest: "TN-S".'
)


@pytest.fixture(autouse=True)
def here(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.chdir(tmp_path)


def said(*changes: tuple[str, str]) -> str:
    text = EXAMPLE.read_text(encoding="utf-8")
    for old, new in changes:
        assert text.count(old) == 1, old
        text = text.replace(old, new)
    Path("unit_3.toml").write_text(text, encoding="utf-8")
    with pytest.raises(InputErrors) as caught:
        read_unit("unit_3.toml")
    return str(caught.value)


def test_a_decimal_comma_is_shown_its_two_remedies() -> None:
    assert said(COMMA) == SAID_COMMA


def test_a_power_in_kilowatts_is_told_the_watts() -> None:
    assert said(POWER) == SAID_POWER + "\n1 mistake, nothing was changed"


def test_a_pin_of_an_unknown_machine_is_told_the_nearest() -> None:
    assert said(PIN) == SAID_PIN + "\n1 mistake, nothing was changed"


def test_a_machine_outside_is_told_by_how_much_and_past_which_wall() -> None:
    assert said(PLACE) == SAID_PLACE + "\n1 mistake, nothing was changed"


def test_a_misspelt_earthing_arrangement_is_told_all_that_is_allowed() -> None:
    assert said(EARTHING) == SAID_EARTHING + "\n1 mistake, nothing was changed"


def test_four_mistakes_are_listed_together_in_the_order_of_the_file() -> None:
    assert said(PLACE, PIN, EARTHING, POWER) == "\n".join(
        [SAID_EARTHING, SAID_POWER, SAID_PLACE, SAID_PIN, "4 mistakes, nothing was changed"]
    )


def test_mistakes_before_the_line_that_could_not_be_read_are_listed_too() -> None:
    assert said(EARTHING, COMMA) == SAID_EARTHING + "\n" + SAID_COMMA


def test_the_example_itself_reads_cleanly() -> None:
    unit = read_unit(EXAMPLE)
    assert unit.unit.id == "limekiln-3"
    assert unit.unit.supply.facts["ze_ohm"].about == "supply.ze_ohm"
    assert unit.standing.runs["R1"].facts["length_m"].about == "standing.runs.R1.length_m"
