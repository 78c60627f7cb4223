"""The page for what is not there or went wrong: one sentence, and ways back."""

from __future__ import annotations

from fastapi import Response

from relet.model.values import Value
from relet.web.frame import Tab
from relet.web.links import of
from relet.web.site import Site

_HEADS = {404: "Not here", 405: "Read only", 422: "Not understood", 500: "Something went wrong"}


class ProblemPage(Value, frozen=True, kw_only=True):
    """One sentence and the ways back."""

    unit: str
    head: str
    detail: str
    cases: tuple[Tab, ...]


def problem(site: Site, status: int, detail: str) -> Response:
    """The page of one error."""
    cases = tuple(Tab(name=v.dossier.name, href=of(v.id), here=False, under=v.dossier.stay) for v in site.views)
    page = ProblemPage(unit=site.shown.unit, head=_HEADS.get(status, "Not possible"), detail=detail, cases=cases)
    return site.plain("problem/page.html", page, status)
