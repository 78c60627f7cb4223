"""Protective devices: bands of circuit-breakers and fuses, types of residual current devices.

A band is what the product standard allows, never one maker's curve. Multiples are of the rated current In (or IdN).
All look-ups raise OutsideTable where the publication holds nothing; nothing is extrapolated or interpolated.
"""

from __future__ import annotations

from typing import NamedTuple

from relet.errors import OutsideTable
from relet.tables.core import Cell, Row, table
from relet.working import Figure


class Band(NamedTuple):
    """Lower and upper edge of a band, both multiples of the rated current."""

    low: Figure
    high: Figure


class Conventional(NamedTuple):
    """Multiples of In that must not (`holds`) and must (`trips`) operate a device within `time` (s or h)."""

    holds: Figure | None
    trips: Figure
    time: Figure | None


class TimePoint(NamedTuple):
    """At this multiple of In the device opens between t_min and t_max, s; None: the standard sets no limit there."""

    multiple: Figure
    t_min: Figure | None
    t_max: Figure | None
    test: str


class Gates(NamedTuple):
    """gG gates, A: must not melt before 10 s and 0.1 s (imin), must melt within 5 s and 0.1 s (imax).

    printed_0p4s  current at which a print says that it opens within 0.4 s; None: no print is held
    """

    imin_10s: Figure
    imax_5s: Figure
    imin_0p1s: Figure
    imax_0p1s: Figure
    printed_0p4s: Figure | None = None


class FuseEnergy(NamedTuple):
    """gG I2t, A2s: pre-arcing limits at 0.01 s (from 16 A up), and the pair used for selectivity between fuses."""

    prearc_min: Figure | None
    prearc_max: Figure | None
    selective_prearc_min: Figure
    selective_operating_max: Figure


# ---------- circuit-breakers to EN 60898-1 (and the overcurrent part of RCBOs to EN 61009-1) ----------


def mcb_ratings() -> tuple[float, ...]:
    """Preferred rated currents, A (IEC 60898-1)."""
    return tuple(map(float, table("mcb_rated_values").row(quantity="preferred rated currents").text("value").split()))


def mcb_magnetic(curve: str) -> Band:
    """Instantaneous band of a type B, C or D breaker, multiples of In: holds at `low`, trips at once at `high`.

    raises  OutsideTable: another curve
    source  IEC 60898-1 Table 7, tests d and e
    """
    held = table("mcb_time_current")
    low, high = held.some(test="d", curve=curve)[0], held.some(test="e", curve=curve)[0]
    return Band(low.figure("i_multiple_of_in", "", name="mlow"), high.figure("i_multiple_of_in", "", name="mhigh"))


def mcb_points(curve: str, in_a: float) -> tuple[TimePoint, ...]:
    """Every test point of the time-current band (tests a to e), by rising multiple of In.

    raises  OutsideTable
    source  IEC 60898-1 Table 7
    """
    rows = [_mcb_row(t, "BCD", in_a) for t in ("a", "b", "c")] + [_mcb_row(t, curve, in_a) for t in ("d", "e")]
    return tuple(
        TimePoint(
            r.figure("i_multiple_of_in", "", (in_a,), name="m"),
            r.maybe("t_min_s", "s", (in_a,), name="tmin"),
            r.maybe("t_max_s", "s", (in_a,), name="tmax"),
            r.text("test"),
        )
        for r in rows
    )


def mcb_let_through(in_a: float, icn_a: float, curve: str, energy_class: int = 3) -> Figure:
    """Greatest let-through I2t of a type B or C breaker by its energy limiting class, A2s.

    The figure holds at Icn: at a lower prospective current less is let through, so it stays on the safe side.
    raises  OutsideTable: type D, above 40 A, another Icn: the maker's curve is needed
    source  EN 60898-1 Annex ZA (class 2 left the standard in 2019; it stands for older devices)
    """
    key: dict[str, Cell] = {"class": float(energy_class), "curve": curve, "icn_A": icn_a}
    row = table("mcb_energy_class").band("in_over_A", "in_up_to_A", in_a, **key)
    return row.figure("i2t_max_A2s", "A2s", (in_a, icn_a), name="I2t")


def mcb_loss_limit(in_a: float) -> Figure:
    """Greatest loss of one pole of a circuit-breaker at rated current, W (IEC 60898-1)."""
    return (
        table("mcb_power_loss_limit")
        .band("in_over_A", "in_up_to_A", in_a)
        .figure("p_max_per_pole_W", "W", (in_a,), name="Ppole")
    )


def _mcb_row(test: str, curve: str, in_a: float) -> Row:
    return table("mcb_time_current").band("in_over_A", "in_up_to_A", in_a, test=test, curve=curve)


# ---------- fuses ----------


def fuse_conventional(in_a: float, fuse_type: str = "gG") -> Conventional:
    """Conventional non-fusing and fusing current, multiples of In, and the conventional time in h.

    fuse_type  "gG", "BS 88-3 system C", "BS 1362 (3 and 13 A)", "BS 3036"
    source     IEC 60269-1, IEC 60269-2
    """
    row = table("fuse_conventional").band("in_over_A", "in_up_to_A", in_a, fuse_type=fuse_type)
    return Conventional(
        row.maybe("inf_multiple", "", (in_a,), name="Inf/In"),
        row.figure("if_multiple", "", (in_a,), name="If/In"),
        row.maybe("conventional_time_h", "h", (in_a,), name="tconv"),
    )


def gg_gates(in_a: float) -> Gates:
    """Gates of a gG fuse-link: its band lies between imin (fast edge) and imax (slow edge).

    raises  OutsideTable: a rating that is not listed
    source  IEC 60269-1 Table 3; below 16 A IEC 60269-2
    """
    row = table("gg_gates").row(in_A=in_a)
    imin_10s, imax_5s, imin_0p1s, imax_0p1s = (
        row.figure(f"{c}_A", "A", (in_a,), name=c) for c in ("imin_10s", "imax_5s", "imin_0p1s", "imax_0p1s")
    )
    printed = row.maybe("ia_0p4s_printed_A", "A", (in_a,), name="Ia")
    return Gates(imin_10s, imax_5s, imin_0p1s, imax_0p1s, printed)


def gg_i2t(in_a: float) -> FuseEnergy:
    """I2t of a gG fuse-link (IEC 60269-1, IEC 60269-2). Makers' figures lie inside and come first."""
    row = table("gg_i2t").row(in_A=in_a)
    given = (in_a,)
    return FuseEnergy(
        row.maybe("prearc_i2t_min_A2s", "A2s", given, name="I2tpre"),
        row.maybe("prearc_i2t_max_A2s", "A2s", given, name="I2tpre"),
        row.figure("discr_prearc_i2t_min_A2s", "A2s", given, name="I2tpre"),
        row.figure("discr_operating_i2t_max_A2s", "A2s", given, name="I2top"),
    )


def gg_ratings() -> tuple[float, ...]:
    """Rated currents, A, for which gates are held."""
    return tuple(v for r in table("gg_gates").rows if (v := r.number("in_A")) is not None)


# ---------- disconnection ----------


def nominal_voltage() -> Figure:
    """Nominal voltage to earth U0 of a public low-voltage supply, V."""
    return method_constant("zs", "nominal voltage to earth", "V", "U0")


def method_constant(method: str, quantity: str, unit: str, name: str = "") -> Figure:
    """A constant of a published method: "iec60890" (enclosure heating) or "zs" (loop impedance)."""
    return table("method_constants").row(method=method, quantity=quantity).figure("value", unit, name=name or quantity)


# ---------- residual current devices ----------


def rcd_types() -> tuple[str, ...]:
    """RCD types, each suiting every load that the ones before it suit: AC, A, F, B."""
    return tuple(t for r in table("rcd_types").rows if (t := r.text("type")) != "rule")


def rcd_type_covers(fitted: str, needed: str) -> bool:
    """True where an RCD of type `fitted` suits a load that needs type `needed`. Raises OutsideTable for other types."""
    order = rcd_types()
    for t in (fitted, needed):
        if t not in order:
            raise OutsideTable("rcd_types", f"type {t}", "; ".join(order))
    return order.index(fitted) >= order.index(needed)
