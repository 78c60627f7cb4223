"""What may not be, in any state that a list of work passes through."""

from __future__ import annotations

from collections.abc import Collection, Iterator

from relet.changeover.isolation import Feeds
from relet.electrical.topology import ORIGIN, holder
from relet.model import Catalogue, Installation, Seat


def legal(
    installation: Installation,
    isolated: Collection[Seat] = (),
    *,
    catalogue: Catalogue | None = None,
    unknown: Collection[Seat] = (),
) -> tuple[str, ...]:
    """Problems of one state, each as a sentence; empty if it may be.

    isolated   devices (or "origin") that are open and locked off: below them something may hang loose
    catalogue  sizes of parts; without it overlapping ways and apertures are not seen
    unknown    elements whose feed was not known from the start: their loose ends are the survey's, not the list's
    """
    feeds = Feeds(installation, catalogue, frozenset(unknown))
    return (*_seats(installation, catalogue), *_loose(feeds, frozenset(isolated), frozenset(unknown)))


def _seats(i: Installation, catalogue: Catalogue | None) -> Iterator[str]:
    for seat in i.devices:
        if seat not in i.taps and holder(seat) not in i.boards and holder(seat) not in i.assemblies:
            yield f"{seat}: nothing is there to hold the device"
    for seat in i.outlets:
        if "/" in seat and holder(seat) not in i.assemblies:
            yield f"{seat}: nothing is there to hold the outlet"
    for seat in i.taps:
        if holder(seat) not in i.runs:
            yield f"{seat}: there is no run to tap"
    taken: dict[tuple[str, str, int], Seat] = {}
    for seat in [*i.devices, *i.outlets]:
        for place in extent(seat, i, catalogue):
            if place in taken and taken[place] != seat:
                yield f"{seat}: overlaps {taken[place]} at {place[0]}/{place[1]}/{place[2]}"
            taken[place] = seat


def extent(seat: Seat, i: Installation, catalogue: Catalogue | None) -> tuple[tuple[str, str, int], ...]:
    """Places on a rail or a face that a piece takes: ("A4", "rail", 3), ("A4", "rail", 4)."""
    parts = seat.split("/")
    if len(parts) != 3 or parts[1] not in ("rail", "face") or not parts[2].isdigit():
        return ()
    piece = i.outlets.get(seat) or i.devices.get(seat)
    field = "apertures" if parts[1] == "face" else "ways"
    part = catalogue.parts.get(piece.part) if catalogue is not None and piece is not None else None
    size = part.data.get(field, 1) if part is not None else 1
    first = int(parts[2])
    return tuple((parts[0], parts[1], n) for n in range(first, first + (int(size) if size else 1)))


def _loose(feeds: Feeds, isolated: frozenset[Seat], unknown: frozenset[Seat]) -> Iterator[str]:
    i = feeds.installation
    behind = {**{s: d.behind for s, d in i.devices.items()}, **{s: o.behind for s, o in i.outlets.items()}}
    for seat, up in behind.items():
        if up is None or up in i.devices or seat in unknown or feeds.dead(feeds.inside(seat), isolated):
            continue
        yield f"{seat}: {up} that feeds it is not there, and its enclosure is not isolated"
    for seat, run in i.runs.items():
        if seat in unknown:
            continue
        there = run.from_ == ORIGIN or run.from_ in {*i.devices, *i.taps, *i.boards, *i.assemblies}
        end = run.to == "end" or run.to in {*i.boards, *i.assemblies, *i.outlets, *i.loads}
        if not there and not feeds.dead(feeds.inside(run.from_), isolated):
            yield f"{seat}: {run.from_} that feeds it is not there, and the enclosure is not isolated"
        if not end and not feeds.dead([seat], isolated):
            yield f"{seat}: a live end hangs where {run.to} should be"
    for group in i.off_groups.values():
        for outlet in group.outlets:
            if outlet not in i.outlets and not feeds.dead(feeds.inside(outlet), isolated):
                yield f"{group.button}: switches off {outlet}, which is not there"
