"""Which zone governs at a point. Zones may overlap; what none covers is ordinary floor."""

from __future__ import annotations

from collections.abc import Collection, Mapping

from shapely.geometry import Point as Dot

from relet.model import Point, Space, Zone
from relet.space.walls import polygon

ORDINARY = "dry_clean"
"""Kind of the floor that no zone covers."""


def zones_at(space: Space, point: Point) -> tuple[str, ...]:
    """Ids of every zone with a kind that holds the point or its edge, in order of id; () is ordinary floor.

    The caller takes the worst of their codes one influence at a time.
    """
    dot = Dot(point)
    return tuple(i for i, z in space.zones.items() if z.kind and polygon(z.area_m).distance(dot) <= 1e-9)


def governing_zone(space: Space, point: Point, rank: Mapping[str, float]) -> str | None:
    """Id of the worst zone at a point by rank of its kind (greater is worse), None for ordinary floor.

    A kind without rank is worse than any with one: what is not known is not taken for harmless.
    """
    here = zones_at(space, point)
    return max(here, key=lambda i: rank.get(space.zones[i].kind, float("inf")), default=None)


def keep_clear(space: Space) -> dict[str, Zone]:
    """Zones that are kept clear: aisles, escape routes."""
    return {i: z for i, z in space.zones.items() if z.keep_clear}


def zones_of_kind(space: Space, kinds: Collection[str]) -> dict[str, Zone]:
    """Zones of these kinds."""
    return {i: z for i, z in space.zones.items() if z.kind in kinds}
