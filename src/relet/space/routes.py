"""Routes of cables and tapped runs along the walls, at containment height, with rises and drops."""

from __future__ import annotations

import math
from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from itertools import pairwise
from typing import Final

import numpy as np
import numpy.typing as npt
from shapely.geometry import Point as Dot

from relet.errors import ReletError
from relet.model import Containment, Point, Space
from relet.space.crossings import Crossing, crossings
from relet.space.net import Net, Trace, wall_of
from relet.space.sections import Section, most_sharing, sections
from relet.space.spots import Spot
from relet.space.walls import polygon
from relet.working import Figure, Formula, fact, solved


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


_GEOMETRY: Final = "geometry of the unit"
RISE: Final = Formula("rise = abs(H - ha)", "m", H="m", ha="m", source=_GEOMETRY)
DROP: Final = Formula("drop = abs(H - hb)", "m", H="m", hb="m", source=_GEOMETRY)
SLACK: Final = Formula(
    "slack = share * (along + over + rise + drop) + 2 * end", "m",
    share="", along="m", over="m", rise="m", drop="m", end="m", source="house practice: spare length and making off",
)  # fmt: skip
LENGTH: Final = Formula(
    "L = along + over + rise + drop + slack", "m",
    along="m", over="m", rise="m", drop="m", slack="m", source=_GEOMETRY,
)  # fmt: skip
FIRST_TAP: Final = Formula("s = rise + along + over", "m", rise="m", along="m", over="m", source=_GEOMETRY)
NEXT_TAP: Final = Formula("s = before + along + over", "m", before="m", along="m", over="m", source=_GEOMETRY)
RUN_SLACK: Final = Formula(
    "slack = share * s + 2 * end", "m", share="", s="m", end="m",
    source="house practice: spare length and making off",
)  # fmt: skip
RUN_LENGTH: Final = Formula("L = s + slack", "m", s="m", slack="m", source=_GEOMETRY)
TAP_DROP: Final = Formula(
    "L = (1 + share) * (abs(H - hb) + off) + 2 * end", "m",
    share="", H="m", hb="m", off="m", end="m", source=_GEOMETRY,
)  # fmt: skip

_HOUSE_NOTE: Final = "house default, no source"
_HEIGHT_M, _BELOW_CEILING_M, _SLACK_SHARE, _END_M, _OVER_M = 3.0, 0.3, 0.05, 0.5, 0.15
_HAIR_M: Final = 1e-6


def route_rules(
    space: Space, height_m: Figure | None = None, slack_share: Figure | None = None,
    end_m: Figure | None = None, over_m: Figure | None = None,
) -> RouteRules:  # fmt: skip
    """Rules for a space; what is left out takes a house default (assumed, no source), never above the ceiling."""

    def house(name: str, value: float, unit: str, symbol: str) -> Figure:
        return fact(f"policy.{name}", value, unit, "assumed", _HOUSE_NOTE, name=symbol)

    height = min(_HEIGHT_M, space.ceiling_m - _BELOW_CEILING_M)
    return RouteRules(
        height_m=house("containment_height_m", height, "m", "H") if height_m is None else height_m,
        slack_share=house("route_slack_share", _SLACK_SHARE, "", "share") if slack_share is None else slack_share,
        end_m=house("route_end_m", _END_M, "m", "end") if end_m is None else end_m,
        over_m=house("route_over_m", _OVER_M, "m", "above") if over_m is None else over_m,
    )


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
    net = Net(space, rules.height_m, rules.over_m, [a.at_m, b.at_m], containment)
    trace = _traced(net, 0, 1, a, b)
    along, over = _leg(trace, a, b, rules)
    rise, drop = RISE(rules.height_m, a.height()), DROP(rules.height_m, b.height())
    slack = SLACK(rules.slack_share, along, over, rise, drop, rules.end_m)
    return Route(
        points=trace.points,
        length_m=LENGTH(along, over, rise, drop, slack),
        along_m=along,
        sections=sections(net, [trace], {trace.points[0]: a.name, trace.points[-1]: b.name}),
        crossings=crossings(trace.points, lines or {}),
        over=_over([trace]),
    )


def route_lengths_m(
    space: Space, a: Sequence[Point], b: Sequence[Point], rules: RouteRules, *,
    containment: Mapping[str, Containment] | None = None,
) -> npt.NDArray[np.float64]:  # fmt: skip
    """Plan length and detours over openings of all routes in m, shape (len(a), len(b)), without rise, drop, slack.

    inf where there is no way.
    """
    net = Net(space, rules.height_m, rules.over_m, [*a, *b], containment)
    rows = [net.lengths_m(i)[len(a) :] for i in range(len(a))]
    return np.array(rows, dtype=float).reshape(len(a), len(b))


def tapped_run_route(
    space: Space, start: Spot, places: Sequence[Spot], rules: RouteRules, *,
    containment: Mapping[str, Containment] | None = None, lines: Mapping[str, tuple[Point, ...]] | None = None,
) -> TappedRoute:  # fmt: skip
    """A tapped run from `start` by every place in this order, ending at the last; see `order_around`.

    It passes a place on a wall along that wall; the drop covers what the place stands off it.
    raises  ReletError for no places, or where no way exists
    """
    if not places:
        raise ReletError("a tapped run needs at least one place to tap it at")
    passed = [_passed(space, p.at_m) for p in places]
    net = Net(space, rules.height_m, rules.over_m, [start.at_m, *passed], containment)
    stops = [start, *places]
    traces: list[Trace] = []
    taps: list[TapAlong] = []
    for i, (a, b) in enumerate(zip(stops, places)):
        trace = _traced(net, i, i + 1, a, b)
        along, over = _leg(trace, a, b, rules)
        if taps:
            s = NEXT_TAP(taps[-1].along_m, along, over)
        else:
            s = FIRST_TAP(RISE(rules.height_m, start.height()), along, over)
        off = solved(math.dist(passed[i], b.at_m), "m", "distance off the wall", 0.0, b.plan(), name="off")
        drop = TAP_DROP(rules.slack_share, rules.height_m, b.height(), off, rules.end_m)
        taps.append(TapAlong(b.name, passed[i], s, drop))
        traces.append(trace)
    end = taps[-1].along_m
    points = [p for t in traces for p in t.points]
    line = tuple(p for p, before in zip(points, [None, *points]) if p != before)
    names = {start.at_m: start.name, **{p: s.name for p, s in zip(passed, places)}}
    return TappedRoute(
        points=line,
        length_m=RUN_LENGTH(end, RUN_SLACK(rules.slack_share, end, rules.end_m)),
        taps=tuple(taps),
        sections=sections(net, traces, names),
        crossings=crossings(line, lines or {}),
        over=_over(traces),
    )


def order_around(space: Space, start: Point, places: Mapping[str, Point], rules: RouteRules) -> tuple[str, ...]:
    """The order of places around the walls from `start` that makes the run shortest.

    Tried are both ways round, beginning at any of the places.
    """
    ring = polygon(space.outline_m).exterior
    names = sorted(places, key=lambda n: (ring.project(Dot(places[n])), n))
    passed = [_passed(space, places[n]) for n in names]
    first = route_lengths_m(space, [start], passed, rules)[0]
    between = route_lengths_m(space, passed, passed, rules)
    best: tuple[float, list[int]] = (math.inf, list(range(len(names))))
    for way in (list(range(len(names))), list(range(len(names)))[::-1]):
        for k in range(len(way)):
            turn = way[k:] + way[:k]
            length = first[turn[0]] + sum(between[u, v] for u, v in pairwise(turn))
            if length < best[0] - _HAIR_M:
                best = (length, turn)
    return tuple(names[i] for i in best[1])


def grouped(routes: Mapping[str, Route | TappedRoute]) -> dict[str, int]:
    """Most routes (itself included) that share one stretch of containment with each route, by id."""
    return most_sharing({id: r.sections for id, r in routes.items()})


def _passed(space: Space, at: Point) -> Point:
    """Where a tapped run passes a place: its foot on the wall, or the post itself."""
    wall = wall_of(space, at)
    return at if wall is None else wall.at(wall.along(at))


def _traced(net: Net, i: int, j: int, a: Spot, b: Spot) -> Trace:
    trace = net.trace(i, j)
    if trace is None:
        raise ReletError(
            f"no route from {a.path} to {b.path} along the walls at {net.height_m:g} m: "
            "an opening reaches too near the ceiling to be passed above"
        )
    return trace


def _leg(trace: Trace, a: Spot, b: Spot, rules: RouteRules) -> tuple[Figure, Figure]:
    """Plan length, and up and down on the way, as figures."""
    ways = ", ".join(dict.fromkeys(s.name for s in trace.stretches if s.along_m > _HAIR_M))
    told = "shortest along walls and containment" + (f": {ways}" if ways else "")
    along = solved(trace.along_m, "m", told, 0.0, (*a.plan(), *b.plan()), name="along")
    heads = ", ".join(_over([trace]))
    how = f"up and down over {heads}" if heads else "up and down on the way"
    over = solved(trace.over_m, "m", how, 0.0, (rules.height_m, rules.over_m), name="over")
    return along, over


def _over(traces: Sequence[Trace]) -> tuple[str, ...]:
    return tuple(dict.fromkeys(id for t in traces for s in t.stretches for id in s.over))
