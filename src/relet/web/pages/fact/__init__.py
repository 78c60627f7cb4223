"""The page of one fact: what is held, how it is known, what it decides."""

from __future__ import annotations

from fastapi import APIRouter, HTTPException, Response

from relet.web.pages.fact.context import context
from relet.web.site import Site


def routes(site: Site) -> APIRouter:
    """Route of the page."""
    out = APIRouter()

    @out.api_route("/fact/{about:path}", methods=["GET", "HEAD"])
    def fact(case: str, about: str) -> Response:
        view = site.view(case)
        page = context(site, view, about)
        if page is None:
            raise HTTPException(404, f'Nothing is held under "{about}" in this case.')
        return site.page("fact/page.html", view, page)

    return out
