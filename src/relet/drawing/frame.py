"""What goes round a drawing: paper, frame, title block, scale bar, north arrow, marks of verdicts and changes."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Literal

from relet.drawing.fonts import shortened, text_width
from relet.drawing.ink import INKS
from relet.drawing.shapes import XY, Box, Circle, Group, Line, Polygon, Polyline, Shape, Sheet, Text, box_polygon
from relet.drawing.sizes import size

Paper = Literal["A4", "A3", "fit"]
Verdict = Literal["meets", "fails", "depends", "refer", "advice"]

MARK_MM = 2.6
"""Side of a verdict mark."""
BLOCK_MM = 13.0
"""Height of the title block."""


@dataclass(frozen=True, slots=True)
class TitleBlock:
    """What stands at the foot of a sheet: a big title, a line under it, and fields (name, value) in order."""

    title: str
    under: str = ""
    fields: tuple[tuple[str, str], ...] = ()


def paper_size(paper: Paper) -> XY:
    """Width and height of a landscape sheet, mm."""
    name = paper.lower()
    return (size(f"paper_{name}_long"), size(f"paper_{name}_short"))


def title_block(sheet: Sheet, block: TitleBlock) -> Group:
    """Frame round the sheet and the title block along its foot."""
    left, bottom, right, top = sheet.inner
    head = bottom + BLOCK_MM
    shapes: list[Shape] = [box_polygon((left, bottom, right, top), "frame"), Line((left, head), (right, head), "frame")]
    widest = (right - left) * 0.42
    x = right
    room = right - left - widest
    for name, value in reversed(block.fields):
        wide = max(text_width(name, 1.9), text_width(value, 2.6, 500)) + 5.0
        if wide > room:
            value = shortened(value, 2.6, max(room - 5.0, 4.0), 500)
            wide = room
        room -= wide
        x -= wide
        shapes.append(Line((x, bottom), (x, head), "rule"))
        shapes.append(Text((x + 2.2, head - 4.0), name, 1.9, "note"))
        shapes.append(Text((x + 2.2, bottom + 3.2), value, 2.6, "title", weight=500))
        if room < 8.0:
            break
    wide = x - left - 6.0
    up = bottom + (6.4 if block.under else 4.6)
    shapes.append(Text((left + 3.0, up), shortened(block.title, 4.2, wide, 600), 4.2, "title", weight=600))
    if block.under:
        shapes.append(Text((left + 3.0, bottom + 2.6), shortened(block.under, 2.2, wide), 2.2, "note"))
    return Group(tuple(shapes), role="frame")


def scale_bar(sheet: Sheet, at: XY, longest_mm: float = 80.0) -> Group:
    """A bar in whole metres, true to the sheet's scale; `at` is its lower left corner."""
    one = sheet.length(1.0)
    steps = [s for s in (0.1, 0.2, 0.5, 1, 2, 5, 10, 20, 50) if s * one * 4 <= longest_mm]
    step = steps[-1] if steps else 0.1
    x, y = at[0], at[1] + 3.2
    shapes: list[Shape] = []
    for i in range(4):
        cell = (x + i * step * one, y, x + (i + 1) * step * one, y + 1.4)
        shapes.append(box_polygon(cell, "scale-dark" if i % 2 == 0 else "scale-light"))
    for i in (0, 1, 2, 4):
        name = f"{i * step:g}" + (" m" if i == 4 else "")
        shapes.append(Text((x + i * step * one, y - 2.8), name, 2.1, "caption", anchor="middle"))
    return Group(tuple(shapes), role="scale-bar", name=f"scale bar, {4 * step:g} m long, scale 1:{sheet.scale:g}")


def north_arrow(at: XY, high: float = 12.0) -> Group:
    """North is up: the unit file says y goes north. `at` is the middle of its foot."""
    x, y = at
    tip, foot, half = y + high - 4.0, y, high * 0.17
    shapes: tuple[Shape, ...] = (
        Polygon(((x, tip), (x - half, foot), (x, foot + half)), "north"),
        Polygon(((x, tip), (x + half, foot), (x, foot + half)), "scale-light"),
        Text((x, tip + 1.2), "N", 2.8, "title", anchor="middle", weight=600),
    )
    return Group(shapes, role="north", name="north is up")


def mark(verdict: str, at: XY, of: str = "") -> Group:
    """A verdict as a shape, its lower left corner at `at`: the word stands beside it, colour only helps."""
    x, y = at
    s = MARK_MM
    cx, cy, r = x + s / 2, y + s / 2, s / 2
    shapes: list[Shape]
    if verdict == "fails":
        shapes = [
            Polygon(((x, y), (x + s, y), (x + s, y + s), (x, y + s)), "mark-fails"),
            Line((x + 0.65, y + 0.65), (x + s - 0.65, y + s - 0.65), "mark-stroke"),
            Line((x + 0.65, y + s - 0.65), (x + s - 0.65, y + 0.65), "mark-stroke"),
        ]
    elif verdict == "depends":
        half = tuple((cx + dx * r, cy + dy * r) for dx, dy in ((0, 1), (-0.71, 0.71), (-1, 0), (-0.71, -0.71), (0, -1)))
        shapes = [Circle((cx, cy), r, "mark-depends"), Polygon(half, "mark-depends-fill")]
    elif verdict == "refer":
        shapes = [
            Polygon(((cx, y + s), (x + s, cy), (cx, y), (x, cy)), "mark-refer"),
            Line((cx, cy + 0.55), (cx, cy - 0.1), "mark-refer-stroke"),
            Line((cx, cy - 0.6), (cx, cy - 0.6), "mark-refer-stroke"),
        ]
    elif verdict == "meets":
        tick = ((x + 0.7, cy), (cx - 0.15, y + 0.75), (x + s - 0.6, y + s - 0.75))
        shapes = [Circle((cx, cy), r, "mark-meets"), Polyline(tick, "mark-meets-stroke")]
    else:
        shapes = [Circle((cx, cy), r, "mark-advice")]
    return Group(tuple(shapes), role="mark", name=verdict)


CHANGES = ("added", "removed", "changed")


def change_outline(box: Box, change: str, of: str) -> list[Shape]:
    """A frame round what differs between two installations; the word stands in its label."""
    left, bottom, right, top = box
    role = change if change in CHANGES and change in INKS else "changed"
    return [box_polygon((left - 1.2, bottom - 1.2, right + 1.2, top + 1.2), role, of)]
