"""The one parser of quantities that people type: "0,35", "0.35 ohm", "350 mohm", "2.2 kW", "unknown"."""

from __future__ import annotations

import re
from collections.abc import Mapping
from decimal import Decimal
from typing import Final

from relet.errors import InputError
from relet.model import Open

# Turns of unit only. The first unit of each row is the one a message offers as an example.
_MULTIPLES: Final[tuple[Mapping[str, str], ...]] = (
    {"W": "1", "kW": "1e3", "MW": "1e6"},
    {"VA": "1", "kVA": "1e3", "MVA": "1e6"},
    {"A": "1", "mA": "1e-3", "kA": "1e3"},
    {"V": "1", "kV": "1e3", "mV": "1e-3"},
    {"ohm": "1", "mohm": "1e-3", "kohm": "1e3", "Mohm": "1e6"},
    {"ohm/m": "1", "mohm/m": "1e-3", "ohm/km": "1e-3"},
    {"m": "1", "mm": "1e-3", "cm": "1e-2", "km": "1e3"},
    {"mm2": "1", "cm2": "1e2"},
    {"s": "1", "ms": "1e-3", "min": "60"},
    {"share": "1", "%": "1e-2"},
    {"degC": "1"},
    {"kg": "1", "g": "1e-3"},
    {"W/K": "1"},
)
_FACTORS: Final[dict[str, dict[str, Decimal]]] = {
    unit: {u: Decimal(f) for u, f in row.items()} for row in _MULTIPLES for unit in row
}
_SPELLINGS: Final = (
    ("\u03a9", "ohm"), ("\u2126", "ohm"), ("ohms", "ohm"), ("\u00b2", "2"), ("mm^2", "mm2"), ("sqmm", "mm2"),
    ("\u00b0C", "degC"), ("amps", "A"), ("amp", "A"), ("volts", "V"), ("watts", "W"), ("metres", "m"), ("metre", "m"),
)  # fmt: skip
_SPACES: Final = " \u00a0\u202f"
_MINUS: Final = "\u2212-"
_TYPED: Final = re.compile(
    rf"(?P<sign>[+{_MINUS}]?)\s*"
    rf"(?P<number>\d{{1,3}}(?:[{_SPACES}]\d{{3}})+(?:[.,]\d+)?|\d*[.,]?\d+(?:[eE][-+]?\d+)?|\d+[.,])"
    r"\s*(?P<unit>[^\d\s.,+-]\S*)?"
)
_LONGEST: Final = 40


def units_like(unit: str) -> tuple[str, ...]:
    """Units that may be typed for a quantity held in `unit`; nothing for a plain number."""
    return tuple(_FACTORS.get(unit, {unit: Decimal(1)} if unit else {}))


def turned(value: float, from_unit: str, to_unit: str) -> float | None:
    """A number of one unit in another of the same kind, without rounding noise; None if they are not of one kind."""
    row = _FACTORS.get(to_unit, {})
    if from_unit not in row:
        return None
    return float(Decimal(repr(float(value))) * row[from_unit] / row[to_unit])


def parse_quantity(text: str, unit: str) -> float | Open:
    """A number in `unit` from what somebody typed; Open for "unknown" (or "?").

    text    a number with a point or a comma, and a unit of the same kind or none
    unit    the unit in which the value is held ("ohm", "W", "mm2", "" for a plain number)
    raises  InputError with the text met and what is allowed; never guesses between two readings ("1,500")
    """
    typed = text.strip()
    if typed.casefold() in ("unknown", "?"):
        return Open()
    met = _TYPED.fullmatch(typed) if len(typed) <= _LONGEST else None
    if met is None:
        raise InputError(f"{_quoted(text)} is not a number{_of(unit)}. Write {_examples(unit)}.")
    number = re.sub(f"[{_SPACES}]", "", met["number"])
    if re.fullmatch(r"[1-9]\d{0,2},\d{3}", number):
        a, b = number.split(",")
        point = f"{a}.{b}".rstrip("0").rstrip(".")
        raise InputError(f"{_quoted(text)} may mean {point} or {a}{b}. Write the one you mean without a comma.")
    value = Decimal(number.replace(",", ".")) * (-1 if met["sign"] and met["sign"] in _MINUS else 1)
    if not value.is_finite() or abs(value.adjusted()) > 60:
        raise InputError(f"{_quoted(text)} is too large or too small to be a number{_of(unit)}.")
    factor = _factor(met["unit"] or "", unit)
    if factor is None:
        raise InputError(f"{_quoted(text)} is not a number{_of(unit)}. Write {_examples(unit)}.")
    return float(value * factor)


def _factor(typed: str, unit: str) -> Decimal | None:
    """What one typed unit is in `unit`: exact spelling first, then any case if that leaves one meaning."""
    row = _FACTORS.get(unit, {unit: Decimal(1)})
    for said, meant in _SPELLINGS:
        typed = typed.replace(said, meant) if not said.isascii() or typed.casefold() == said else typed
    if not typed:
        return Decimal(1)
    if unit == "degC" and typed == "C":
        return Decimal(1)
    alike = [typed] if typed in row else [u for u in row if u.casefold() == typed.casefold()]
    return row[alike[0]] / row[unit] if len(alike) == 1 else None


def _of(unit: str) -> str:
    return f" in {unit}" if unit else ""


def _examples(unit: str) -> str:
    if not unit or unit == "share":
        return '0.35, "25 %" or "unknown"' if unit else '0.35 or "unknown"'
    others = [u for u in units_like(unit) if u != unit][:2]
    return ", ".join(f'"{n} {u}"' for n, u in zip(("0.35", "2", "3"), [unit, *others])) + ' or "unknown"'


def _quoted(text: str) -> str:
    short = text if len(text) <= _LONGEST else text[: _LONGEST - 3] + "..."
    return '"' + short.replace("\n", " ").replace('"', "'") + '"'
