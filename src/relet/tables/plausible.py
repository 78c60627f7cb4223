"""What an unknown fact may plausibly be: a range or options, each a sourced row, almost all assumed or from memory."""

from __future__ import annotations

from dataclasses import dataclass

from relet.errors import OutsideTable
from relet.tables.core import Row, table
from relet.working import Figure


@dataclass(frozen=True, slots=True)
class Plausible:
    """A range (`low`, `high`) or `options` (numbers where they all are numbers), with unit, status and a note."""

    fact: str
    case: str
    unit: str
    low: Figure | None
    high: Figure | None
    options: tuple[float, ...] | tuple[str, ...]
    source: str
    status: str
    note: str


def plausible(fact: str, case: str | float = "") -> Plausible:
    """The plausible range or options of a fact, narrowed by what is known of its case.

    fact    name of the fact as in the unit file: "ze_ohm", "length_m", "curve", "csa_mm2", ...
    case    what narrows it: earthing arrangement (ze_ohm), phases (ipf_ka, agreed_kva), rating of the device in A
            (csa_mm2), line conductor in mm2 (cpc_mm2), kind of plug (power_w), of start (start_multiple), ...;
            a case without a row falls back on the row for "nothing known"
    raises  OutsideTable: no row for the fact
    """
    held = table("plausible")
    words = f"{case:g}" if isinstance(case, float | int) else case
    rows = held.where(fact=fact, case=words or None) or held.where(fact=fact, case=None)
    if not rows:
        raise OutsideTable(held.name, f"fact {fact}" + (f", case {words}" if words else ""), "; ".join(facts()))
    return _of(rows[0])


def facts() -> tuple[str, ...]:
    """Facts for which a plausible range or options are held."""
    return tuple(dict.fromkeys(r.text("fact") for r in table("plausible").rows))


def _of(row: Row) -> Plausible:
    unit = row.text("unit")
    return Plausible(
        row.text("fact"),
        row.text("case"),
        unit,
        row.maybe("low", unit, name=row.text("fact")),
        row.maybe("high", unit, name=row.text("fact")),
        _options(row.text("options")),
        row.text("source"),
        row.text("status"),
        row.text("note"),
    )


def _options(text: str) -> tuple[float, ...] | tuple[str, ...]:
    words = tuple(filter(None, text.split("|")))
    try:
        return tuple(float(w) for w in words)
    except ValueError:
        return words
