"""The price: what do I ask, and who pays it?"""

from __future__ import annotations

from relet.model.values import Value
from relet.pricing import Price
from relet.schedules import OrderRow, PriceKind, PriceSheet, order_rows, price_sheet
from relet.schedules.prices import TITLES
from relet.web.frame import Frame, Tab
from relet.web.links import of
from relet.web.showcase import CaseView
from relet.web.site import Site


class PricePage(Value, frozen=True, kw_only=True):
    """Lines by payer, totals, and the order list; kinds: the prices that this case has."""

    frame: Frame
    kinds: tuple[Tab, ...]
    sheet: PriceSheet
    order: tuple[OrderRow, ...]


def context(site: Site, view: CaseView, kind: PriceKind, price: Price) -> PricePage:
    """Gather the page of a price."""
    kinds = tuple(Tab(name=TITLES[k], href=of(view.id, "price", k), here=k == kind) for k, _ in view.dossier.prices)
    return PricePage(
        frame=site.frame(view, f"Price of {TITLES[kind]}", "price"), kinds=kinds,
        sheet=price_sheet(price, kind, view.case.catalogue), order=order_rows(price, kind, view.case.catalogue),
    )  # fmt: skip
