"""The page of the changeover."""

from __future__ import annotations

from fastapi import APIRouter, HTTPException, Response

from relet.web.pages.change.context import context
from relet.web.site import Site


def routes(site: Site) -> APIRouter:
    """Route of the page."""
    out = APIRouter()

    @out.api_route("/change", methods=["GET", "HEAD"])
    def change(case: str) -> Response:
        view = site.view(case)
        job = view.dossier.job
        if job is None:
            raise HTTPException(404, "Nothing comes before this case, so there is no change to it.")
        return site.page("change/page.html", view, context(site, view, job))

    return out
