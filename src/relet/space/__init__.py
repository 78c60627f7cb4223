"""Geometry of one unit: walls, candidate places, the way of a lead, routes of cables, clearances, zones.

Plan coordinates in metres, x to the east, y to the north. Nothing here knows a table, a code or a price: kinds of
zone, distances and heights are handed in. Figures carry the points they were measured between.
"""

from relet.space.clearance import (
    Clearance,
    Heights,
    Item,
    Kind,
    clearance_m,
    clearances,
    heights,
    nearest,
)
from relet.space.crossings import Crossing, crossings
from relet.space.places import Place, PlaceRules, candidate_places, place_at, why_blocked
from relet.space.reach import Bar, Way, bars, lead_way, lead_way_m, lead_ways_m, vertical_m
from relet.space.routes import (
    Route,
    RouteRules,
    TapAlong,
    TappedRoute,
    grouped,
    order_around,
    route,
    route_lengths_m,
    route_rules,
    tapped_run_route,
)
from relet.space.sections import Section
from relet.space.spots import Spot
from relet.space.walls import (
    Mistake,
    Outside,
    Wall,
    WallSpot,
    area_mistake,
    inside,
    nearest_wall,
    on_wall,
    outside,
    space_mistakes,
    wall_named,
    walls,
)
from relet.space.zones import ORDINARY, governing_zone, keep_clear, zones_at, zones_of_kind

__all__ = [
    "ORDINARY",
    "Bar",
    "Clearance",
    "Crossing",
    "Heights",
    "Item",
    "Kind",
    "Mistake",
    "Outside",
    "Place",
    "PlaceRules",
    "Route",
    "RouteRules",
    "Section",
    "Spot",
    "TapAlong",
    "TappedRoute",
    "Wall",
    "WallSpot",
    "Way",
    "area_mistake",
    "bars",
    "candidate_places",
    "clearance_m",
    "clearances",
    "crossings",
    "governing_zone",
    "grouped",
    "heights",
    "inside",
    "keep_clear",
    "lead_way",
    "lead_way_m",
    "lead_ways_m",
    "nearest",
    "nearest_wall",
    "on_wall",
    "order_around",
    "outside",
    "place_at",
    "route",
    "route_lengths_m",
    "route_rules",
    "space_mistakes",
    "tapped_run_route",
    "vertical_m",
    "wall_named",
    "walls",
    "why_blocked",
    "zones_at",
    "zones_of_kind",
]  # fmt: skip
