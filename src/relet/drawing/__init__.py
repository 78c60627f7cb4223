"""Drawings: neutral shapes with the id of what they stand for, and writers that put ink on them.

drawing = plan(unit, installation, use, tenancy, catalogue, paper="A3")
text = svg(drawing, "paper")
"""

from relet.drawing.face import face
from relet.drawing.frame import Paper, TitleBlock
from relet.drawing.plan import plan
from relet.drawing.shapes import Drawing, Group, Shape, Sheet
from relet.drawing.single_line import single_line, single_line_sheets
from relet.drawing.svg import Palette, page_css, svg

__all__ = [
    "Drawing", "Group", "Palette", "Paper", "Shape", "Sheet", "TitleBlock", "face", "page_css", "plan", "single_line",
    "single_line_sheets", "svg",
]  # fmt: skip
