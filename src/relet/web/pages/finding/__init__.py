"""The page of one finding, with its whole working."""

from __future__ import annotations

from fastapi import APIRouter, HTTPException, Response

from relet.web.pages.finding.context import context
from relet.web.site import Site


def routes(site: Site) -> APIRouter:
    """Route of the page."""
    out = APIRouter()

    @out.api_route("/finding/{address:path}", methods=["GET", "HEAD"])
    def finding(case: str, address: str) -> Response:
        view = site.view(case)
        found = view.addresses.get(address)
        if found is None:
            raise HTTPException(404, "There is no such finding in this case. It may have been settled or renamed.")
        return site.page("finding/page.html", view, context(site, view, found))

    return out
