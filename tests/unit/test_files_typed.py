"""What people type for a quantity."""

from __future__ import annotations

import pytest

from relet.errors import InputError
from relet.files import parse_quantity
from relet.model import Open


@pytest.mark.parametrize(
    ("text", "unit", "value"),
    [
        ("0,35", "ohm", 0.35),
        ("0.35", "ohm", 0.35),
        ("0.35 ohm", "ohm", 0.35),
        ("0,35ohm", "ohm", 0.35),
        ("350 mohm", "ohm", 0.35),
        ("350 mΩ", "ohm", 0.35),
        ("1.2 Mohm", "ohm", 1_200_000.0),
        ("2.2 kW", "W", 2200.0),
        ("2,2kw", "W", 2200.0),
        ("2200 W", "kW", 2.2),
        ("1 500 W", "W", 1500.0),
        ("0,350", "ohm", 0.35),
        ("2.5 mm²", "mm2", 2.5),
        ("22000 mm", "m", 22.0),
        ("30 °C", "degC", 30.0),
        ("-5 C", "degC", -5.0),
        ("−5", "degC", -5.0),
        ("25 %", "share", 0.25),
        ("63 amps", "A", 63.0),
        ("30 mA", "A", 0.03),
        ("6 kA", "kA", 6.0),
        (".5", "A", 0.5),
        ("3,", "A", 3.0),
        ("1e5", "W", 100_000.0),
    ],
)
def test_what_is_taken(text: str, unit: str, value: float) -> None:
    assert parse_quantity(text, unit) == value


@pytest.mark.parametrize("text", ["unknown", "Unknown", " unknown ", "?"])
def test_not_known_is_a_value_too(text: str) -> None:
    assert parse_quantity(text, "ohm") == Open()


@pytest.mark.parametrize(
    ("text", "unit"),
    [
        ("", "W"), ("W", "W"), ("four", "A"), ("3 A", "W"), ("12 kg", "m"), ("nan", "W"), ("inf", "W"), ("1.5.2", "A"),
        ("1,5,2", "A"), ("1.500,5", "W"), ("1e400", "W"), ("3 MOHM", "ohm"), ("3 A", ""), ("0x10", "W"), ("½", "m"),
        ("9" * 60, "m"), ("1 50 W", "W"), ("--5", "degC"), ("5 %", "W"), ("230V", "A"),
    ],
)  # fmt: skip
def test_what_is_refused_says_what_is_allowed(text: str, unit: str) -> None:
    with pytest.raises(InputError) as caught:
        parse_quantity(text, unit)
    told = str(caught.value)
    assert told.startswith('"') and ("Write " in told or "too large" in told) and len(told) < 200


def test_a_comma_that_may_be_of_thousands_is_never_guessed() -> None:
    with pytest.raises(InputError, match=r'"1,500" may mean 1\.5 or 1500\.'):
        parse_quantity("1,500", "W")


def test_turns_of_unit_leave_no_rounding_noise() -> None:
    assert parse_quantity("350 mohm", "ohm") == 0.35
    assert parse_quantity("1.1 kW", "W") == 1100.0
    assert parse_quantity("0.3 kA", "A") == 300.0
