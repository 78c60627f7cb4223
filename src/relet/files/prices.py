"""Read a price book, `relet/prices/1`: prices each and a metre, minutes of work, and who pays."""

from __future__ import annotations

from datetime import date, datetime
from functools import lru_cache
from pathlib import Path
from typing import Any, Final, get_args

from relet.files.catalogue import SHIPPED, Mistakes
from relet.files.source import load
from relet.files.words import listed, near_hint, shown
from relet.model import Map
from relet.pricing import Payer, PriceBook, Share

FORMAT: Final = "relet/prices/1"
_TOP: Final = (
    "format", "edition", "currency", "valid_from", "note", "terms", "labour", "lines", "shares", "parts", "per_metre",
)  # fmt: skip
_TERMS: Final = {
    "markup_percent": (0.0, 500.0, "mark-up in percent"),
    "vat_percent": (0.0, 100.0, "VAT in percent"),
    "waste_percent": (0.0, 100.0, "cable cut to waste in percent"),
    "large_from_mm2": (1.0, 1000.0, "mm2 from which an end is a large one"),
}
_SUMS: Final = ("access", "waste", "certificates")
_DEAREST: Final = 1e6
_LONGEST_MINUTES: Final = 1e5


def read_prices(path: str | Path | None = None) -> PriceBook:
    """Read a price book; None: the shipped, invented one.

    raises  InputError, InputErrors: every mistake that the file can still show, with line, place, value and allowed
    """
    return _shipped() if path is None else _read(path)


@lru_cache(maxsize=1)
def _shipped() -> PriceBook:
    return _read(SHIPPED / "prices.toml")


def _read(path: str | Path) -> PriceBook:
    source = load(path, "a price book")
    data, bad = source.data, Mistakes(source)
    bad.format(FORMAT)
    bad.unknown((), data, _TOP)
    labour = dict(bad.table(("labour",), data.get("labour", {})))
    rate = labour.pop("rate_per_hour", None)
    book = PriceBook(
        edition=bad.text(("edition",), data.get("edition")),
        currency=bad.text(("currency",), data.get("currency")),
        valid_from=_day(data.get("valid_from"), bad),
        note=bad.text(("note",), data.get("note", "")),
        parts=_numbers(bad, ("parts",), data.get("parts", {}), _DEAREST, "a price each"),
        per_metre=_numbers(bad, ("per_metre",), data.get("per_metre", {}), _DEAREST, "a price a metre"),
        labour=_numbers(bad, ("labour",), labour, _LONGEST_MINUTES, "minutes"),
        rate_per_hour=bad.number(("labour", "rate_per_hour"), rate, 0, 10000, "a rate per hour"),
        sums=_known_numbers(bad, data.get("lines", {})),
        shares=_shares(bad, data.get("shares", {})),
        **_terms(bad, data.get("terms", {})),
    )
    bad.tell()
    return book


def _numbers(bad: Mistakes, at: tuple[str, ...], value: Any, high: float, what: str) -> Map[str, float]:
    return Map({k: bad.number((*at, k), v, 0, high, what) for k, v in bad.table(at, value).items()})


def _known_numbers(bad: Mistakes, value: Any) -> Map[str, float]:
    table = bad.table(("lines",), value)
    bad.unknown(("lines",), table, _SUMS)
    return _numbers(bad, ("lines",), {k: v for k, v in table.items() if k in _SUMS}, _DEAREST, "a sum a job")


def _terms(bad: Mistakes, value: Any) -> dict[str, Any]:
    table = bad.table(("terms",), value)
    bad.unknown(("terms",), table, tuple(_TERMS))
    return {k: bad.number(("terms", k), v, *_TERMS[k]) for k, v in table.items() if k in _TERMS}


def _shares(bad: Mistakes, value: Any) -> Map[str, Payer]:
    out: dict[str, Payer] = {}
    table = bad.table(("shares",), value)
    bad.unknown(("shares",), table, get_args(Share))
    for name, payer in table.items():
        if name not in get_args(Share):
            continue
        if payer in get_args(Payer):
            out[name] = payer
        else:
            allowed = get_args(Payer)
            hint = near_hint(str(payer), allowed)
            bad.add(("shares", name), f"{shown(payer)} pays nothing here. Allowed: {listed(allowed)}.{hint}")
    return Map(out)


def _day(value: Any, bad: Mistakes) -> date | None:
    if value is None:
        return None
    if isinstance(value, date) and not isinstance(value, datetime):
        return value
    bad.add(("valid_from",), f"{shown(value)} is not a day. Allowed: a day as 2026-01-31, without quotes.")
    return None
