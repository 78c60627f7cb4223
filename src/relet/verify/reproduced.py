"""Printed tables that a formula of the product gives again, row by row.

Only rows that were seen in print (V1, V2) are taken; what is held from memory or was computed here proves nothing. The
row's printed figure is what must come out, never what goes in. Rows that are printed too coarsely are left out.
"""

from __future__ import annotations

import re
from collections.abc import Callable, Iterator
from functools import partial
from typing import Final

from relet.electrical.adiabatic import k_of_temperatures
from relet.electrical.conductors import working_temperature
from relet.electrical.currents import as_share, design_current
from relet.electrical.devices import breaker
from relet.electrical.faults import loop_limit
from relet.electrical.impedance import conductor, series, temperature_factor
from relet.electrical.voltdrop import rate, rate_of
from relet.tables import Row, table
from relet.tables.cables import conductor_resistance, temperature_coefficient
from relet.tables.protection import nominal_voltage
from relet.verify.calling import Call
from relet.verify.case import Case, Value, half_a_unit
from relet.verify.topics.common import in_mohm, nought
from relet.working import Figure, Formula, Lookup, fact

Rows = Iterator[tuple[Value, Figure]]

SEEN: Final = ("V1", "V2")
COARSEST: Final = 0.016  # tolerance of a row over its figure; coarser rows would prove little
LARGEST_WITHOUT_X: Final = 16  # mm2: resistance alone, and no skin effect to speak of
SMALLEST_WITH_TWO_DIGITS: Final = 70  # mm2
SMALLEST_MOTOR_KW: Final = 1.5  # below it the printed currents have one or two digits
_HOT: Final = Formula("rhot = r * F", "mohm/m", r="mohm/m", F="", source="resistance at working temperature")
_ANGLE: Final = Formula("phi = atan2_deg(x, r)", "deg", x="mV/A/m", r="mV/A/m", source="angle of r + jx")
_CURRENT: Final = Formula("Ib = Ca * It", "A", Ca="", It="A", source="printed reduction factor")
_WARMER: Final = Formula(
    "theta = t30 + ta - tr", "degC", t30="degC", ta="degC", tr="degC", source="same rise in another ambient"
)
_REFERENCE_C: Final = fact("table.reference", 30.0, "degC", "published", "reference ambient of the rating tables")
_SHEATHED: Final = {"copper sheath": "copper"}


def tables() -> tuple[Case, ...]:
    """The reproduced tables, one case each."""
    ways: dict[str, Callable[[Call], Rows]] = {
        "greatest loop, breakers, before the voltage factor": breaker_loops,
        "k from temperatures": k_of_rows,
        "R1 + R2 from conductor resistances": r1_r2_of_rows,
        "mV/A/m from conductor resistances": rates_of_resistance,
        "z from r and x": z_of_parts,
        "multipliers of resistance": multipliers,
        "motor currents from power": motor_currents,
        "reduction factors by the square root law": ambient_factors,
    }
    return tuple(
        Case(f"tab_{way.__name__}", f"reproduced table: {topic}", "table", partial(_fine, way))
        for topic, way in ways.items()
    )


def _fine(way: Callable[[Call], Rows], call: Call) -> Rows:
    """Rows whose print is fine enough to tell a formula from one that is two per cent wrong."""
    for value, figure in way(call):
        if value.tolerance <= COARSEST * abs(float(value.printed)):
            yield value, figure


def breaker_loops(call: Call) -> Rows:
    """U0 / Ia with Cmin = 1: the table of 2008, which the present one multiplies by Cmin."""
    one, u0 = fact("table.c_min", 1.0, "", "published", "before 2015 no voltage factor"), nominal_voltage()
    within = fact("table.within", 0.4, "s", "published", "disconnection within 0.4 s")
    for row in table("zs_mcb").rows:
        old = re.match(r"2008 value ([\d.]+)", row.text("cross_check"))
        if old is None:
            continue
        band = call(breaker, _key(row, "in_A", "A"), row.text("curve"))
        limit = call(loop_limit, one, u0, call(band.trips_within, within))
        why = "Cmin = 1.0. Some of the table's figures are cut short, not rounded."
        yield _value(row, "ZS2", "V1", old[1], "ohm", half_a_unit(old[1]) + 1e-4, why), limit


def k_of_rows(call: Call) -> Rows:
    """K sqrt(ln(...)) between the temperatures of the row."""
    for row, held, printed in _seen("k_factors", "k", "A s^0.5/mm2"):
        metal = _SHEATHED.get(row.text("conductor"), row.text("conductor"))
        start, end = (row.maybe(f"{c}_temp_degC", "degC") for c in ("initial", "final"))
        if metal in ("copper", "aluminium", "steel") and start is not None and end is not None:
            k = call(k_of_temperatures, metal, start, end)
            yield _of(row, held, printed, 0.5, "The two temperatures of the row are partly from memory."), k


def r1_r2_of_rows(call: Call) -> Rows:
    """Line and protective conductor, one metre of each, at 20 C."""
    metre = fact("table.length", 1.0, "m", "published", "per metre")
    for row, held, printed in _seen("r1_r2_copper", "r_20degC_mohm_per_m", "mohm/m"):
        if row.number("cpc_csa_mm2") is None:
            continue
        sizes = [_key(row, c, "mm2") for c in ("line_csa_mm2", "cpc_csa_mm2")]
        both = [call(conductor, conductor_resistance(s), nought("mohm/m"), metre) for s in sizes]
        loop = in_mohm(call(series, *both).r)
        yield _of(row, held, printed, half_a_unit(printed), "", unit="mohm"), loop


def rates_of_resistance(call: Call) -> Rows:
    """Twice or sqrt3 times the hot resistance of IEC 60228, for the sizes whose reactance does not matter."""
    zero = fact("table.from", 20.0, "degC", "published", "temperature of the resistance table")
    alpha = temperature_coefficient(exact=True)
    why = "One unit in the last digit: the table prints two digits and rests on older resistances."
    for name, hot in (("vd_4D1B", 70.0), ("vd_4E1B", 90.0)):
        warm = fact("table.conductor", hot, "degC", "published", "conductor temperature of the table")
        for row, held, printed in _seen(name, "r_mV_per_A_m", "mV/A/m"):
            touching = "touching" in row.text("arrangement")
            if row.text("loading") == "dc" or not touching or _size(row) > LARGEST_WITHOUT_X:
                continue
            factor = call(temperature_factor, alpha, zero, warm, zero)
            r = _HOT(conductor_resistance(_key(row, "csa_mm2", "mm2")), factor)
            value = call(rate_of, r, three_phase=row.text("loading") == "3ph")
            yield _of(row, held, printed, 2 * half_a_unit(printed), why), value


def z_of_parts(call: Call) -> Rows:
    """z is what r and x give at the power factor that makes the drop greatest."""
    why = "One unit in the last digit: r and x are rounded themselves. From 70 mm2, where two digits follow the point."
    for name in ("vd_4D1B", "vd_4E1B", "vd_4E4B"):
        for row, held, printed in _seen(name, "z_mV_per_A_m", "mV/A/m"):
            r, x = (row.maybe(f"{c}_mV_per_A_m", "mV/A/m") for c in "rx")
            if r is not None and x is not None and _size(row) >= SMALLEST_WITH_TWO_DIGITS:
                yield _of(row, held, printed, 0.01, why), call(rate, r, x, _ANGLE(x, r))


def multipliers(call: Call) -> Rows:
    """1 + alpha (T - 20) with the coefficient that the wiring rules use."""
    alpha, zero = temperature_coefficient(), fact("table.from", 20.0, "degC", "published")
    for row, held, printed in _seen("temperature_coefficients", "value", ""):
        hot = re.match(r"copper Kt at (\d+) degC to 20 degC", row.text("quantity"))
        if hot is not None:
            warm = fact("table.conductor", float(hot[1]), "degC", "published")
            yield (
                _of(row, held, printed, 0.005, "The table prints reciprocals with three digits."),
                call(temperature_factor, alpha, zero, warm, zero),
            )


def motor_currents(call: Call) -> Rows:
    """P / (sqrt3 U pf eta) with the power factor and efficiency of the row."""
    why = "1 %: power factor and efficiency of the row are printed to two digits. From 1.5 kW."
    volt = fact("table.voltage", 400.0, "V", "published", "voltage of the column")
    for row, held, printed in _seen("motor_current_3ph", "i_400V_A", "A"):
        if (row.number("p_kW") or 0.0) >= SMALLEST_MOTOR_KW:
            current = call(
                design_current, "three", volt, shaft_kw=_key(row, "p_kW", "kW"), pf=row.figure("cos_phi", ""),
                efficiency=call(as_share, row.figure("efficiency_pct", "%")),
            )  # fmt: skip
            yield _of(row, held, printed, 0.01 * held, why), current


def ambient_factors(call: Call) -> Rows:
    """A cable that carries Ca It in the warmer air reaches its limit temperature again.

    Turned round, so that the function which judges is tried: at 30 C the current Ca It gives a rise, and the same rise
    in the warmer air must end at the limit of the insulation.
    """
    it = fact("table.rating", 100.0, "A", "published", "any rating")
    for row, held, _ in _seen("ambient_factor", "factor", ""):
        limit, ambient = _key(row, "conductor_temp_degC", "degC"), _key(row, "ambient_temp_degC", "degC")
        if row.text("base") != "BS" or row.text("medium") != "air" or ambient <= _REFERENCE_C:
            continue
        factor = row.figure("factor", "")
        there = call(working_temperature, _REFERENCE_C, limit, _CURRENT(factor, it), it)
        why = "What the factor's last digit is worth in kelvin."
        worth = 2 * float(limit - _REFERENCE_C) * held * 0.005
        yield (
            _of(row, held, row.text("conductor_temp_degC"), worth, why, unit="degC"),
            _WARMER(there, ambient, _REFERENCE_C),
        )


def _seen(name: str, column: str, unit: str) -> Iterator[tuple[Row, Figure, str]]:
    """Rows of a table whose figure in a column was seen in print, with the figure and its text."""
    for row in table(name).rows:
        if row.text(column) and row.table.entry.columns[column].unit in (unit, f"@{unit}", "@unit"):
            if row.table.entry.columns[column].unit == "@unit" and row.text("unit") != unit:
                continue
            held = row.figure(column, unit)
            if _origin(held).status in SEEN:
                yield row, held, row.text(column)


def _origin(held: Figure) -> Lookup:
    assert isinstance(held.origin, Lookup)
    return held.origin


def _key(row: Row, column: str, unit: str) -> Figure:
    """A key of a row as a figure."""
    value = row.number(column)
    assert value is not None
    return fact(f"{row.table.name}.{column}", value, unit, "published", row.label, name=column)


def _size(row: Row) -> float:
    return row.number("csa_mm2") or 0.0


def _of(row: Row, held: Figure, printed: str, tolerance: float, note: str, *, unit: str | None = None) -> Value:
    o = _origin(held)
    return _value(row, o.source, o.status, printed, held.unit if unit is None else unit, tolerance, note)


def _value(row: Row, source: str, status: str, printed: str, unit: str, tolerance: float, note: str) -> Value:
    return Value(
        id=f"tab.{row.table.name}.{row.line}", printed=printed, unit=unit, tolerance=tolerance, source=source,
        locator=f"{row.table.name}: {row.label}", status=status, note=note,
    )  # fmt: skip
