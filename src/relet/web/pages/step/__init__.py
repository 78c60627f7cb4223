"""The page of one step of the changeover."""

from __future__ import annotations

from fastapi import APIRouter, HTTPException, Response

from relet.web.pages.step.context import context
from relet.web.site import Site


def routes(site: Site) -> APIRouter:
    """Route of the page."""
    out = APIRouter()

    @out.api_route("/step/{n}", methods=["GET", "HEAD"])
    def step(case: str, n: int) -> Response:
        view = site.view(case)
        job = view.dossier.job
        found = next((s for s in job.steps if s.n == n), None) if job is not None else None
        if job is None or found is None:
            raise HTTPException(404, "There is no such step in this case.")
        return site.page("step/page.html", view, context(site, view, job, found))

    return out
