"""The pages: one folder each, with its route, its context and its template."""

from __future__ import annotations

from collections.abc import Callable
from typing import Final

from fastapi import APIRouter

from relet.web.pages import (
    assembly,
    change,
    fact,
    figure,
    figures,
    finding,
    findings,
    line,
    planned,
    price,
    step,
    unit,
)
from relet.web.site import Site

PAGES: Final[tuple[Callable[[Site], APIRouter], ...]] = (
    unit.routes, findings.routes, finding.routes, assembly.routes, change.routes, step.routes, price.routes,
    line.routes, fact.routes, figures.routes, figure.routes, planned.routes,
)  # fmt: skip
