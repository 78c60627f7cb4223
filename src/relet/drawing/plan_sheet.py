"""The sheet of a plan: which scale fits, and what stands at its foot: scale bar, key, north arrow, title block."""

from __future__ import annotations

from relet.drawing.fonts import text_width
from relet.drawing.frame import BLOCK_MM, Paper, TitleBlock, north_arrow, paper_size, scale_bar, title_block
from relet.drawing.labels import cap_middle
from relet.drawing.plan_room import dimensions
from relet.drawing.shapes import XY, Arc, Circle, Group, Line, Polygon, Shape, Sheet, Text, around, bounds, box_polygon
from relet.model import Unit

SCALES = (20, 25, 40, 50, 60, 75, 100, 125, 150, 200, 250, 300, 400, 500, 750, 1000, 1500, 2000)
"""Scales a plan may take; the greatest that fits the paper is taken."""

_LEFT_MM, _BOTTOM_MM, _RIGHT_MM, _TOP_MM = 37.0, 21.0, 31.0, 15.0
_FOOT_MM = 12.0
_FIT_MM = (210.0, 165.0)
_KEY_MM = 2.1


def fitted(unit: Unit, paper: Paper) -> Sheet:
    """The sheet on which the unit is drawn at the greatest scale that fits."""
    left, bottom, right, top = around(unit.space.outline_m)
    w, h = (right - left) * 1000, (top - bottom) * 1000
    margin = 2.0 if paper == "fit" else 8.0
    foot = _BOTTOM_MM + _FOOT_MM + (0.0 if paper == "fit" else BLOCK_MM)
    beside, above = 2 * margin + _LEFT_MM + _RIGHT_MM, 2 * margin + _TOP_MM + foot
    if paper == "fit":
        scale = _scale(w, h, _FIT_MM)
        wide, high = w / scale + beside, h / scale + above
    else:
        wide, high = paper_size(paper)
        scale = _scale(w, h, (wide - beside, high - above))
    x0 = margin + _LEFT_MM + (wide - beside - w / scale) / 2
    y0 = margin + foot + (high - above - h / scale) / 2
    return Sheet(wide, high, float(scale), (x0 - left * 1000 / scale, y0 - bottom * 1000 / scale), margin)


def _scale(w: float, h: float, room: XY) -> int:
    return next((s for s in SCALES if w / s <= room[0] and h / s <= room[1]), SCALES[-1])


def furniture(unit: Unit, sheet: Sheet, paper: Paper, block: TitleBlock, kinds: tuple[str, ...]) -> list[Shape]:
    """Dimensions, scale bar, key of the kinds that are drawn, north arrow; on paper frame and title block."""
    left, bottom, right, _ = sheet.inner
    foot = bottom + (0 if paper == "fit" else BLOCK_MM)
    bar = scale_bar(sheet, (left + 6.0, foot + 2.4))
    end = bounds(bar)[2] + 4.0
    words = Text((end, foot + 5.5), f"1:{sheet.scale:g}", 2.6, "title", weight=600)
    out: list[Shape] = [
        dimensions(unit.space, sheet, _BOTTOM_MM - 6.0, _LEFT_MM - 3.0), bar, words,
        key(kinds, (end + 16.0, foot + 6.3), right - 18.0), north_arrow((right - 8.0, foot + 2.6)),
    ]  # fmt: skip
    if paper != "fit":
        out.append(title_block(sheet, block))
    return out


_NAMES = {
    "assembly": "outlet assembly", "board": "distribution board", "outlet": "socket-outlet", "run": "run",
    "tapped-run": "tapped run", "tap": "tap-off", "lead": "lead", "containment": "containment",
}  # fmt: skip


def key(kinds: tuple[str, ...], at: XY, right: float) -> Group:
    """What the symbols mean, in one row that turns over once where the sheet is narrow."""
    x, y = at
    shapes: list[Shape] = []
    for kind in (k for k in _NAMES if k in kinds):
        wide = 9.5 + text_width(_NAMES[kind], _KEY_MM) + 4.0
        if x + wide > right:
            x, y = at[0], y - 4.4
            if y < at[1] - 5.0 or x + wide > right:
                break
        shapes += _sign(kind, (x, y))
        shapes.append(Text((x + 8.0, y - cap_middle(_KEY_MM)), _NAMES[kind], _KEY_MM, "caption"))
        x += wide
    return Group(tuple(shapes), role="key", name="key of symbols")


def _sign(kind: str, at: XY) -> list[Shape]:
    x, y = at
    match kind:
        case "assembly":
            return [box_polygon((x + 1.4, y - 1.2, x + 6.0, y + 1.2), "assembly")]
        case "board":
            box = (x + 1.4, y - 1.2, x + 6.0, y + 1.2)
            half = ((box[0], box[1]), (box[2], box[1]), (box[2], box[3]))
            return [box_polygon(box, "board"), Polygon(half, "board-half")]
        case "outlet":
            return [
                Line((x + 1.6, y), (x + 3.0, y), "outlet"),
                Arc((x + 4.6, y), 1.6, 90, 270, "outlet"),
                Line((x + 3.0, y - 1.6), (x + 3.0, y + 1.6), "outlet"),
            ]
        case "tap":
            return [
                Line((x, y), (x + 7.0, y), "tapped-run"),
                Circle((x + 3.5, y), 1.1, "tap"),
                Circle((x + 3.5, y), 0.4, "node"),
            ]
        case _:
            return [Line((x, y), (x + 6.6, y), kind)]
