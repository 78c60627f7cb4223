"""The single-line diagram: from the origin to the right and down, one row for each point of use.

Busbars stand upright and their ways go to the right, so that every word lies along its conductor and none can meet
another. Boards and tapped runs are sections of their own; sections flow through columns and sheets.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field

from relet.drawing.frame import BLOCK_MM, MARK_MM, Paper, TitleBlock, mark, paper_size, title_block
from relet.drawing.shapes import XY, Circle, Drawing, Group, Line, Shape, Sheet, Text, bounds, box_polygon, moved
from relet.drawing.single_line_cells import (
    HEAD_MM,
    SEAT_MM,
    WIDTHS,
    WORD_MM,
    block_height,
    cell,
    group,
    line_drop,
)
from relet.drawing.single_line_tree import Node, Section, sections, supply_lines
from relet.drawing.symbols import LONG_MM, device_symbol, origin_symbol
from relet.drawing.wording import Words
from relet.model import Catalogue, Installation, Tenancy, Unit, Use

_TITLE_MM = 8.0
_LEAD_MM = 15.0
_GAP_MM = 7.0
_COLUMN_MM = 195.0
_ENDS_MM = _COLUMN_MM - WIDTHS["outlet"] - 1.0
"""Where outlets and loads stand, all under one another."""
_BAR_MM = 4.0


def single_line(
    installation: Installation, use: Use | None, unit: Unit, catalogue: Catalogue, tenancy: Tenancy | None = None, *,
    columns: int = 2, verdicts: Mapping[str, str] | None = None,
) -> Drawing:  # fmt: skip
    """The whole diagram on one sheet that is as big as it needs to be, in `columns` columns of even height.

    verdicts  seat -> verdict to mark beside it
    """
    flow = _flow(installation, use, unit, catalogue, tenancy, verdicts)
    total = sum(flow.height(s) for s in flow.sections)
    high = max(total / columns, 60.0)
    while len(placed := flow.columns(high)) > columns and high < total * 1.2 + 60.0:
        high *= 1.04
    width = len(placed) * _COLUMN_MM + (len(placed) - 1) * _GAP_MM
    deep = max(c.depth for c in placed)
    sheet = Sheet(width + 8.0, deep + 8.0, None, margin=4.0)
    shapes = [s for n, c in enumerate(placed) for s in c.at(4.0 + n * (_COLUMN_MM + _GAP_MM), sheet.height - 4.0)]
    return Drawing(sheet, tuple(shapes), *_titles(unit, tenancy, installation), "single-line")


def single_line_sheets(
    installation: Installation, use: Use | None, unit: Unit, catalogue: Catalogue, tenancy: Tenancy | None = None, *,
    paper: Paper = "A3", block: TitleBlock | None = None, verdicts: Mapping[str, str] | None = None,
) -> tuple[Drawing, ...]:  # fmt: skip
    """The diagram on as many landscape sheets of this size as it takes, each with frame and title block."""
    flow = _flow(installation, use, unit, catalogue, tenancy, verdicts)
    wide, high = paper_size("A3" if paper == "fit" else paper)
    sheet = Sheet(wide, high, None)
    left, bottom, right, top = sheet.inner
    per_sheet = max(1, int((right - left - 6.0 + _GAP_MM) // (_COLUMN_MM + _GAP_MM)))
    placed = flow.columns(top - bottom - BLOCK_MM - 9.0)
    title, desc = _titles(unit, tenancy, installation)
    pages = [placed[n : n + per_sheet] for n in range(0, len(placed), per_sheet)]
    first = left + (right - left - per_sheet * _COLUMN_MM - (per_sheet - 1) * _GAP_MM) / 2
    out = []
    for number, page in enumerate(pages, 1):
        shapes: list[Shape] = []
        for n, column in enumerate(page):
            shapes += column.at(first + n * (_COLUMN_MM + _GAP_MM), top - 5.0)
        count = f"{number} of {len(pages)}"
        named = block or TitleBlock(f"{unit.name}, single-line diagram", tenancy.name if tenancy else "as it stands")
        fields = (*named.fields, ("scale", "none"), ("sheet", count))
        shapes.append(title_block(sheet, TitleBlock(named.title, named.under, fields)))
        out.append(Drawing(sheet, tuple(shapes), f"{title}, sheet {count}", desc, "single-line"))
    return tuple(out)


def _titles(unit: Unit, tenancy: Tenancy | None, i: Installation) -> tuple[str, str]:
    name = unit.name + (f", {tenancy.name}" if tenancy else "")
    counts = f"{len(i.devices)} devices, {len(i.runs)} runs, {len(i.outlets)} outlets"
    return f"Single-line diagram of {name}", f"From the origin to every outlet of {name}: {counts}."


def _flow(
    i: Installation, use: Use | None, unit: Unit, catalogue: Catalogue, tenancy: Tenancy | None,
    verdicts: Mapping[str, str] | None,
) -> _Flow:  # fmt: skip
    found = sections(i, use, unit, catalogue, tenancy)
    return _Flow(found, supply_lines(unit), verdicts or {})


@dataclass
class _Column:
    """Shapes laid out from (0, 0) at the upper left corner downwards."""

    shapes: list[Shape] = field(default_factory=list)
    depth: float = 0.0

    def at(self, x: float, y: float) -> list[Shape]:
        return [moved(s, x, y) for s in self.shapes]


@dataclass
class _Flow:
    sections: list[Section]
    supply: list[Words]
    verdicts: Mapping[str, str]

    def height(self, s: Section) -> float:
        """Height of a section that stands in one column."""
        return _TITLE_MM + len(s.lead) * _LEAD_MM + sum(map(block_height, s.ways)) + 6.0 + (10.0 if s.lead else 0.0)

    def columns(self, high: float) -> list[_Column]:
        """All sections through columns of this height; a block that is higher than a column runs over its foot."""
        out = [_Column()]
        y = 0.0
        for n, section in enumerate(self.sections):
            first = block_height(section.ways[0]) if section.ways else 0.0
            head = _TITLE_MM + (len(section.lead) * _LEAD_MM + 10.0 if section.lead else 0.0)
            if n and -y + head + first > high:
                out.append(_Column())
                y = 0.0
            y = self._head(out[-1], section, y)
            x = _BAR_MM
            start: float | None = None
            last = y
            for way in section.ways:
                if start is not None and -y + block_height(way) > high:
                    self._bar(out[-1], section, x, start, last)
                    out.append(_Column())
                    y = self._title(out[-1], f"{section.title.split('  ')[0]}  continued", 0.0)
                    start = None
                line = y - line_drop(way)
                if start is None:
                    start = self._top(out[-1], section, line, y)
                last = line
                self._block(out[-1], way, (x, line), y)
                y -= block_height(way)
                out[-1].depth = max(out[-1].depth, -y)
            if start is not None:
                self._bar(out[-1], section, x, start, last)
            y -= 6.0
            out[-1].depth = max(out[-1].depth, -y - 6.0)
        return out

    def _title(self, column: _Column, words: str, y: float) -> float:
        seat, _, rest = words.partition("  ")
        head = Text((0.0, y - 4.2), seat, 3.0, "title", seat if rest else "", weight=600)
        column.shapes += [head, Text((head.width + 2.2, y - 4.2), rest, 2.4, "note")]
        return y - _TITLE_MM

    def _head(self, column: _Column, s: Section, y: float) -> float:
        """Title, and for the first section the way from the origin down to the bar."""
        y = self._title(column, s.title, y)
        if not s.lead:
            return y
        x = _BAR_MM
        column.shapes.append(Group(tuple(origin_symbol((x, y), "supply")), "supply", "supply", "origin of the supply"))
        words = Text((x + 4.0, y - 4.0), "supply", SEAT_MM, "label", "supply", weight=600)
        column.shapes.append(words)
        left = x + 4.0 + words.width + 2.5
        for w in self.supply:
            role = "unknown-text" if w.doubt else "caption"
            text = Text((left, y - 4.0), w.text, WORD_MM, role, "supply", weight=500 if w.doubt else 400)
            column.shapes.append(text)
            left += text.width + 4.0
        y -= 7.0
        for node in s.lead:
            column.shapes.append(self._upright(node, (x, y)))
            y -= _LEAD_MM
        column.shapes.append(Line((x, y), (x, y - 3.0), "conductor", s.seat))
        return y - 3.0

    def _upright(self, node: Node, at: XY) -> Group:
        x, y = at
        of = node.seat
        shapes: list[Shape] = []
        if node.kind == "device":
            shapes += device_symbol(node.look, at, "south", of)
            shapes.append(Line((x, y - LONG_MM), (x, y - _LEAD_MM), "conductor", of))
        else:
            shapes.append(Line(at, (x, y - _LEAD_MM), "conductor", of))
        verdict = self.verdicts.get(of, "")
        shapes.append(Text((x + 4.5, y - 5.2), f"{node.head} {verdict}".rstrip(), SEAT_MM, "label", of, weight=600))
        for n, w in enumerate(node.lines[:2]):
            role = "unknown-text" if w.doubt else "caption"
            shapes.append(Text((x + 4.5, y - 7.9 - n * 2.6), w.text, WORD_MM, role, of, weight=500 if w.doubt else 400))
        return group(node, shapes, verdict)

    def _top(self, column: _Column, s: Section, line: float, y: float) -> float:
        if s.lead and not any(isinstance(g, Group) and g.role == "busbar" for g in column.shapes):
            return y
        return line + 2.0

    def _bar(self, column: _Column, s: Section, x: float, start: float, last: float) -> None:
        if s.seat == "":
            bar: Shape = Line((x, start), (x, last - 2.0), "spare", s.seat)
        else:
            bar = Line((x, start), (x, last - 2.0), "tapped-run" if s.tapped else "busbar", s.seat)
        column.shapes.append(Group((bar,), s.seat, "busbar", f"busbar {s.seat}"))

    def _block(self, column: _Column, node: Node, at: XY, top: float) -> float:
        """One node and what is behind it; returns how far to the right it reaches."""
        x, y = at
        verdict = self.verdicts.get(node.seat, "")
        far = x + WIDTHS[node.kind]
        if node.kind in ("outlet", "load") and x < _ENDS_MM:
            column.shapes.append(Line(at, (_ENDS_MM, y), "conductor", node.seat))
            at, far = (_ENDS_MM, y), _COLUMN_MM
        bar = node.children[0] if len(node.children) == 1 and node.children[0].kind == "bar" else None
        if node.kind == "bar":
            return self._assembly(column, node, x, at, top)
        column.shapes.append(group(node, cell(node, at, verdict), verdict))
        if bar is not None and node.seat.endswith("/incomer"):
            return self._assembly(column, bar, x, (far, y), top)
        return max(far, self._branch(column, node, (far, y), top, "conductor"))

    def _branch(self, column: _Column, node: Node, at: XY, top: float, role: str) -> float:
        """The children of a node under one another, joined by an upright line."""
        x, y = at
        far = x
        if len(node.children) == 1 and role == "conductor":
            return self._block(column, node.children[0], at, top)
        last = y
        for child in node.children:
            line = top - line_drop(child)
            far = max(far, self._block(column, child, (x, line), top))
            if role == "conductor":
                column.shapes.append(Circle((x, line), 0.55, "node", node.seat))
            last = line
            top -= block_height(child)
        if role == "busbar":
            column.shapes.append(Line((x, y + 2.0), (x, last - 2.0), "busbar", node.seat))
        elif last < y:
            column.shapes.append(Line((x, y), (x, last), "conductor", node.seat))
        return far

    def _assembly(self, column: _Column, bar: Node, left: float, at: XY, top: float) -> float:
        """An outlet assembly: its frame from the incomer on, its name, its busbar and what is on it."""
        x, y = at
        mid = x + 2.0
        verdict = self.verdicts.get(bar.seat, "")
        joint = Line((x, y), (mid, y), "conductor", bar.seat)
        before = len(column.shapes)
        far = self._branch(column, bar, (mid, y), top - HEAD_MM, "busbar")
        inside = column.shapes[before:]
        right = max(far, bounds(*inside)[2] + 1.5 if inside else far, _COLUMN_MM)
        box = (left + 0.6, top - block_height(bar) + 0.5, right, top - 0.9)
        seat, _, rest = bar.head.partition("  ")
        head = left + 2.0 + (MARK_MM + 0.8 if verdict else 0.0)
        name = Text((head, top - 4.0), f"{seat} {verdict}".rstrip(), 2.5, "label", bar.seat, weight=600)
        words = Text((head + name.width + 1.8, top - 4.0), rest, WORD_MM, "caption", bar.seat)
        shapes: list[Shape] = [box_polygon(box, "enclosure", bar.seat), name, words, joint]
        if verdict:
            shapes.append(mark(verdict, (left + 2.0, top - 4.4), bar.seat))
        frame = Group(tuple(shapes), bar.seat, "assembly", bar.name, verdict)
        column.shapes.insert(before, frame)
        return right
