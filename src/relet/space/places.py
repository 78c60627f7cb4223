"""Candidate places for outlet assemblies: on walls at a pitch, on columns and under pendant points."""

from __future__ import annotations

import math
from collections.abc import Mapping
from typing import Final, Literal

from shapely.geometry import Polygon, box

from relet.model import Point, Space, Value
from relet.space.walls import NEAR_M, Wall, nearest_wall, polygon, segment, strip, wall_named, walls
from relet.space.zones import keep_clear, zones_of_kind


class Place(Value, frozen=True, kw_only=True):
    """Somewhere an assembly could hang.

    id       "north-3.5" (wall and metres from its west or south end) or the id of a post
    at_m     where, in plan
    on       name of the wall, or id of the post
    kind     "wall", "column" or "pendant"
    blocked  why it may not be used, "" where it may
    along_m  along its wall, None off the walls
    """

    id: str
    at_m: Point
    on: str
    kind: Literal["wall", "column", "pendant"]
    blocked: str = ""
    along_m: float | None = None


class PlaceRules(Value, frozen=True, kw_only=True):
    """The person's own distances, in metres; the values left out are this tool's house defaults, no standard's.

    pitch_m            between candidates on a wall; the first lies half a pitch from its west or south end
    half_width_m       half the width of the widest enclosure to hang
    depth_m            how far it stands out
    opening_clear_m    from its edge to an opening;  escape_clear_m  to an opening on an escape route
    corner_clear_m     from its edge to the end of the wall
    board_half_width_m half the width of a board;  board_side_m  clear beside it
    board_working_m    depth of the working space before a board, as wide as the board and its sides
    unresolved         kinds of zone in which nothing may be placed until a specialist has answered
    unresolved_clear_m from the edge to such a zone
    forbid             walls, posts or places that may not be used, each with the reason
    """

    pitch_m: float = 1.0
    half_width_m: float = 0.25
    depth_m: float = 0.25
    opening_clear_m: float = 0.2
    escape_clear_m: float = 0.3
    corner_clear_m: float = 0.1
    board_half_width_m: float = 0.3
    board_side_m: float = 0.2
    board_working_m: float = 1.0
    unresolved: tuple[str, ...] = ()
    unresolved_clear_m: float = 0.0
    forbid: tuple[tuple[str, str], ...] = ()


_HOUSE: Final = PlaceRules()
_SLIVER_M2: Final = 1e-6
_HAIR_M: Final = 1e-9


def candidate_places(space: Space, board_at: Mapping[str, Point], rules: PlaceRules = _HOUSE) -> tuple[Place, ...]:
    """Every candidate, blocked ones too, each blocked one with its reason.

    board_at  seat of each board -> where it hangs
    """
    judge = _Judge(space, board_at, rules)
    forbidden = dict(rules.forbid)
    out: list[Place] = []
    for wall in walls(space).values():
        for along in _alongs(wall.length_m, rules.pitch_m):
            id = f"{wall.name}-{along:g}"
            blocked = forbidden.get(wall.name) or forbidden.get(id) or judge.wall(wall, along)
            out.append(Place(id=id, at_m=wall.at(along), on=wall.name, kind="wall", blocked=blocked, along_m=along))
    for id, post in space.posts.items():
        blocked = forbidden.get(id) or judge.post(post.at_m)
        out.append(Place(id=id, at_m=post.at_m, on=id, kind=post.kind, blocked=blocked))
    return tuple(out)


def place_at(space: Space, id: str, at_m: Point, board_at: Mapping[str, Point], rules: PlaceRules = _HOUSE) -> Place:
    """One more candidate where something stands or is wished, judged by the same rules.

    At a post it takes the post's kind, else it belongs to the nearest wall.
    """
    forbidden = dict(rules.forbid)
    judge = _Judge(space, board_at, rules)
    for name, post in space.posts.items():
        if math.dist(post.at_m, at_m) <= rules.half_width_m:
            blocked = forbidden.get(name) or forbidden.get(id) or judge.post(at_m)
            return Place(id=id, at_m=at_m, on=name, kind=post.kind, blocked=blocked)
    spot = nearest_wall(space, at_m)
    wall = walls(space)[spot.wall]
    blocked = forbidden.get(wall.name) or forbidden.get(id) or judge.wall(wall, spot.along_m)
    if spot.distance_m > rules.depth_m + NEAR_M:
        blocked = blocked or f"{spot.distance_m:.1f} m off the {wall.name} wall and at no post"
    return Place(id=id, at_m=at_m, on=wall.name, kind="wall", blocked=blocked, along_m=spot.along_m)


def why_blocked(space: Space, at_m: Point, board_at: Mapping[str, Point], rules: PlaceRules = _HOUSE) -> str:
    """Why nothing may hang at this point of a wall or post, "" where it may."""
    return place_at(space, "", at_m, board_at, rules).blocked


def footprint(wall: Wall, along_m: float, half_width_m: float, depth_m: float) -> Polygon:
    """What an enclosure on a wall covers in plan."""
    return strip(wall, along_m - half_width_m, along_m + half_width_m, depth_m)


def _alongs(length_m: float, pitch_m: float) -> list[float]:
    """Distances along a wall at a pitch, the first half a pitch from its start; the middle of a short wall."""
    if length_m <= pitch_m:
        return [round(length_m / 2, 3)]
    count = math.floor(length_m / pitch_m + 0.5 + _HAIR_M)
    return [round((k + 0.5) * pitch_m, 3) for k in range(count) if (k + 0.5) * pitch_m < length_m]


class _Judge:
    """What stands in the way in one space, prepared once for all its places."""

    def __init__(self, space: Space, board_at: Mapping[str, Point], rules: PlaceRules) -> None:
        self.rules = rules
        self.openings = {
            id: (segment(wall_named(space, o.wall), o.from_m, o.to_m), o.escape) for id, o in space.openings.items()
        }
        self.clear = {id: polygon(z.area_m) for id, z in keep_clear(space).items()}
        self.unresolved = {
            f"{id} ({z.kind})": polygon(z.area_m) for id, z in zones_of_kind(space, rules.unresolved).items()
        }
        self.boards = {seat: self._working_space(space, at) for seat, at in board_at.items()}

    def _working_space(self, space: Space, at: Point) -> Polygon:
        r = self.rules
        spot = nearest_wall(space, at)
        half = r.board_half_width_m + r.board_side_m
        if spot.distance_m > r.board_working_m:  # a board in the middle of the room: from every side
            return box(at[0] - half, at[1] - half, at[0] + half, at[1] + half).buffer(
                r.board_working_m, join_style="mitre"
            )
        return footprint(walls(space)[spot.wall], spot.along_m, half, spot.distance_m + r.board_working_m)

    def wall(self, wall: Wall, along_m: float) -> str:
        """Why an enclosure may not hang there on a wall, or ""."""
        r = self.rules
        room = min(along_m, wall.length_m - along_m) - r.half_width_m
        if room < r.corner_clear_m - _HAIR_M:
            return f"too near the end of the {wall.name} wall: {max(room, 0):.2g} m, {r.corner_clear_m:g} m asked"
        return self._shape(footprint(wall, along_m, r.half_width_m, r.depth_m))

    def post(self, at: Point) -> str:
        """Why an enclosure may not hang there at a post, or ""."""
        w = self.rules.half_width_m
        return self._shape(box(at[0] - w, at[1] - w, at[0] + w, at[1] + w))

    def _shape(self, shape: Polygon) -> str:
        r = self.rules
        for id, (line, escape) in self.openings.items():
            asked = r.escape_clear_m if escape else r.opening_clear_m
            gap = shape.distance(line)
            if gap < asked - _HAIR_M:
                return f"too near the opening {id}: {gap:.2g} m, {asked:g} m asked"
        for id, area in self.clear.items():
            if shape.intersection(area).area > _SLIVER_M2:
                return f"stands in {id}, which is kept clear"
        for id, area in self.unresolved.items():
            near = shape.distance(area) < r.unresolved_clear_m - _HAIR_M
            if near or shape.intersection(area).area > _SLIVER_M2:
                return f"in or beside {id}: nothing is placed there until a specialist has answered"
        for seat, area in self.boards.items():
            if shape.intersection(area).area > _SLIVER_M2:
                return f"in the working space before {seat}"
        return ""
