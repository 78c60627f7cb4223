"""Shapes as SVG, in one of two palettes.

paper  every colour and width written out: for files and PDF
page   a class per role and colours from CSS variables: for HTML in light and dark; `page_css()` is its style sheet

Groups that stand for something carry `data-of`, an id and a title that is read out; nothing here knows what a thing is.
"""

from __future__ import annotations

import math
import re
from collections.abc import Callable
from html import escape
from typing import Literal

from relet.drawing.fonts import FAMILY
from relet.drawing.ink import INKS, PAGE_DARK, PAGE_LIGHT, PAPER, SOCKET_HEX, Ink
from relet.drawing.shapes import XY, Arc, Circle, Drawing, Group, Line, Polygon, Polyline, Shape, Text

Palette = Literal["page", "paper"]

_HALO_MM = 0.7


def svg(drawing: Drawing, palette: Palette, *, id_prefix: str = "", style: bool = True) -> str:
    """A drawing as one SVG element.

    id_prefix    before every id, for pages with several drawings
    style        page palette: carry the style sheet along; False where the page serves `page_css()` itself
    """
    return _Writer(drawing, palette, id_prefix, style).whole()


def page_css() -> str:
    """The style sheet of the page palette: variables for light and dark, one class per role, all under one class."""
    lines = [
        ".relet-drawing{"
        + _variables(PAGE_LIGHT)
        + f'font-family:"{FAMILY}",system-ui,sans-serif;color:var(--d-ink)}}',
        "@media (prefers-color-scheme:dark){.relet-drawing{" + _variables(PAGE_DARK) + "}}",
        "@media print{.relet-drawing{" + _variables(PAGE_LIGHT) + "}}",
        ".relet-drawing *{fill:none;stroke-linejoin:round;stroke-linecap:round}",
        ".relet-drawing text{stroke:none}",
        ".relet-drawing [tabindex]:focus{outline:none}",
        ".relet-drawing [tabindex]:focus-visible .d-target{stroke:var(--d-accent);stroke-width:.7}",
        ".relet-drawing [tabindex]{cursor:pointer}",
        ".relet-drawing .d-target{pointer-events:all}",
    ]
    for role, ink in INKS.items():
        body = [f"{k}:{v}" for k, v in _ink(ink, _page_colour) if (k, v) != ("fill", "none")]
        if body:
            lines.append(f".relet-drawing .d-{role}{{{';'.join(body)}}}")
    return "\n".join(lines)


def _variables(colours: dict[str, str]) -> str:
    return "".join(f"--d-{name}:{value};" for name, value in colours.items())


def _page_colour(name: str) -> str:
    if name.startswith("socket-"):
        return SOCKET_HEX[name.removeprefix("socket-")]
    return "currentColor" if name == "ink" else f"var(--d-{name})"


def _paper_colour(name: str) -> str:
    return SOCKET_HEX[name.removeprefix("socket-")] if name.startswith("socket-") else PAPER[name]


def _ink(ink: Ink, colour: Callable[[str], str]) -> list[tuple[str, str]]:
    out = [("fill", colour(ink.fill) if ink.fill else "none")]
    if ink.stroke:
        out += [("stroke", colour(ink.stroke)), ("stroke-width", _n(ink.width))]
    if ink.dash:
        out.append(("stroke-dasharray", " ".join(_n(d) for d in ink.dash)))
    if ink.butt:
        out.append(("stroke-linecap", "butt"))
    if ink.halo:
        out += [("stroke", colour("ground")), ("stroke-width", _n(_HALO_MM)), ("paint-order", "stroke")]
    return out


def _n(value: float) -> str:
    text = f"{value:.2f}".rstrip("0").rstrip(".")
    return "0" if text in ("-0", "") else text


def slug(address: str) -> str:
    """An address as an id: letters, digits, points and dashes."""
    return re.sub(r"[^A-Za-z0-9.-]+", "_", address)


class _Writer:
    def __init__(self, drawing: Drawing, palette: Palette, prefix: str, style: bool) -> None:
        self.d, self.page, self.prefix = drawing, palette == "page", prefix
        self.style = style and self.page
        self.high = drawing.sheet.height
        self.out: list[str] = []
        self.used: set[str] = set()
        self.inks: dict[str, str] = {}

    def whole(self) -> str:
        s = self.d.sheet
        title, desc = self._id("title"), self._id("desc")
        size = f'width="{_n(s.width)}mm" height="{_n(s.height)}mm" viewBox="0 0 {_n(s.width)} {_n(s.height)}"'
        look = (
            f'class="relet-drawing relet-{self.d.kind or "drawing"}"'
            if self.page
            else f'font-family="{FAMILY}, Arial, Helvetica, sans-serif"'
        )
        caps = "" if self.page else ' stroke-linejoin="round" stroke-linecap="round"'
        self.out.append(
            f'<svg xmlns="http://www.w3.org/2000/svg" {size} {look}{caps} role="group" '
            f'aria-labelledby="{title} {desc}">\n<title id="{title}">{escape(self.d.title)}</title>'
            f'<desc id="{desc}">{escape(self.d.desc or self.d.title)}</desc>'
        )
        if self.style:
            self.out.append(f"<style>\n{page_css()}\n</style>")
        if not self.page:
            self.out.append(f'<rect width="{_n(s.width)}" height="{_n(s.height)}" fill="{PAPER["ground"]}"/>')
        for shape in self.d.shapes:
            self._shape(shape)
        self.out.append("</svg>\n")
        return "\n".join(self.out)

    def _id(self, wanted: str) -> str:
        base = one = f"{self.prefix}{slug(wanted)}"
        n = 2
        while one in self.used:
            one, n = f"{base}-{n}", n + 1
        self.used.add(one)
        return one

    def _xy(self, p: XY) -> str:
        return f"{_n(p[0])} {_n(self.high - p[1])}"

    def _look(self, role: str) -> str:
        if role not in self.inks:
            if self.page:
                self.inks[role] = f' class="d-{role}"'
            else:
                self.inks[role] = "".join(f' {k}="{v}"' for k, v in _ink(INKS[role], _paper_colour))
        return self.inks[role]

    def _of(self, of: str) -> str:
        return f' data-of="{escape(of, quote=True)}"' if of else ""

    def _shape(self, s: Shape) -> None:
        match s:
            case Group():
                self._group(s)
            case Text():
                self._text(s)
            case Circle():
                x, y = s.centre
                where = f'cx="{_n(x)}" cy="{_n(self.high - y)}" r="{_n(s.radius)}"'
                self.out.append(f"<circle {where}{self._look(s.role)}{self._of(s.of)}/>")
            case Line():
                self._path(f"M{self._xy(s.a)}L{self._xy(s.b)}", s.role, s.of)
            case Polyline():
                self._path(self._chain(s), s.role, s.of)
            case Polygon():
                rings = (s.points, *s.holes)
                self._path("".join("M" + "L".join(map(self._xy, r)) + "Z" for r in rings), s.role, s.of)
            case Arc():
                wide = 1 if (s.end_deg - s.start_deg) % 360 > 180 else 0
                r = _n(s.radius)
                d = f"M{self._xy(s.at(s.start_deg))}A{r} {r} 0 {wide} 0 {self._xy(s.at(s.end_deg))}"
                self._path(d, s.role, s.of)

    def _path(self, d: str, role: str, of: str) -> None:
        even = ' fill-rule="evenodd"' if d.count("M") > 1 else ""
        self.out.append(f'<path d="{d}"{even}{self._look(role)}{self._of(of)}/>')

    def _chain(self, s: Polyline) -> str:
        """A chain of lines, its corners softened by short curves."""
        points = s.points
        out = [f"M{self._xy(points[0])}"]
        for before, here, after in zip(points, points[1:], points[2:]):
            r = min(s.round_mm, math.dist(before, here) / 2, math.dist(here, after) / 2)
            if r <= 0:
                out.append(f"L{self._xy(here)}")
                continue
            out.append(f"L{self._xy(_towards(here, before, r))}Q{self._xy(here)} {self._xy(_towards(here, after, r))}")
        out.append(f"L{self._xy(points[-1])}")
        return "".join(out)

    def _text(self, t: Text) -> None:
        if not t.text:
            return
        x, y = t.at[0], self.high - t.at[1]
        turn = f' transform="rotate(-{t.turn_deg} {_n(x)} {_n(y)})"' if t.turn_deg else ""
        anchor = "" if t.anchor == "start" else f' text-anchor="{t.anchor}"'
        weight = "" if t.weight == 400 else f' font-weight="{t.weight}"'
        slant = ' font-style="italic"' if t.italic else ""
        self.out.append(
            f'<text x="{_n(x)}" y="{_n(y)}" font-size="{_n(t.size)}"{anchor}{weight}{slant}{turn}'
            f"{self._look(t.role)}{self._of(t.of)}>{escape(t.text, quote=False)}</text>"
        )

    def _group(self, g: Group) -> None:
        marks = ""
        if g.of:
            marks = f' id="{self._id(g.of)}"{self._of(g.of)} role="group"'
        kind = f' data-role="{g.role}"' if g.role else ""
        self.out.append(f"<g{marks}{kind}>")
        if g.name:
            self.out.append(f"<title>{escape(g.name)}</title>")
        if g.desc:
            self.out.append(f"<desc>{escape(g.desc)}</desc>")
        for s in g.shapes:
            self._shape(s)
        self.out.append("</g>")


def _towards(a: XY, b: XY, by: float) -> XY:
    d = math.dist(a, b)
    return (a[0] + (b[0] - a[0]) * by / d, a[1] + (b[1] - a[1]) * by / d)
