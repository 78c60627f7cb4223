"""Cells of a single-line diagram: how far each element reaches, and its shapes on one conductor from left to right."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Final

from relet.drawing.fonts import shortened, text_width, wrapped
from relet.drawing.frame import MARK_MM, mark
from relet.drawing.shapes import XY, Circle, Group, Line, Shape, Text, bounds, box_polygon
from relet.drawing.single_line_tree import Node
from relet.drawing.symbols import LONG_MM, device_symbol, load_symbol, outlet_symbol
from relet.drawing.wording import Words

PITCH_MM = 12.8
"""Height of one row."""
ABOVE_MM = 5.9
"""From the top of a row to its conductor."""
HEAD_MM = 5.6
"""Room for the name of an assembly over its first row."""
FOOT_MM = 1.8

WIDTHS: Final[Mapping[str, float]] = {
    "device": 26.0, "run": 27.0, "bar": 5.0, "outlet": 57.0, "load": 57.0, "tap": 14.0, "spare": 26.0, "see": 32.0,
}  # fmt: skip
SEAT_MM, WORD_MM = 2.2, 2.1
_BESIDE_MM = 33.0


def line_drop(node: Node) -> float:
    """From the top of a node's block to its conductor."""
    below = line_drop(node.children[0]) if node.children else ABOVE_MM
    return below + (HEAD_MM if node.kind == "bar" else 0.0)


def block_height(node: Node) -> float:
    """Height of a node with everything behind it."""
    inner = sum(map(block_height, node.children)) or PITCH_MM
    return inner + (HEAD_MM + FOOT_MM if node.kind == "bar" else 0.0)


def cell(node: Node, at: XY, verdict: str = "") -> list[Shape]:
    """Shapes of one element whose conductor starts at `at`; what is behind it comes later."""
    x, y = at
    wide = WIDTHS[node.kind]
    of = node.seat
    match node.kind:
        case "device":
            lead = Line((x, y), (x + 3.0, y), "conductor", of)
            tail = Line((x + 3.0 + LONG_MM, y), (x + wide, y), "conductor", of)
            symbol = device_symbol(node.look, (x + 3.0, y), "east", of)
            if not node.children:
                tail = Line((x + 3.0 + LONG_MM, y), (x + wide - 7.0, y), "spare", of)
                symbol.append(Text((x + wide - 5.0, y - 0.7), "spare", WORD_MM, "caption", of))
            return [lead, *symbol, tail, *_over(node, (x + 2.0, y), verdict, 3.9), *_under(node, (x + 2.0, y), wide)]
        case "run":
            line = Line((x, y), (x + wide, y), "conductor", of)
            return [line, *_over(node, (x + 2.0, y), verdict, 1.0), *_under(node, (x + 2.0, y), wide, 0.8)]
        case "tap":
            return [
                Line((x, y), (x + wide, y), "conductor", of),
                Circle((x + 3.0, y), 0.9, "node", of),
                *_over(node, (x, y), verdict, 1.2),
            ]
        case "outlet" | "load":
            fixed = node.look == "fixed"
            symbol = load_symbol((x, y), of) if node.kind == "load" else outlet_symbol((x, y), of, fixed=fixed)
            return [*symbol, *_end_words(node, (x + 8.0, y), verdict)]
        case "spare":
            stub = Line((x, y), (x + 6.0, y), "spare", of)
            return [stub, Text((x + 8.0, y - 0.7), f"{node.head} spare", WORD_MM, "caption", of)]
        case _:
            words = node.lines[0].text if node.lines else ""
            arrow = Line((x, y), (x + 5.0, y), "conductor", of)
            tip = (
                Line((x + 3.6, y + 1.0), (x + 5.0, y), "conductor", of),
                Line((x + 3.6, y - 1.0), (x + 5.0, y), "conductor", of),
            )
            return [arrow, *tip, Text((x + 7.0, y - 0.7), words, WORD_MM, "label", of, weight=500)]


def _over(node: Node, at: XY, verdict: str, up: float) -> list[Shape]:
    x, y = at[0], at[1] + up
    out: list[Shape] = []
    if verdict:
        out.append(mark(verdict, (x, y - 0.5), node.seat))
        x += MARK_MM + 0.8
    head = f"{node.head} {verdict}" if verdict else node.head
    return [*out, Text((x, y), head, SEAT_MM, "label", node.seat, weight=600)]


def _under(node: Node, at: XY, wide: float, gap: float = 1.4) -> list[Shape]:
    x, y = at[0], at[1] - gap - WORD_MM * 0.75
    out: list[Shape] = []
    lines: list[tuple[str, bool]] = []
    for w in node.lines:
        lines += [(line, w.doubt) for line in wrapped(w.text, WORD_MM, wide - 3.0)]
    for n, (line, doubt) in enumerate(lines[:2]):
        if n == 1 and len(lines) > 2:
            line = shortened(" ".join(text for text, _ in lines[1:]), WORD_MM, wide - 3.0)
        role, weight = ("unknown-text", 500) if doubt else ("caption", 400)
        out.append(Text((x, y - n * WORD_MM * 1.15), line, WORD_MM, role, node.seat, weight=weight))
    return out


def _end_words(node: Node, at: XY, verdict: str) -> list[Shape]:
    """Words behind an outlet or load: seat and kind, then the machine in its own column."""
    x, y = at
    out: list[Shape] = []
    left = x
    if verdict:
        out.append(mark(verdict, (left, y + 0.4), node.seat))
        left += MARK_MM + 0.8
    room = (_BESIDE_MM if node.beside else WIDTHS["outlet"]) - 9.5
    head = f"{node.head} {verdict}" if verdict else node.head
    out.append(Text((left, y + 0.6), head, SEAT_MM, "label", node.seat, weight=600))
    for n, w in enumerate(_fold(node.lines, room)):
        role = "unknown-text" if w.doubt else "caption"
        out.append(Text((x, y - WORD_MM * (0.85 + n * 1.15)), w.text, WORD_MM, role, node.seat))
    x += _BESIDE_MM - 8.0
    for n, w in enumerate(node.beside[:2]):
        role = "unknown-text" if w.doubt else ("label" if n == 0 else "caption")
        text = shortened(w.text, WORD_MM, WIDTHS["outlet"] - _BESIDE_MM, 500)
        out.append(
            Text((x, y + 0.6 - n * (WORD_MM * 1.15)), text, WORD_MM, role, node.seat, weight=500 if n == 0 else 400)
        )
    return out


def _fold(lines: tuple[Words, ...], room: float) -> list[Words]:
    out: list[Words] = []
    for w in lines:
        if text_width(w.text, WORD_MM) <= room:
            out.append(w)
        else:
            out += [Words(line, w.doubt) for line in wrapped(w.text.replace("\u00a0", " "), WORD_MM, room)]
    return out[:2]


def group(node: Node, shapes: list[Shape], verdict: str) -> Group:
    """A cell as a group with a name, and a frame where it is the one that was picked."""
    left, bottom, right, top = bounds(*shapes)
    box = (left - 0.6, bottom - 0.6, right + 0.6, top + 0.6)
    rim = [box_polygon(box, "target", node.seat)]
    return Group((*rim, *shapes), node.seat, node.kind, node.name, verdict)
