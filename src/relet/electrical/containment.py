"""Trunking, conduit and tray: how full, and the ledger of a section.

Fill is by area. The ledger lists the circuits of a section with the grouping factor they share, and says how many more
may join before one that lies there already fails: adding a circuit can make untouched circuits fail.
"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass, replace
from typing import Final, Literal

from relet.electrical.conductors import NO_FACTORS, Factors, installed_rating
from relet.electrical.impedance import total
from relet.errors import OutsideTable
from relet.working import Figure, Formula, solved

CABLE_AREA = Formula("A1 = acos(-1) * De ** 2 / 4", "mm2", De="mm", source="area of a circle by overall diameter")
COUNTED = Formula("A = n * A1", "mm2", n="", A1="mm2", source="n equal cables")
INSIDE = Formula("Ac = w * h", "mm2", w="mm", h="mm", source="inside section of a trunking")
ALLOWED = Formula("A = s * Ac", "mm2", s="", Ac="mm2", source="share of the inside section that cables may take")

CAP: Final = 99
"""The ledger stops counting here: a section with room for a hundred more circuits has no limit worth a number."""


def cable_area(overall_diameter_mm: Figure, number: Figure | None = None) -> Figure:
    """Area of one cable, or of n equal ones, by overall diameter, mm2."""
    one = CABLE_AREA(overall_diameter_mm)
    return one if number is None else COUNTED(number, one)


def inside_area(width_mm: Figure, height_mm: Figure) -> Figure:
    """Inside section of a trunking, mm2."""
    return INSIDE(width_mm, height_mm)


@dataclass(frozen=True, slots=True)
class Laid:
    """A circuit in a section.

    id        its seat
    load_a    current it must be able to carry: rated current of its device
    it_a      its tabulated rating by the method of the section
    factors   its other rating factors; any grouping factor in it is replaced by the section's
    takes     area of its cables (unit as `room`), None: not known
    """

    id: str
    load_a: Figure
    it_a: Figure
    factors: Factors = NO_FACTORS
    takes: Figure | None = None


@dataclass(frozen=True, slots=True)
class Section:
    """A containment section.

    grouping   number of circuits -> grouping factor Cg; raises OutsideTable beyond its table
    room       what its cables may take together, mm2; None: not limited
    """

    id: str
    circuits: tuple[Laid, ...]
    grouping: Callable[[int], Figure]
    room: Figure | None = None


Limit = Literal["rating", "fill", "fill not known", "table", "none"]


@dataclass(frozen=True, slots=True)
class Ledger:
    """What a section holds and what it can still take.

    count      circuits, all of which count as loaded
    factor     grouping factor for that number; None: beyond the table
    iz_a       rating of each circuit in this group, by id; empty beyond the table
    taken      area taken, None where a cable's size is not known
    failing    ids of circuits whose rating is below their current now
    more       further circuits that may join, as a figure
    limit      what stops the next one: an existing circuit's rating, the fill, a fill that is not known, the end of the
               grouping table, nothing
    first      id of the circuit that would fail first, if it is a rating
    """

    section: str
    count: int
    factor: Figure | None
    iz_a: dict[str, Figure]
    taken: Figure | None
    failing: tuple[str, ...]
    more: Figure
    limit: Limit
    first: str | None


def ledger(section: Section) -> Ledger:
    """Account of a section.

    A further circuit is taken to be as large as the largest of those that lie there. A section in which a circuit fails
    already has room for none; one whose fill is not known has room for none that is known.
    """
    count = len(section.circuits)
    sizes = [c.takes for c in section.circuits]
    known = [s for s in sizes if s is not None]
    taken = total(known, "T", "sum of what the cables take") if known and len(known) == len(sizes) else None
    size = max(known, default=None)
    factor = _factor(section, max(1, count))
    iz = {} if factor is None else _ratings(section, factor)
    failing = tuple(c.id for c in section.circuits if c.id in iz and iz[c.id] < c.load_a)
    more, limit, first = _more(section, count, taken, size, failing, beyond=factor is None)
    given = [f for c in section.circuits for f in (c.load_a, c.it_a)]
    given += [f for f in (factor, section.room, size) if f is not None]
    how = f"circuits added one by one to {section.id} until {_WORDS[limit]}" + (f" ({first})" if first else "")
    return Ledger(
        section.id, count, factor, iz, taken, failing,
        solved(float(more), "", how, 0.0, given, name="more"), limit, first,
    )  # fmt: skip


_WORDS: Final[dict[Limit, str]] = {
    "rating": "an existing circuit's rating falls below its current",
    "fill": "the containment is full",
    "fill not known": "the fill is not known",
    "table": "the grouping table ends",
    "none": "the count was given up",
}


def _more(
    section: Section, count: int, taken: Figure | None, size: Figure | None, failing: tuple[str, ...], *, beyond: bool
) -> tuple[int, Limit, str | None]:
    if beyond:
        return 0, "table", None
    if failing:
        return 0, "rating", failing[0]
    if section.room is not None and (taken is None or size is None):
        return 0, "fill not known", None
    for extra in range(1, CAP + 1):
        if section.room is not None and taken is not None and size is not None and taken + extra * size > section.room:
            return extra - 1, "fill", None
        factor = _factor(section, count + extra)
        if factor is None:
            return extra - 1, "table", None
        iz = _ratings(section, factor)
        short = [c for c in section.circuits if iz[c.id] < c.load_a]
        if short:
            return extra - 1, "rating", min(short, key=lambda c: iz[c.id] / c.load_a).id
    return CAP, "none", None


def _factor(section: Section, circuits: int) -> Figure | None:
    try:
        return section.grouping(circuits)
    except OutsideTable:
        return None


def _ratings(section: Section, factor: Figure) -> dict[str, Figure]:
    return {c.id: installed_rating(c.it_a, replace(c.factors, cg=factor)) for c in section.circuits}
