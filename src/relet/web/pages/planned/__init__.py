"""The page of how the plan was found."""

from __future__ import annotations

from fastapi import APIRouter, HTTPException, Response

from relet.web.pages.planned.context import context
from relet.web.site import Site


def routes(site: Site) -> APIRouter:
    """Route of the page."""
    out = APIRouter()

    @out.api_route("/planned", methods=["GET", "HEAD"])
    def planned(case: str) -> Response:
        view = site.view(case)
        if view.dossier.solved is None:
            raise HTTPException(404, "This case was not planned by the tool: it stands, or was made by hand.")
        return site.page("planned/page.html", view, context(site, view, view.dossier.solved))

    return out
