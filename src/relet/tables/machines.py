"""Machines, demand and places: what a let unit's users bring."""

from __future__ import annotations

from typing import NamedTuple

from relet.errors import OutsideTable
from relet.tables.core import Row, table
from relet.working import Figure


class Diversity(NamedTuple):
    """Shares in % of the largest (X), the second (Y) and the rest (Z) of the circuits of one kind."""

    largest: Figure
    second: Figure
    rest: Figure


# ---------- demand ----------


def diversity(circuit_type: str, premises: str = "business") -> Diversity:
    """Handbook allowance between final circuits of one kind: X % of the largest, Y % of the second, Z % of the rest.

    circuit_type  as the column circuit_type of the table lists them
    premises      "business" (the stand-in for industry), "household", "hotel"
    raises        OutsideTable: no row, or an allowance that is no plain share
    source        IET On-Site Guide Table A2
    """
    row = table("diversity_allowances").row(circuit_type=circuit_type, premises=premises)
    return Diversity(
        row.figure("largest_percent", "%", name="X"),
        row.figure("second_percent", "%", name="Y"),
        row.figure("rest_percent", "%", name="Z"),
    )


def coincidence(circuits: float) -> Figure:
    """Coincidence factor ks of a distribution board by its number of circuits (UTE C 15-105, as IEC 61439-2 Table 101).

    raises  OutsideTable: fewer than 1
    """
    cases = ((1, "1 circuit"), (3, "2 and 3 circuits"), (5, "4 and 5 circuits"), (9, "6 to 9 circuits"))
    if circuits < 1:
        raise OutsideTable("ks_ku", f"circuits {circuits:g}", "circuits from 1")
    case = next((c for most, c in cases if circuits <= most), "10 and more circuits")
    row = table("ks_ku").row(quantity="ks distribution board", case=case)
    return row.figure("value", "", (circuits,), name="ks")


def utilisation(load: str) -> Figure:
    """Utilisation factor ku: "motors", or "lighting, heating, socket-outlets"."""
    return table("ks_ku").row(quantity="ku", case=load).figure("value", "", name="ku")


# ---------- machines, places, tenants ----------


def machine_kind(kind_id: str) -> Row:
    """A kind of machine with its typical figures; figures by Row.figure(), words by Row.text()."""
    return table("machine_kinds").row(kind_id=kind_id)


def machine_kind_ids() -> tuple[str, ...]:
    """Every kind of machine."""
    return tuple(r.text("kind_id") for r in table("machine_kinds").rows)


def zone(zone_id: str) -> Row:
    """A kind of place; its influence codes stand in wet_code, dust_code, impact_code, corrosion_code, other_code."""
    return table("zones").row(zone_id=zone_id)


def zone_ids() -> tuple[str, ...]:
    """Every kind of place."""
    return tuple(r.text("zone_id") for r in table("zones").rows)


def zone_codes(zone_id: str) -> tuple[str, ...]:
    """External influence codes of a kind of place, for example ("AD4", "AE2", "AG2", "AF1")."""
    row = zone(zone_id)
    columns = ("wet_code", "dust_code", "impact_code", "corrosion_code", "other_code")
    return tuple(code for c in columns for code in row.text(c).split())
