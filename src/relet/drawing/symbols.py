"""Symbols of diagrams after IEC 60617: contacts, breakers, fuses, residual current devices, outlets.

Drawn from the general rules of the standard (shapes from memory): a contact whose qualifying sign tells its function
stands at the fixed contact. Each symbol lies on a conductor and is LONG_MM long, from its supply end onwards.
"""

from __future__ import annotations

import math
from dataclasses import dataclass
from typing import Literal

from relet.drawing.shapes import XY, Arc, Circle, Line, Polygon, Shape

Towards = Literal["east", "south"]
LONG_MM = 12.0
HALF_MM = 3.0
"""Most that a symbol stands off its conductor."""

_FIXED, _HINGE = 4.0, 9.0
_SWING = 2.6


@dataclass(frozen=True, slots=True)
class Pen:
    """Draws in coordinates of a symbol: u along the conductor, v to the left of it."""

    at: XY
    towards: Towards
    of: str

    def xy(self, u: float, v: float) -> XY:
        """A point on paper."""
        x, y = self.at
        return (x + u, y + v) if self.towards == "east" else (x + v, y - u)

    def line(self, a: XY, b: XY, role: str = "device") -> Line:
        """A line."""
        return Line(self.xy(*a), self.xy(*b), role, self.of)

    def area(self, *points: XY, role: str = "device-body") -> Polygon:
        """A closed area."""
        return Polygon(tuple(self.xy(*p) for p in points), role, self.of)

    def arc(self, u: float, v: float, r: float, start: float, end: float, role: str = "device") -> Arc:
        """An arc by angles from the direction of the conductor, to the left."""
        if self.towards == "east":
            return Arc(self.xy(u, v), r, start, end, role, self.of)
        return Arc(self.xy(u, v), r, start - 90, end - 90, role, self.of)


def device_symbol(kind: str, at: XY, towards: Towards, of: str) -> list[Shape]:
    """The symbol of a device by its kind of part."""
    p = Pen(at, towards, of)
    match kind:
        case "mcb" | "mccb":
            return [*_contact(p), *_cross(p)]
        case "rcbo":
            return [*_contact(p), *_cross(p), *_toroid(p)]
        case "rccb":
            return [*_contact(p), *_toroid(p)]
        case "switch":
            return [*_contact(p), *_load_break(p)]
        case "fuse-switch":
            return [*_fuse_blade(p), *_load_break(p)]
        case "contactor":
            return [*_contact(p), p.arc(_FIXED - 0.9, 0, 0.9, 0, 180)]
        case "fuse":
            return [
                p.area((2.2, -1.35), (9.8, -1.35), (9.8, 1.35), (2.2, 1.35)),
                p.line((0, 0), (LONG_MM, 0), "conductor"),
            ]
        case _:
            return [
                p.line((0, 0), (2.5, 0), "conductor"), p.line((9.5, 0), (LONG_MM, 0), "conductor"),
                p.area((2.5, -1.8), (9.5, -1.8), (9.5, 1.8), (2.5, 1.8)),
            ]  # fmt: skip


def _contact(p: Pen) -> list[Shape]:
    return [
        p.line((0, 0), (_FIXED, 0), "conductor"),
        p.line((_HINGE, 0), (LONG_MM, 0), "conductor"),
        p.line((_HINGE, 0), (_FIXED + 0.2, _SWING)),
    ]


def _cross(p: Pen) -> list[Shape]:
    d = 0.95
    return [
        p.line((_FIXED - d, -d), (_FIXED + d, d)),
        p.line((_FIXED - d, d), (_FIXED + d, -d)),
    ]


def _load_break(p: Pen) -> list[Shape]:
    """A circle and a bar: makes and breaks load, and isolates."""
    return [
        p.line((_FIXED, -1.15), (_FIXED, 1.15)),
        Circle(p.xy(_FIXED + 0.62, 0), 0.62, "device-body", p.of),
    ]


def _fuse_blade(p: Pen) -> list[Shape]:
    a, b = (_HINGE, 0.0), (_FIXED + 0.2, _SWING)
    d = math.dist(a, b)
    ux, uy = (b[0] - a[0]) / d, (b[1] - a[1]) / d
    corners = [
        (a[0] + ux * t - uy * s, a[1] + uy * t + ux * s)
        for t, s in ((1.1, -0.75), (4.7, -0.75), (4.7, 0.75), (1.1, 0.75))
    ]
    return [
        p.line((0, 0), (_FIXED, 0), "conductor"), p.line((_HINGE, 0), (LONG_MM, 0), "conductor"),
        p.area(*corners), p.line(a, b),
    ]  # fmt: skip


def _toroid(p: Pen) -> list[Shape]:
    """The summing transformer round the conductor, linked to the blade."""
    u = 10.6
    return [
        Circle(p.xy(u, 0), 1.15, "residual", p.of),
        p.line((u, 1.15), (u, 2.2), "link"),
        p.line((u, 2.2), (6.9, 1.2), "link"),
    ]


def outlet_symbol(at: XY, of: str, *, fixed: bool = False) -> list[Shape]:
    """A socket-outlet with protective contact at the end of a conductor; a fixed connection is a terminal."""
    p = Pen(at, "east", of)
    if fixed:
        return [p.line((0, 0), (3.0, 0), "conductor"), p.area((3.0, -1.3), (5.6, -1.3), (5.6, 1.3), (3.0, 1.3))]
    return [
        p.line((0, 0), (3.0, 0), "conductor"),
        p.line((3.0, -1.9), (3.0, 1.9)),
        p.arc(4.9, 0, 1.9, 90, 270),
    ]


def load_symbol(at: XY, of: str) -> list[Shape]:
    """The end of a circuit that feeds a load of the building's own: an arrow head."""
    p = Pen(at, "east", of)
    return [p.line((0, 0), (4.0, 0), "conductor"), p.area((4.0, 1.2), (6.2, 0), (4.0, -1.2), role="device-fill")]


def origin_symbol(at: XY, of: str) -> list[Shape]:
    """The supply coming in from above: an arrow down, 7 mm long."""
    p = Pen(at, "south", of)
    return [p.line((0, 0), (7.0, 0), "conductor"), p.area((2.2, 1.1), (4.6, 0), (2.2, -1.1), role="device-fill")]
