"""Findings and change as JSON, in the forms that the commands write; and a whole case."""

from __future__ import annotations

from typing import Annotated, Any

from fastapi import APIRouter, HTTPException, Query

from relet.changeover import as_json
from relet.checks.forms import findings_json
from relet.schedules import case_json
from relet.web.site import Site

Of = Annotated[str, Query(description='the case: "standing", or the id of a tenancy')]
_MISSING: dict[int | str, dict[str, Any]] = {404: {"description": "no such case, or nothing of this kind in it"}}


def routes(site: Site) -> APIRouter:
    """Routes under /api."""
    out = APIRouter(prefix="/api", tags=["data"], responses=_MISSING)
    first = site.views[0].id

    @out.get("/findings")
    def findings(of: Of = first, working: bool = True) -> dict[str, Any]:
        """The form relet/findings/1: basis, coverage and findings, worst first, each with its working."""
        return findings_json(site.view(of).found, working=working)

    @out.get("/change")
    def change(of: Of = first) -> dict[str, Any]:
        """The form relet/change/1: steps, parts, tests that fall and stand, hours, price, who loses supply."""
        job = site.view(of).dossier.job
        if job is None:
            raise HTTPException(404, f'Nothing comes before "{of}", so there is no change to it.')
        return as_json(job)

    @out.get("/case")
    def case(of: Of = first) -> dict[str, Any]:
        """The form relet/case/1: installation and use, prices, how it was planned, and findings."""
        return case_json(site.view(of).dossier)

    return out
