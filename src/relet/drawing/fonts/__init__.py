"""The open font that ships: its files for paper and screen, and the widths of its characters.

Widths are a committed table, so text is measured alike on every machine and no font is read at run time.
"""

from __future__ import annotations

import json
from functools import cache
from importlib import resources
from importlib.resources.abc import Traversable

FAMILY = "IBM Plex Sans"
CAP_EM = 0.7
"""Height of a capital above the base line, in parts of the size."""
DROP_EM = 0.22
"""How far letters hang below the base line, in parts of the size."""

_FILES = {
    "paper": ("IBMPlexSans.ttf", "IBMPlexSans-Italic.ttf"),
    "screen": ("IBMPlexSans.woff2",),
    "licence": ("OFL.txt",),
}


def font_files(use: str) -> tuple[Traversable, ...]:
    """Files of the font: "paper" (variable TTF, upright and italic), "screen" (woff2), "licence"."""
    folder = resources.files("relet.drawing.fonts")
    return tuple(folder.joinpath(name) for name in _FILES[use])


@cache
def _widths() -> dict[int, dict[str, int]]:
    text = resources.files("relet.drawing.fonts").joinpath("widths.json").read_text(encoding="utf-8")
    return {int(weight): table for weight, table in json.loads(text)["widths"].items()}


def text_width(text: str, size: float, weight: int = 400) -> float:
    """Width of a text set in one line, in the unit of `size`; weight 400, 500 or 600. Kerning is left out.

    A character that the table does not hold counts as a whole em, so that nothing is measured too narrow.
    """
    table = _widths()[weight]
    return sum(table.get(c, 1000) for c in text) * size / 1000


def wrapped(text: str, size: float, width: float, weight: int = 400) -> list[str]:
    """A text in lines of at most `width`, broken at spaces (not at fixed ones); a word that is longer stands alone."""
    lines: list[str] = []
    for word in filter(None, text.split(" ")):
        longer = f"{lines[-1]} {word}" if lines else word
        if lines and text_width(longer, size, weight) <= width:
            lines[-1] = longer
        else:
            lines.append(word)
    return lines


def shortened(text: str, size: float, width: float, weight: int = 400) -> str:
    """A text cut to `width` with an ellipsis where it is longer."""
    if text_width(text, size, weight) <= width:
        return text
    while text and text_width(text + "…", size, weight) > width:
        text = text[:-1]
    return text.rstrip() + "…"
