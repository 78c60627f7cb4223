"""Things of a plan at their place: machines, assemblies, outlets, boards, the supply, taps. Shapes only, no labels."""

from __future__ import annotations

import math
from dataclasses import dataclass, field

from relet.drawing.fonts import wrapped
from relet.drawing.labels import Row
from relet.drawing.plan_lines import inward_at
from relet.drawing.shapes import XY, Arc, Box, Circle, Line, Polygon, Shape, Sheet, around, bounds, box_polygon
from relet.drawing.sizes import size
from relet.drawing.wording import exact, held, number, outlet_words, part_of, say
from relet.model import Assembly, Board, Catalogue, Installation, Machine, Outlet, Point, Seat, Space, Supply, Unit
from relet.schedules.numbers import JOIN

_LEAST_MM = (4.6, 2.4)
"""Least width and depth of an assembly or board on paper, so that it is seen at any scale."""


@dataclass
class Thing:
    """One thing of the plan: what it is, where, and how a label would best stand."""

    of: str
    name: str
    shapes: list[Shape]
    box: Box
    sides: str = "nesw"
    desc: str = ""
    extra: list[Shape] = field(default_factory=list)


def footprint(machine: Machine, space: Space, sheet: Sheet) -> tuple[Box, bool]:
    """The rectangle of a machine on paper, pushed inside the room, and whether its size is known."""
    known = all(n in machine.facts for n in ("footprint_w_m", "footprint_d_m"))
    w = number(machine, "footprint_w_m", None, size("machine_m"))
    d = number(machine, "footprint_d_m", None, size("machine_m"))
    x, y = machine.at_m
    xs, ys = [p[0] for p in space.outline_m], [p[1] for p in space.outline_m]
    left = max(min(xs), min(x - w / 2, max(xs) - w))
    bottom = max(min(ys), min(y - d / 2, max(ys) - d))
    return around((sheet.on_paper((left, bottom)), sheet.on_paper((left + w, bottom + d)))), known


def machine_thing(machine: Machine, tenancy: str, space: Space, sheet: Sheet) -> Thing:
    """Footprint of a machine."""
    box, known = footprint(machine, space, sheet)
    of = f"tenancies.{tenancy}.machines.{machine.id}"
    shape = box_polygon(box, "machine" if known else "machine-unknown", of)
    return Thing(of, machine.name, [shape], box, "cnsew", "" if known else "footprint not known")


def _against(at_m: Point, space: Space, sheet: Sheet, width_mm: float, depth_mm: float) -> tuple[list[XY], Point, bool]:
    """Corners on paper of a box that hangs at a point of a wall (or stands free), and the direction into the room."""
    (ix, iy), gap = inward_at(space, at_m)
    w = max(sheet.length(width_mm / 1000), _LEAST_MM[0])
    d = max(sheet.length(depth_mm / 1000), _LEAST_MM[1])
    x, y = sheet.on_paper(at_m)
    free = gap > 0.5
    if free:
        ix, iy, near, far = 0.0, -1.0, -d / 2, d / 2
    else:
        back = sheet.length(gap)
        near, far = -back, d - back
    ax, ay = -iy, ix
    corners = [
        (x + ax * s * w / 2 + ix * t, y + ay * s * w / 2 + iy * t)
        for s, t in ((-1, near), (1, near), (1, far), (-1, far))
    ]
    return corners, (ix, iy), free


def outward_sides(direction: Point, free: bool) -> str:
    """Sides on which a label stands best: outside the wall first."""
    if free:
        return "nesw"
    ix, iy = direction
    if abs(iy) >= abs(ix):
        return "news" if iy < 0 else "sewn"
    return "wnse" if ix > 0 else "ensw"


def assembly_thing(seat: Seat, a: Assembly, space: Space, sheet: Sheet, catalogue: Catalogue) -> Thing:
    """An outlet assembly: solid, to scale where the scale lets it be seen."""
    w = number(a, "width_mm", catalogue, size("assembly_width_mm"))
    d = number(a, "depth_mm", catalogue, size("assembly_depth_mm"))
    corners, way, free = _against(a.at_m, space, sheet, w, d)
    shape = Polygon(tuple(corners), "assembly", seat)
    return Thing(seat, f"{seat}, outlet assembly", [shape], bounds(shape), outward_sides(way, free))


def board_thing(seat: Seat, b: Board, space: Space, sheet: Sheet, catalogue: Catalogue) -> Thing:
    """A distribution board: a box, one half of it solid."""
    w = number(b, "width_mm", catalogue, size("assembly_width_mm"))
    d = number(b, "depth_mm", catalogue, size("assembly_depth_mm"))
    corners, way, free = _against(b.at_m, space, sheet, w, d)
    shapes: list[Shape] = [
        Polygon(tuple(corners), "board", seat),
        Polygon((corners[0], corners[1], corners[2]), "board-half", seat),
    ]
    return Thing(seat, f"{seat}, distribution board", shapes, bounds(*shapes), outward_sides(way, free))


def outlet_thing(seat: Seat, o: Outlet, at_m: Point, space: Space, sheet: Sheet, catalogue: Catalogue) -> Thing:
    """A socket-outlet on the wall: the half round of IEC 60617-11 with its protective contact; a fixed one is a box."""
    (ix, iy), _ = inward_at(space, at_m)
    x, y = sheet.on_paper(at_m)
    r = 1.7
    if exact(held(o, "outlet", catalogue)) == "fixed":
        shapes: list[Shape] = [box_polygon((x - 1.3, y - 1.3, x + 1.3, y + 1.3), "tap", seat)]
    else:
        cx, cy = x + ix * (r + 1.2), y + iy * (r + 1.2)
        facing = math.degrees(math.atan2(iy, ix))
        # open towards the room, its back to the wall
        shapes = [
            Line((x, y), (x + ix * 1.2, y + iy * 1.2), "outlet", seat),
            Arc((cx, cy), r, facing + 90, facing + 270, "outlet", seat),
            Line(
                (cx - ix * r - iy * r, cy - iy * r + ix * r),
                (cx - ix * r + iy * r, cy - iy * r - ix * r),
                "outlet",
                seat,
            ),
        ]
    words = outlet_words(o, catalogue).text
    return Thing(seat, f"{seat}, {words}", shapes, bounds(*shapes), outward_sides((ix, iy), False))


def supply_thing(supply: Supply, space: Space, sheet: Sheet) -> Thing:
    """The intake: a box with an arrow into it from outside."""
    (ix, iy), _ = inward_at(space, supply.at_m)
    x, y = sheet.on_paper(supply.at_m)
    h = 1.7
    box = box_polygon((x - h, y - h, x + h, y + h), "supply", "supply")
    tip = (x + ix * h * 0.6, y + iy * h * 0.6)
    left = (x - ix * h * 0.5 - iy * h * 0.6, y - iy * h * 0.5 + ix * h * 0.6)
    right = (x - ix * h * 0.5 + iy * h * 0.6, y - iy * h * 0.5 - ix * h * 0.6)
    shapes: list[Shape] = [box, Polygon((tip, left, right), "board-half", "supply")]
    return Thing("supply", "origin of the supply", shapes, bounds(box), outward_sides((ix, iy), False))


def tap_thing(seat: Seat, at: XY) -> Thing:
    """A tap-off unit on its run."""
    shapes: list[Shape] = [Circle(at, 1.1, "tap", seat), Circle(at, 0.4, "node", seat)]
    return Thing(seat, f"tap {seat}", shapes, bounds(shapes[0]), "nesw")


def contents_words(assembly: Seat, i: Installation, catalogue: Catalogue) -> str:
    """What an assembly offers, in few words: "2 x 16 A 2P+E, 32 A 3P+N+E, 13 A twin"."""
    count: dict[str, int] = {}
    for seat, o in i.outlets.items():
        if not seat.startswith(f"{assembly}/"):
            continue
        form = exact(held(o, "outlet", catalogue))
        hour = exact(held(o, "clock_h", catalogue))
        words = outlet_words(o, catalogue).text.replace("\u00a0", " ").replace(" interlocked", "")
        if form == "60309" and part_of(o, catalogue) is not None and hour is not None:
            words = words.replace(f" {hour:g} h" if isinstance(hour, int | float) else f" {hour} h", "")
        count[words] = count.get(words, 0) + 1
    items = ((f"{n} × {w}" if n > 1 else w).replace(" ", JOIN) for w, n in sorted(count.items()))
    return ", ".join(items)


@dataclass(frozen=True, slots=True)
class Letters:
    """Sizes of letters in mm: captions, names of machines, seats."""

    small: float
    name: float
    seat: float


def label_rows(t: Thing, unit: Unit, i: Installation, catalogue: Catalogue, letters: Letters) -> list[Row]:
    """What is written beside the supply, a board, an assembly, an outlet or a tap."""
    if t.of == "supply":
        fuse = unit.supply.facts.get("cut_out_fuse_a")
        size_a = say(fuse.holds if fuse else None, "A")
        role = "unknown-text" if size_a.doubt else "caption"
        return [Row("supply", letters.name, "label", 600), Row(f"cut-out {size_a.text}", letters.small, role)]
    seat = Seat(t.of)
    if seat in i.taps:
        return [Row(f"tap {seat.rsplit('/', 1)[1]}", letters.small, "caption", 500)]
    rows = [Row(seat, letters.seat, "label", 600)]
    if seat in i.assemblies:
        inside = contents_words(seat, i, catalogue)
        room = 30.0 if t.sides[0] in "ns" else 24.0
        rows += [Row(line, letters.small, "caption") for line in wrapped(inside, letters.small, room)]
    elif seat in i.outlets:
        outlet = outlet_words(i.outlets[seat], catalogue)
        rows.append(Row(outlet.text, letters.small, "unknown-text" if outlet.doubt else "caption"))
    return rows
