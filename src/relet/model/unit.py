"""The unit: its space, its supply, its policy."""

from __future__ import annotations

from typing import Literal, TypeAlias

from relet.model.facts import Facts
from relet.model.values import Map, Value

Point: TypeAlias = tuple[float, float]
"""x to the east, y to the north, metres from the corner in the south-west."""


class Opening(Value, frozen=True, kw_only=True):
    """A door, roller door or window in a wall. from_m and to_m run along the wall, from its west or south end."""

    id: str
    wall: str
    from_m: float
    to_m: float
    height_m: float
    escape: bool = False


class Zone(Value, frozen=True, kw_only=True):
    """A part of the floor.

    kind        row of the table of zones ("dry_dust", "wet_wash", "paint" ...), or "" for an area only kept clear
    keep_clear  aisle, escape route: no lead may cross it
    facts       classified (what a specialist's classification says), kind where it is one of several
    area_m      polygon, not closed
    """

    id: str
    kind: str
    area_m: tuple[Point, ...]
    keep_clear: bool = False
    facts: Facts = Map()


class Post(Value, frozen=True, kw_only=True):
    """A column or a pendant point where an assembly can hang: a candidate place away from the walls."""

    id: str
    at_m: Point
    kind: Literal["column", "pendant"] = "column"


class Space(Value, frozen=True, kw_only=True):
    """Outline and what is in it. All lengths in metres."""

    outline_m: tuple[Point, ...]
    ceiling_m: float
    openings: Map[str, Opening] = Map()
    zones: Map[str, Zone] = Map()
    posts: Map[str, Post] = Map()


class Supply(Value, frozen=True, kw_only=True):
    """The supply at its origin.

    facts  phases, earthing, cut_out_fuse_a, cut_out_fuse_type, agreed_kva, ze_ohm, ipf_ka, u0_v, x_over_r, tails_mm2,
           meter_a, bonding.water, bonding.gas, bonding.steel ...
    """

    at_m: Point
    facts: Facts = Map()


class Policy(Value, frozen=True, kw_only=True):
    """The person's own rules. Left out: the printed defaults of the code pack.

    code   id of the code pack
    facts  diversity, lead_reach_m.socket_13a, lead_reach_m.industrial, spare_share, height_low_m, ...
    """

    code: str
    facts: Facts = Map()


class Unit(Value, frozen=True, kw_only=True):
    """One let unit."""

    id: str
    name: str
    space: Space
    supply: Supply
    policy: Policy
