"""Where a way passes from one side of a compartment line to the other: penetrations to be sealed."""

from __future__ import annotations

import math
from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from itertools import pairwise
from typing import Final

from relet.model import Point

_HAIR_M: Final = 1e-6
_REACH_M: Final = 0.01
"""A line that ends at a wall is passed by what runs along that wall: its ends reach this far further."""


@dataclass(frozen=True, slots=True)
class Crossing:
    """A compartment line crossed: a penetration to be sealed."""

    line: str
    at_m: Point


def crossings(points: Sequence[Point], lines: Mapping[str, tuple[Point, ...]]) -> tuple[Crossing, ...]:
    """Every passage of a way through compartment lines (open polylines by id), in order along the way.

    A way that comes up to a line and goes back, or ends on it, does not pass it.
    """
    found = sorted(
        (d, id, at) for id, line in lines.items() for a, b in pairwise(line) for d, at in _passes(points, a, b)
    )
    out: list[Crossing] = []
    last: dict[str, float] = {}
    for d, id, at in found:
        if d - last.get(id, -math.inf) > 2 * _REACH_M:  # where two pieces of one line meet it is passed once
            out.append(Crossing(id, at))
        last[id] = d
    return tuple(out)


def _passes(points: Sequence[Point], a: Point, b: Point) -> list[tuple[float, Point]]:
    """Distance along the way and point of each passage through the straight piece a-b."""
    length = math.dist(a, b)
    if length <= _HAIR_M:
        return []
    ux, uy = (b[0] - a[0]) / length, (b[1] - a[1]) / length

    def side(p: Point) -> float:
        off = ux * (p[1] - a[1]) - uy * (p[0] - a[0])
        return 0.0 if abs(off) <= _HAIR_M else off

    out: list[tuple[float, Point]] = []
    came_from = side(points[0])
    met: tuple[float, Point] | None = None  # where the way came onto the line and still runs along it
    walked = 0.0
    for p, q in pairwise(points):
        before, after = side(p), side(q)
        if before * after > 0 or (before == 0 and after == 0):
            pass
        elif after == 0:
            met = (walked + math.dist(p, q), q)
        else:
            if before == 0:
                here = met or (walked, p)
            else:
                t = before / (before - after)
                here = (walked + t * math.dist(p, q), (p[0] + t * (q[0] - p[0]), p[1] + t * (q[1] - p[1])))
            at = ux * (here[1][0] - a[0]) + uy * (here[1][1] - a[1])
            if came_from * after < 0 and -_REACH_M <= at <= length + _REACH_M:
                out.append(here)
            came_from, met = after, None
        walked += math.dist(p, q)
    return out
