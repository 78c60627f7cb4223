"""The graph that cables run in: walls at containment height, drawn containment, and spurs to what stands off them.

Three kinds of edge. A stretch of wall costs its length, and the way up and down again over each opening whose head
reaches above the containment. A stretch of drawn containment across the room costs its length. A spur joins a point
or a containment to a wall, straight across, with the difference of level. Containment drawn along a wall makes no
edge: it lends its name to that stretch.
"""

from __future__ import annotations

import math
from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from itertools import pairwise
from typing import Final, Literal

import shapely
from shapely.geometry import LineString

from relet.model import Containment, Point, Space
from relet.space.shortest import dijkstra, way_back
from relet.space.walls import NEAR_M, Wall, polygon, walls

AT_WALL_M: Final = 0.5
"""What hangs no further from a wall than this belongs to it, and is reached along it only."""
_HUGS_M: Final = 0.3
_HAIR_M: Final = NEAR_M / 10


@dataclass(frozen=True, slots=True)
class Stretch:
    """One edge as walked: in what, from where to where along it, plan length, and up and down on the way."""

    kind: Literal["wall", "containment", "spur"]
    name: str
    from_m: float
    to_m: float
    along_m: float
    over_m: float
    over: tuple[str, ...] = ()

    def back(self) -> Stretch:
        """The same edge walked the other way."""
        return Stretch(self.kind, self.name, self.to_m, self.from_m, self.along_m, self.over_m, self.over)


@dataclass(frozen=True, slots=True)
class Trace:
    """A way through the net: points in plan and the edges between them."""

    points: tuple[Point, ...]
    stretches: tuple[Stretch, ...]

    @property
    def along_m(self) -> float:
        """Length in plan, m."""
        return math.fsum(s.along_m for s in self.stretches)

    @property
    def over_m(self) -> float:
        """Up and down on the way, over openings and between containments, m."""
        return math.fsum(s.over_m for s in self.stretches)


@dataclass(frozen=True, slots=True)
class Cover:
    """Containment drawn along a wall: from `from_m` to `to_m` of the wall it is `at_m` to `end_m` of its own path."""

    id: str
    from_m: float
    to_m: float
    at_m: float
    end_m: float


class _Heads:
    """Openings of one wall whose heads reach above the containment."""

    def __init__(self, space: Space, wall: str, height_m: float, over_m: float) -> None:
        high = {
            id: o for id, o in space.openings.items() if o.wall == wall and o.height_m + over_m > height_m + _HAIR_M
        }
        self.spans = {id: (o.from_m, o.to_m) for id, o in high.items()}
        shut = {id for id, o in high.items() if o.height_m + over_m > space.ceiling_m}
        self.shut = [self.spans[id] for id in shut]
        marks = sorted({s for span in self.spans.values() for s in span})
        levels = [0.0]
        for a, b in pairwise(marks):
            reach = [o.height_m + over_m - height_m for o in high.values() if o.from_m <= a and b <= o.to_m]
            levels.append(max(reach, default=0.0))
        levels.append(0.0)
        # a rise counts just past its mark and a fall just before it, so that a point at the jamb is still low
        self.steps = [
            (s + (_HAIR_M if after > before else -_HAIR_M), abs(after - before))
            for s, before, after in zip(marks, levels, levels[1:])
        ]

    def over_m(self, a: float, b: float) -> float:
        """Up and down between two points of the wall, a < b; inf where it cannot be passed."""
        if any(a < t - _HAIR_M and f + _HAIR_M < b for f, t in self.shut):
            return math.inf
        return sum(step for s, step in self.steps if a < s < b)

    def names(self, a: float, b: float) -> tuple[str, ...]:
        """Openings that are led over between two points, a < b."""
        return tuple(id for id, (f, t) in self.spans.items() if a < t - _HAIR_M and f + _HAIR_M < b)


class Net:
    """The graph for some points of one space.

    points are ends: ways start and end there and never lead through another one.
    """

    def __init__(
        self, space: Space, height_m: float, over_m: float, points: Sequence[Point],
        containment: Mapping[str, Containment] | None = None,
    ) -> None:  # fmt: skip
        self.space, self.height_m = space, height_m
        self.walls = walls(space)
        self.at: list[Point] = []
        self.edges: dict[int, list[tuple[int, float]]] = {}
        self.stretch: dict[tuple[int, int], Stretch] = {}
        self.covers: dict[str, list[Cover]] = {name: [] for name in self.walls}
        self._skin = polygon(space.outline_m).buffer(NEAR_M, join_style="mitre")
        shapely.prepare(self._skin)
        self._stops: dict[str, list[tuple[float, int]]] = {}
        self._lines: dict[tuple[str, int], tuple[Point, Point, float, list[tuple[float, int]]]] = {}
        self._heights: dict[str, float] = {}
        self._corners()
        for id, c in (containment or {}).items():
            self._draw(id, c)
        self._join_containment()
        made = {p: self._end(p) for p in dict.fromkeys(points)}
        self.ends = [made[p] for p in points]
        self._string(over_m)

    def trace(self, a: int, b: int) -> Trace | None:
        """Shortest way from point number a to point number b; None where there is none."""
        start, end = self.ends[a], self.ends[b]
        found, before = dijkstra(self.edges, start, self.ends)
        if end not in found:
            return None
        way = way_back(before, start, end)
        points = [self.at[way[0]]]
        for n in way[1:]:
            if math.dist(self.at[n], points[-1]) > _HAIR_M:
                points.append(self.at[n])
        return Trace(tuple(points), tuple(self.stretch[u, v] for u, v in pairwise(way)))

    def lengths_m(self, a: int) -> list[float]:
        """Lengths from point number a to every point, inf where there is no way."""
        found, _ = dijkstra(self.edges, self.ends[a], self.ends)
        return [found.get(e, math.inf) for e in self.ends]

    # ---- building ----

    def _node(self, at: Point) -> int:
        self.at.append(at)
        return len(self.at) - 1

    def _edge(self, u: int, v: int, s: Stretch) -> None:
        cost = s.along_m + s.over_m
        old = self.stretch.get((u, v))
        if u == v or cost == math.inf or (old and old.along_m + old.over_m <= cost):
            return
        self.stretch[u, v], self.stretch[v, u] = s, s.back()
        self.edges.setdefault(u, []).append((v, cost))
        self.edges.setdefault(v, []).append((u, cost))

    def _corners(self) -> None:
        known: dict[tuple[float, float], int] = {}
        for name, wall in self.walls.items():
            self._stops[name] = []
            for s, at in ((0.0, wall.start), (wall.length_m, wall.end)):
                key = (round(at[0], 6), round(at[1], 6))
                if key not in known:
                    known[key] = self._node(at)
                self._stops[name].append((s, known[key]))

    def _stop(self, wall: str, along_m: float) -> int:
        node = self._node(self.walls[wall].at(along_m))
        self._stops[wall].append((along_m, node))
        return node

    def _feet(self, p: Point, within_m: float) -> list[tuple[str, float, float]]:
        """(wall, along, distance) of each wall whose foot is no further than `within_m` and seen straight across."""
        out = []
        for name, wall in self.walls.items():
            s, d = wall.along(p), abs(wall.off(p))
            if d <= within_m and -NEAR_M <= s <= wall.length_m + NEAR_M:
                s = min(max(s, 0.0), wall.length_m)
                if d <= NEAR_M or self._skin.covers(LineString([p, wall.at(s)])):
                    out.append((name, s, d if d > NEAR_M else 0.0))
        return out

    def _nearest_corner(self, p: Point) -> tuple[str, float, float]:
        ends = [(n, s, math.dist(p, w.at(s))) for n, w in self.walls.items() for s in (0.0, w.length_m)]
        return min(ends, key=lambda e: e[2])

    def _end(self, p: Point) -> int:
        node = self._node(p)
        feet = self._feet(p, AT_WALL_M)
        if feet:  # it hangs on the nearest wall, on two only in the very corner
            least = min(d for _, _, d in feet)
            feet = [f for f in feet if f[2] <= least + _HAIR_M]
        feet = feet or self._feet(p, math.inf) or [self._nearest_corner(p)]
        for wall, s, d in feet:
            self._edge(self._stop(wall, s), node, Stretch("spur", wall, 0.0, d, d, 0.0))
        off_walls = min(d for _, _, d in feet) > AT_WALL_M
        for (id, _), (a, b, offset, stops) in self._lines.items():
            s, d = _foot(p, a, b)
            if d <= AT_WALL_M or off_walls:
                foot = self._node(_between(a, b, s))
                if d > NEAR_M and not self._skin.covers(LineString([p, self.at[foot]])):
                    continue
                stops.append((offset + s, foot))
                self._edge(foot, node, Stretch("spur", id, 0.0, d, d, abs(self._heights[id] - self.height_m)))
        return node

    def _draw(self, id: str, c: Containment) -> None:
        self._heights[id] = c.height_m
        offset = 0.0
        last: int | None = None
        for i, (a, b) in enumerate(pairwise(c.path_m)):
            length = math.dist(a, b)
            if length <= NEAR_M:
                continue
            cover = self._along_wall(a, b)
            if cover:
                wall, s1, s2 = cover
                here = (s1, s2, offset, offset + length) if s1 < s2 else (s2, s1, offset + length, offset)
                self.covers[wall].append(Cover(id, *here))
                last = None
            else:
                first = self._node(a) if last is None else last
                last = self._node(b)
                self._lines[id, i] = (a, b, offset, [(offset, first), (offset + length, last)])
            offset += length

    def _along_wall(self, a: Point, b: Point) -> tuple[str, float, float] | None:
        for name, wall in self.walls.items():
            s = (wall.along(a), wall.along(b))
            near = max(abs(wall.off(a)), abs(wall.off(b))) <= _HUGS_M
            if near and min(s) >= -_HUGS_M and max(s) <= wall.length_m + _HUGS_M:
                return name, s[0], s[1]
        return None

    def _join_containment(self) -> None:
        for (id, _), (a, b, _offset, stops) in self._lines.items():
            for at, (_, node) in zip((a, b), list(stops[:2])):
                level = abs(self._heights[id] - self.height_m)
                for wall, s, d in self._feet(at, AT_WALL_M):
                    self._edge(self._stop(wall, s), node, Stretch("spur", wall, 0.0, d, d, level))
                for (other, _), (p, q, start, more) in self._lines.items():
                    s, d = _foot(at, p, q)
                    if other != id and d <= AT_WALL_M:
                        foot = self._node(_between(p, q, s))
                        more.append((start + s, foot))
                        step = abs(self._heights[id] - self._heights[other])
                        self._edge(foot, node, Stretch("spur", other, 0.0, d, d, step))

    def _string(self, over_m: float) -> None:
        """Join the stops of each wall and each drawn containment in order."""
        for name, stops in self._stops.items():
            heads = _Heads(self.space, name, self.height_m, over_m)
            stops.sort()
            for (s1, u), (s2, v) in pairwise(stops):
                made = Stretch("wall", name, s1, s2, s2 - s1, heads.over_m(s1, s2), heads.names(s1, s2))
                self._edge(u, v, made)
        for (id, _), (_, _, _, stops) in self._lines.items():
            stops.sort()
            for (s1, u), (s2, v) in pairwise(stops):
                self._edge(u, v, Stretch("containment", id, s1, s2, s2 - s1, 0.0))


def _between(a: Point, b: Point, s: float) -> Point:
    t = s / math.dist(a, b)
    return (a[0] + t * (b[0] - a[0]), a[1] + t * (b[1] - a[1]))


def _foot(p: Point, a: Point, b: Point) -> tuple[float, float]:
    """Distance along a-b of the point of it nearest to p, and the distance to it."""
    length = math.dist(a, b)
    s = ((p[0] - a[0]) * (b[0] - a[0]) + (p[1] - a[1]) * (b[1] - a[1])) / length
    s = min(max(s, 0.0), length)
    return s, math.dist(p, _between(a, b, s))


def wall_of(space: Space, p: Point) -> Wall | None:
    """The wall that something hanging no further than AT_WALL_M from it belongs to."""
    near = [w for w in walls(space).values() if 0 <= w.along(p) <= w.length_m and abs(w.off(p)) <= AT_WALL_M]
    return min(near, key=lambda w: abs(w.off(p)), default=None)
