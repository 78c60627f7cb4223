"""How far a place is from what it must keep clear of, edge to edge in plan, and how high its parts come."""

from __future__ import annotations

from collections.abc import Collection, Iterable, Mapping, Sequence
from dataclasses import dataclass
from typing import Final, Literal

from shapely.geometry import Point as Dot
from shapely.geometry import box
from shapely.geometry.base import BaseGeometry

from relet.model import Point, Space
from relet.space.places import footprint
from relet.space.spots import Spot
from relet.space.walls import Wall, nearest_wall, polygon, segment, wall_named, walls
from relet.space.zones import keep_clear, zones_of_kind
from relet.working import Figure, Formula, choose, solved

Kind = Literal["opening", "board", "wet", "water", "assembly", "edge", "keep_clear"]


@dataclass(frozen=True, slots=True)
class Item:
    """An assembly or board on a wall or post, with what is known of its width (m) and stand-out (m)."""

    spot: Spot
    width_m: Figure
    depth_m: Figure


@dataclass(frozen=True, slots=True)
class Clearance:
    """One distance: to what kind of thing, which one, and the gap (m, 0 where they overlap or touch)."""

    kind: Kind
    to: str
    gap_m: Figure


@dataclass(frozen=True, slots=True)
class Heights:
    """Heights above the floor of an enclosure centred at a height, m.

    low, high  its edges;  handle  its switch handle, None where not known;  outlets  centres of its outlets,
    in the order given
    """

    low_m: Figure
    high_m: Figure
    handle_m: Figure | None
    outlets_m: tuple[Figure, ...]


LOW: Final = Formula("low = h - E / 2000", "m", h="m", E="mm", source="geometry: an enclosure centred at h")
HIGH: Final = Formula("high = h + E / 2000", "m", h="m", E="mm", source="geometry: an enclosure centred at h")
AT: Final = Formula("at = h + d / 1000", "m", h="m", d="mm", source="geometry: a part d above the centre at h")

_GAP: Final = "straight distance in plan, edge to edge"
_WALL_M: Final = 0.5


def clearances(
    space: Space, item: Item, *, boards: Iterable[Item] = (), board_working_m: Figure | None = None,
    wet: Collection[str] = (), water: Mapping[str, Point] | None = None, others: Iterable[Item] = (),
) -> tuple[Clearance, ...]:  # fmt: skip
    """Distances to everything around, nearest first.

    boards   with the depth of their working space `board_working_m`: measured to the edge of that space
    wet      kinds of zone counted as wet;  water  taps, sinks, drains by name
    others   other assemblies (the item itself, by path, is passed over)
    """
    own, given = _footprint(space, item), _given(item)
    out: list[Clearance] = []

    def add(kind: Kind, to: str, shape: BaseGeometry, more: tuple[Figure, ...] = ()) -> None:
        gap = solved(own.distance(shape), "m", f"{_GAP}, to {to}", 0.0, (*given, *more), name="gap")
        out.append(Clearance(kind, to, gap))

    for id, o in space.openings.items():
        add("opening", id, segment(wall_named(space, o.wall), o.from_m, o.to_m))
    for id, z in keep_clear(space).items():
        add("keep_clear", id, polygon(z.area_m))
    for id, z in zones_of_kind(space, wet).items():
        add("wet", id, polygon(z.area_m))
    for id, at in (water or {}).items():
        add("water", id, Dot(at))
    for other in boards:
        working = () if board_working_m is None else (board_working_m,)
        add("board", other.spot.name, _footprint(space, other, *working), (*_given(other), *working))
    for other in others:
        if other.spot.path != item.spot.path:
            add("assembly", other.spot.name, _footprint(space, other), _given(other))
    spot = nearest_wall(space, item.spot.at_m)
    if spot.distance_m <= _WALL_M:
        wall = walls(space)[spot.wall]
        for end, at in zip(("west", "east") if _lies_west_east(wall) else ("south", "north"), (wall.start, wall.end)):
            add("edge", f"{end} end of the {wall.name} wall", Dot(at))
    return tuple(sorted(out, key=lambda c: (float(c.gap_m), c.kind, c.to)))


def clearance_m(
    space: Space, item: Item, kind: Kind, *, boards: Iterable[Item] = (), board_working_m: Figure | None = None,
    wet: Collection[str] = (), water: Mapping[str, Point] | None = None, others: Iterable[Item] = (),
) -> Clearance | None:  # fmt: skip
    """The nearest thing of one kind and the gap to it; None where there is none of that kind."""
    every = clearances(space, item, boards=boards, board_working_m=board_working_m, wet=wet, water=water, others=others)
    return nearest(every, kind)


def nearest(several: Iterable[Clearance], kind: Kind | None = None) -> Clearance | None:
    """The least of several gaps (of one kind), as a choice among figures; None where there is none."""
    those = [c for c in several if kind in (None, c.kind)]
    if not those:
        return None
    least = min(those, key=lambda c: float(c.gap_m))
    gap = choose([c.gap_m for c in those], min, f"the nearest, {least.to}", name="gap")
    return Clearance(least.kind, least.to, gap)


def heights(
    centre: Figure, height_mm: Figure, handle_above_mm: Figure | None = None, outlets_above_mm: Sequence[Figure] = ()
) -> Heights:
    """Heights of edges, handle and outlets of an enclosure.

    centre           height of its centre above the floor, m
    height_mm        height of the enclosure
    handle_above_mm  handle above the centre (negative below); not known: the edges bound it
    outlets_above_mm centres of outlets above the centre
    """
    return Heights(
        low_m=LOW(centre, height_mm),
        high_m=HIGH(centre, height_mm),
        handle_m=None if handle_above_mm is None else AT(centre, handle_above_mm),
        outlets_m=tuple(AT(centre, d) for d in outlets_above_mm),
    )


def _lies_west_east(wall: Wall) -> bool:
    return wall.name.startswith(("north", "south"))


def _given(item: Item) -> tuple[Figure, ...]:
    return (*item.spot.plan(), item.width_m, item.depth_m)


def _footprint(space: Space, item: Item, working_m: float = 0.0) -> BaseGeometry:
    """What an item covers in plan, with the floor before it to a depth of `working_m` past its own."""
    at, half = item.spot.at_m, float(item.width_m) / 2
    spot = nearest_wall(space, at)
    if spot.distance_m <= _WALL_M:
        depth = max(float(item.depth_m), spot.distance_m) + working_m
        return footprint(walls(space)[spot.wall], spot.along_m, half, depth)
    return box(at[0] - half, at[1] - half, at[0] + half, at[1] + half).buffer(working_m, join_style="mitre")
