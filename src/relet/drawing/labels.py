"""Where a label goes: near its thing, on the sheet, over no other label and no thing, off the lines if it can be."""

from __future__ import annotations

import math
from collections.abc import Iterable, Sequence
from dataclasses import dataclass, field
from itertools import pairwise

import numpy as np
import numpy.typing as npt

from relet.drawing.fonts import CAP_EM, text_width
from relet.drawing.shapes import XY, Box, Line, Shape, Text

_STEP_MM = 3.0
_PAD_MM = 0.5


@dataclass(frozen=True, slots=True)
class Row:
    """One line of a label."""

    text: str
    size: float
    role: str = "label"
    weight: int = 400
    italic: bool = False


def block_size(rows: Sequence[Row], indent: float = 0.0) -> XY:
    """Width and height of rows under one another, mm; `indent` is room for a mark before the first row."""
    widths = [text_width(r.text, r.size, r.weight) for r in rows]
    widths[0] += indent
    return (max(widths), sum(r.size * 1.18 for r in rows))


def set_rows(rows: Sequence[Row], box: Box, align: str, of: str, indent: float = 0.0) -> list[Text]:
    """Rows set inside a box, from its top."""
    out = []
    left, _, right, y = box
    for n, r in enumerate(rows):
        y -= r.size * 1.18
        base = y + r.size * 0.3
        first = indent if n == 0 else 0.0
        if align == "middle":
            out.append(_text(r, ((left + right + first) / 2, base), of, "middle"))
        elif align == "end":
            out.append(_text(r, (right, base), of, "end"))
        else:
            out.append(_text(r, (left + first, base), of, "start"))
    return out


def _text(r: Row, at: XY, of: str, anchor: str) -> Text:
    side = "middle" if anchor == "middle" else "end" if anchor == "end" else "start"
    return Text(at, r.text, r.size, r.role, of, side, r.weight, 0, r.italic)  # type: ignore[arg-type]


@dataclass
class Labels:
    """What is on the sheet already, and the search for a free place.

    limits  labels stay inside
    taken   boxes that no label may touch: things and other labels
    lines   boxes along lines: a label avoids them where it can
    """

    limits: Box
    taken: list[Box] = field(default_factory=list)
    lines: list[Box] = field(default_factory=list)

    def keep_off(self, *boxes: Box) -> None:
        """No label may touch these."""
        self.taken.extend(boxes)

    def prefer_off(self, points: Iterable[XY], half: float = 0.3) -> None:
        """Labels keep off this chain of lines where they can."""
        chain = list(points)
        for a, b in pairwise(chain):
            n = max(1, math.ceil(math.dist(a, b) / 2.0))
            for i in range(n):
                xs = sorted(a[0] + (b[0] - a[0]) * t / n for t in (i, i + 1))
                ys = sorted(a[1] + (b[1] - a[1]) * t / n for t in (i, i + 1))
                self.lines.append((xs[0] - half, ys[0] - half, xs[1] + half, ys[1] + half))

    def place(
        self, width: float, height: float, near: Box, sides: str = "nesw", reach: float = 60.0
    ) -> tuple[Box, str]:
        """A free box of this size near a thing and how text lies in it; it is taken from then on.

        sides  where it may stand, the best first: n e s w and c for inside the thing
        """
        for far in (reach / 4, reach):
            tries = list(self._tries(width, height, near, sides, far))
            boxes = np.array([t[0] for t in tries])
            cost = np.array([t[1] for t in tries])
            free = ~self._hit(boxes, self.taken, _PAD_MM)
            left, bottom, right, top = self.limits
            free &= (boxes[:, 0] >= left) & (boxes[:, 1] >= bottom) & (boxes[:, 2] <= right) & (boxes[:, 3] <= top)
            if free.any():
                break
        if free.any():
            where = np.flatnonzero(free)
            cost = cost[where] + 2.5 * self._crossed(boxes[where])
            best = int(where[int(np.argmin(cost))])
        else:
            best = int(np.argmin(self._overlap(boxes) + cost * 1e-3))
        box = tries[best][0]
        self.taken.append(box)
        return box, tries[best][2]

    def place_in(self, width: float, height: float, area: Box) -> tuple[float, float, float, float]:
        """A free box of this size inside an area, its upper left corner first; near it if all is full."""
        left, bottom, right, top = area
        inset = 1.6
        xs = np.arange(left + inset, max(right - inset - width, left + inset) + 0.01, 2.0)
        ys = np.arange(top - inset, min(bottom + inset + height, top - inset) - 0.01, -2.0)
        grid = np.array([(x, y - height, x + width, y) for y in ys for x in xs])
        fits = (grid[:, 2] <= right - 0.5) & (grid[:, 1] >= bottom + 0.5) & ~self._hit(grid, self.taken, _PAD_MM)
        if not fits.any():
            return self.place(width, height, area, "snew")[0]
        some = grid[fits]
        cost = (some[:, 0] - left) + 1.5 * (top - some[:, 3]) + 20.0 * self._crossed(some)
        b = some[int(np.argmin(cost))]
        box = (float(b[0]), float(b[1]), float(b[2]), float(b[3]))
        self.taken.append(box)
        return box

    def _tries(self, w: float, h: float, near: Box, sides: str, reach: float) -> Iterable[tuple[Box, float, str]]:
        left, bottom, right, top = near
        cx, cy = (left + right) / 2, (bottom + top) / 2
        gap = 0.8
        for rank, side in enumerate(sides):
            if side == "c":
                yield (cx - w / 2, cy - h / 2, cx + w / 2, cy + h / 2), 0.0, "middle"
                continue
            out = 0.0
            while out <= reach:
                slides = [0.0]
                s = _STEP_MM
                while s <= max(out * 0.8, 2 * _STEP_MM):
                    slides += [s, -s]
                    s += _STEP_MM
                for slide in slides:
                    cost = out + abs(slide) * 0.7 + rank * 1.5
                    if side in "ns":
                        x = cx - w / 2 + slide
                        y = top + gap + out if side == "n" else bottom - gap - out - h
                        yield (x, y, x + w, y + h), cost, "middle"
                    else:
                        y = cy - h / 2 + slide
                        x = right + gap + out if side == "e" else left - gap - out - w
                        yield (x, y, x + w, y + h), cost, "start" if side == "e" else "end"
                out += _STEP_MM if out else 1.5

    def _hit(self, boxes: npt.NDArray[np.float64], held: list[Box], pad: float) -> npt.NDArray[np.bool_]:
        if not held:
            return np.zeros(len(boxes), dtype=bool)
        h = np.array(held)
        hit = (
            (boxes[:, None, 0] < h[None, :, 2] + pad)
            & (boxes[:, None, 2] > h[None, :, 0] - pad)
            & (boxes[:, None, 1] < h[None, :, 3] + pad)
            & (boxes[:, None, 3] > h[None, :, 1] - pad)
        )
        return np.asarray(hit.any(axis=1), dtype=bool)

    def _crossed(self, boxes: npt.NDArray[np.float64]) -> npt.NDArray[np.float64]:
        """How many pieces of lines lie under each box."""
        if not self.lines:
            return np.zeros(len(boxes))
        h = np.array(self.lines)
        hit = (
            (boxes[:, None, 0] < h[None, :, 2])
            & (boxes[:, None, 2] > h[None, :, 0])
            & (boxes[:, None, 1] < h[None, :, 3])
            & (boxes[:, None, 3] > h[None, :, 1])
        )
        return np.asarray(hit.sum(axis=1), dtype=float)

    def _overlap(self, boxes: npt.NDArray[np.float64]) -> npt.NDArray[np.float64]:
        if not self.taken:
            return np.zeros(len(boxes))
        h = np.array(self.taken)
        w = np.minimum(boxes[:, None, 2], h[None, :, 2]) - np.maximum(boxes[:, None, 0], h[None, :, 0])
        t = np.minimum(boxes[:, None, 3], h[None, :, 3]) - np.maximum(boxes[:, None, 1], h[None, :, 1])
        return np.asarray((np.clip(w, 0, None) * np.clip(t, 0, None)).sum(axis=1), dtype=float)


def leader(box: Box, near: Box, of: str, beyond: float = 9.0) -> list[Shape]:
    """A thin line from a label to its thing where they stand apart."""
    a = _nearest(box, _middle(near))
    b = _nearest(near, a)
    return [Line(a, b, "leader", of)] if math.dist(a, b) > beyond else []


def _middle(box: Box) -> XY:
    return ((box[0] + box[2]) / 2, (box[1] + box[3]) / 2)


def _nearest(box: Box, p: XY) -> XY:
    return (min(max(p[0], box[0]), box[2]), min(max(p[1], box[1]), box[3]))


def cap_middle(size: float) -> float:
    """How far the base line lies below the middle of capitals."""
    return size * CAP_EM / 2
