"""Where things are: spots of machines and outlets, zones that govern there, ways of leads."""

from __future__ import annotations

from typing import Final

from relet.checks import things
from relet.checks.study import Study, kept
from relet.electrical.topology import holder
from relet.model import Point, Seat
from relet.space import Spot, bars, lead_way_m, zones_at
from relet.tables.core import table
from relet.tables.machines import zone_ids
from relet.working import Figure

ORDINARY: Final = "dry_clean"
_CODES: Final = ("wet_code", "dust_code", "impact_code", "corrosion_code", "other_code")
EXPLOSIVE: Final = "BE3"
REFERS: Final = "refer"
HOSED: Final = "AD5"


def zone_row(kind: str) -> dict[str, str]:
    """Influence codes of a kind of zone; empty for a kind that the table does not hold."""
    if kind not in zone_ids():
        return {}
    row = table("zones").row(zone_id=kind)
    return {c: row.text(c) for c in (*_CODES, "minimum_protection", "name")}


def unresolved_kinds() -> tuple[str, ...]:
    """Kinds of zone in which a specialist decides first."""
    return tuple(z for z in zone_ids() if zone_row(z)["minimum_protection"] == REFERS)


def wet_kinds() -> tuple[str, ...]:
    """Kinds of zone with splashes or more, which no lead crosses."""
    return tuple(z for z in zone_ids() if zone_row(z)["wet_code"] >= "AD4")


def at(study: Study, seat: Seat) -> Point | None:
    """Where an outlet, assembly or board is, in plan."""
    i = study.case.installation
    home = holder(seat)
    if home in i.assemblies:
        return i.assemblies[home].at_m
    if home in i.boards:
        return i.boards[home].at_m
    if seat in i.outlets:
        return i.outlets[seat].at_m
    return None


def height(study: Study, seat: Seat) -> float | None:
    """Height of an outlet or assembly above the floor, m."""
    i = study.case.installation
    home = holder(seat)
    if home in i.assemblies:
        return i.assemblies[home].height_m
    return i.outlets[seat].height_m if seat in i.outlets else None


def spot(study: Study, seat: Seat) -> Spot | None:
    """The spot of an outlet or assembly."""
    where = at(study, seat)
    if where is None:
        return None
    home = holder(seat)
    group = "assemblies" if home in study.case.installation.assemblies else "outlets"
    return Spot(
        path=f"{things.prefix(study)}.{group}.{home}", at_m=where, height_m=height(study, seat), ground="chosen"
    )


def hosed_kinds() -> tuple[str, ...]:
    """Kinds of zone that are hosed down."""
    return tuple(z for z in zone_ids() if zone_row(z)["wet_code"] >= HOSED)


@kept
def influences(study: Study, seat: Seat) -> tuple[tuple[str, ...], tuple[str, ...]]:
    """Zones at a place and all influence codes there: the zones' and those of the machines plugged in."""
    where = at(study, seat)
    if where is None:
        return (), ()
    zones = study.case.unit.space.zones
    names = zones_at(study.case.unit.space, where)
    kinds = [zones[n].kind for n in names] or [ORDINARY]
    codes = {c for k in kinds for c in zone_row(k).values()}
    for m in things.machines_below(study, seat):
        owner = things.machine(study, m)
        for field in ("wet_code", "dust_code"):
            held = study.facts.maybe_word(owner, field)
            if held is not None:
                codes.add(str(held))
    return tuple(names) or (ORDINARY,), tuple(sorted(codes))


@kept
def lead_way(study: Study, machine: str, seat: Seat) -> Figure | None:
    """Walkable way of a lead from its machine to an outlet, m; None where the outlet's place is not known."""
    to = spot(study, seat)
    if to is None:
        return None
    m = things.machines(study)[machine]
    start = Spot(path=things.machine_address(study, machine), at_m=m.at_m)
    space = study.case.unit.space
    return lead_way_m(space, start, to, bars(space, wet_kinds()))
