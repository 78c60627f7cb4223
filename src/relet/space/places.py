"""Candidate places for outlet assemblies: on walls at a pitch, on columns and under pendant points."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Literal

from relet.model import Point, Space, Value


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


def candidate_places(
    space: Space,
    board_at: Mapping[str, Point],
    rules: PlaceRules = PlaceRules(),  # noqa: B008 - frozen
) -> tuple[Place, ...]:
    """Every candidate, blocked ones too, each blocked one with its reason.

    board_at  seat of each board -> where it hangs
    """
    raise NotImplementedError


def place_at(
    space: Space,
    id: str,
    at_m: Point,
    board_at: Mapping[str, Point],
    rules: PlaceRules = PlaceRules(),  # noqa: B008
) -> Place:
    """One more candidate where something stands or is wished, judged by the same rules."""
    raise NotImplementedError


def why_blocked(
    space: Space,
    at_m: Point,
    board_at: Mapping[str, Point],
    rules: PlaceRules = PlaceRules(),  # noqa: B008
) -> str:
    """Why nothing may hang at this point of a wall or post, "" where it may. Forbidden names are not looked at."""
    raise NotImplementedError
