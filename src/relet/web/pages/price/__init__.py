"""The page of a price: that of the change, or that of the whole as new work."""

from __future__ import annotations

from fastapi import APIRouter, HTTPException, Response
from fastapi.responses import RedirectResponse

from relet.web.links import of
from relet.web.pages.price.context import context
from relet.web.site import Site


def routes(site: Site) -> APIRouter:
    """Routes of the page."""
    out = APIRouter()

    @out.api_route("/price", methods=["GET", "HEAD"])
    def first(case: str) -> Response:
        prices = site.view(case).dossier.prices
        if not prices:
            raise HTTPException(404, "This case has no price: nothing is to be built or changed for it.")
        return RedirectResponse(of(case, "price", prices[0][0]), status_code=307)

    @out.api_route("/price/{kind}", methods=["GET", "HEAD"])
    def price(case: str, kind: str) -> Response:
        view = site.view(case)
        found = next(((k, p) for k, p in view.dossier.prices if k == kind), None)
        if found is None:
            raise HTTPException(404, f'This case has no price called "{kind}".')
        return site.page("price/page.html", view, context(site, view, *found))

    return out
