"""Does everything lie inside the unit, and is the unit a room?"""

from __future__ import annotations

from collections.abc import Callable, Mapping

import numpy as np
import shapely

from relet.files.mistakes import Mistakes, Where
from relet.files.sections import Sections
from relet.files.words import number_text, shown
from relet.model import Point, Space
from relet.space.walls import NEAR_M, area_mistake, outside, polygon, space_mistakes, walls


def check_space(space: Space, mistakes: Mistakes) -> bool:
    """Outline, openings, zones, posts. False where the outline is no room, so that nothing can lie inside it."""
    for wrong in space_mistakes(space):
        mistakes.note(tuple(wrong.place.split(".")), _ended(wrong.what))
    if area_mistake(space.outline_m):
        return False
    on_wall: dict[str, list[tuple[float, float, str]]] = {}
    for id, o in space.openings.items():
        for low, high, other in on_wall.get(o.wall, []):
            if o.from_m < high and low < o.to_m:
                line = mistakes.line("openings", other)
                mistakes.note(("openings", id, "from_m"), f"overlaps {other} (line {line}) on the {o.wall} wall.")
        on_wall.setdefault(o.wall, []).append((o.from_m, o.to_m, id))
    return True


def check_inside(space: Space, points: Mapping[Where, Point], mistakes: Mistakes) -> None:
    """Every point lies within the outline or on it."""
    if not points:
        return
    room = polygon(space.outline_m)
    xy = np.array(list(points.values()), dtype=float)
    away = (np.asarray(shapely.distance(room, shapely.points(xy))) > NEAR_M).tolist()
    for where, point, out in zip(points, points.values(), away):
        if out:
            mistakes.note(where, _outside(space, point))


def _outside(space: Space, point: Point) -> Callable[[], str]:
    def text() -> str:
        gone = outside(space, point)
        low, high = ([f(p[i] for p in space.outline_m) for i in (0, 1)] for f in (min, max))
        return f"{shown(list(point))} {gone}. The unit reaches from {shown(low)} to {shown(high)}."

    return text


def points_of(s: Sections) -> dict[Where, Point]:
    """Where the pieces hang, by their place in the file."""
    out: dict[Where, Point] = {}
    for group in ("boards", "assemblies", "outlets", "loads"):
        for _, piece, where in s.mine(group):
            if piece.at_m is not None:
                out[(*where, "at_m")] = piece.at_m
    return out


def check_heights(s: Sections, space: Space, mistakes: Mistakes) -> None:
    """Nothing hangs above the ceiling; ways and routes have two points or more."""
    for group in ("boards", "assemblies", "outlets", "containment"):
        for _, piece, where in s.mine(group):
            if piece.height_m is not None and piece.height_m > space.ceiling_m:
                told = f"{number_text(piece.height_m)} m is above the ceiling, {number_text(space.ceiling_m)} m."
                mistakes.note((*where, "height_m"), told)
    for group, field in (("containment", "path_m"), ("runs", "route_m")):
        for _, piece, where in s.mine(group):
            way = getattr(piece, field)
            if len(way) == 1 or (group == "containment" and not way):
                mistakes.note((*where, field), f"{len(way)} point is no way. Allowed: two points or more.")


def wall_names(space: Space) -> list[str]:
    """Names of the walls."""
    return list(walls(space))


def places_like(space: Space, name: str) -> bool:
    """Whether a name can be a candidate place: a wall and a distance along it ("north-3.5"), or a post."""
    if name in space.posts:
        return True
    wall, _, along = name.rpartition("-")
    try:
        return wall in walls(space) and 0 <= float(along) <= walls(space)[wall].length_m
    except ValueError:
        return False


def _ended(sentence: str) -> str:
    return sentence if sentence.endswith(".") else sentence + "."
