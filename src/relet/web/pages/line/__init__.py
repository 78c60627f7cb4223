"""The page of one line of the price: how it came about."""

from __future__ import annotations

from fastapi import APIRouter, HTTPException, Response

from relet.web.pages.line.context import context
from relet.web.site import Site


def routes(site: Site) -> APIRouter:
    """Route of the page."""
    out = APIRouter()

    @out.api_route("/price/{kind}/{n}", methods=["GET", "HEAD"])
    def line(case: str, kind: str, n: int) -> Response:
        view = site.view(case)
        found = next(((k, p) for k, p in view.dossier.prices if k == kind), None)
        if found is None or not 1 <= n <= len(found[1].lines):
            raise HTTPException(404, "There is no such line in the prices of this case.")
        return site.page("line/page.html", view, context(site, view, *found, n))

    return out
