"""One table row."""

from __future__ import annotations

from relet.model.values import Value
from relet.schedules import FigureRow, FindingRow, finding_row
from relet.schedules.numbers import count
from relet.web.frame import Frame
from relet.web.showcase import CaseView
from relet.web.site import Site

SHOWN = 40


class FigurePage(Value, frozen=True, kw_only=True):
    """One table row with its publications, and the findings it decides, gravest first."""

    frame: Frame
    row: FigureRow
    decides: str
    rows: tuple[FindingRow, ...]


def context(site: Site, view: CaseView, row: FigureRow) -> FigurePage:
    """Gather the page of one row."""
    found = [view.addresses[view.by_key[k]] for k in row.keys[:SHOWN]]
    return FigurePage(
        frame=site.frame(view, f"{row.name}: {row.row}"), row=row, decides=count(len(row.keys), "finding"),
        rows=tuple(finding_row(f, view.case) for f in found),
    )  # fmt: skip
