"""Places: reach of leads, clearances, heights, and what a specialist must answer first."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from typing import Final

from relet.checks import things
from relet.checks.counting import NONE, count
from relet.checks.facts import YES, Missing
from relet.checks.findings import Judged, NotApplicable, Refer, at_least, at_most, worst
from relet.checks.interiors import outlets_in
from relet.checks.places import (
    EXPLOSIVE,
    HOSED,
    at,
    height,
    hosed_kinds,
    lead_way,
    spot,
    unresolved_kinds,
    zone_row,
)
from relet.checks.register import family, rule
from relet.checks.study import Study
from relet.codes import Code
from relet.electrical.topology import holder
from relet.model import Seat
from relet.space import Item, clearances, zones_at
from relet.space.reach import vertical_m
from relet.tables.assemblies import ingress_needed
from relet.working import Figure, Formula, Ground, Word, fact

IN_PLAN = Formula("reach = lead - v", "m", lead="m", v="m", source="falls and rises deducted from the lead")
METRES = Formula("m = mm / 1000", "m", mm="mm", source="turn of unit")
SOCKET_13A: Final = "1363"
_JETS_UP_TO: Final = 6  # second numerals above it speak of immersion and say nothing of jets, IEC 60529

# ---------- reach ----------


@dataclass(frozen=True, slots=True)
class Lead:
    """A machine's lead: way to its outlet and what it reaches in plan."""

    machine: str
    outlet: str
    way: Figure
    reach: Figure


def _machines(study: Study) -> Iterable[str]:
    return tuple(things.machine_address(study, m) for m in things.machines(study))


@family("lead", subjects=_machines, none="no machine")
def lead(study: Study, subject: str) -> Lead | NotApplicable:
    """The lead of a machine to the outlet it is plugged into."""
    id = subject.rsplit(".", 1)[-1]
    seat = things.plugged(study, id)
    if seat is None:
        return NotApplicable("not plugged in yet")
    if things.is_fixed(study, seat):
        return NotApplicable("wired to a fixed connection, no lead")
    way = lead_way(study, id, seat)
    if way is None:
        raise Missing(f"{things.outlet(study, seat).at}.at_m", "at_m (where the outlet is)")
    owner, f = things.machine(study, id), study.facts
    own = f.maybe(owner, "lead_m", "m", name="lead")
    if own is not None:
        exit_height = f.number(owner, "lead_height_m", "m", name="h1")
        return Lead(id, seat, way, IN_PLAN(own, vertical_m(exit_height, _height(study, seat))))
    part = things.part_of(study, study.case.installation.outlets[seat])
    plug = "socket_13a" if part is not None and part.data.get("outlet") == SOCKET_13A else "industrial"
    return Lead(id, seat, way, f.number(things.policy(study), f"lead_reach_m.{plug}", "m", name="reach"))


@rule("place.reach")
def reach(c: Lead, code: Code) -> Judged:
    """The lead reaches its outlet along the walkable way, across no aisle, doorway or wet area."""
    return at_most(c.way, c.reach, f"Walkable way of the lead to {c.outlet} against what it reaches in plan.")


# ---------- clearance ----------


@dataclass(frozen=True, slots=True)
class Clear:
    """A thing on a wall with the gaps around it and what each should be."""

    seat: str
    gaps: tuple[tuple[str, Figure, Figure], ...]
    inside: tuple[str, ...]


def _placed(study: Study) -> Iterable[str]:
    i = study.case.installation
    return (*i.assemblies, *(s for s, o in i.outlets.items() if o.behind is None))


_CLEAR: Final = {
    "opening": "clear_of_opening_m", "board": "clear_of_board_m", "keep_clear": "clear_of_opening_m",
    "wet": "clear_of_water_m",
}  # fmt: skip


@family("clear", subjects=_placed, none="nothing stands on a wall")
def clear(study: Study, subject: str) -> Clear | NotApplicable:
    """Gaps around an assembly or outlet."""
    seat, space, f = Seat(subject), study.case.unit.space, study.facts
    item = _item(study, seat)
    if item is None:
        raise Missing(f"{things.outlet(study, seat).at}.at_m", "at_m (where the outlet is)")
    boards = [b for s in study.case.installation.boards if (b := _item(study, s)) is not None]
    wet = () if _bears_jets(study, seat) else hosed_kinds()
    found = clearances(space, item, boards=boards, wet=wet)
    policy = things.policy(study)
    where = at(study, seat)
    zones = zones_at(space, where) if where is not None else ()
    gaps = []
    for kind, key in _CLEAR.items():
        near = [c for c in found if c.kind == kind and not (kind == "wet" and c.to in zones)]
        if near:
            one = min(near, key=lambda c: float(c.gap_m))
            gaps.append((one.to, one.gap_m, f.number(policy, key, "m", name="least gap")))
    bad = tuple(z for z in zones if space.zones[z].keep_clear)
    return Clear(subject, tuple(gaps), bad)


def _bears_jets(study: Study, seat: Seat) -> bool:
    """True if everything there bears what a hosed zone asks for; inside the zone that is a matter of ingress."""
    i, f = study.case.installation, study.facts
    owners = [things.assembly(study, seat)] if seat in i.assemblies else [things.outlet(study, seat)]
    owners += [things.outlet(study, s) for s in outlets_in(study, seat)]
    need = ingress_needed(HOSED).water
    for owner in owners:
        codes = [c for c in (f.maybe(owner, n, "", name="IP") for n in ("ip", "ip_also")) if c is not None]
        if need is None or not any(need <= int(c) % 10 <= _JETS_UP_TO for c in codes):
            return False
    return True


def _item(study: Study, seat: Seat) -> Item | None:
    i, f = study.case.installation, study.facts
    where = spot(study, seat)
    if where is None:
        return None
    owner = (
        things.assembly(study, seat) if seat in i.assemblies
        else things.board(study, seat) if seat in i.boards
        else things.outlet(study, seat)
    )  # fmt: skip
    small = fact(f"{owner.at}.width", 0.1, "m", "assumed", "size of a single outlet", name="w")
    width, depth = f.maybe(owner, "width_mm", "mm", name="w"), f.maybe(owner, "depth_mm", "mm", name="d")
    return Item(where, METRES(width) if width is not None else small, METRES(depth) if depth is not None else small)


@rule("place.clearance")
def clearance(c: Clear, code: Code) -> Judged | NotApplicable:
    """Clear of openings, of working space before boards, of ways that must stay clear."""
    judged = [at_least(gap, need, f"Gap to {to}.") for to, gap, need in c.gaps]
    if c.inside:
        judged.append(
            at_most(count(len(c.inside), "areas kept clear that it stands in"), NONE, "Stands in a way kept clear.")
        )
    if not judged:
        return NotApplicable("nothing near it asks for a gap")
    return worst(*judged)


# ---------- height ----------


@dataclass(frozen=True, slots=True)
class High:
    """Height of an outlet or assembly and its bounds."""

    seat: str
    height: Figure
    low: Figure
    high: Figure


@family("high", subjects=_placed, none="nothing stands on a wall")
def high(study: Study, subject: str) -> High | NotApplicable:
    """Height of an assembly or outlet above the floor."""
    seat, f, i = Seat(subject), study.facts, study.case.installation
    what = "outlet"
    if seat in i.outlets:
        serves = f.maybe_word(things.outlet(study, seat), "serves")
        if serves is not None and "light" in serves:
            return NotApplicable("it serves lighting overhead: nobody plugs in there")
        what = "handle" if things.is_fixed(study, seat) else "outlet"
    policy = things.policy(study)
    low, high = (f.number(policy, f"{what}_{end}_m", "m", name=n) for end, n in (("low", "hmin"), ("high", "hmax")))
    return High(subject, _height(study, seat), low, high)


def _height(study: Study, seat: Seat) -> Figure:
    """Height of an outlet or assembly above the floor, m; open over its plausible range where nobody measured it."""
    i, f, home = study.case.installation, study.facts, holder(seat)
    owner = things.assembly(study, home) if home in i.assemblies else things.outlet(study, seat)
    found = f.maybe(owner, "height_m", "m", name="h")
    if found is not None:
        return found
    up = height(study, seat)
    if up is None:
        return f.number(owner, "height_m", "m", name="h")
    how: Ground = "chosen" if study.case.where.startswith("design") else "nameplate"
    return fact(f"{owner.at}.height_m", up, "m", how, name="h")


@rule("place.height")
def height_rule(c: High, code: Code) -> Judged:
    """Outlets hang where they are used standing, clear of knocks, water and stooping."""
    return worst(
        at_least(c.height, c.low, "Height of the centre above the floor, least."),
        at_most(c.height, c.high, "Height of the centre above the floor, greatest."),
    )


# ---------- explosive atmosphere ----------

_QUESTION: Final = (
    "An explosive atmosphere may be present in {where}: which zone is it, how far does it reach, and which equipment "
    "may stand there?"
)


@dataclass(frozen=True, slots=True)
class Hazard:
    """A zone or machine that may bring an explosive atmosphere.

    likely    None where nothing suggests it
    answered  what a specialist's classification says, if one is on file
    inside    pieces of ours that stand there
    """

    where: str
    likely: Word | None
    answered: Word | None
    inside: tuple[str, ...]


def _hazards(study: Study) -> Iterable[str]:
    zones = [z.id for z in study.case.unit.space.zones.values() if not z.keep_clear]
    return (*zones, *(things.machine_address(study, m) for m in things.machines(study)))


@family("hazard", subjects=_hazards, none="no zone and no machine")
def hazard(study: Study, subject: str) -> Hazard | NotApplicable:
    """A zone by its kind, a machine by what it needs, with whatever stands in the zone."""
    space, i, f = study.case.unit.space, study.case.installation, study.facts
    if subject in space.zones:
        zone = space.zones[subject]
        owner = things.zone(study, subject)
        kind = f.maybe_word(owner, "kind") or Word(zone.kind, f"zones.{subject}.kind", "declared")
        bad = zone_row(str(kind)).get("other_code") == EXPLOSIVE or str(kind) in unresolved_kinds()
        inside = tuple(
            s for s in (*i.assemblies, *i.outlets, *i.boards)
            if (p := at(study, Seat(s))) is not None and subject in zones_at(space, p) and "/" not in s
        )  # fmt: skip
        return Hazard(subject, kind if bad else None, f.maybe_word(owner, "classified"), inside)
    owner = things.machine(study, subject.rsplit(".", 1)[-1])
    needs = f.maybe_word(owner, "needs")
    said = f.maybe_word(owner, "explosive")
    likely = said if said is not None and said.lower() in YES else None
    if likely is None and needs is not None and "explosive" in needs:
        likely = needs
    return Hazard(subject, likely, f.maybe_word(owner, "classified"), ())


@rule("place.explosive")
def explosive(c: Hazard, code: Code) -> Judged | NotApplicable | Refer:
    """Where an explosive atmosphere may be present a specialist classifies first; nothing of ours stands there."""
    if c.likely is None:
        return NotApplicable("nothing suggests an explosive atmosphere")
    rests = (c.likely.figure,)
    if c.answered is not None and str(c.answered).lower() in ("none", "safe", "non-hazardous"):
        return at_most(
            count(0, "hazardous areas by the specialist's classification", (c.answered.figure,)), NONE,
            "A specialist has classified the place and found no hazardous area.", rests=rests,
        )  # fmt: skip
    if c.inside:
        words = f"Stands in {c.where}, where a specialist has not answered yet: {', '.join(c.inside)}."
        return at_most(count(len(c.inside), "pieces in an unresolved area", rests), NONE, words, rests=rests)
    return Refer(
        "a specialist for explosive atmospheres", _QUESTION.format(where=c.where),
        "the classification of the area with its drawing, and the equipment groups allowed", rests,
    )  # fmt: skip
