"""The page of one table row: where it comes from and what it decides."""

from __future__ import annotations

from fastapi import APIRouter, HTTPException, Response

from relet.web.pages.figure.context import context
from relet.web.site import Site


def routes(site: Site) -> APIRouter:
    """Route of the page."""
    out = APIRouter()

    @out.api_route("/figure/{id}", methods=["GET", "HEAD"])
    def figure(case: str, id: str) -> Response:
        view = site.view(case)
        row = view.figures.get(id)
        if row is None:
            raise HTTPException(404, "No table row of that name decides a verdict of this case.")
        return site.page("figure/page.html", view, context(site, view, row))

    return out
