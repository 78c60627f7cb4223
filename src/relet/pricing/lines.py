"""Lines of a price and their totals."""

from __future__ import annotations

from collections.abc import Iterable

from msgspec.structs import replace

from relet.model.values import Map, Value
from relet.pricing.book import Payer, PriceBook, Share


class Line(Value, frozen=True, kw_only=True):
    """One line. total = quantity x each, rounded to the penny; without VAT.

    why   what it belongs to, in words: "A4 stays with the building", "from stock"
    """

    what: str
    quantity: float
    unit: str
    each: float
    total: float
    payer: Payer
    share: Share
    why: str = ""


class Price(Value, frozen=True, kw_only=True):
    """Lines and totals. The VAT stands apart; `landlord` and `tenant` are without it."""

    edition: str
    currency: str
    lines: tuple[Line, ...]
    total: float
    by_payer: Map[str, float]
    by_share: Map[str, float]
    vat_percent: float
    vat: float


def line(book: PriceBook, what: str, quantity: float, unit: str, each: float, share: Share, why: str = "") -> Line:
    """One line, its payer by the book. Quantities are rounded only when like lines have come together."""
    total = round(quantity * each, 2)
    return Line(
        what=what, quantity=quantity, unit=unit, each=each, total=total, payer=book.payer(share), share=share, why=why
    )


def together(book: PriceBook, lines: Iterable[Line]) -> tuple[Line, ...]:
    """Lines of the same thing at the same price for the same payer become one, in the order they were met."""
    out: dict[tuple[str, str, float, str, str], Line] = {}
    for one in lines:
        key = (one.what, one.unit, one.each, one.share, one.why)
        if key in out:
            out[key] = line(book, one.what, out[key].quantity + one.quantity, one.unit, one.each, one.share, one.why)
        else:
            out[key] = one
    return tuple(replace(one, quantity=round(one.quantity, 3)) for one in out.values())


def priced(book: PriceBook, lines: Iterable[Line]) -> Price:
    """Lines with their totals."""
    kept = together(book, lines)
    by_payer: dict[str, float] = {"landlord": 0.0, "tenant": 0.0}
    by_share: dict[str, float] = {}
    for one in kept:
        by_payer[one.payer] += one.total
        by_share[one.share] = by_share.get(one.share, 0.0) + one.total
    total = round(sum(by_payer.values()), 2)
    return Price(
        edition=book.edition,
        currency=book.currency,
        lines=kept,
        total=total,
        by_payer=Map({k: round(v, 2) for k, v in by_payer.items()}),
        by_share=Map({k: round(v, 2) for k, v in by_share.items()}),
        vat_percent=book.vat_percent,
        vat=round(total * book.vat_percent / 100, 2),
    )
