"""A figure computes like a float and remembers what it came from.

Facts go in, formulas and look-ups make new figures, and the working is the walk back along `given`.
Python arithmetic on figures gives plain floats without origin; a Formula refuses those, so no unsourced
number can enter a working (and `mypy --strict` says so before the program runs).
"""

from __future__ import annotations

import ast
import math
from collections.abc import Callable, Iterable, Mapping
from dataclasses import dataclass
from typing import Any, Final, Literal, Union

Ground = Literal[
    "measured",
    "nameplate",
    "declared",
    "published",
    "computed",
    "own copy",
    "chosen",
    "assumed",
    "from memory",
    "unknown",
]

GROUNDS_WEAKEST_LAST: Final[tuple[Ground, ...]] = (
    "chosen", "measured", "own copy", "nameplate", "published", "computed", "declared",
    "assumed", "from memory", "unknown",
)  # fmt: skip

_MASK: Final = (1 << 61) - 1
_PRIME: Final = 1_000_003


@dataclass(frozen=True, slots=True)
class Fact:
    """Something held about the unit: a survey value, a nameplate, a choice of ours, an assumption.

    path    address of the fact, for example "standing.runs.R7.length_m"
    ground  how far it can be trusted
    note    who said it, with which instrument, or why it is assumed
    open    True when the value put in is only a trial value of an unknown or a range
    word    the word that is held ("B", "TN-S") when the fact is not a number
    """

    path: str
    ground: Ground
    note: str = ""
    open: bool = False
    word: str = ""


@dataclass(frozen=True, slots=True)
class Lookup:
    """A row taken from a published table."""

    table: str
    row: str
    source: str
    status: str  # V2 V1 M+ M C P A user; see relet.tables
    edition: str = ""


@dataclass(frozen=True, slots=True)
class Solved:
    """The result of solving a network: no formula, but a method and the residual that was left."""

    method: str
    residual: float
    source: str = ""


@dataclass(frozen=True, slots=True)
class Choice:
    """One of several figures, picked for a reason (the worst, the next made size)."""

    why: str
    among: int
    chosen: int


Origin = Union[Fact, Lookup, Solved, Choice, "Formula"]


class Figure(float):
    """A number with a unit and an origin.

    unit    "A", "V", "ohm", "m", "mm2", "W", "s", "A2s", "degC", "" for a ratio or a count, ...
    origin  Fact, Lookup, Formula, Solved or Choice
    given   the figures that went in
    mark    hash of origin and givens, valid in this process only: never stored
    name    symbol under which it is printed in a working when it is not the result of a Formula
    """

    __slots__ = ("given", "mark", "name", "origin", "unit")
    unit: str
    origin: Origin
    given: tuple[Figure, ...]
    mark: int
    name: str

    def __new__(cls, value: float, unit: str, origin: Origin, given: tuple[Figure, ...] = (), name: str = "") -> Figure:
        """Make a figure. Prefer fact(), lookup(), solved(), choose() or a Formula."""
        self = float.__new__(cls, value)
        self.unit, self.origin, self.given, self.name = unit, origin, given, name
        m = hash((origin, float(value), unit)) & _MASK
        for g in given:
            m = (m * _PRIME ^ g.mark) & _MASK
        self.mark = m
        return self

    def __repr__(self) -> str:
        return f"{float(self):.6g} {self.unit}".rstrip()

    def __reduce__(self) -> tuple[Any, ...]:
        return (Figure, (float(self), self.unit, self.origin, self.given, self.name))


def fact(
    path: str,
    value: float,
    unit: str,
    ground: Ground,
    note: str = "",
    *,
    name: str = "",
    is_open: bool = False,
) -> Figure:
    """A figure that is held, not computed."""
    return Figure(value, unit, Fact(path, ground, note, is_open), (), name or path.rsplit(".", 1)[-1])


class Word(str):
    """A word that is held (a letter, an earthing arrangement); `figure` carries its origin into a working."""

    __slots__ = ("figure",)
    figure: Figure

    def __new__(cls, text: str, path: str, ground: Ground, note: str = "", *, is_open: bool = False) -> Word:
        """Hold a word as a fact."""
        self = str.__new__(cls, text)
        name = path.rsplit(".", 1)[-1]
        self.figure = Figure(0.0, "word", Fact(path, ground, note, is_open, text), (), name)
        return self

    def __reduce__(self) -> tuple[Any, ...]:
        o = self.figure.origin
        assert isinstance(o, Fact)
        return (_word, (str(self), o.path, o.ground, o.note, o.open))


def _word(text: str, path: str, ground: Ground, note: str, is_open: bool) -> Word:
    return Word(text, path, ground, note, is_open=is_open)


def lookup(
    table: str, row: str, value: float, unit: str, source: str, status: str, edition: str = "",
    given: tuple[Figure, ...] = (), *, name: str = "",
) -> Figure:  # fmt: skip
    """A figure read from a table row; `given` holds the figures that selected the row."""
    return Figure(value, unit, Lookup(table, row, source, status, edition), given, name or table)


def solved(value: float, unit: str, method: str, residual: float, given: Iterable[Figure], *, name: str) -> Figure:
    """A figure from a numerical solution."""
    return Figure(value, unit, Solved(method, residual), tuple(given), name)


def choose(figures: Iterable[Figure], pick: Callable[[list[Figure]], Figure], why: str, *, name: str = "") -> Figure:
    """Pick one of several figures by `pick` (max, min, ...); which one and why is a step of the working."""
    several = list(figures)
    if not several:
        raise ValueError("nothing to choose from")
    units = {f.unit for f in several}
    if len(units) != 1:
        raise TypeError(f"cannot choose among different units: {sorted(units)}")
    one = pick(several)
    if len(several) == 1:
        return one
    at = next(i for i, f in enumerate(several) if f is one)
    return Figure(float(one), one.unit, Choice(why, len(several), at), tuple(several), name or one.name)


_FUNCTIONS: Final[dict[str, Callable[..., float]]] = {
    "sqrt": math.sqrt, "abs": abs, "min": min, "max": max, "cos": math.cos, "sin": math.sin,
    "acos": math.acos, "atan2": math.atan2, "exp": math.exp, "ln": math.log, "hypot": math.hypot,
    "cos_deg": lambda a: math.cos(math.radians(a)), "sin_deg": lambda a: math.sin(math.radians(a)),
    "atan2_deg": lambda y, x: math.degrees(math.atan2(y, x)),
}  # fmt: skip
_ALLOWED: Final = (
    ast.Expression, ast.BinOp, ast.UnaryOp, ast.Call, ast.Name, ast.Load, ast.Constant,
    ast.Add, ast.Sub, ast.Mult, ast.Div, ast.Pow, ast.USub, ast.UAdd,
)  # fmt: skip


class Formula:
    """One relation. The printed text IS the code: it is compiled once, so it cannot drift from what is shown.

        ZS = Formula("Zs = Ze + R1 + R2", "ohm", Ze="ohm", R1="ohm", R2="ohm", source="sum along the path")
        zs = ZS(ze, r1, r2)

    The keyword order is the order of the arguments. Numbers in the text are pure mathematics (2, sqrt(3)) or
    turns of unit (/1000); anything from a standard comes in as a figure. A swapped or unsourced argument is a
    TypeError where it happens.
    """

    __slots__ = ("expression", "id", "names", "run", "source", "symbol", "text", "unit", "units_in")

    def __init__(self, text: str, unit: str, *, source: str, **units_in: str) -> None:
        symbol, _, expression = text.partition(" = ")
        tree = ast.parse(expression, mode="eval")
        for node in ast.walk(tree):
            if not isinstance(node, _ALLOWED):
                raise ValueError(f"{text!r}: {type(node).__name__} is not allowed in a formula")
        called = {n.func.id for n in ast.walk(tree) if isinstance(n, ast.Call) and isinstance(n.func, ast.Name)}
        used = {n.id for n in ast.walk(tree) if isinstance(n, ast.Name)} - set(_FUNCTIONS)
        if not called <= set(_FUNCTIONS):
            raise ValueError(f"{text!r}: unknown function {sorted(called - set(_FUNCTIONS))}")
        if used != set(units_in):
            raise ValueError(f"{text!r} uses {sorted(used)} but units are given for {sorted(units_in)}")
        if not source:
            raise ValueError(f"{text!r} has no source")
        self.text, self.symbol, self.expression = text, symbol.strip(), expression.strip()
        self.unit, self.source = unit, source
        self.names, self.units_in = tuple(units_in), tuple(units_in.values())
        self.run: Callable[..., float] = eval(  # the text was checked node by node above
            compile(f"lambda {', '.join(self.names)}: ({self.expression})", f"<formula {symbol}>", "eval"),
            {"__builtins__": {}, **_FUNCTIONS},
        )
        self.id = hash((text, unit)) & _MASK

    def __call__(self, *given: Figure) -> Figure:
        """Apply the relation. Raises TypeError for a wrong unit, a plain number or a wrong count."""
        if len(given) != len(self.units_in):
            raise TypeError(f"{self.text}: {len(self.units_in)} figures expected, {len(given)} given")
        m = self.id
        for g, u, n in zip(given, self.units_in, self.names):
            if type(g) is not Figure:
                raise TypeError(f"{self.text}: {n} is a bare number without a source ({g!r})")
            if g.unit != u:
                raise TypeError(f"{self.text}: {n} must be in {u or 'no unit'}, not {g.unit or 'no unit'}")
            m = (m * _PRIME ^ g.mark) & _MASK
        try:
            value = self.run(*given)
        except (ZeroDivisionError, ValueError, OverflowError):
            value = math.nan
        r = float.__new__(Figure, value)
        r.unit, r.origin, r.given, r.mark, r.name = self.unit, self, given, m, self.symbol
        return r

    def evaluate(self, values: Mapping[str, float]) -> float:
        """The relation on plain numbers by name: used to check a printed working."""
        return float(self.run(**values))

    def __repr__(self) -> str:
        return f"Formula({self.text!r})"

    def __hash__(self) -> int:
        return self.id

    def __eq__(self, other: object) -> bool:
        return isinstance(other, Formula) and (other.text, other.unit) == (self.text, self.unit)

    def __reduce__(self) -> tuple[Any, ...]:
        return (_formula, (self.text, self.unit, self.source, tuple(zip(self.names, self.units_in))))


def _formula(text: str, unit: str, source: str, units: tuple[tuple[str, str], ...]) -> Formula:
    return Formula(text, unit, source=source, **dict(units))


def walk(figure: Figure) -> list[Figure]:
    """Every figure behind `figure`, givens before results, each once; the figure itself comes last."""
    seen: set[int] = set()
    out: list[Figure] = []
    stack: list[tuple[Figure, bool]] = [(figure, False)]
    while stack:
        f, done = stack.pop()
        if done:
            out.append(f)
            continue
        if id(f) in seen:
            continue
        seen.add(id(f))
        stack.append((f, True))
        stack.extend((g, False) for g in reversed(f.given))
    return out


def leaves(figure: Figure) -> list[Figure]:
    """The facts and table rows that a figure finally rests on."""
    return [f for f in walk(figure) if isinstance(f.origin, Fact | Lookup)]


_STATUS_GROUND: Final[Mapping[str, Ground]] = {
    "V2": "published", "V1": "published", "C": "computed", "user": "own copy",
    "M+": "from memory", "M": "from memory", "P": "assumed", "A": "assumed",
}  # fmt: skip


def ground_of(figure: Figure) -> Ground:
    """The ground of one leaf."""
    o = figure.origin
    if isinstance(o, Fact):
        return "unknown" if o.open else o.ground
    if isinstance(o, Lookup):
        return _STATUS_GROUND[o.status]
    return "chosen"


def weakest_ground(figures: Iterable[Figure]) -> Ground:
    """The weakest ground among everything these figures rest on."""
    rank = 0
    for f in figures:
        for leaf in leaves(f):
            rank = max(rank, GROUNDS_WEAKEST_LAST.index(ground_of(leaf)))
    return GROUNDS_WEAKEST_LAST[rank]
