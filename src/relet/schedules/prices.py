"""Price lines with how each came about, the split between landlord and tenant, and the order list."""

from __future__ import annotations

from functools import cache
from typing import Final, Literal, TypeAlias

from relet.model import Catalogue
from relet.model.values import Value
from relet.pricing import Line, Price
from relet.schedules.numbers import money, number, quantity, whole_minutes
from relet.schedules.shown import Shown
from relet.working import Figure, Formula, Step, fact, steps

PriceKind: TypeAlias = Literal["change", "whole"]
TITLES: Final[dict[PriceKind, str]] = {"change": "the change", "whole": "the whole as new work"}
_MATERIAL = ("each", "m")


class PriceRow(Value, frozen=True, kw_only=True):
    """One line. total = quantity x each."""

    n: str
    what: str
    quantity: Shown
    unit: str
    each: Shown
    total: Shown
    payer: str
    share: str
    why: str


class PriceSheet(Value, frozen=True, kw_only=True):
    """A price: lines by payer, and totals without and with VAT. title: what it is the price of."""

    kind: PriceKind
    title: str
    edition: str
    currency: str
    landlord: tuple[PriceRow, ...]
    tenant: tuple[PriceRow, ...]
    landlord_total: str
    tenant_total: str
    total: str
    vat_words: str
    vat: str
    with_vat: str


class OrderRow(Value, frozen=True, kw_only=True):
    """One part to be had: from stock or to be ordered."""

    what: str
    name: str
    quantity: Shown
    unit: str
    source: str


def price_rows(price: Price, kind: PriceKind, catalogue: Catalogue | None = None) -> tuple[PriceRow, ...]:
    """Lines in their order; their address is the kind of price and n, which counts from 1."""
    return tuple(_row(n, one, kind, catalogue) for n, one in enumerate(price.lines, 1))


def price_sheet(price: Price, kind: PriceKind, catalogue: Catalogue | None = None) -> PriceSheet:
    """A price ready to print."""
    rows = price_rows(price, kind, catalogue)
    return PriceSheet(
        kind=kind, title=TITLES[kind],
        edition=price.edition, currency=price.currency, landlord=tuple(r for r in rows if r.payer == "landlord"),
        tenant=tuple(r for r in rows if r.payer == "tenant"),
        landlord_total=money(price.by_payer.get("landlord", 0.0)),
        tenant_total=money(price.by_payer.get("tenant", 0.0)), total=money(price.total),
        vat_words=f"VAT {number(price.vat_percent, '%')}", vat=money(price.vat),
        with_vat=money(price.total + price.vat),
    )  # fmt: skip


def order_rows(price: Price, kind: PriceKind, catalogue: Catalogue | None = None) -> tuple[OrderRow, ...]:
    """Parts and metres of a price, what comes from stock named so; cut to waste is added to its metres. A quantity's
    address is the first line that asks for it."""
    tally: dict[tuple[str, str, str], float] = {}
    first: dict[tuple[str, str, str], int] = {}
    for n, one in enumerate(price.lines, 1):
        if one.unit in _MATERIAL:
            what = one.what.removesuffix(", cut to waste")
            source = "from stock" if one.why == "from stock" else "to order"
            key = (what, one.unit, source)
            tally[key] = tally.get(key, 0.0) + one.quantity
            first.setdefault(key, n)
    return tuple(
        OrderRow(
            what=key[0], name=_name(key[0], catalogue), unit=key[1], source=key[2],
            quantity=Shown(text=quantity(much, key[1]), at=f"price:{kind}/{first[key]}"),
        )
        for key, much in sorted(tally.items(), key=lambda e: (e[0][2], e[0][0]))
    )  # fmt: skip


def _name(what: str, catalogue: Catalogue | None) -> str:
    part = catalogue.parts.get(what) if catalogue is not None else None
    if part is not None:
        return part.name
    kind, _, rest = what.partition("/")
    size, _, tail = rest.partition("/")
    cores, _, waste = tail.partition(", ")
    if not _:
        size, _, waste = size.partition(", ")
    if not size.replace(".", "").isdigit():
        return what
    words = (f"cable {kind}", number(float(size), "mm2"), f"{cores} cores" if cores else "", waste)
    return ", ".join(filter(None, words))


def _row(n: int, one: Line, kind: PriceKind, catalogue: Catalogue | None) -> PriceRow:
    at = f"price:{kind}/{n}"
    return PriceRow(
        n=str(n), what=_name(one.what, catalogue), quantity=Shown(text=quantity(one.quantity, one.unit), at=at),
        unit=one.unit, each=Shown(text=money(one.each), at=at), total=Shown(text=money(one.total), at=at),
        payer=one.payer, share=one.share.replace("_", " "), why=one.why,
    )  # fmt: skip


_ROUNDED = "one line of the price, rounded to the penny"


@cache
def _total(unit: str, currency: str) -> Formula:
    each = f"{currency}/{'h' if unit == 'min' else unit}"
    text = "total = time / 60 * each" if unit == "min" else "total = quantity * each"
    units = {"time" if unit == "min" else "quantity": unit, "each": each}
    return Formula(text, currency, source=_ROUNDED, **units)


def price_steps(one: Line, price: Price) -> tuple[Step, ...]:
    """How one line came about, as steps: its quantity (time in minutes), its price in the book, and their product."""
    book = f"price book, edition {price.edition}"
    why = one.why or one.share.replace("_", " ")
    time = whole_minutes(one.quantity) if one.unit == "h" else None
    unit, much, name = ("min", float(time), "time") if time is not None else (one.unit, one.quantity, "quantity")
    amount: Figure = fact(f"price.{one.what}", much, unit, "chosen", why, name=name)
    each: Figure = fact(f"prices.{one.what}", one.each, f"{price.currency}/{one.unit}", "declared", book, name="each")
    return steps(_total(unit, price.currency)(amount, each))
