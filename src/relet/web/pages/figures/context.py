"""The figures: on which do we stand?"""

from __future__ import annotations

from relet.model.values import Value
from relet.schedules import BasisRow, FigureRow, basis_row
from relet.schedules.shown import STATUS_WORDS
from relet.web.frame import Cell, Frame
from relet.web.showcase import CaseView
from relet.web.site import Site

SHOWN = 300


class FiguresPage(Value, frozen=True, kw_only=True):
    """Table rows that decide, the weakest status first; left: how many more there are, in words."""

    frame: Frame
    basis: BasisRow
    figures: tuple[FigureRow, ...]
    left: str
    statuses: tuple[Cell, ...]
    assumed: tuple[str, ...]


def context(site: Site, view: CaseView) -> FiguresPage:
    """Gather the page."""
    rows = tuple(view.figures.values())
    more = len(rows) - SHOWN
    return FiguresPage(
        frame=site.frame(view, "Figures that decide", "figures"), basis=basis_row(view.found.basis),
        figures=rows[:SHOWN], left=f"{more} more, of stronger status." if more > 0 else "",
        statuses=tuple(Cell(name=k, value=v) for k, v in STATUS_WORDS.items()), assumed=view.found.assumed,
    )  # fmt: skip
