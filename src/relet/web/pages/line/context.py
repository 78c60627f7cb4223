"""One line of the price."""

from __future__ import annotations

from relet.model.values import Value
from relet.pricing import Price
from relet.schedules import PriceKind, PriceRow, price_rows, price_steps
from relet.web.frame import Frame
from relet.web.showcase import CaseView
from relet.web.site import Site
from relet.web.working import StepView, step_views


class LinePage(Value, frozen=True, kw_only=True):
    """One line, and the steps to its total."""

    frame: Frame
    row: PriceRow
    kind: str
    currency: str
    steps: tuple[StepView, ...]


def context(site: Site, view: CaseView, kind: PriceKind, price: Price, n: int) -> LinePage:
    """Gather the page of one line; n from 1."""
    row = price_rows(price, kind, view.case.catalogue)[n - 1]
    return LinePage(
        frame=site.frame(view, f"Price of {row.what}"), row=row, kind=kind, currency=price.currency,
        steps=step_views(view, price_steps(price.lines[n - 1], price)),
    )  # fmt: skip
