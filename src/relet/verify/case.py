"""Cases: what goes in, which functions it goes through, and the values that must come out.

A worked example is data (data/<topic>.toml) and a way through the product (topics/<topic>.py, the function that the
example names). A printed value is kept as text, so its last digit is known; it must be met to half a unit in that
digit, unless the example states another tolerance and the sentence why. A made size or rating is met exactly.
"""

from __future__ import annotations

import tomllib
from collections import Counter
from collections.abc import Callable, Iterator, Mapping
from dataclasses import dataclass
from decimal import Decimal
from functools import lru_cache
from typing import Any, Literal

from relet.verify.calling import Call
from relet.verify.register import DATA
from relet.working import Figure, fact, unit_of

Kind = Literal["example", "table"]

# longest first: "Ik_a_ka" is in kA, "Q_kvar" in kvar


@dataclass(frozen=True, slots=True)
class Value:
    """A value that must be met.

    id         address of the check
    printed    as it stands in print, digits and all
    unit       unit of `printed`
    tolerance  how far the product may be off
    source     codes, "WE01;WE02"
    status     V2 V1 (published), M+ M (from memory), C (computed here)
    note       setup, printed mistake, reason of the tolerance
    """

    id: str
    printed: str
    unit: str
    tolerance: float
    source: str
    locator: str
    status: str
    note: str


@dataclass(frozen=True, slots=True)
class Case:
    """Values that are met together. `run` yields each with the figure that the product gives."""

    id: str
    topic: str
    kind: Kind
    run: Callable[[Call], Iterator[tuple[Value, Figure]]]


def half_a_unit(printed: str) -> float:
    """Half a unit in the last digit of a printed number."""
    exponent = Decimal(printed).as_tuple().exponent
    if not isinstance(exponent, int):
        raise ValueError(f"{printed!r} is no finite number")
    return 0.5 * 10.0**exponent


class Example:
    """One worked example, as its file holds it."""

    def __init__(self, held: Mapping[str, Any]) -> None:
        self.held = held
        self.id: str = held["id"]
        self.way: str = held["way"]
        self.inputs: Mapping[str, Any] = held["inputs"]
        self.source = ";".join(held["source"])

    def figure(self, key: str, unit: str, at: int | None = None) -> Figure:
        """An input as a figure; `at` counts in a list."""
        held = self.inputs[key]
        value = held if at is None else held[at]
        note = f"{self.source}, {self.held['locator']}"
        return fact(f"{self.id}.{key}" + ("" if at is None else f".{at + 1}"), value, unit, "published", note, name=key)

    def figures(self, key: str, unit: str) -> list[Figure]:
        """A list of inputs as figures."""
        return [self.figure(key, unit, k) for k in range(len(self.inputs[key]))]

    def values(self) -> dict[str, list[Value]]:
        """The values that must be met, by key, in order."""
        held = self.held
        out: dict[str, list[Value]] = {}
        for key, printed in held["expected"].items():
            several = printed if isinstance(printed, list) else [printed]
            stated = held.get("tolerance", {}).get(key)
            if key in held.get("made", ()):
                stated = {"within": 0.0, "why": "One of a row of made values: met exactly or not."}
            told = (held.get("setup", ""), held.get("mistake", ""), stated["why"] if stated else "")
            note = " ".join(f"{t.rstrip('.')}." for t in told if t)
            out[key] = [
                Value(
                    id=f"{self.id}.{key}" + (f".{k}" if isinstance(printed, list) else ""),
                    printed=text, unit=unit_of(key),
                    tolerance=float(stated["within"]) if stated else half_a_unit(text),
                    source=self.source, locator=held["locator"],
                    status="C" if key in held.get("not_in_print", ()) else held["status"], note=note,
                )
                for k, text in enumerate(several, 1)
            ]  # fmt: skip
        return out


Way = Callable[[Example, Call], Iterator[tuple[str, Figure]]]


def met(example: Example, way: Way, call: Call) -> Iterator[tuple[Value, Figure]]:
    """The values of an example with what its way gives, in the order of the way.

    raises  ValueError where the way leaves a value out or gives one too many: nothing expected goes unchecked
    """
    values, given = example.values(), Counter[str]()
    for key, figure in way(example, call):
        if given[key] >= len(values.get(key, ())):
            raise ValueError(f"{example.id}: {key} is given {given[key] + 1} times")
        yield values[key][given[key]], figure
        given[key] += 1
    if missing := {k: len(v) - given[k] for k, v in values.items() if given[k] < len(v)}:
        raise ValueError(f"{example.id}: expected values never met: {missing}")


@lru_cache(maxsize=1)
def cases() -> tuple[Case, ...]:
    """Every case: the worked examples by topic, then the reproduced tables."""
    from relet.verify.reproduced import tables  # both build on this module
    from relet.verify.topics import WAYS

    out = []
    for topic, ways in WAYS.items():
        held = tomllib.loads((DATA / f"{topic}.toml").read_text(encoding="utf-8"))
        out += [_case(Example(e), held["topic"], ways) for e in held["example"]]
    return (*out, *tables())


def _case(example: Example, topic: str, ways: Mapping[str, Way]) -> Case:
    way = ways[example.way]
    return Case(example.id, topic, "example", lambda call: met(example, way, call))
