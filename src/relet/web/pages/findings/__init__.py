"""The page of all findings, by verdict and family."""

from __future__ import annotations

from typing import Annotated

from fastapi import APIRouter, Query, Response

from relet.web.pages.findings.context import context
from relet.web.site import Site


def routes(site: Site) -> APIRouter:
    """Route of the page."""
    out = APIRouter()

    @out.api_route("/findings", methods=["GET", "HEAD"])
    def findings(
        case: str, verdict: str = "", family: str = "", page: Annotated[int, Query(ge=1, le=100_000)] = 1
    ) -> Response:
        view = site.view(case)
        return site.page("findings/page.html", view, context(site, view, verdict, family, page))

    return out
