"""The page of the tabulated figures that decide."""

from __future__ import annotations

from fastapi import APIRouter, Response

from relet.web.pages.figures.context import context
from relet.web.site import Site


def routes(site: Site) -> APIRouter:
    """Route of the page."""
    out = APIRouter()

    @out.api_route("/figures", methods=["GET", "HEAD"])
    def figures(case: str) -> Response:
        view = site.view(case)
        return site.page("figures/page.html", view, context(site, view))

    return out
