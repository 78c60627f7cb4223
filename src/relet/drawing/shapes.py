"""Neutral shapes: what is drawn and what it stands for, before any ink.

Coordinates are millimetres of paper, x to the right, y up, from the lower left corner of the sheet. A plan is laid
on it by a `Sheet`, which knows the scale, so that a writer can go back to metres of floor. A shape has a role (wall,
run, label ...) and never a colour; `of` is the seat or address it stands for, "" for what stands for nothing.
"""

from __future__ import annotations

import math
from collections.abc import Iterable, Iterator
from dataclasses import dataclass, field
from typing import Literal, TypeAlias

from relet.drawing.fonts import CAP_EM, DROP_EM, text_width

XY: TypeAlias = tuple[float, float]
Box: TypeAlias = tuple[float, float, float, float]
"""Left, bottom, right, top."""
Anchor = Literal["start", "middle", "end"]


@dataclass(frozen=True, slots=True)
class Line:
    """A straight line."""

    a: XY
    b: XY
    role: str
    of: str = ""


@dataclass(frozen=True, slots=True)
class Polyline:
    """An open chain of straight lines; `round_mm` softens its corners."""

    points: tuple[XY, ...]
    role: str
    of: str = ""
    round_mm: float = 0.0


@dataclass(frozen=True, slots=True)
class Polygon:
    """A closed area, with holes."""

    points: tuple[XY, ...]
    role: str
    of: str = ""
    holes: tuple[tuple[XY, ...], ...] = ()


@dataclass(frozen=True, slots=True)
class Arc:
    """Part of a circle, counter-clockwise from `start_deg` to `end_deg`, 0 to the right."""

    centre: XY
    radius: float
    start_deg: float
    end_deg: float
    role: str
    of: str = ""

    def at(self, deg: float) -> XY:
        """The point of the circle at an angle."""
        t = math.radians(deg)
        return (self.centre[0] + self.radius * math.cos(t), self.centre[1] + self.radius * math.sin(t))


@dataclass(frozen=True, slots=True)
class Circle:
    """A whole circle."""

    centre: XY
    radius: float
    role: str
    of: str = ""


@dataclass(frozen=True, slots=True)
class Text:
    """One line of text. `at` is the point of the base line named by `anchor`; size in mm; turned by 0 or 90 degrees."""

    at: XY
    text: str
    size: float
    role: str = "label"
    of: str = ""
    anchor: Anchor = "start"
    weight: int = 400
    turn_deg: int = 0
    italic: bool = False

    @property
    def width(self) -> float:
        """Width along its base line, mm."""
        return text_width(self.text, self.size, self.weight)


@dataclass(frozen=True, slots=True)
class Group:
    """Shapes that stand together for one thing. name is read out first, desc after it."""

    shapes: tuple[Shape, ...]
    of: str = ""
    role: str = ""
    name: str = ""
    desc: str = ""


Shape: TypeAlias = Line | Polyline | Polygon | Arc | Circle | Text | Group


@dataclass(frozen=True, slots=True)
class Sheet:
    """The paper, and the scale at which the floor lies on it.

    width, height  mm
    scale          50 for 1:50; None for a diagram that is not to scale
    origin         where the point (0, 0) of the floor lies on the paper, mm
    margin         mm that stay empty all round
    unit_mm        millimetres of the real thing in one unit of its coordinates: 1000 for metres of floor
    """

    width: float
    height: float
    scale: float | None = None
    origin: XY = (0.0, 0.0)
    margin: float = 8.0
    unit_mm: float = 1000.0

    def length(self, real: float) -> float:
        """A length of the real thing on paper, mm."""
        if self.scale is None:
            raise ValueError("this sheet has no scale")
        return real * self.unit_mm / self.scale

    def on_paper(self, point: XY) -> XY:
        """A point of the real thing on paper."""
        return (self.origin[0] + self.length(point[0]), self.origin[1] + self.length(point[1]))

    @property
    def inner(self) -> Box:
        """The paper within its margins."""
        m = self.margin
        return (m, m, self.width - m, self.height - m)


@dataclass(frozen=True)
class Drawing:
    """Shapes on a sheet. title and desc are its accessible name and description; kind "plan", "single-line", "face"."""

    sheet: Sheet
    shapes: tuple[Shape, ...]
    title: str
    desc: str = ""
    kind: str = ""
    notes: tuple[str, ...] = field(default=())

    def flat(self) -> Iterator[Shape]:
        """Every shape that is not a group."""
        return flat(self.shapes)

    def texts(self) -> list[Text]:
        """Every text."""
        return [s for s in self.flat() if isinstance(s, Text)]

    def things(self) -> dict[str, Group]:
        """Group by what it stands for."""
        return {g.of: g for g in groups(self.shapes) if g.of}


def flat(shapes: Iterable[Shape]) -> Iterator[Shape]:
    """Every shape inside groups and out of them, in order, without the groups."""
    for s in shapes:
        if isinstance(s, Group):
            yield from flat(s.shapes)
        else:
            yield s


def groups(shapes: Iterable[Shape]) -> Iterator[Group]:
    """Every group, outer before inner."""
    for s in shapes:
        if isinstance(s, Group):
            yield s
            yield from groups(s.shapes)


def around(points: Iterable[XY]) -> Box:
    """The box around points."""
    xs, ys = zip(*points)
    return (min(xs), min(ys), max(xs), max(ys))


def text_box(t: Text) -> Box:
    """The box of a text: from its drop to the height of its capitals."""
    w = t.width
    lead = {"start": 0.0, "middle": -w / 2, "end": -w}[t.anchor]
    x, y = t.at
    if t.turn_deg == 90:
        return (x - CAP_EM * t.size, y + lead, x + DROP_EM * t.size, y + lead + w)
    return (x + lead, y - DROP_EM * t.size, x + lead + w, y + CAP_EM * t.size)


def _arc_points(s: Arc) -> list[XY]:
    inside = [d for d in range(-720, 721, 90) if s.start_deg < d < s.end_deg]
    return [s.at(d) for d in (s.start_deg, *inside, s.end_deg)]


def bounds(*shapes: Shape) -> Box:
    """The box around shapes; line widths are left out. Raises ValueError where there is nothing."""
    corners: list[XY] = []
    for s in flat(shapes):
        match s:
            case Line():
                corners += [s.a, s.b]
            case Polyline() | Polygon():
                corners += s.points
            case Circle():
                (x, y), r = s.centre, s.radius
                corners += [(x - r, y - r), (x + r, y + r)]
            case Arc():
                corners += _arc_points(s)
            case Text():
                left, bottom, right, top = text_box(s)
                corners += [(left, bottom), (right, top)]
    if not corners:
        raise ValueError("no shape to measure")
    return around(corners)


def moved(shape: Shape, dx: float, dy: float) -> Shape:
    """The same shape elsewhere."""

    def to(p: XY) -> XY:
        return (p[0] + dx, p[1] + dy)

    match shape:
        case Line():
            return Line(to(shape.a), to(shape.b), shape.role, shape.of)
        case Polyline():
            return Polyline(tuple(map(to, shape.points)), shape.role, shape.of, shape.round_mm)
        case Polygon():
            holes = tuple(tuple(map(to, h)) for h in shape.holes)
            return Polygon(tuple(map(to, shape.points)), shape.role, shape.of, holes)
        case Arc():
            return Arc(to(shape.centre), shape.radius, shape.start_deg, shape.end_deg, shape.role, shape.of)
        case Circle():
            return Circle(to(shape.centre), shape.radius, shape.role, shape.of)
        case Text():
            t = shape
            return Text(to(t.at), t.text, t.size, t.role, t.of, t.anchor, t.weight, t.turn_deg, t.italic)
        case Group():
            inner = tuple(moved(s, dx, dy) for s in shape.shapes)
            return Group(inner, shape.of, shape.role, shape.name, shape.desc)


def box_polygon(box: Box, role: str, of: str = "") -> Polygon:
    """A box as a polygon."""
    left, bottom, right, top = box
    return Polygon(((left, bottom), (right, bottom), (right, top), (left, top)), role, of)
