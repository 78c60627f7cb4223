"""One step: what does it rest on, and where does its time come from?"""

from __future__ import annotations

from relet.changeover import Job, Step
from relet.model.values import Value
from relet.schedules import StepRow, change_sheet
from relet.web.frame import Frame, Tab
from relet.web.links import of
from relet.web.showcase import CaseView
from relet.web.site import Site


class StepPage(Value, frozen=True, kw_only=True):
    """One step with the steps before it, its joints, and the book that its time comes from."""

    frame: Frame
    row: StepRow
    after: tuple[Tab, ...]
    time_from: str


def context(site: Site, view: CaseView, job: Job, step: Step) -> StepPage:
    """Gather the page of one step."""
    rows = {r.n: r for r in change_sheet(job, view.case.catalogue).steps}
    row = rows[str(step.n)]
    before = [rows[str(n)] for n in step.after_steps]
    after = tuple(
        Tab(name=f"{r.n} {r.verb} {r.seat}", href=of(view.id, "step", r.n), here=False) for r in before
    )  # fmt: skip
    return StepPage(
        frame=site.frame(view, f"Step {row.n}: {row.verb} {row.seat}"), row=row, after=after,
        time_from=f"minutes for this work in the price book, edition {job.price.edition}",
    )  # fmt: skip
