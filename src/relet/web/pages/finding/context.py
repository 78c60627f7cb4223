"""One finding: why is it so, and who can settle it?"""

from __future__ import annotations

from relet.checks.findings import Finding, Judged
from relet.model.values import Value
from relet.schedules import VERDICTS, FindingRow, finding_row, findings_at
from relet.web.frame import Cell, Frame
from relet.web.links import link
from relet.web.showcase import CaseView
from relet.web.site import Site
from relet.web.working import StepView, step_views
from relet.working import steps

BESIDE_SHOWN = 12


class FindingPage(Value, frozen=True, kw_only=True):
    """One finding.

    says     its verdict in words
    need     facts that would settle it, each with its page
    steps    working of value and limit at their worst; best: at their best, where they differ
    beside   other figures worth seeing: the other method, the phasor result
    rests    what else decides: letters, arrangements
    also     other findings about the same thing
    """

    frame: Frame
    row: FindingRow
    says: str
    judged: bool
    need: tuple[Cell, ...]
    open_facts: tuple[Cell, ...]
    steps: tuple[StepView, ...]
    best: tuple[StepView, ...]
    beside: tuple[StepView, ...]
    rests: tuple[StepView, ...]
    also: tuple[FindingRow, ...]


def context(site: Site, view: CaseView, f: Finding) -> FindingPage:
    """Gather the page of one finding."""
    need = tuple(Cell(name=n.words or n.about, value=n.about, href=link(view, f"fact:{n.about}")) for n in f.needs)
    asked = {n.about for n in f.needs}
    rest = tuple(Cell(name="", value=p, href=link(view, f"fact:{p}")) for p in f.rests_on if p not in asked)
    also = [g for g in findings_at(view.found, (f.subject,)) if g is not f][:BESIDE_SHOWN]
    j = f.worst
    return FindingPage(
        frame=site.frame(view, f.title), row=finding_row(f, view.case), says=VERDICTS[f.verdict].says,
        judged=j is not None, need=need, open_facts=rest, steps=step_views(view, f.working()),
        best=_best(view, f.best, j), beside=step_views(view, dict.fromkeys(s for g in f.beside() for s in steps(g))),
        rests=step_views(view, (s for g in (j.rests if j else ()) for s in steps(g)[-1:])),
        also=tuple(finding_row(g, view.case) for g in also),
    )  # fmt: skip


def _best(view: CaseView, best: Judged | None, worst: Judged | None) -> tuple[StepView, ...]:
    if best is None or worst is None:
        return ()
    if (float(best.value), float(best.limit)) == (float(worst.value), float(worst.limit)):
        return ()
    return step_views(view, dict.fromkeys(s for g in (best.value, best.limit) for s in steps(g)))
