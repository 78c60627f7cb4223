"""The room of a plan: walls with their openings, zones with hatch, columns, dimensions of the outline."""

from __future__ import annotations

import math
from collections.abc import Iterable
from itertools import pairwise

import shapely
from shapely.geometry import LineString
from shapely.geometry import Polygon as Area
from shapely.geometry.base import BaseGeometry

from relet.drawing.shapes import XY, Arc, Group, Line, Polygon, Shape, Sheet, Text, box_polygon
from relet.drawing.sizes import size
from relet.errors import ReletError
from relet.model import Opening, Post, Space, Zone
from relet.space import Wall, wall_named
from relet.tables import machines as kinds

_OVERHEAD_FROM_M = 2.4
_DOUBLE_FROM_M = 1.3

# angle, distance of lines in mm, role: which hatch a kind of zone takes, by what its place is like
_HATCH: dict[str, tuple[tuple[float, float, str], ...]] = {
    "wet": ((0.0, 2.6, "hatch-dash"),),
    "dust": ((45.0, 2.4, "hatch-dot"),),
    "hot": ((90.0, 3.0, "hatch-dash"),),
    "refer": ((45.0, 2.2, "hatch"), (-45.0, 2.2, "hatch")),
    "other": ((45.0, 4.2, "hatch"),),
    "clear": ((-45.0, 5.0, "hatch"),),
}


def wall_shapes(space: Space, sheet: Sheet) -> list[Shape]:
    """Walls drawn outside the outline, openings cut out of them."""
    thick = size("wall_m")
    inner = Area(space.outline_m)
    ring: BaseGeometry = inner.buffer(thick, join_style="mitre").difference(inner)
    for opening in space.openings.values():
        if not is_window(opening):
            ring = ring.difference(_gap(wall_named(space, opening.wall), opening, thick))
    return [_area(piece, sheet, "wall") for piece in shapely.get_parts(ring) if isinstance(piece, Area)]


def _gap(wall: Wall, opening: Opening, thick: float) -> Area:
    a, b = wall.at(opening.from_m), wall.at(opening.to_m)
    (ix, iy), over = wall.inward, thick * 1.5
    return Area(
        [
            (a[0] + ix * 0.01, a[1] + iy * 0.01),
            (b[0] + ix * 0.01, b[1] + iy * 0.01),
            (b[0] - ix * over, b[1] - iy * over),
            (a[0] - ix * over, a[1] - iy * over),
        ]
    )


def _area(piece: Area, sheet: Sheet, role: str) -> Polygon:
    holes = tuple(tuple(sheet.on_paper((x, y)) for x, y in r.coords[:-1]) for r in piece.interiors)
    return Polygon(tuple(sheet.on_paper((x, y)) for x, y in piece.exterior.coords[:-1]), role, "", holes)


def is_window(opening: Opening) -> bool:
    """An opening whose id says window: the wall goes on under it."""
    return "window" in opening.id


def is_overhead(opening: Opening) -> bool:
    """A door that goes up: its id says so, or it is too wide for leaves."""
    named = any(w in opening.id for w in ("roller", "shutter", "sectional", "overhead"))
    return named or opening.to_m - opening.from_m > _OVERHEAD_FROM_M


def opening_shapes(space: Space, opening: Opening, sheet: Sheet) -> list[Shape]:
    """One opening as in a building drawing: leaf and swing, a door that goes up dashed, a window as two lines."""
    wall = wall_named(space, opening.wall)
    thick = size("wall_m")
    (ix, iy) = wall.inward
    a, b = wall.at(opening.from_m), wall.at(opening.to_m)

    def inward(p: XY, m: float) -> XY:
        return (p[0] + ix * m, p[1] + iy * m)

    of = f"openings.{opening.id}"
    if is_window(opening):
        return [
            Line(sheet.on_paper(inward(a, -m)), sheet.on_paper(inward(b, -m)), "opening", of)
            for m in (0.3 * thick, 0.7 * thick)
        ]
    if is_overhead(opening):
        coil = tuple(sheet.on_paper(p) for p in (inward(a, 0.0), inward(a, 0.35), inward(b, 0.35), inward(b, 0.0)))
        out: list[Shape] = [
            Line(sheet.on_paper(inward(a, -thick / 2)), sheet.on_paper(inward(b, -thick / 2)), "opening", of)
        ]
        return out + [Line(p, q, "overhead", of) for p, q in pairwise(coil)]
    way = -1.0 if opening.escape else 1.0
    face = -thick if opening.escape else 0.0
    a, b = inward(a, face), inward(b, face)
    if opening.to_m - opening.from_m > _DOUBLE_FROM_M:
        mid = ((a[0] + b[0]) / 2, (a[1] + b[1]) / 2)
        return _leaf(a, mid, (ix * way, iy * way), sheet, of) + _leaf(b, mid, (ix * way, iy * way), sheet, of)
    return _leaf(a, b, (ix * way, iy * way), sheet, of)


def _leaf(hinge: XY, shut: XY, way: XY, sheet: Sheet, of: str) -> list[Shape]:
    width = math.dist(hinge, shut)
    tip = (hinge[0] + way[0] * width, hinge[1] + way[1] * width)
    h, t, s = sheet.on_paper(hinge), sheet.on_paper(tip), sheet.on_paper(shut)
    open_deg = math.degrees(math.atan2(t[1] - h[1], t[0] - h[0]))
    shut_deg = math.degrees(math.atan2(s[1] - h[1], s[0] - h[0]))
    start, end = (open_deg, shut_deg) if (shut_deg - open_deg) % 360 < 180 else (shut_deg, open_deg)
    end = start + (end - start) % 360
    return [Line(h, t, "opening", of), Arc(h, sheet.length(width), start, end, "swing", of)]


def zone_words(zone: Zone) -> tuple[str, bool]:
    """Name of a zone by the table of zones, and whether a specialist must speak first."""
    if not zone.kind:
        return ("keep clear" if zone.keep_clear else zone.id.replace("_", " ")), False
    try:
        row = kinds.zone(zone.kind)
    except ReletError:
        return zone.kind.replace("_", " "), False
    return row.text("name"), "refer" in row.text("minimum_protection")


def zone_shapes(space: Space, zone: Zone, sheet: Sheet) -> list[Shape]:
    """Outline and hatch of one zone, cut off at the walls."""
    inside = Area(zone.area_m).buffer(0).intersection(Area(space.outline_m))
    role = "keep-clear" if zone.keep_clear else "zone"
    out: list[Shape] = []
    for piece in shapely.get_parts(inside):
        if not isinstance(piece, Area):
            continue
        on_paper = Area([sheet.on_paper((x, y)) for x, y in piece.exterior.coords])
        for angle, apart, hatch in _HATCH[_look(zone)]:
            out += [Line(a, b, hatch) for a, b in hatch_lines(on_paper, angle, apart)]
        out.append(Polygon(tuple((x, y) for x, y in on_paper.exterior.coords[:-1]), role))
    return out


def _look(zone: Zone) -> str:
    if zone.keep_clear:
        return "clear"
    if zone_words(zone)[1]:
        return "refer"
    try:
        wet, dust, other = (kinds.zone(zone.kind).text(c) for c in ("wet_code", "dust_code", "other_code"))
    except ReletError:
        return "other"
    if wet >= "AD3":
        return "wet"
    if other == "AA6":
        return "hot"
    return "dust" if dust >= "AE4" else "other"


def hatch_lines(area: Area, angle_deg: float, apart: float) -> list[tuple[XY, XY]]:
    """Parallel lines cut to an area, in its own unit; neighbouring areas of one hatch line up."""
    t = math.radians(angle_deg)
    along, across = (math.cos(t), math.sin(t)), (-math.sin(t), math.cos(t))
    left, bottom, right, top = area.bounds
    corners = [(left, bottom), (right, bottom), (right, top), (left, top)]
    off = [x * across[0] + y * across[1] for x, y in corners]
    far = [x * along[0] + y * along[1] for x, y in corners]
    first, last = math.ceil(min(off) / apart), math.floor(max(off) / apart)
    lines = [
        LineString(
            [
                (f * along[0] + n * apart * across[0], f * along[1] + n * apart * across[1])
                for f in (min(far) - 1, max(far) + 1)
            ]
        )
        for n in range(first, last + 1)
    ]
    if not lines:
        return []
    out: list[tuple[XY, XY]] = []
    for cut in shapely.intersection(lines, area):
        for piece in shapely.get_parts(cut):
            if isinstance(piece, LineString) and piece.length > 0.3:
                (x1, y1), (x2, y2) = piece.coords[0], piece.coords[-1]
                out.append(((x1, y1), (x2, y2)))
    return out


def post_shapes(post: Post, sheet: Sheet) -> list[Shape]:
    """A column filled like a wall, a pendant point as a dashed square with a cross."""
    x, y = sheet.on_paper(post.at_m)
    h = max(sheet.length(0.15), 1.2)
    box = (x - h, y - h, x + h, y + h)
    if post.kind == "column":
        return [box_polygon(box, "column")]
    return [
        box_polygon(box, "pendant"),
        Line((x - h, y - h), (x + h, y + h), "dimension"),
        Line((x - h, y + h), (x + h, y - h), "dimension"),
    ]


def dimensions(space: Space, sheet: Sheet, below_mm: float, left_mm: float, step_mm: float = 5.0) -> Group:
    """Chains of dimensions under and left of the outline, in metres, and the whole length where there are several."""
    xs = _steps(p[0] for p in space.outline_m)
    ys = _steps(p[1] for p in space.outline_m)
    left, bottom = sheet.on_paper((xs[0], ys[0]))
    shapes: list[Shape] = []
    for flat, values, base, off in ((True, xs, bottom, below_mm), (False, ys, left, left_mm - step_mm)):
        chains = [values] if len(values) == 2 else [values, [values[0], values[-1]]]
        for n, chain in enumerate(chains):
            shapes += _chain(chain, sheet, base - off - n * step_mm, base, flat)
    return Group(tuple(shapes), role="dimensions", name="inner dimensions of the unit in metres")


def _steps(values: Iterable[float]) -> list[float]:
    out: list[float] = []
    for v in sorted(values):
        if not out or v - out[-1] > 1e-3:
            out.append(v)
    return out


def _chain(values: list[float], sheet: Sheet, line: float, base: float, flat: bool) -> list[Shape]:
    out: list[Shape] = []
    paper = [sheet.on_paper((v, v))[0 if flat else 1] for v in values]

    def at(along: float, off: float) -> XY:
        return (along, off) if flat else (off, along)

    out.append(Line(at(paper[0], line), at(paper[-1], line), "dimension"))
    wall = sheet.length(size("wall_m"))
    for p in paper:
        out.append(Line(at(p, line - 1.2), at(p, min(line + 3.0, base - wall - 1.0)), "dimension"))
        x, y = at(p, line)
        out.append(Line((x - 0.8, y - 0.8), (x + 0.8, y + 0.8), "opening"))
    for (v1, v2), (p1, p2) in zip(pairwise(values), pairwise(paper)):
        words = f"{v2 - v1:.2f} m"
        middle = (p1 + p2) / 2
        if flat:
            out.append(Text((middle, line + 0.9), words, 2.2, "caption", anchor="middle"))
        else:
            out.append(Text((line - 0.9, middle), words, 2.2, "caption", anchor="middle", turn_deg=90))
    return out
