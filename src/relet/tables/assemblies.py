"""Outlet assemblies: outlets, ingress and impact, rated diversity, losses, enclosure heating, switching duty.

Sources: EN 60309 and BS 1363 (outlets), IEC 60529 and 62262 (codes), IEC 60364-5-51 (places), IEC 61439 (assemblies),
IEC TR 60890 (air temperature inside), IEC 60947 (switching duty). Raises OutsideTable where nothing is held.
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


class Duty(NamedTuple):
    """Making and breaking capacity of a utilization category, multiples of Ie, and the power factor at which."""

    make: Figure | None
    break_: Figure | None
    pf: Figure | None


class Loss(NamedTuple):
    """Loss of one pole at rated current, W, and its resistance, mohm (None for coils and lamps)."""

    power: Figure
    resistance: Figure | None


# ---------- outlets ----------


def outlet_60309_ratings() -> tuple[float, ...]:
    """Rated currents, A, of industrial socket-outlets, European series (IEC 60309-2)."""
    return tuple(map(float, table("iec60309_ratings").row(quantity="rated currents series I").text("value").split()))


def clock_position(poles: str, voltage_v: float, frequency_hz: float = 50) -> Figure:
    """Hour of the earth contact, h, for "2P+E" or "3P+E" at a voltage between lines, "3P+N+E" likewise.

    raises  OutsideTable: poles or voltage without an hour at 50 or 60 Hz
    source  IEC 60309-2
    """
    return _clock_row(poles, voltage_v, frequency_hz).figure("clock_h", "h", (voltage_v,), name="hour")


def outlet_colour(voltage_v: float, frequency_hz: float = 50) -> str:
    """Colour of an industrial outlet by its voltage between lines (IEC 60309-1). Raises OutsideTable."""
    for r in table("iec60309_colours").rows:
        span = _span(r.text("voltage_V"))
        if r.text("frequency_Hz") == "50/60" and frequency_hz in (50, 60) and span and span[0] <= voltage_v <= span[1]:
            return r.text("colour")
    raise OutsideTable("iec60309_colours", f"{voltage_v:g} V at {frequency_hz:g} Hz", "voltages from 20 to 690 V")


def _clock_row(poles: str, voltage_v: float, frequency_hz: float) -> Row:
    held = table("iec60309_clock_positions")
    for r in held.some(poles=poles):
        span = _span(r.text("voltage_V"))
        if r.text("frequency_Hz") == "50/60" and frequency_hz in (50, 60) and span and span[0] <= voltage_v <= span[1]:
            return r
    spans = "; ".join(r.text("voltage_V") for r in held.some(poles=poles))
    raise OutsideTable(held.name, f"{poles} {voltage_v:g} V at {frequency_hz:g} Hz", spans)


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


def impact_needed(code: str) -> str:
    """Usual impact code for AG1 to AG4, for example "IK08"; empty for a code that says nothing of impact."""
    return table("external_influences").row(code=code).text("ik_usual")


def influence(code: str) -> tuple[str, str]:
    """What an external influence code means, and what it asks for, in words."""
    row = table("external_influences").row(code=code)
    return row.text("condition"), row.text("minimum_or_requirement")


def impact_energy(ik_code: str) -> Figure:
    """Impact energy of an IK code, J (IEC 62262). IK00 has none: OutsideTable."""
    return table("ik_code").row(code=ik_code).figure("energy_J", "J", name="E")


def ingress_meaning(group: str, numeral: float) -> str:
    """Meaning of a numeral; group "solid" (first) or "water" (second) (IEC 60529)."""
    return table("ip_code").row(group=group, numeral=numeral).text("meaning")


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


def device_loss(device: str, in_a: float | None = None) -> Loss:
    """Typical loss of one pole at rated current, W; scale with (I/In)^2. Placeholder until the maker's figure is known.

    device  as device_kinds() lists them, for example "MCB 1 pole, B/C"; in_a None for coils and lamps
    """
    row = table("device_power_loss").row(device=device, in_A=None if in_a is None else float(in_a))
    given = () if in_a is None else (in_a,)
    return Loss(
        row.figure("p_per_pole_W", "W", given, name="Ppole"), row.maybe("r_pole_mohm", "mohm", given, name="Rpole")
    )


def device_kinds() -> tuple[str, ...]:
    """Devices with a typical loss."""
    return tuple(dict.fromkeys(r.text("device") for r in table("device_power_loss").rows))


def free_air_share() -> Figure:
    """Share of its free-air rating that a device of an assembly may carry without a test (IEC 61439-1 10.10.4)."""
    return table("temperature_rise_rules").row(rule_id="T5").figure("value", "", name="share")


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
    """Surface factor b of the effective cooling surface Ae = sum of (surface x b); names: surfaces()."""
    return table("iec60890_b").row(surface=surface).figure("b", "", name="b")


def surfaces() -> tuple[str, ...]:
    """Kinds of surface that surface_factor() knows."""
    return tuple(r.text("surface") for r in table("iec60890_b").rows)


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


# ---------- switching duty ----------


def utilization(category: str) -> Duty:
    """Making and breaking multiples of a utilization category, for example "AC-23A" (IEC 60947-3, -4-1)."""
    row = table("utilization_categories").row(category=category)
    return Duty(
        row.maybe("make_multiple_ie", "", name="make"),
        row.maybe("break_multiple_ie", "", name="break"),
        row.maybe("cos_phi_up_to_100A", "", name="pf"),
    )


def utilization_duty(category: str) -> str:
    """The loads that a utilization category stands for, in words."""
    return table("utilization_categories").row(category=category).text("duty")


def may_isolate(device: str, product_standard: str) -> str:
    """ "yes", "no" or "yes if marked": whether a device serves isolation (BS 7671 Table 537.4)."""
    return table("switching_devices").row(device=device, product_standard=product_standard).text("isolation")
