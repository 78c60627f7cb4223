"""Ways of runs and leads in a plan: where each goes, and which lane it takes beside others on the same wall."""

from __future__ import annotations

import math
from collections.abc import Mapping
from dataclasses import dataclass
from itertools import pairwise

from relet.drawing.shapes import XY, Box, around
from relet.drawing.wording import number
from relet.electrical.topology import holder
from relet.errors import ReletError
from relet.model import Catalogue, Installation, Point, Run, Seat, Space, Unit
from relet.space import Spot, Wall, nearest_wall, route, route_rules, walls

_ON_WALL_M = 0.35


@dataclass(frozen=True, slots=True)
class Way:
    """A run's way in metres of floor. surveyed: it was drawn by somebody and not guessed along the walls."""

    points: tuple[Point, ...]
    surveyed: bool


def place_of(seat: Seat, i: Installation) -> tuple[Point, float] | None:
    """Where a seat is and its height, None for what has no place of its own (a tap, the far end)."""
    at = holder(seat)
    if at in i.boards:
        return i.boards[at].at_m, i.boards[at].height_m
    if at in i.assemblies:
        return i.assemblies[at].at_m, i.assemblies[at].height_m
    if seat in i.outlets:
        o = i.outlets[seat]
        return (o.at_m, o.height_m or 1.2) if o.at_m is not None else None
    if seat in i.loads and (point := i.loads[seat].at_m) is not None:
        return point, 2.5
    return None


def run_ways(unit: Unit, i: Installation) -> dict[Seat, Way]:
    """The way of every run that has two known ends or a drawn route; drops of taps are left to `tap_point`."""
    out: dict[Seat, Way] = {}
    rules = route_rules(unit.space)
    for seat, run in i.runs.items():
        if len(set(run.route_m)) > 1:
            out[seat] = Way(run.route_m, True)
            continue
        if run.from_ in i.taps:
            continue
        a = (unit.supply.at_m, 1.0) if run.from_ == "origin" else place_of(run.from_, i)
        b = place_of(Seat(run.to), i)
        if a is None or b is None or math.dist(a[0], b[0]) < 1e-6:
            continue
        try:
            found = route(
                unit.space,
                Spot(path=f"runs.{seat}.from", at_m=a[0], height_m=a[1]),
                Spot(path=f"runs.{seat}.to", at_m=b[0], height_m=b[1]),
                rules,
            )
            out[seat] = Way(found.points, False)
        except ReletError:
            out[seat] = Way((a[0], b[0]), False)
    return out


def _wall_of(a: Point, b: Point, every: Mapping[str, Wall]) -> Wall | None:
    for wall in every.values():
        near = abs(wall.off(a)) <= _ON_WALL_M and abs(wall.off(b)) <= _ON_WALL_M
        lies = all(-_ON_WALL_M <= wall.along(p) <= wall.length_m + _ON_WALL_M for p in (a, b))
        if near and lies and abs(wall.along(a) - wall.along(b)) > 0.7 * math.dist(a, b):
            return wall
    return None


def lanes(space: Space, ways: Mapping[Seat, Way]) -> dict[Seat, int]:
    """A lane for each run, from 0 at the wall, so that no two lie on one another along a wall."""
    every = walls(space)
    held: dict[tuple[str, int], list[tuple[float, float]]] = {}
    out: dict[Seat, int] = {}

    def total(seat: Seat) -> float:
        return sum(math.dist(a, b) for a, b in pairwise(ways[seat].points))

    for seat in sorted(ways, key=lambda s: (-total(s), s)):
        spans: list[tuple[str, float, float]] = []
        for a, b in pairwise(ways[seat].points):
            wall = _wall_of(a, b, every)
            if wall is not None:
                low, high = sorted((wall.along(a), wall.along(b)))
                spans.append((wall.name, low, high))
        lane = 0
        while any(
            low < h2 - 0.05 and l2 < high - 0.05 for name, low, high in spans for l2, h2 in held.get((name, lane), ())
        ):
            lane += 1
        for name, low, high in spans:
            held.setdefault((name, lane), []).append((low, high))
        out[seat] = lane
    return out


def laid(space: Space, points: tuple[Point, ...], off_m: float) -> tuple[Point, ...]:
    """A way whose stretches along walls lie `off_m` before the wall, with its true ends kept."""
    every = walls(space)
    on = [_wall_of(a, b, every) for a, b in pairwise(points)]
    moved: list[Point] = []
    for n, p in enumerate(points):
        x, y = p
        for wall in {w.name: w for w in on[max(0, n - 1) : n + 1] if w is not None}.values():
            gap = off_m - wall.off((x, y))
            x, y = x + wall.inward[0] * gap, y + wall.inward[1] * gap
        moved.append((x, y))
    ends = [points[0], *moved, points[-1]]
    return tuple(p for n, p in enumerate(ends) if n == 0 or math.dist(p, ends[n - 1]) > 1e-6)


def along(points: tuple[Point, ...], distance_m: float) -> Point:
    """The point at a distance along a way, its end where the way is shorter."""
    left = max(distance_m, 0.0)
    for a, b in pairwise(points):
        d = math.dist(a, b)
        if d > 0 and left <= d:
            return (a[0] + (b[0] - a[0]) * left / d, a[1] + (b[1] - a[1]) * left / d)
        left -= d
    return points[-1]


def foot(points: tuple[XY, ...], p: XY) -> XY:
    """The point of a chain of lines that is nearest to p."""
    best, at = math.inf, points[0]
    for a, b in pairwise(points):
        dx, dy = b[0] - a[0], b[1] - a[1]
        d2 = dx * dx + dy * dy
        t = 0.0 if d2 == 0 else min(1.0, max(0.0, ((p[0] - a[0]) * dx + (p[1] - a[1]) * dy) / d2))
        q = (a[0] + t * dx, a[1] + t * dy)
        if math.dist(p, q) < best:
            best, at = math.dist(p, q), q
    return at


def tap_point(tap: Seat, i: Installation, ways: Mapping[Seat, Way], catalogue: Catalogue) -> Point | None:
    """Where a tap sits: at its distance along the run; where none is held, before the place that it serves."""
    run = Seat(tap.split("/tap/", 1)[0])
    if run not in ways:
        return None
    points = ways[run].points
    distance = number(i.taps[tap], "along_m", catalogue, math.nan)
    if not math.isnan(distance):
        return along(points, distance)
    for drop in i.runs.values():
        if drop.from_ == tap and (served := place_of(Seat(drop.to), i)) is not None:
            return foot(points, served[0])
    return None


def inward_at(space: Space, at_m: Point) -> tuple[Point, float]:
    """Unit vector into the room at the nearest wall, and how far that wall is."""
    spot = nearest_wall(space, at_m)
    return walls(space)[spot.wall].inward, spot.distance_m


def label_spot(points: tuple[XY, ...]) -> tuple[Box, bool]:
    """The middle fifth of the longest straight piece of a chain, and whether that piece lies flat."""
    a, b = max(pairwise(points), key=lambda ab: math.dist(*ab))
    ends = [(a[0] + (b[0] - a[0]) * t, a[1] + (b[1] - a[1]) * t) for t in (0.4, 0.6)]
    return around(ends), abs(a[0] - b[0]) > abs(a[1] - b[1])


def drops(i: Installation) -> dict[Seat, Run]:
    """Runs that start at a tap."""
    return {s: r for s, r in i.runs.items() if r.from_ in i.taps}
