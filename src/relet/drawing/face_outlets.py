"""Faces of outlets: industrial ones with the colour of their voltage and their clock position, 13 A ones, fixed ones.

Simplified after EN 60309 and BS 1363 (arrangement of contacts from memory); colours and hours come from the tables.
"""

from __future__ import annotations

import math

from relet.drawing.ink import SOCKET_COLOURS
from relet.drawing.shapes import XY, Box, Circle, Line, Polygon, Shape, box_polygon
from relet.drawing.sizes import size
from relet.drawing.wording import exact, held, is_button, number
from relet.errors import ReletError
from relet.model import Catalogue, Outlet
from relet.tables import assemblies

_CONTACTS = {"2P+E": 3, "3P+E": 4, "3P+N+E": 5, "2P": 2, "3P": 3}


def colour_word(o: Outlet, catalogue: Catalogue) -> str:
    """Colour of an industrial outlet by its voltage, "" where its voltage is not held."""
    volts = exact(held(o, "voltage_v", catalogue))
    if not isinstance(volts, int | float):
        return ""
    try:
        word = assemblies.outlet_colour(float(volts)).split(" ")[0]
    except ReletError:
        return ""
    return word if word in SOCKET_COLOURS else ""


def outlet_face(o: Outlet, box: Box, of: str, catalogue: Catalogue) -> list[Shape]:
    """The face of an outlet inside a box of paper."""
    form = exact(held(o, "outlet", catalogue))
    if is_button(o, catalogue):
        return button_face(box, of)
    if form == "60309":
        return _industrial(o, box, of, catalogue)
    if form == "1363":
        gangs = exact(held(o, "gangs", catalogue))
        return _thirteen(box, of, int(gangs) if isinstance(gangs, int | float) else 1)
    if form == "fixed":
        return _fixed(box, of)
    return _unknown(box, of)


def made_size(o: Outlet, catalogue: Catalogue) -> XY:
    """About how wide and high the outlet is made, mm, upright; a double plate lies or stands as its room does."""
    if exact(held(o, "outlet", catalogue)) == "1363":
        one = size("outlet_13_mm")
        return (one, size("outlet_13_twin_mm") if exact(held(o, "gangs", catalogue)) == 2 else one)
    in_a = number(o, "in_a", catalogue, 16.0)
    row = next((n for n in (16, 32, 63) if in_a <= n), 125)
    return (size(f"outlet_{row}_mm"), size(f"outlet_{row}_mm"))


def _middle(box: Box) -> tuple[float, float, float]:
    left, bottom, right, top = box
    return (left + right) / 2, (bottom + top) / 2, min(right - left, top - bottom) / 2


def _turned(centre: XY, r: float, deg: float) -> XY:
    t = math.radians(deg)
    return (centre[0] + r * math.cos(t), centre[1] + r * math.sin(t))


def _industrial(o: Outlet, box: Box, of: str, catalogue: Catalogue) -> list[Shape]:
    x, y, half = _middle(box)
    r = half * 0.86
    poles = str(exact(held(o, "poles", catalogue)) or "")
    hour = exact(held(o, "clock_h", catalogue))
    n = _CONTACTS.get(poles, 0)
    colour = colour_word(o, catalogue)
    ring = f"socket-{colour}" if colour else "aperture-spare"
    flange = half
    c = flange * 0.22
    corners = (
        (x - flange + c, y - flange), (x + flange - c, y - flange), (x + flange, y - flange + c),
        (x + flange, y + flange - c), (x + flange - c, y + flange), (x - flange + c, y + flange),
        (x - flange, y + flange - c), (x - flange, y - flange + c),
    )  # fmt: skip
    shapes: list[Shape] = [
        Polygon(corners, "socket", of),
        Circle((x, y), r, ring, of),
        Circle((x, y), r * 0.76, "socket", of),
    ]
    key = r * 0.13
    shapes.append(box_polygon((x - key, y - r * 0.9, x + key, y - r * 0.68), "socket", of))
    if n and isinstance(hour, int | float):
        earth = 90.0 - 30.0 * float(hour)
        for i in range(n):
            at = _turned((x, y), r * 0.46, earth + i * 360 / n)
            if i == 0:
                shapes += [Circle(at, r * 0.15, "pin-earth", of), Circle(at, r * 0.06, "pin", of)]
            else:
                shapes.append(Circle(at, r * 0.11, "pin", of))
    return shapes


def _thirteen(box: Box, of: str, gangs: int) -> list[Shape]:
    left, bottom, right, top = box
    x, y, _ = _middle(box)
    w, h = (right - left) / 2, (top - bottom) / 2
    one = min(w, h)
    far = max(w, h) / 2
    centres = [(x, y)] if gangs == 1 else [(x - far, y), (x + far, y)] if w > h else [(x, y + far), (x, y - far)]
    shapes: list[Shape] = [box_polygon(box, "socket", of)]
    for cx, cy in centres:
        s = one * 0.5
        shapes += [
            box_polygon((cx - s * 0.16, cy + s * 0.35, cx + s * 0.16, cy + s * 1.05), "pin", of),
            box_polygon((cx - s * 0.95, cy - s * 0.75, cx - s * 0.35, cy - s * 0.45), "pin", of),
            box_polygon((cx + s * 0.35, cy - s * 0.75, cx + s * 0.95, cy - s * 0.45), "pin", of),
        ]
    return shapes


def _fixed(box: Box, of: str) -> list[Shape]:
    x, y, half = _middle(box)
    r = half * 0.9
    return [
        box_polygon((x - r, y - r, x + r, y + r), "socket", of),
        Circle((x, y + r * 0.15), r * 0.5, "aperture", of),
        Line((x - r * 0.36, y + r * 0.15 - r * 0.36), (x + r * 0.36, y + r * 0.15 + r * 0.36), "device", of),
        Circle((x, y - r * 0.7), r * 0.17, "pin-earth", of),
    ]


def _unknown(box: Box, of: str) -> list[Shape]:
    x, y, half = _middle(box)
    r = half * 0.8
    return [box_polygon((x - r, y - r, x + r, y + r), "aperture-spare", of)]


def button_face(box: Box, of: str) -> list[Shape]:
    """A button for emergency switching off: red on yellow."""
    x, y, half = _middle(box)
    return [Circle((x, y), half * 0.8, "socket-yellow", of), Circle((x, y), half * 0.5, "socket-red", of)]
