"""Routes of cables and tapped runs along the walls, at containment height, with rises and drops."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass

import numpy as np
import numpy.typing as npt

from relet.model import Containment, Point, Space
from relet.space.spots import Spot
from relet.working import Figure


@dataclass(frozen=True, slots=True)
class RouteRules:
    """What a route is reckoned with; `route_rules` makes it with the house defaults.

    height_m       containment height above the floor
    slack_share    added to the measured length, as a share
    end_m          made off at each of the two ends
    over_m         how far above the head of an opening containment passes it
    """

    height_m: Figure
    slack_share: Figure
    end_m: Figure
    over_m: Figure


@dataclass(frozen=True, slots=True)
class Section:
    """A stretch of containment that a route lies in.

    name    the wall ("north"), the drawn containment ("T1"), or "<wall> to <thing>" for a spur off a wall
    from_m, to_m  along the wall or the containment's path, from_m < to_m
    """

    name: str
    from_m: float
    to_m: float


@dataclass(frozen=True, slots=True)
class Crossing:
    """A compartment line crossed: a penetration to be sealed."""

    line: str
    at_m: Point


@dataclass(frozen=True, slots=True)
class Route:
    """A cable's way.

    points     in plan, from a to b
    length_m   "L = along + over + rise + drop + slack"
    along_m    plan length alone
    sections   containment it lies in, in order
    crossings  of compartment lines, in order
    over       openings it is led over
    """

    points: tuple[Point, ...]
    length_m: Figure
    along_m: Figure
    sections: tuple[Section, ...]
    crossings: tuple[Crossing, ...]
    over: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class TapAlong:
    """A tap of a tapped run: place it serves, point on the run, distance from the start, length of the drop."""

    place: str
    at_m: Point
    along_m: Figure
    drop_m: Figure


@dataclass(frozen=True, slots=True)
class TappedRoute:
    """A tapped run from its start to its last tap, which is its far end."""

    points: tuple[Point, ...]
    length_m: Figure
    taps: tuple[TapAlong, ...]
    sections: tuple[Section, ...]
    crossings: tuple[Crossing, ...]
    over: tuple[str, ...]


def route_rules(
    space: Space, height_m: Figure | None = None, slack_share: Figure | None = None,
    end_m: Figure | None = None, over_m: Figure | None = None,
) -> RouteRules:  # fmt: skip
    """Rules for a space; what is left out takes a house default (assumed, no source), never above the ceiling."""
    raise NotImplementedError


def route(
    space: Space, a: Spot, b: Spot, rules: RouteRules, *,
    containment: Mapping[str, Containment] | None = None, lines: Mapping[str, tuple[Point, ...]] | None = None,
) -> Route:  # fmt: skip
    """Shortest route from a to b (both with a height) along walls and drawn containment.

    containment  standing containment by id: one along a wall gives its name to the sections it covers, one across
                 the room is a further way
    lines        compartment lines by id
    raises       ReletError where no way exists (an opening too high to be passed above on every way)
    """
    raise NotImplementedError


def route_lengths_m(
    space: Space, a: Sequence[Point], b: Sequence[Point], rules: RouteRules, *,
    containment: Mapping[str, Containment] | None = None,
) -> npt.NDArray[np.float64]:  # fmt: skip
    """Plan length and detours over openings of all routes in m, shape (len(a), len(b)), without rise, drop, slack."""
    raise NotImplementedError


def tapped_run_route(
    space: Space, start: Spot, places: Sequence[Spot], rules: RouteRules, *,
    containment: Mapping[str, Containment] | None = None, lines: Mapping[str, tuple[Point, ...]] | None = None,
) -> TappedRoute:  # fmt: skip
    """A tapped run from `start` by every place in this order, ending at the last; see `order_around`."""
    raise NotImplementedError


def order_around(space: Space, start: Point, places: Mapping[str, Point], rules: RouteRules) -> tuple[str, ...]:
    """The order of places around the walls from `start` that makes the run shortest: one way round or the other."""
    raise NotImplementedError


def grouped(routes: Mapping[str, Route | TappedRoute]) -> dict[str, int]:
    """Most routes (itself included) that share one stretch of containment with each route, by id."""
    raise NotImplementedError
