"""What is held about a fact: a value, a range, one of several, or nothing yet; and how it is known."""

from __future__ import annotations

from datetime import date
from typing import Literal, TypeAlias

from relet.model.values import Map, Path, Value

Scalar: TypeAlias = float | int | str | bool
How = Literal["read", "seen", "told", "kind", "chosen", "maker", "default"]
"""measured, seen on site, said by somebody, from the library of kinds, decided by us, declared by a maker,
left out and taken from the printed defaults."""


class Exactly(Value, frozen=True, kw_only=False):
    """One value. Numbers are held as given; text for letters and names."""

    value: Scalar


class Between(Value, frozen=True, kw_only=False):
    """A number somewhere in a closed range."""

    low: float
    high: float


class OneOf(Value, frozen=True, kw_only=False):
    """One of several, not known which: most of an inherited unit."""

    options: tuple[Scalar, ...]


class Open(Value, frozen=True, kw_only=True):
    """Not known. Judged over the plausible range of the tool's table."""


Held: TypeAlias = Exactly | Between | OneOf | Open


class Claim(Value, frozen=True, kw_only=True):
    """What is held about one fact. Claims are added, never overwritten.

    about  address of the fact
    holds  the value, range, options, or Open
    how    how it is known
    on     day it was read, seen or told
    note   instrument, person, or the row of the library it was taken from
    """

    about: Path
    holds: Held
    how: How
    on: date | None = None
    note: str = ""

    @property
    def certain(self) -> bool:
        """True if exactly one value is held."""
        return isinstance(self.holds, Exactly)


Facts: TypeAlias = Map[str, Claim]
"""Facts of one thing by field name ("length_m", "curve")."""

_STRENGTH: dict[How, int] = {"read": 6, "seen": 5, "maker": 4, "told": 3, "chosen": 3, "kind": 1, "default": 0}


def in_force(claims: tuple[Claim, ...]) -> Claim:
    """The claim that counts: the last `read`, else seen, maker, told, chosen, kind, default."""
    if not claims:
        raise ValueError("no claims")
    return max(enumerate(claims), key=lambda e: (_STRENGTH[e[1].how], e[1].on or date.min, e[0]))[1]
