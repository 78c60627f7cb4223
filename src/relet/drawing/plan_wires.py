"""Runs, taps and leads of a plan on paper: chains of points, before they are labelled."""

from __future__ import annotations

from dataclasses import dataclass

from relet.drawing.plan_lines import drops, foot, laid, lanes, place_of, run_ways, tap_point
from relet.drawing.shapes import XY, Group, Polyline, Sheet
from relet.drawing.sizes import size
from relet.model import Catalogue, Installation, Point, Seat, Tenancy, Unit, Use
from relet.space import bars, lead_way

_LANE_MM = 1.5
_BEFORE_MM = 1.2


@dataclass(frozen=True)
class Wires:
    """Ways on paper.

    runs   run -> its chain of points
    taps   tap -> its point
    leads  machine id -> the chain of its lead
    """

    runs: dict[Seat, tuple[XY, ...]]
    taps: dict[Seat, XY]
    leads: dict[str, tuple[XY, ...]]


def wires(
    unit: Unit, i: Installation, use: Use | None, tenancy: Tenancy | None, catalogue: Catalogue, sheet: Sheet
) -> Wires:
    """Every way: runs in lanes along the walls, drops from their taps, leads round what bars them."""
    space = unit.space
    ways = run_ways(unit, i)
    lane = lanes(space, ways)
    first = max(sheet.length(size("assembly_depth_mm") / 1000), 2.4) + _BEFORE_MM
    metre = sheet.length(1.0)
    floor: dict[Seat, tuple[Point, ...]] = {}
    for seat, way in ways.items():
        points = laid(space, way.points, (first + lane[seat] * _LANE_MM) / metre)
        ends = i.runs[seat].to == "end" and len(points) > 2
        floor[seat] = points[:-1] if ends else points
    runs = {seat: tuple(map(sheet.on_paper, points)) for seat, points in floor.items()}
    taps: dict[Seat, XY] = {}
    for tap in i.taps:
        point = tap_point(tap, i, ways, catalogue)
        if point is not None:
            taps[tap] = foot(runs[Seat(tap.split("/tap/", 1)[0])], sheet.on_paper(point))
    for seat, run in drops(i).items():
        to = place_of(Seat(run.to), i)
        if seat not in runs and to is not None and Seat(run.from_) in taps:
            runs[seat] = (taps[Seat(run.from_)], sheet.on_paper(to[0]))
    return Wires(runs, taps, _leads(unit, i, use, tenancy, sheet))


def _leads(
    unit: Unit, i: Installation, use: Use | None, tenancy: Tenancy | None, sheet: Sheet
) -> dict[str, tuple[XY, ...]]:
    out: dict[str, tuple[XY, ...]] = {}
    if tenancy is None or use is None:
        return out
    barred = bars(unit.space)
    for id, outlet in use.plugged.items():
        end = place_of(outlet, i)
        machine = tenancy.machines.get(id)
        if end is None or machine is None:
            continue
        points = lead_way(unit.space, machine.at_m, end[0], barred).points or (machine.at_m, end[0])
        out[id] = tuple(map(sheet.on_paper, points))
    return out


def lead_groups(found: Wires, tenancy: Tenancy | None) -> list[Group]:
    """All leads as one group."""
    if tenancy is None or not found.leads:
        return []
    at = f"tenancies.{tenancy.id}.machines."
    chains = tuple(Polyline(points, "lead", f"{at}{id}") for id, points in found.leads.items())
    return [Group(chains, role="leads", name="leads from machines to their outlets")]


def containment_groups(i: Installation, sheet: Sheet) -> list[Group]:
    """Drawn containment, under everything that lies in it."""
    return [
        Group(
            (Polyline(tuple(map(sheet.on_paper, c.path_m)), "containment", seat),),
            seat, "containment", f"containment {seat}, {c.part}",
        )
        for seat, c in i.containment.items()
    ]  # fmt: skip
