"""The person's own price book, one edition: a price each, a price a metre, minutes of work, and who pays."""

from __future__ import annotations

from datetime import date
from typing import Literal, TypeAlias

from relet.errors import ReletError
from relet.model.values import Map, Value

Payer: TypeAlias = Literal["landlord", "tenant"]
Share: TypeAlias = Literal[
    "backbone", "contents", "taking_out", "access", "waste", "testing", "certificates", "standing_time", "upkeep"
]
"""What a line belongs to; the book says who pays each."""


class UnknownPrice(ReletError):
    """Something has to be priced that the price book does not hold: names the thing and the book."""

    def __init__(self, what: str, table: str, book: str) -> None:
        self.what, self.table, self.book = what, table, book
        super().__init__(f'price book "{book}": no price for {what}. Add a row to [{table}]; nothing is guessed.')


class PriceBook(Value, frozen=True, kw_only=True):
    """Prices of one edition, without VAT.

    parts         price each, by part
    per_metre     price a metre: "<cable kind>/<mm2>" (five cores; twin-earth: two and earth), "<kind>/<mm2>/3" with
                  three, and by part for tapped runs and containment
    labour        minutes by verb; `rate_per_hour` in the book's currency
    sums          sums a job that are neither parts nor time: access, waste, certificates
    shares        who pays each share
    markup_percent on parts and metres; vat_percent and waste_percent (cable cut to waste); large_from_mm2: ends from
                  this size on take `terminate_large`
    """

    edition: str
    currency: str
    valid_from: date | None
    parts: Map[str, float]
    per_metre: Map[str, float]
    labour: Map[str, float]
    rate_per_hour: float
    sums: Map[str, float] = Map()
    shares: Map[str, Payer] = Map()
    markup_percent: float = 0.0
    vat_percent: float = 0.0
    waste_percent: float = 0.0
    large_from_mm2: float = 16.0
    note: str = ""

    def each(self, part: str) -> float:
        """Price of one part. Raises UnknownPrice."""
        if part not in self.parts:
            raise UnknownPrice(f'part "{part}"', "parts", self.edition)
        return self.parts[part]

    def metre(self, *names: str) -> float:
        """Price a metre of the first of these names that the book holds. Raises UnknownPrice naming the last."""
        for name in names:
            if name in self.per_metre:
                return self.per_metre[name]
        raise UnknownPrice(f'a metre of "{names[-1]}"', "per_metre", self.edition)

    def minutes(self, verb: str) -> float:
        """Minutes of one piece of work. Raises UnknownPrice."""
        if verb not in self.labour:
            raise UnknownPrice(f'work "{verb}"', "labour", self.edition)
        return self.labour[verb]

    def payer(self, share: Share) -> Payer:
        """Who pays; left out of the book: the landlord for what stays with the building, else the tenant."""
        return self.shares.get(share, "landlord" if share in ("backbone", "upkeep") else "tenant")
