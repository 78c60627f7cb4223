"""The way of a lead on the floor, from where it leaves the machine to a place.

The shortest walkable way inside the outline that crosses no barred area (aisle, doorway, wet floor), unless the
machine itself stands in that area. Falls and rises are the caller's to deduct. Machine bodies do not bar the way.
"""

from __future__ import annotations

from collections.abc import Collection, Sequence

import numpy as np
import numpy.typing as npt

from relet.model import Point, Space, Value
from relet.space.spots import Spot
from relet.working import Figure


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

    doorway_depth_m   depth of that floor, 0 for none
    doorway_height_m  openings lower than this are windows, not doorways
    """
    raise NotImplementedError


def lead_way(space: Space, from_m: Point, to_m: Point, barred: Sequence[Bar]) -> Way:
    """The shortest way with its corner points, for drawing."""
    raise NotImplementedError


def lead_way_m(space: Space, from_: Spot, to: Spot, barred: Sequence[Bar]) -> Figure:
    """Length in plan of the shortest way of a lead from the machine to a place, m; inf where there is none.

    A solved figure whose givens are the coordinates of the two points; its method names the corners it goes round.
    """
    raise NotImplementedError


def lead_ways_m(
    space: Space, machines: Sequence[Point], places: Sequence[Point], barred: Sequence[Bar]
) -> npt.NDArray[np.float64]:
    """Lengths of all ways in m, shape (machines, places), inf where there is none: for the planner."""
    raise NotImplementedError


def vertical_m(from_height: Figure, to_height: Figure) -> Figure:
    """Vertical part of a lead or drop between two heights above the floor (0 for the floor, the bench), m."""
    raise NotImplementedError
