"""The changeover: what is done, in which order, who loses supply, what falls?"""

from __future__ import annotations

from relet.changeover import Job
from relet.model.values import Value
from relet.schedules import ChangeSheet, change_sheet
from relet.schedules.numbers import count
from relet.web.frame import Frame
from relet.web.showcase import CaseView
from relet.web.site import Site


class ChangePage(Value, frozen=True, kw_only=True):
    """The whole job; `plan` is an SVG with all that is touched framed."""

    frame: Frame
    plan: str
    many: str
    sheet: ChangeSheet


def context(site: Site, view: CaseView, job: Job) -> ChangePage:
    """Gather the page of a job."""
    sheet = change_sheet(job, view.case.catalogue)
    return ChangePage(
        frame=site.frame(view, f"Change from {view.dossier.before or 'what was before'}", "change"),
        plan=view.change_svg, many=count(len(sheet.steps), "step"), sheet=sheet,
    )  # fmt: skip
