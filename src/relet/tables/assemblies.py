"""Outlet assemblies: colours of outlets, ingress, rated diversity, enclosure heating.

Sources: EN 60309 and BS 1363 (outlets), IEC 60529 (codes), IEC 60364-5-51 (places), IEC 61439 (assemblies),
IEC TR 60890 (air temperature inside). Raises OutsideTable where nothing is held.
"""

from __future__ import annotations

from typing import Final, NamedTuple

from relet.errors import OutsideTable
from relet.tables.core import Row, table
from relet.tables.protection import method_constant
from relet.working import Figure, Formula


class Ingress(NamedTuple):
    """Least numerals of the ingress code that an influence code asks for; None: the code asks for none."""

    solid: Figure | None
    water: Figure | None


# ---------- outlets ----------


def outlet_colour(voltage_v: float, frequency_hz: float = 50) -> str:
    """Colour of an industrial outlet by its voltage between lines (IEC 60309-1). Raises OutsideTable."""
    for r in table("iec60309_colours").rows:
        span = _span(r.text("voltage_V"))
        if r.text("frequency_Hz") == "50/60" and frequency_hz in (50, 60) and span and span[0] <= voltage_v <= span[1]:
            return r.text("colour")
    raise OutsideTable("iec60309_colours", f"{voltage_v:g} V at {frequency_hz:g} Hz", "voltages from 20 to 690 V")


def _span(text: str) -> tuple[float, float] | None:
    """ "200-250" as (200, 250), "200/346-240/415" as its voltages between lines (346, 415); words as None."""
    ends = [part.split("/")[-1] for part in text.split("-")]
    try:
        numbers = [float(e) for e in ends]
    except ValueError:
        return None
    return (numbers[0], numbers[-1])


# ---------- ingress, impact, influence ----------


def ingress_needed(code: str) -> Ingress:
    """Least ingress numerals for an external influence code such as AD4 or AE5 (IEC 60364-5-51)."""
    row = table("external_influences").row(code=code)
    return Ingress(row.maybe("ip_solid_min", "", name="IP first"), row.maybe("ip_water_min", "", name="IP second"))


# ---------- current and losses ----------


def rated_diversity_factor(circuits: float, standard: str = "IEC 61439-3") -> Figure:
    """Rated diversity factor (assumed loading) where the maker declares none. A heating limit, never a demand.

    circuits  main circuits loaded together, from 1
    standard  "IEC 61439-3" (ordinary persons), "IEC 61439-2", "IEC 61439-4" (sites)
    """
    if circuits < 1:
        raise OutsideTable("rated_diversity_factor", f"circuits {circuits:g}", "circuits from 1")
    rows = table("rated_diversity_factor").some(standard=standard, load="distribution circuits")
    row = max(
        (r for r in rows if (r.number("circuits_min") or 0) <= circuits), key=lambda r: r.number("circuits_min") or 0
    )
    return row.figure("factor", "", (circuits,), name="RDF")


# ---------- enclosure heating (IEC TR 60890) ----------

_ON_CURVE = "straight line between two points of a published curve, IEC TR 60890"
_K_BETWEEN = Formula(
    "k = k0 + (k1 - k0) * (Ae - Ae0) / (Ae1 - Ae0)",
    "K/W^x",
    k0="K/W^x", k1="K/W^x", Ae="m2", Ae0="m2", Ae1="m2",
    source=_ON_CURVE,
)  # fmt: skip
RATIO: Final = "m/m"
"""Unit of g, height over width: the abscissa of the small enclosures, and of no other."""
OVER_FLOOR: Final = "m^e/m2"
"""Unit of f, h^e / (w d): the abscissa of the large enclosures."""
_C_BETWEEN: Final = {
    unit: Formula(
        "c = c0 + (c1 - c0) * (x - x0) / (x1 - x0)", "", c0="", c1="", x=unit, x0=unit, x1=unit, source=_ON_CURVE
    )
    for unit in (RATIO, OVER_FLOOR)
}


def _read_curve(
    rows: tuple[Row, ...], at: str, at_unit: str, value: str, unit: str, x: Figure, line: Formula
) -> Figure:
    """The value of a curve at x: a point of the table, or the straight line between the two points beside it."""
    points = [(r.figure(at, at_unit, name=at), r) for r in rows]
    for x0, row in points:
        if float(x0) == float(x):
            return row.figure(value, unit, (x,), name=value)
    below = [p for p in points if p[0] < x]
    above = [p for p in points if p[0] > x]
    if not below or not above:
        held = f"{at} {min(points, key=lambda p: p[0])[0]:g} to {max(points, key=lambda p: p[0])[0]:g}"
        raise OutsideTable(rows[0].table.name, f"{at} {float(x):g} ({rows[0].text('case')})", held)
    (x0, row0), (x1, row1) = max(below, key=lambda p: p[0]), min(above, key=lambda p: p[0])
    return line(row0.figure(value, unit, name=value), row1.figure(value, unit, name=value), x, x0, x1)


def surface_factor(surface: str) -> Figure:
    """Surface factor b of the effective cooling surface Ae = sum of (surface x b); names: its table."""
    return table("iec60890_b").row(surface=surface).figure("b", "", name="b")


def enclosure_constant(ae_m2: Figure) -> Figure:
    """Enclosure constant k without ventilation openings, K/W^x, for an effective cooling surface, m2.

    The publication gives a curve to be read, so between two of its points a straight line is taken (the curve is
    hollow: the line lies on its hot side). Beyond its ends nothing is extrapolated.
    raises  OutsideTable: outside the curve
    """
    case = "small" if ae_m2 <= small_surface_limit() else "large"
    rows = table("iec60890_k").some(case=case)
    return _read_curve(rows, "ae_m2", "m2", "k", "K/W^x", ae_m2, _K_BETWEEN)


def partition_factor(partitions: float, ae_m2: float) -> Figure | None:
    """Factor d for horizontal partitions; None for a small enclosure, where it is 1 by definition."""
    if ae_m2 <= small_surface_limit():
        return None
    return table("iec60890_d").row(case="large", partitions=partitions).figure("d", "", (partitions,), name="d")


def height_factor(x: Figure, ae_m2: Figure, installation_curve: int = 3) -> Figure:
    """Temperature distribution factor c.

    x                   small enclosures: g = height / width, in m/m; large: f = h^1.35 / (w d), in m^e/m2
    installation_curve  large enclosures: 1 detached on all sides, 2 first or last of a row, 3 wall-mounted alone,
                        4 first or last on a wall, 5 central on a wall or with covered top
    The publication gives curves to be read: a straight line between two of its points; nothing beyond its ends.
    raises  OutsideTable: beyond the curve; TypeError: g for a large enclosure or f for a small one
    """
    small = ae_m2 <= small_surface_limit()
    curve = "all" if small else f"{installation_curve}"
    rows = table("iec60890_c").some(case="small" if small else "large", installation_curve=curve)
    unit = RATIO if small else OVER_FLOOR
    if x.unit != unit:
        raise TypeError(f"a {'small' if small else 'large'} enclosure is read at {unit}, not {x.unit or 'no unit'}")
    return _read_curve(rows, "x", unit, "c", "", x, _C_BETWEEN[unit])


def heat_exponent() -> Figure:
    """Exponent of the losses in dt = k d P^x, without ventilation openings."""
    return method_constant("iec60890", "exponent, no ventilation", "", "x")


def height_exponent() -> Figure:
    """Exponent of the height in f = h^1.35 / (w d) for large enclosures."""
    return method_constant("iec60890", "exponent of the height in f", "", "e")


def small_surface_limit() -> Figure:
    """Effective cooling surface, m2, up to which the small-enclosure curves hold."""
    return method_constant("iec60890", "limit between small and large", "m2", "Aelimit")
