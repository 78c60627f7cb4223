"""Machines, motors, demand, places, tenants, labour: what a let unit's users bring and what small works take."""

from __future__ import annotations

from typing import NamedTuple

from relet.errors import OutsideTable
from relet.tables.core import Row, table
from relet.working import Figure, choose


class Three(NamedTuple):
    """Low, typical and high figure of a spread."""

    low: Figure | None
    typical: Figure | None
    high: Figure | None


class Diversity(NamedTuple):
    """Shares in % of the largest (X), the second (Y) and the rest (Z) of the circuits of one kind."""

    largest: Figure
    second: Figure
    rest: Figure


class Start(NamedTuple):
    """Starting current as a multiple of full-load current, and how long it lasts, s (None: not published)."""

    low: Figure
    high: Figure
    duration: Figure | None


# ---------- motors ----------


def motor_current(shaft_kw: float, phases: int = 3, supply_v: int = 400) -> Figure:
    """Full-load current of a cage motor, A, by its made shaft power, kW; the higher of the published prints.

    phases, supply_v  3 at 400 or 230 V, 1 at 230 V
    raises            OutsideTable: a shaft power that is not made, or another supply
    source            IEC 60947-4-1 Annex G and makers' tables
    """
    if (phases, supply_v) not in ((3, 400), (3, 230), (1, 230)):
        raise OutsideTable("motor_current_3ph", f"{phases} phases at {supply_v} V", "3 at 400 or 230 V; 1 at 230 V")
    name = "motor_current_3ph" if phases == 3 else "motor_current_1ph"
    columns = (f"i_{supply_v}V_A", f"annexG_{supply_v}V_A") if phases == 3 else ("i_230V_A", "i_other_print_230V_A")
    row = table(name).row(p_kW=shaft_kw)
    prints = [f for c in columns if (f := row.maybe(c, "A", (shaft_kw,), name="Im")) is not None]
    return choose(prints, max, "the higher of the published prints", name="Im")


def motor_powers(phases: int = 3) -> tuple[float, ...]:
    """Made shaft powers, kW, for which a current is held."""
    rows = table("motor_current_3ph" if phases == 3 else "motor_current_1ph").rows
    return tuple(v for r in rows if (v := r.number("p_kW")) is not None)


def motor_power_factor(shaft_kw: float) -> Figure:
    """Power factor of a three-phase cage motor at full load."""
    return table("motor_current_3ph").row(p_kW=shaft_kw).figure("cos_phi", "", (shaft_kw,), name="pf")


def motor_efficiency(shaft_kw: float, ie_class: int = 3) -> Figure:
    """Least efficiency of a 4-pole motor of class IE1 to IE4, % (IEC 60034-30-1)."""
    if ie_class not in (1, 2, 3, 4):
        raise OutsideTable("motor_efficiency", f"IE{ie_class}", "IE1 to IE4")
    return table("motor_efficiency").row(p_kW=shaft_kw).figure(f"ie{ie_class}_pct", "%", (shaft_kw,), name="eta")


def motor_start(method: str = "DOL") -> Start:
    """Starting current by method: "DOL", "DOL, IE3/IE4 motor", "star-delta", "soft starter", "variable speed drive"."""
    row = table("motor_starting").row(method=method)
    return Start(
        row.figure("multiple_min", "", name="start"),
        row.figure("multiple_max", "", name="start"),
        row.maybe("duration_s", "s", name="tstart"),
    )


# ---------- demand ----------


def diversity(circuit_type: str, premises: str = "business") -> Diversity:
    """Handbook allowance between final circuits of one kind: X % of the largest, Y % of the second, Z % of the rest.

    circuit_type  as diversity_kinds() lists them
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


def diversity_kinds(premises: str = "business") -> tuple[str, ...]:
    """Kinds of final circuit with an allowance."""
    return tuple(r.text("circuit_type") for r in table("diversity_allowances").where(premises=premises))


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


def coincidence_by_function(function: str) -> Figure:
    """Coincidence factor ks by function: "lighting", "heating and air conditioning", "motors: all others", ..."""
    return table("ks_ku").row(quantity="ks by function", case=function).figure("value", "", name="ks")


def utilisation(load: str) -> Figure:
    """Utilisation factor ku: "motors", or "lighting, heating, socket-outlets"."""
    return table("ks_ku").row(quantity="ku", case=load).figure("value", "", name="ku")


# ---------- machines, places, tenants ----------


def machine_kind(kind_id: str) -> Row:
    """A kind of machine with its typical figures; figures by kind_figure(), words by Row.text()."""
    return table("machine_kinds").row(kind_id=kind_id)


def machine_kind_ids() -> tuple[str, ...]:
    """Every kind of machine."""
    return tuple(r.text("kind_id") for r in table("machine_kinds").rows)


def kind_figure(kind_id: str, column: str) -> Figure | None:
    """One typical figure of a machine kind by its column, in the unit of the table; None where the cell is empty."""
    row = machine_kind(kind_id)
    return row.maybe(column, row.table.entry.columns[column].unit, name=column)


def kind_power(kind_id: str) -> Three:
    """Electrical input of a machine kind at rated load, W."""
    row = machine_kind(kind_id)
    low, typical, high = (row.maybe(f"power_{s}_w", "W", name="P") for s in ("low", "typical", "high"))
    return Three(low, typical, high)


def kind_duty(kind_id: str) -> Three:
    """Chance that a machine draws about its rated power at a random moment of the tenant's working hours."""
    row = machine_kind(kind_id)
    low, typical, high = (row.maybe(f"duty_on_probability_{s}", "", name="p") for s in ("low", "typical", "high"))
    return Three(low, typical, high)


def kind_needs(kind_id: str) -> tuple[str, ...]:
    """What a machine kind asks for besides power: "estop", "extraction", "refer_explosive_atmosphere", ..."""
    return tuple(filter(None, machine_kind(kind_id).text("needs").split("|")))


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


def tenant_kinds() -> tuple[Row, ...]:
    """Kinds of tenant with their chance of being the next one (stated assumptions)."""
    return table("tenant_kinds").rows


def tenant_machines(tenant_id: str) -> tuple[Row, ...]:
    """What a kind of tenant brings: chance, count, groups, place. Raises OutsideTable for another id."""
    return table("tenant_kind_machines").some(tenant_id=tenant_id)


# ---------- labour and money ----------


def labour(item: str) -> Three:
    """Labour of one item, low, typical and high, in the unit of its row (hours each, hours a metre, factor, ...)."""
    row = table("labour").row(item=item)
    unit = row.text("unit")
    low, typical, high = (row.maybe(c, unit, name=item) for c in ("low", "typical", "high"))
    return Three(low, typical, high)


def labour_items() -> tuple[str, ...]:
    """Items of labour that are held."""
    return tuple(r.text("item") for r in table("labour").rows)


def turnover(section: str, item: str) -> Three:
    """Lettings, voids, sectors, discount rates: low, typical and high in the unit of the row."""
    row = table("turnover").row(section=section, item=item)
    unit = row.text("unit")
    low, typical, high = (row.maybe(c, unit, name=item) for c in ("low", "typical", "high"))
    return Three(low, typical, high)
