"""Drawings as they stand on paper: their size, the sheet that holds them true to scale, and words in their place."""

from __future__ import annotations

import re
import xml.etree.ElementTree as ElementTree
from typing import Any, Final

from relet.errors import InputError
from relet.model.values import Map, Value

_SVG: Final = "{http://www.w3.org/2000/svg}"
_SHEETS: Final = (("a4", 269.0, 170.5), ("a3", 392.0, 257.0))
"""Landscape sheets: name, and the width and height in mm that a drawing may take on them beside head and foot."""
FACE_MM: Final = (72.0, 76.0)
"""Width and height on paper that an enclosure may take beside the list of what is in it."""


class Pictures(Value, frozen=True, kw_only=True):
    """SVG texts in the paper palette, sizes in mm. "" where there is none; faces by seat of their assembly.

    single_line  one sheet or several
    """

    plan: str = ""
    single_line: tuple[str, ...] = ()
    faces: Map[str, str] = Map()


def on_a_sheet(svg: str, title: str, *, to_scale: bool) -> dict[str, Any]:
    """A drawing on the smallest sheet that holds it in its own size; on the largest it is made smaller, and a drawing
    to scale says so."""
    width, height, alt = _read(svg, title)
    for name, wide, high in _SHEETS:
        if width <= wide and height <= high:
            return {"title": title, "svg": svg, "alt": alt, "paper": name, "width_mm": width, "note": ""}
    name, wide, high = _SHEETS[-1]
    shrunk = width * min(wide / width, high / height)
    note = "made smaller to fit this sheet: the scale bar holds, a stated scale does not" if to_scale else ""
    return {"title": title, "svg": svg, "alt": alt, "paper": name, "width_mm": shrunk, "note": note}


def beside(svg: str, title: str) -> dict[str, Any] | None:
    """A drawing among text, in its own size: a scale that it states holds."""
    if not svg:
        return None
    width, _, alt = _read(svg, title)
    return {"svg": svg, "alt": alt, "width_mm": width}


def _read(svg: str, title: str) -> tuple[float, float, str]:
    try:
        root = ElementTree.fromstring(svg)
        width, height = (_mm(root.attrib[k]) for k in ("width", "height"))
    except (ElementTree.ParseError, KeyError, ValueError) as e:
        raise InputError(f"the drawing {title!r} is no SVG with a width and height in mm: {e}") from e
    told = (root.findtext(f"{_SVG}{tag}") for tag in ("title", "desc"))
    words = [t.strip() for t in told if t]
    return width, height, ". ".join(words) or title


def _mm(text: str) -> float:
    found = re.fullmatch(r"([0-9.]+)(mm)?", text)
    if found is None:
        raise ValueError(f"{text!r} is no length in mm")
    return float(found.group(1))
