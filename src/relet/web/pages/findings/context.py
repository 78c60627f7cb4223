"""All findings: what keeps me from signing?"""

from __future__ import annotations

from urllib.parse import urlencode

from fastapi import HTTPException

from relet.model.values import Value
from relet.schedules import CoverRow, FindingRow, counts, coverage_rows, finding_row
from relet.schedules.numbers import count
from relet.web.frame import Frame, Tab
from relet.web.links import of
from relet.web.showcase import CaseView
from relet.web.site import Site

PER_PAGE = 100


class FindingsPage(Value, frozen=True, kw_only=True):
    """One page of findings, worst first; what they are filtered by, and the pages before and after."""

    frame: Frame
    rows: tuple[FindingRow, ...]
    shown: str
    verdicts: tuple[Tab, ...]
    families: tuple[Tab, ...]
    before: str
    after: str
    coverage: tuple[CoverRow, ...]


def context(site: Site, view: CaseView, verdict: str, family: str, page: int) -> FindingsPage:
    """Gather one page. A verdict or family that no finding has gives an empty page; a page beyond the last is a 404."""
    every = view.found.worst_first
    chosen = [f for f in every if verdict in ("", f.verdict) and family in ("", f.rule.split(".", 1)[0])]
    last = max(1, -(-len(chosen) // PER_PAGE))
    if page > last:
        raise HTTPException(404, f"There is no page {page} of these findings; the last is {last}.")

    def to(**what: str | int) -> str:
        asked = {k: v for k, v in {"verdict": verdict, "family": family, **what}.items() if v not in ("", 1)}
        return of(view.id, "findings") + (f"?{urlencode(asked)}" if asked else "")

    names = sorted({f.rule.split(".", 1)[0] for f in every})
    verdicts = [Tab(name="all", href=to(verdict=""), here=verdict == "")]
    verdicts += [
        Tab(name=c.verdict, href=to(verdict=c.verdict), here=verdict == c.verdict, under=c.count)
        for c in counts(view.found)
        if c.some
    ]
    families = [Tab(name="all", href=to(family=""), here=family == "")]
    families += [Tab(name=n, href=to(family=n), here=family == n) for n in names]
    start = (page - 1) * PER_PAGE
    rows = chosen[start : start + PER_PAGE]
    shown = count(len(chosen), "finding")
    if last > 1:
        shown += f", {start + 1} to {start + len(rows)}"
    return FindingsPage(
        frame=site.frame(view, "Findings", "findings"), rows=tuple(finding_row(f, view.case) for f in rows),
        shown=shown, verdicts=tuple(verdicts), families=tuple(families), before=to(page=page - 1) if page > 1 else "",
        after=to(page=page + 1) if page < last else "", coverage=coverage_rows(view.found.coverage),
    )  # fmt: skip
