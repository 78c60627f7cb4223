"""Where assemblies may hang, and which machines reach them: every pair with the rules that stand in its way."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np
from msgspec import structs
from numpy.typing import NDArray

from relet.codes import Code
from relet.electrical.topology import topology
from relet.errors import InputError, OutsideTable
from relet.model import Assembly, Installation, Map, Outlet, Point, Seat
from relet.planning import held
from relet.planning.needs import Ip, Need, zone_ip
from relet.planning.problem import Problem
from relet.space import ORDINARY, Place, PlaceRules, bars, candidate_places, lead_ways_m, place_at, zones_at
from relet.tables.core import table
from relet.tables.machines import zone_codes

EXPLOSIVE = "BE3"
"""External influence code of places with a risk of explosion (IEC 60364-5-51)."""
WET_FROM = 4
"""Second numeral of the ingress code from which a kind of floor counts as wet: no lead crosses it."""


@dataclass(frozen=True)
class Site:
    """A place for an assembly, or an outlet or assembly that stands and is kept.

    stops    names of the rules and wishes that keep anything from being placed here, () where it may
    seat     seat of the kept outlet or assembly, "" for a place where nothing stands yet
    ip       what the zones here ask of everything in them
    takes    (width, depth) in mm of the enclosures that are clear of everything here
    """

    id: str
    at_m: Point
    on: str
    height_m: float
    ip: Ip
    stops: tuple[str, ...] = ()
    seat: Seat | str = ""
    takes: frozenset[tuple[float, float]] = frozenset()


def sites_of(
    problem: Problem, code: Code, kept: Installation, sizes: Sequence[tuple[float, float]]
) -> tuple[Site, ...]:
    """Every candidate place, blocked ones too, and every kept assembly and wall outlet.

    sizes  (width, depth) in mm of the enclosures that may hang, the smallest first
    """
    unit, policy = problem.unit, problem.unit.policy.facts
    boards = {str(s): b.at_m for s, b in problem.standing.boards.items()}

    def distance(field: str, otherwise: float) -> float:
        return held.number(policy, field, code, "policy") or otherwise

    base = PlaceRules()
    pitch = distance("place_pitch_m", base.pitch_m)
    rules = PlaceRules(
        pitch_m=pitch,
        opening_clear_m=distance("clear_of_opening_m", base.opening_clear_m),
        escape_clear_m=max(base.escape_clear_m, distance("clear_of_opening_m", base.escape_clear_m)),
        board_side_m=max(base.board_side_m, distance("clear_of_board_m", base.board_side_m)),
        board_working_m=max(base.board_working_m, distance("clear_of_board_m", base.board_working_m)),
        unresolved=tuple(sorted(z.kind for z in unit.space.zones.values() if z.kind and explosive(z.kind))),
    )  # fmt: skip
    height = problem.choices.height_m
    out = []
    pinned = set(problem.wishes.pins.values())
    places, takes = _clear(problem, boards, rules, sizes)
    for place in places:
        stops = [f"place.clearance: {place.id}: {place.blocked}"] if place.blocked else []
        stops += [
            f"wish forbid {name}" + (f" ({why})" if why else "")
            for name, why in problem.wishes.forbid
            if name in (place.id, place.on)
        ]
        out.append(
            Site(place.id, place.at_m, place.on, height, ip_at(problem, place.at_m), tuple(stops), "", takes[place.id])
        )
    standing: list[tuple[Seat, Assembly | Outlet]] = [*kept.assemblies.items(), *kept.outlets.items()]
    for seat, piece in standing:
        at, high = piece.at_m, piece.height_m
        if at is None or (isinstance(piece, Outlet) and piece.behind is not None):
            continue
        on = place_at(unit.space, seat, at, boards, rules).on
        out.append(Site(str(seat), at, on, high or height, ip_at(problem, at), (), seat))
    missing = pinned - {s.id for s in out} - {s.on for s in out}
    if missing:
        raise InputError(
            f'"{sorted(missing)[0]}" is no place, wall, kept outlet or kept assembly. Places are named like '
            f'"{out[0].id}"' if out else "there is no place at all", place="wishes.pins",
        )  # fmt: skip
    return tuple(out)


def _clear(
    problem: Problem, boards: dict[str, Point], rules: PlaceRules, sizes: Sequence[tuple[float, float]]
) -> tuple[tuple[Place, ...], dict[str, frozenset[tuple[float, float]]]]:
    """Candidate places by the smallest enclosure, and which sizes are clear at each."""
    first: tuple[Place, ...] = ()
    takes: dict[str, set[tuple[float, float]]] = {}
    for size in sorted(sizes):
        sized = structs.replace(rules, half_width_m=size[0] / 2000, depth_m=size[1] / 1000)
        found = candidate_places(problem.unit.space, boards, sized)
        first = first or found
        for place in found:
            takes.setdefault(place.id, set())
            if not place.blocked:
                takes[place.id].add(size)
    return first, {p: frozenset(s) for p, s in takes.items()}


def ip_at(problem: Problem, at_m: Point) -> Ip:
    """What the zones at a point ask together; what no zone covers is ordinary floor."""
    out = Ip()
    zones = problem.unit.space.zones
    for kind in [zones[z].kind for z in zones_at(problem.unit.space, at_m)] or [ORDINARY]:
        if _known(kind):
            out = out.with_(zone_ip(kind))
    return out


def explosive(kind: str) -> bool:
    """True if a kind of place carries a risk of explosion, or is not known at all."""
    return not _known(kind) or EXPLOSIVE in zone_codes(kind)


def wet_kinds() -> tuple[str, ...]:
    """Kinds of floor that no lead may cross because they are splashed or hosed."""
    return tuple(k for r in table("zones").rows if zone_ip(k := r.text("zone_id")).water >= WET_FROM)


def _known(kind: str) -> bool:
    try:
        zone_codes(kind)
    except OutsideTable:
        return False
    return True


def ways_m(problem: Problem, needs: Sequence[Need], sites: Sequence[Site]) -> NDArray[np.float64]:
    """Length of every lead's walkable way in plan, m, shape (needs, sites); inf where there is none."""
    space = problem.unit.space
    barred = bars(space, wet_kinds())
    return lead_ways_m(space, [n.at_m for n in needs], [s.at_m for s in sites], barred)


def kept_part(problem: Problem) -> Installation:
    """What stays of what stands: boards and their incomers, pieces marked to stay, wishes to keep, and everything
    that feeds a load of the building or a kept piece, up to the origin."""
    i = problem.standing
    t = topology(i, None)
    keep: set[str] = {*i.boards, *i.loads, *i.containment, *problem.wishes.keep}
    keep |= {s for s, p in i.pieces().items() if p.stays}
    keep |= {s for s in i.devices if s.split("/")[0] in i.boards and s.endswith("/incomer")}
    for seat in list(keep):
        if Seat(seat) in t.parent:
            keep |= set(t.path(Seat(seat)))
    for seat in [*i.assemblies, *(s for s, r in i.runs.items() if r.tapped)]:
        if seat in keep:
            incomer = Seat(f"{seat}/incomer")
            keep |= {incomer} if incomer in i.devices else set()

    def only(group: Map[Seat, object]) -> Map[Seat, object]:
        return Map({s: p for s, p in group.items() if s in keep})

    groups = ("boards", "assemblies", "devices", "outlets", "runs", "taps", "containment", "loads")
    made = Map({k: v for k, v in i.made.items() if k.split(":")[0] in keep})
    return Installation(**{g: only(getattr(i, g)) for g in groups}, made=made)  # type: ignore[arg-type]
