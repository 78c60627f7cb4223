"""A working put into words: the walk back from a figure as printable steps."""

from __future__ import annotations

import math
import re
from dataclasses import dataclass
from typing import Literal

from relet.working.figure import Choice, Fact, Figure, Formula, Lookup, Solved, walk

Kind = Literal["fact", "lookup", "formula", "solved", "choice"]


@dataclass(frozen=True, slots=True)
class Step:
    """One line of a working.

    symbol   what is found, as printed
    kind     fact, lookup, formula, solved or choice
    text     the formula, or where the figure comes from
    put_in   numbers by symbol (formula), else empty
    put_text the formula with its numbers put in, else empty
    value    full figure; `printed` is the same rounded for reading
    source   method, publication code or how the fact is known
    status   table status, ground of a fact, or empty
    """

    symbol: str
    kind: Kind
    text: str
    put_in: tuple[tuple[str, float], ...]
    put_text: str
    value: float
    printed: str
    unit: str
    source: str
    status: str


def printed(value: float, digits: int = 5) -> str:
    """A number for reading, five significant digits, no exponent in the usual range."""
    if not math.isfinite(value):
        return "no limit" if value > 0 else ("none" if value < 0 else "undefined")
    if value == 0:
        return "0"
    text = f"{value:.{digits}g}"
    if "e" in text:
        text = f"{float(text):.0f}" if 1e4 <= abs(value) < 1e9 else text
    return text


def printed_towards(value: float, *, up: bool, digits: int = 3) -> str:
    """A number rounded to `digits` significant digits towards one side: never to the favourable one."""
    if not math.isfinite(value) or value == 0:
        return printed(value)
    scale = 10.0 ** (digits - 1 - math.floor(math.log10(abs(value))))
    # a hair of tolerance so that 0.3 stays 0.3 and does not become 0.301
    steps = value * scale
    whole = math.ceil(steps - 1e-9 * abs(steps)) if up else math.floor(steps + 1e-9 * abs(steps))
    return printed(whole / scale, digits + 1)


def _numbers_in(formula: Formula, given: tuple[Figure, ...]) -> str:
    numbers = {n: (f"({printed(g)})" if g < 0 else printed(g)) for n, g in zip(formula.names, given)}
    return re.sub(r"[A-Za-z_]\w*", lambda m: numbers.get(m.group(0), m.group(0)), formula.expression)


def step_of(figure: Figure) -> Step:
    """One figure as one line."""
    o, v = figure.origin, float(figure)
    if isinstance(o, Formula):
        put = tuple(zip(o.names, (float(g) for g in figure.given)))
        return Step(
            o.symbol,
            "formula",
            o.text,
            put,
            _numbers_in(o, figure.given),
            v,
            printed(v),
            figure.unit,
            o.source,
            "",
        )
    if isinstance(o, Fact):
        how = "not known: trial value" if o.open else o.ground
        shown, unit = (o.word, "") if o.word else (printed(v), figure.unit)
        return Step(figure.name, "fact", o.path, (), "", v, shown, unit, o.note, how)
    if isinstance(o, Lookup):
        text = f"{o.table}: {o.row}"
        source = o.source + (f", {o.edition}" if o.edition else "")
        return Step(figure.name, "lookup", text, (), "", v, printed(v), figure.unit, source, o.status)
    if isinstance(o, Solved):
        text = f"{o.method} (residual {o.residual:.1e})"
        return Step(figure.name, "solved", text, (), "", v, printed(v), figure.unit, o.source, "")
    assert isinstance(o, Choice)
    return Step(
        figure.name,
        "choice",
        f"{o.why}: number {o.chosen + 1} of {o.among}",
        (),
        "",
        v,
        printed(v),
        figure.unit,
        "",
        "",
    )


def steps(figure: Figure, most: int = 400) -> tuple[Step, ...]:
    """The working of a figure, givens first. At most `most` last steps."""
    return tuple(step_of(f) for f in walk(figure)[-most:])
