"""The one place where numbers become text for screen and paper.

Values and limits of findings arrive already rounded to the unfavourable side; what is formatted here is held, counted
or paid, never judged. Units are printed with their own signs and kept on the line of their number.
"""

from __future__ import annotations

import math
from datetime import date
from typing import Final

from relet.working import printed, printed_towards

JOIN: Final = "\u00a0"
"""Keeps a number and its unit on one line."""
MINUS: Final = "\u2212"

_SIGNS: Final = {
    "ohm": "Ω", "mohm": "mΩ", "ohm/m": "Ω/m", "mohm/m": "mΩ/m", "Mohm": "MΩ", "mm2": "mm²", "m2": "m²",
    "A2s": "A²s", "kA2s": "kA²s", "degC": "°C", "C": "°C", "deg": "°", "percent": "%", "mV/A/m": "mV/(A·m)",
    "W/K": "W/K", "word": "",
}  # fmt: skip


def sign(unit: str) -> str:
    """The printed sign of a unit: "mm²" for "mm2"."""
    return _SIGNS.get(unit, unit)


def with_unit(text: str, unit: str) -> str:
    """A number's text with its unit behind it."""
    mark = sign(unit)
    return f"{text}{'' if mark == '°' else JOIN}{mark}" if mark and text else text


def number(value: float, unit: str = "") -> str:
    """A held number as it was given, with its unit."""
    return with_unit(printed(float(value)).replace("-", MINUS), unit)


def said(text: str, unit: str) -> str:
    """A text that ends in a plain unit ("0.18 to 1.00 ohm"), with the printed sign instead."""
    body = text.removesuffix(unit).rstrip() if unit else text
    return with_unit(body.replace("-", MINUS), unit)


def money(amount: float) -> str:
    """An amount with its pence: "1,234.50". The currency stands at the head of the column."""
    return f"{amount:,.2f}".replace("-", MINUS)


def not_above(amount: float, places: int = 2) -> str:
    """An amount that is claimed as a lower bound: rounded down."""
    scale = 10**places
    return f"{math.floor(amount * scale + 1e-6) / scale:,.{places}f}".replace("-", MINUS)


def quantity(amount: float, unit: str) -> str:
    """A quantity of a price line: whole pieces, hours as "2:20" where they are whole minutes, else as it is."""
    if unit == "h" and (time := whole_minutes(amount)) is not None:
        return f"{time // 60}:{time % 60:02d}"
    return printed(amount, 6)


def whole_minutes(hours_: float) -> int | None:
    """Hours as whole minutes; None if they are no whole minutes. A price line holds hours to three places."""
    time = round(hours_ * 60)
    return time if abs(time - hours_ * 60) <= 0.0305 else None


def hours(minutes: float) -> str:
    """Minutes as hours and minutes, rounded up to the minute: "2 h 05"."""
    whole = math.ceil(minutes - 1e-9)
    return f"{whole // 60}{JOIN}h{JOIN}{whole % 60:02d}" if whole >= 60 else f"{whole}{JOIN}min"


def margin(share: float, *, judged: bool = True) -> str:
    """Room to a limit in percent of it, rounded to the unfavourable side; beyond the limit it is negative."""
    if not judged:
        return ""
    if share == float("inf"):
        return "no limit"
    if share == float("-inf"):
        return "none"
    percent = printed_towards(share * 100, up=False, digits=2)
    percent = f"{float(percent):.0f}" if "e" in percent else percent
    body = percent.removeprefix("-")
    mark = MINUS if percent.startswith("-") else "+" if body != "0" else ""
    return f"{mark}{body}{JOIN}%"


def share(part: float) -> str:
    """A share as whole percent, rounded down: "42 %"."""
    return f"{int(part * 100 + 1e-9)}{JOIN}%"


def gap(part: float) -> str:
    """A gap in percent, rounded up."""
    return f"{printed_towards(part * 100, up=True, digits=2)}{JOIN}%"


def day(when: date | None, otherwise: str = "") -> str:
    """A day as "4 January 2027"."""
    return f"{when.day} {when:%B %Y}" if when is not None else otherwise


def stay(from_: date | None, to: date | None) -> str:
    """A tenant's stay: "January 2027 to December 2029"."""
    if from_ is None and to is None:
        return ""
    end = f"to {to:%B %Y}" if to is not None else "on, end open"
    return f"{from_:%B %Y} {end}" if from_ is not None else end


def count(n: int, one: str, many: str = "") -> str:
    """ "1 finding", "3 findings"."""
    return f"{n}{JOIN}{one if n == 1 else many or one + 's'}"
