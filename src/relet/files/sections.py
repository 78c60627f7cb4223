"""Sections of a file that hold pieces, laid over one another, each piece knowing where in the file it stands."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from functools import cached_property
from typing import Any

from relet.files.mistakes import Where
from relet.files.pieces import InstallationRow
from relet.files.pieces_in import known_seats
from relet.model import Installation, Seat

GROUPS = ("boards", "assemblies", "devices", "outlets", "runs", "taps", "containment", "loads", "off_groups")


@dataclass(frozen=True)
class Section:
    """One section: its place in the file, its rows as written, and what it holds."""

    where: Where
    row: InstallationRow
    held: Installation


@dataclass(frozen=True)
class Sections:
    """Sections that make one installation together: what stands alone, or a backbone with one tenancy's contents.

    own   how many of the last sections are looked at; those before are only known of (and were looked at before)
    """

    sections: tuple[Section, ...]
    own: int = 1

    @cached_property
    def _groups(self) -> dict[str, dict[str, Any]]:
        return {}

    @cached_property
    def known(self) -> set[str]:
        """Every name that is something."""
        return known_seats(*(s.held for s in self.sections))

    @cached_property
    def written_loads(self) -> set[str]:
        """Loads that stand in the file, without those that a run makes by going to a name that is nothing else."""
        return {load for s in self.sections for load in s.row.loads}

    def group(self, name: str) -> dict[str, Any]:
        """All pieces of one group by seat."""
        if name not in self._groups:
            self._groups[name] = {seat: piece for s in self.sections for seat, piece in getattr(s.held, name).items()}
        return self._groups[name]

    def mine(self, name: str) -> Iterator[tuple[Seat, Any, Where]]:
        """Pieces of one group that are looked at here, each with its place in the file."""
        for section in self.sections[-self.own :]:
            for seat, piece in getattr(section.held, name).items():
                yield seat, piece, self._in(section, name, seat)

    def where(self, name: str, seat: str) -> Where:
        """The place of a piece in the file."""
        for section in reversed(self.sections):
            if seat in getattr(section.held, name):
                return self._in(section, name, seat)
        return (*self.sections[-1].where, name, seat)

    @staticmethod
    def _in(section: Section, name: str, seat: str) -> Where:
        if name == "devices" and seat not in section.row.devices:  # written with its board
            return (*section.where, "boards", seat.removesuffix("/incomer"), "incomer")
        return (*section.where, name, seat)
