"""The page of the unit, in one case."""

from __future__ import annotations

from fastapi import APIRouter, Response

from relet.web.pages.unit.context import context
from relet.web.site import Site


def routes(site: Site) -> APIRouter:
    """Route of the page."""
    out = APIRouter()

    @out.api_route("", methods=["GET", "HEAD"])
    def unit(case: str) -> Response:
        view = site.view(case)
        return site.page("unit/page.html", view, context(site, view))

    return out
