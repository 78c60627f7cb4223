"""The way of a lead on the floor, from where it leaves the machine to a place.

The shortest walkable way inside the outline that crosses no barred area (aisle, doorway, wet floor), unless the
machine itself stands in that area. Falls and rises are the caller's to deduct. Machine bodies do not bar the way.

Method: the outline less the barred areas is the free floor. A shortest way in it is straight or bends at its
inward corners only, so it is found in the graph of those corners that see one another.
"""

from __future__ import annotations

import math
from collections.abc import Collection, Sequence
from functools import lru_cache
from typing import Final

import numpy as np
import numpy.typing as npt
import shapely
from shapely.geometry import Point as Dot
from shapely.geometry import Polygon
from shapely.geometry.base import BaseGeometry
from shapely.geometry.polygon import orient

from relet.model import Point, Space, Value
from relet.space.shortest import closure, dijkstra, way_back
from relet.space.spots import Spot
from relet.space.walls import polygon, strip, wall_named
from relet.space.zones import keep_clear, zones_of_kind
from relet.working import Figure, Formula, solved

Lengths = npt.NDArray[np.float64]

_SKIN_M: Final = 1e-4
"""A sight line may graze a wall or a barred area by this much, so that rounding hides no way."""
_GRID_M: Final = 1e-7
_PIECE_M2: Final = 1e-6
_PLUG_M: Final = 1e-3

VERTICAL: Final = Formula("v = abs(h1 - h2)", "m", h1="m", h2="m", source="geometry: difference of two heights")


class Bar(Value, frozen=True, kw_only=True):
    """A part of the floor that no lead may cross: id for the message, polygon (not closed)."""

    id: str
    area_m: tuple[Point, ...]


class Way(Value, frozen=True, kw_only=True):
    """A lead's way: corner points from machine to place and length; no points and inf where there is none."""

    points: tuple[Point, ...]
    length_m: float


def bars(
    space: Space, wet: Collection[str] = (), *, doorway_depth_m: float = 1.0, doorway_height_m: float = 1.8
) -> tuple[Bar, ...]:
    """What bars leads: keep_clear zones, zones of the kinds in `wet`, and the floor before every doorway.

    doorway_depth_m   depth of that floor, 0 for none (house default, no standard's)
    doorway_height_m  openings lower than this are windows, not doorways (house default)
    """
    zones = {**keep_clear(space), **zones_of_kind(space, wet)}
    out = [Bar(id=id, area_m=zones[id].area_m) for id in sorted(zones)]
    if doorway_depth_m > 0:
        for id, o in space.openings.items():
            if o.height_m >= doorway_height_m:
                floor = strip(wall_named(space, o.wall), o.from_m, o.to_m, doorway_depth_m)
                corners = [(x, y) for x, y in floor.exterior.coords[:-1]]
                out.append(Bar(id=id, area_m=tuple(corners)))
    return tuple(out)


class _Floor:
    """One connected piece of free floor: its inward corners, and the shortest ways among them."""

    def __init__(self, piece: Polygon, corners: list[Point]) -> None:
        self.skin = piece.buffer(_SKIN_M, join_style="mitre")
        shapely.prepare(self.skin)
        self.corners = np.array(corners, dtype=float).reshape(-1, 2)
        self.seen = self.sees(self.corners, self.corners)
        self.ways = closure(self.seen)

    def sees(self, a: Lengths, b: Lengths) -> Lengths:
        """Straight distances from each of a (n, 2) to each of b (m, 2) on free floor; inf where it is not free."""
        ends = np.empty((len(a), len(b), 2, 2))
        ends[:, :, 0] = a[:, None]
        ends[:, :, 1] = b[None]
        straight = np.hypot(*np.moveaxis(ends[:, :, 1] - ends[:, :, 0], -1, 0))
        return np.where(shapely.covers(self.skin, shapely.linestrings(ends)), straight, np.inf)


@lru_cache(maxsize=256)
def _floors(outline_m: tuple[Point, ...], areas: tuple[tuple[Point, ...], ...]) -> tuple[_Floor, ...]:
    whole = polygon(outline_m)
    free: BaseGeometry = whole
    if areas:
        free = shapely.difference(whole, shapely.union_all([polygon(a) for a in areas]), grid_size=_GRID_M)
    parts = [_plugged(p) for p in shapely.get_parts(free) if isinstance(p, Polygon)]
    pieces = [p for part in parts for p in shapely.get_parts(part) if p.area > _PIECE_M2]
    return tuple(_Floor(p, [c for ring in _rings(p) for c in _inward(ring)]) for p in pieces)


def _plugged(piece: Polygon) -> BaseGeometry:
    """A piece with every point closed where two of its rings touch: between them nothing passes."""
    rings = [piece.exterior, *piece.interiors]
    touching = [r.intersection(q) for i, r in enumerate(rings) for q in rings[:i]]
    plugs = [t.buffer(_PLUG_M, cap_style="square") for t in touching if not t.is_empty]
    return piece.difference(shapely.union_all(plugs)) if plugs else piece


def _rings(piece: Polygon) -> list[list[Point]]:
    whole = orient(piece)
    return [[(x, y) for x, y in r.coords[:-1]] for r in (whole.exterior, *whole.interiors)]


def _inward(ring: list[Point]) -> list[Point]:
    """Corners that stick into the free floor: those where a ring that keeps the floor on its left turns right."""
    out = []
    for a, p, b in zip((ring[-1], *ring), ring, (*ring[1:], ring[0])):
        if (p[0] - a[0]) * (b[1] - p[1]) - (p[1] - a[1]) * (b[0] - p[0]) < 0:
            out.append(p)
    return out


def _barring(machine: Point, barred: Sequence[Bar]) -> tuple[tuple[Point, ...], ...]:
    """The areas that bar the lead of a machine: all but those it stands in."""
    dot = Dot(machine)
    return tuple(b.area_m for b in barred if polygon(b.area_m).distance(dot) > _GRID_M)


def lead_way(space: Space, from_m: Point, to_m: Point, barred: Sequence[Bar]) -> Way:
    """The shortest way with its corner points, for drawing."""
    best = Way(points=(), length_m=math.inf)
    for floor in _floors(space.outline_m, _barring(from_m, barred)):
        nodes = np.vstack([floor.corners, [from_m], [to_m]])
        n = len(nodes)
        lengths = np.full((n, n), np.inf)
        lengths[: n - 2, : n - 2] = floor.seen
        lengths[n - 2 :] = floor.sees(nodes[n - 2 :], nodes)
        lengths[:, n - 2 :] = lengths[n - 2 :].T
        edges = {u: [(v, float(w)) for v, w in enumerate(row) if w < math.inf] for u, row in enumerate(lengths)}
        found, before = dijkstra(edges, n - 2)
        if found.get(n - 1, math.inf) < best.length_m:
            way = way_back(before, n - 2, n - 1)
            best = Way(points=tuple((float(x), float(y)) for x, y in nodes[way]), length_m=found[n - 1])
    return best


def lead_way_m(space: Space, from_: Spot, to: Spot, barred: Sequence[Bar]) -> Figure:
    """Length in plan of the shortest way of a lead from the machine to a place, m; inf where there is none.

    A solved figure whose givens are the coordinates of the two points; its method names the corners it goes round.
    """
    way = lead_way(space, from_.at_m, to.at_m, barred)
    if not way.points:
        method = "no walkable way inside the outline" + (
            f" that does not cross {', '.join(b.id for b in barred)}" if barred else ""
        )
    else:
        round_ = ", ".join(f"({x:g}, {y:g})" for x, y in way.points[1:-1])
        method = "shortest walkable way" + (f", round {round_}" if round_ else ", straight")
    return solved(way.length_m, "m", method, 0.0, (*from_.plan(), *to.plan()), name="way")


def lead_ways_m(space: Space, machines: Sequence[Point], places: Sequence[Point], barred: Sequence[Bar]) -> Lengths:
    """Lengths of all ways in m, shape (machines, places), inf where there is none: for the planner."""
    out = np.full((len(machines), len(places)), np.inf)
    if not out.size:
        return out
    to = np.array(places, dtype=float).reshape(-1, 2)
    alike: dict[tuple[tuple[Point, ...], ...], list[int]] = {}
    for i, m in enumerate(machines):
        alike.setdefault(_barring(m, barred), []).append(i)
    for areas, rows in alike.items():
        from_ = np.array([machines[i] for i in rows], dtype=float)
        for floor in _floors(space.outline_m, areas):
            ways = floor.sees(from_, to)
            if len(floor.corners):
                leave = floor.sees(from_, floor.corners)
                arrive = _through(floor.ways, floor.sees(floor.corners, to))
                ways = np.minimum(ways, _through(leave, arrive))
            out[rows] = np.minimum(out[rows], ways)
    return out


def _through(a: Lengths, b: Lengths) -> Lengths:
    """Shortest sum over the shared middle: (n, k) and (k, m) to (n, m)."""
    best: Lengths = np.full((a.shape[0], b.shape[1]), np.inf)
    for k in range(a.shape[1]):
        np.minimum(best, a[:, k, None] + b[k], out=best)
    return best


def vertical_m(from_height: Figure, to_height: Figure) -> Figure:
    """Vertical part of a lead or drop between two heights above the floor (0 for the floor, the bench), m."""
    return VERTICAL(from_height, to_height)
