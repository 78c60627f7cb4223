"""The page of one outlet assembly."""

from __future__ import annotations

from fastapi import APIRouter, HTTPException, Response

from relet.web.pages.assembly.context import context
from relet.web.site import Site


def routes(site: Site) -> APIRouter:
    """Route of the page."""
    out = APIRouter()

    @out.api_route("/assembly/{seat}", methods=["GET", "HEAD"])
    def assembly(case: str, seat: str) -> Response:
        view = site.view(case)
        if seat not in view.case.installation.assemblies:
            names = ", ".join(view.case.installation.assemblies) or "none"
            raise HTTPException(404, f'There is no outlet assembly "{seat}" in this case. There are: {names}.')
        return site.page("assembly/page.html", view, context(site, view, seat))

    return out
