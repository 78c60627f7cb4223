"""What a read unit file is."""

from __future__ import annotations

from dataclasses import dataclass, field
from datetime import date
from functools import cached_property
from pathlib import Path

from relet.files.lines import Lines
from relet.files.source import Source
from relet.model import Digest, Installation, Map, Seat, Tenancy, Unit, Value, Wishes, digest


class Reading(Value, frozen=True, kw_only=True):
    """One measured value as the file holds it.

    of     "zs", "insulation", "r1r2", "rcd_time", "polarity", "ipf", "ze" ...
    at     seat it was taken at, or "supply"
    value  in `unit` ("ohm", "Mohm", "ms", "kA", "V", "" for a yes or no); None for a value not known yet
    on, with_   day and instrument
    """

    id: str
    of: str
    at: Seat
    value: float | bool | None
    unit: str
    on: date | None = None
    with_: str = ""


@dataclass(frozen=True)
class UnitFile:
    """One unit file, read and found without fault.

    tenancies   by id; `in_order` gives them by the day they come in
    designs     plan files by tenancy, as named in the file; `beside` gives their path
    catalogue, prices   file names, "" for the shipped invented ones
    """

    unit: Unit
    standing: Installation
    tenancies: Map[str, Tenancy]
    readings: tuple[Reading, ...]
    wishes: Wishes
    stock: Map[str, int]
    designs: Map[str, str]
    catalogue: str
    prices: str
    source: Source = field(repr=False, compare=False)

    @property
    def file(self) -> str:
        """Name of the file as it was asked for."""
        return self.source.name

    @property
    def lines(self) -> Lines:
        """Line by path inside the file; made when it is first asked for."""
        return self.source.lines

    @cached_property
    def digest(self) -> Digest:
        """Of everything a plan can depend on: unit, standing, tenancies, wishes and stock."""
        return digest((self.unit, self.standing, self.tenancies, self.wishes, self.stock))

    @property
    def in_order(self) -> tuple[Tenancy, ...]:
        """Tenancies by the day they come in; those without a day first."""
        return tuple(sorted(self.tenancies.values(), key=lambda t: (t.from_ or date.min, t.id)))

    def beside(self, name: str) -> Path:
        """The path of a file that this file names."""
        return self.source.path.parent / name
