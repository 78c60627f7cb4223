"""Walls of the outline by the way they face, and whether points, openings and zones lie where they can."""

from __future__ import annotations

import difflib
import math
from collections.abc import Iterable
from functools import lru_cache

import shapely
from shapely.geometry import LineString, Polygon
from shapely.geometry import Point as Dot

from relet.errors import InputError
from relet.model import Map, Point, Space, Value

NEAR_M = 1e-3
"""Two points nearer than this are one: a millimetre is no distance on a wall."""


class Wall(Value, frozen=True, kw_only=True):
    """One straight wall.

    name       "north", "east", "south", "west" by where its outer side faces; "north2" for the next one
    start, end its west (or south) end, and the other: distances along the wall start at `start`
    length_m   from end to end
    inward     unit vector into the room
    """

    name: str
    start: Point
    end: Point
    length_m: float
    inward: Point

    def at(self, along_m: float) -> Point:
        """The point `along_m` from the start; no check that the wall is that long."""
        t = along_m / self.length_m
        (x1, y1), (x2, y2) = self.start, self.end
        return (x1 + t * (x2 - x1), y1 + t * (y2 - y1))

    def along(self, point: Point) -> float:
        """Where the foot of a point lies along the wall in metres; outside 0..length_m past its ends."""
        (x1, y1), (x2, y2) = self.start, self.end
        return ((point[0] - x1) * (x2 - x1) + (point[1] - y1) * (y2 - y1)) / self.length_m

    def off(self, point: Point) -> float:
        """How far a point lies from the wall's line in metres, positive into the room."""
        return (point[0] - self.start[0]) * self.inward[0] + (point[1] - self.start[1]) * self.inward[1]


class WallSpot(Value, frozen=True, kw_only=True):
    """The nearest point of the nearest wall: distance along it from its west or south end, distance to it."""

    wall: str
    along_m: float
    distance_m: float
    at_m: Point


class Outside(Value, frozen=True, kw_only=True):
    """A point past the outline: how far, and past which wall."""

    distance_m: float
    wall: str

    def __str__(self) -> str:
        d = self.distance_m
        return (
            f"lies {d:.1f} m outside the {self.wall} wall"
            if d >= 0.1
            else f"lies {d:.2g} m outside the {self.wall} wall"
        )


class Mistake(Value, frozen=True, kw_only=True):
    """Something of the space that cannot be: dotted place in the unit file and one sentence."""

    place: str
    what: str


def polygon(outline_m: Iterable[Point]) -> Polygon:
    """The outline as a polygon; a last point that repeats the first is let go."""
    return Polygon([*outline_m])


def _corners(outline_m: tuple[Point, ...]) -> list[Point]:
    """Corners in the order of the outline; repeated points and points in the middle of a straight wall left out."""
    points = [p for p, before in zip(outline_m, (outline_m[-1], *outline_m)) if math.dist(p, before) > NEAR_M]
    out = []
    for i, p in enumerate(points):
        a, b = points[i - 1], points[(i + 1) % len(points)]
        across = (p[0] - a[0]) * (b[1] - p[1]) - (p[1] - a[1]) * (b[0] - p[0])
        if abs(across) > NEAR_M * math.dist(a, b):
            out.append(p)
    return out


def _facing(nx: float, ny: float) -> str:
    if abs(ny) >= abs(nx):
        return "north" if ny > 0 else "south"
    return "east" if nx > 0 else "west"


@lru_cache(maxsize=64)
def _walls(outline_m: tuple[Point, ...]) -> Map[str, Wall]:
    corners = _corners(outline_m)
    turn = 1.0 if polygon(corners).exterior.is_ccw else -1.0
    count: dict[str, int] = {}
    out: dict[str, Wall] = {}
    for i, a in enumerate(corners):
        b = corners[(i + 1) % len(corners)]
        length = math.dist(a, b)
        nx, ny = turn * (b[1] - a[1]) / length, -turn * (b[0] - a[0]) / length
        facing = _facing(nx, ny)
        count[facing] = count.get(facing, 0) + 1
        name = facing if count[facing] == 1 else f"{facing}{count[facing]}"
        first = 0 if facing in ("north", "south") else 1
        start, end = (a, b) if a[first] <= b[first] else (b, a)
        out[name] = Wall(name=name, start=start, end=end, length_m=length, inward=(-nx + 0.0, -ny + 0.0))
    return Map(out)


def walls(space: Space) -> Map[str, Wall]:
    """The walls by name: "north", "east", "south", "west" by where the outer side faces.

    Several that face one way are numbered in the order in which the outline is written: "north", "north2", ...
    Points in the middle of a straight wall make no new wall.
    """
    return _walls(space.outline_m)


def wall_named(space: Space, name: str) -> Wall:
    """The wall of that name. Raises InputError naming the walls there are."""
    every = walls(space)
    if name in every:
        return every[name]
    close = difflib.get_close_matches(name, list(every), 1)
    hint = f" Nearest: {close[0]}." if close else ""
    raise InputError(f'no wall "{name}". This unit has {", ".join(every)}.{hint}')


def on_wall(space: Space, wall: str, along_m: float) -> Point:
    """The point `along_m` from the wall's west or south end. Raises InputError for no such wall, or past its end."""
    one = wall_named(space, wall)
    if not 0 <= along_m <= one.length_m + NEAR_M:
        raise InputError(f"{along_m:g} m along the {wall} wall is past its end. It is 0 to {one.length_m:g} m long.")
    return one.at(min(along_m, one.length_m))


def nearest_wall(space: Space, point: Point) -> WallSpot:
    """The wall nearest to a point, and its foot on it. At a corner the wall it lies furthest behind, then by name."""
    best: tuple[float, float, str] | None = None
    spot: WallSpot | None = None
    for name, wall in walls(space).items():
        along = min(max(wall.along(point), 0.0), wall.length_m)
        foot = wall.at(along)
        d = math.dist(point, foot)
        key = (round(d, 9), round(wall.off(point), 9), name)
        if best is None or key < best:
            best, spot = key, WallSpot(wall=name, along_m=along, distance_m=d, at_m=foot)
    assert spot is not None
    return spot


def inside(space: Space, point: Point) -> bool:
    """Whether a point lies within the outline or on it (to a millimetre)."""
    return bool(polygon(space.outline_m).distance(Dot(point)) <= NEAR_M)


def outside(space: Space, point: Point) -> Outside | None:
    """How far a point lies outside and past which wall, None for a point inside; `str()` of it ends a sentence."""
    if inside(space, point):
        return None
    spot = nearest_wall(space, point)
    return Outside(distance_m=spot.distance_m, wall=spot.wall)


def area_mistake(area_m: tuple[Point, ...]) -> str | None:
    """What is wrong with a polygon in one sentence (too few corners, crosses itself at, no area), or None."""
    if not all(math.isfinite(c) for p in area_m for c in p):
        return "a corner is not a finite number"
    if len(set(area_m)) < 3:
        return f"an area needs at least 3 different corners, {len(set(area_m))} given"
    shape = polygon(area_m)
    if shape.convex_hull.area < NEAR_M:
        return "the corners lie in one line: no area"
    if not shape.is_valid:
        why = shapely.is_valid_reason(shape)
        at = f" at {why[why.index('[') :].replace(' ', ', ')}" if "[" in why else ""
        return f"the outline crosses or touches itself{at}; its corners go round once, in order"
    return None


def space_mistakes(space: Space) -> tuple[Mistake, ...]:
    """Everything about the space that cannot be, in the order of the file: outline, openings, zones, posts."""
    wrong = area_mistake(space.outline_m)
    if wrong:
        return (Mistake(place="unit.outline_m", what=wrong),)
    out: list[Mistake] = []
    for id, o in space.openings.items():
        place = f"openings.{id}"
        try:
            wall = wall_named(space, o.wall)
        except InputError as e:
            out.append(Mistake(place=f"{place}.wall", what=e.what))
            continue
        if o.from_m >= o.to_m:
            out.append(Mistake(place=f"{place}.to_m", what=f"{o.to_m:g} is not past from_m = {o.from_m:g}"))
        for field, value in (("from_m", o.from_m), ("to_m", o.to_m)):
            if not 0 <= value <= wall.length_m + NEAR_M:
                told = f"{value:g} lies past the end of the {o.wall} wall, which is 0 to {wall.length_m:g} m long"
                out.append(Mistake(place=f"{place}.{field}", what=told))
        if o.height_m > space.ceiling_m:
            told = f"{o.height_m:g} is higher than the ceiling, {space.ceiling_m:g} m"
            out.append(Mistake(place=f"{place}.height_m", what=told))
    floor = polygon(space.outline_m)
    for id, z in space.zones.items():
        wrong = area_mistake(z.area_m)
        if wrong is None and polygon(z.area_m).intersection(floor).area < NEAR_M:
            wrong = "the zone lies wholly outside the unit"
        if wrong:
            out.append(Mistake(place=f"zones.{id}.area_m", what=wrong))
    for id, p in space.posts.items():
        gone = outside(space, p.at_m)
        if gone:
            out.append(Mistake(place=f"posts.{id}.at_m", what=f"[{p.at_m[0]:g}, {p.at_m[1]:g}] {gone}"))
    return tuple(out)


def strip(wall: Wall, from_m: float, to_m: float, depth_m: float) -> Polygon:
    """The floor before a stretch of wall: from `from_m` to `to_m` along it, `depth_m` into the room."""
    a, b = wall.at(from_m), wall.at(to_m)
    dx, dy = wall.inward[0] * depth_m, wall.inward[1] * depth_m
    return Polygon([a, b, (b[0] + dx, b[1] + dy), (a[0] + dx, a[1] + dy)])


def segment(wall: Wall, from_m: float, to_m: float) -> LineString:
    """A stretch of wall as a line."""
    return LineString([wall.at(from_m), wall.at(to_m)])
