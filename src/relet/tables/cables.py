"""Conductors: current ratings, volt drop, rating factors, resistance, armour, k.

Nothing is extrapolated and nothing is interpolated: between two rows the one on the safe side is taken, and beyond the
last row OutsideTable names table and value. Arguments may be figures; those that are become part of the working.

`cable_table` is the number of the table: "4D1A" "4D2A" "4D4A" "4D5" "4E1A" "4E2A" "4E4A" "4F1A" "4F2A" "4F3A" (BS 7671
Appendix 4), "IEC_PVC" and "IEC_XLPE" (IEC 60364-5-52 Annex B). `loading` is "1ph" (two loaded conductors) or "3ph"
(three); volt drop knows "dc" too. `method` is the reference method: "A" "B" "C" "D" "E" "F" "G", "100" to "103",
"free air" for flexible cables, "A1" to "D2" in the IEC tables.
"""

from __future__ import annotations

from collections.abc import Mapping
from typing import Final, Literal, NamedTuple

from relet.errors import OutsideTable
from relet.tables.core import Cell, Row, table
from relet.working import Figure, choose

Loading = Literal["1ph", "3ph"]
SizeOn = Literal["line", "neutral"]


class VoltDrop(NamedTuple):
    """Volt drop in mV/A/m: line-to-neutral loop for 1ph, line to line for 3ph. None: not printed."""

    r: Figure | None
    x: Figure | None
    z: Figure


class Impedance(NamedTuple):
    """Resistance at the table's conductor temperature, and 50 Hz reactance, mohm/m of one conductor."""

    r: Figure
    x: Figure


class Armour(NamedTuple):
    """Armour of a cable: resistance at 20 C in mohm/m and area in mm2 (None where not known)."""

    resistance: Figure
    area: Figure | None


class Neutral(NamedTuple):
    """What a cable with a loaded neutral is sized on, and the factor that its rating takes."""

    size_on: SizeOn
    factor: Figure


# ---------- current ratings ----------


def current_rating(
    cable_table: str, method: str, loading: str, csa_mm2: float, *, arrangement: str | None = None
) -> Figure:
    """Tabulated current rating It, A, at the table's reference temperature (30 C air, 20 C ground).

    Where the method knows several arrangements (method F: flat or trefoil) and none is named, the lowest is taken.
    raises  OutsideTable: a table, method, loading, size or arrangement that is not held
    source  BS 7671 Appendix 4; IEC 60364-5-52 Annex B
    """
    held = table(f"ccc_{cable_table}")
    key: dict[str, Cell] = {"method": method, "loading": loading, "csa_mm2": csa_mm2}
    rows = held.some(**key) if arrangement is None else held.some(**key, arrangement=arrangement)
    figures = [r.figure("it_A", "A", (csa_mm2,), name="It") for r in rows]
    return choose(figures, min, "arrangement not stated: the lowest rating", name="It")


def sizes(cable_table: str, method: str, loading: str) -> tuple[float, ...]:
    """Conductor sizes, mm2, ascending, for which the table holds a rating by this method and loading."""
    rows = table(f"ccc_{cable_table}").some(method=method, loading=loading)
    return tuple(sorted({size for r in rows if (size := r.number("csa_mm2")) is not None}))


def methods(cable_table: str) -> tuple[str, ...]:
    """Reference methods that a table of ratings knows."""
    return tuple(dict.fromkeys(r.text("method") for r in table(f"ccc_{cable_table}").rows))


def arrangements(cable_table: str, method: str, loading: str) -> tuple[str, ...]:
    """Arrangements of cables that the table tells apart within a method."""
    rows = table(f"ccc_{cable_table}").some(method=method, loading=loading)
    return tuple(dict.fromkeys(r.text("arrangement") for r in rows))


# ---------- volt drop ----------


def volt_drop(
    cable_table: str, method: str, loading: str, csa_mm2: float, *, arrangement: str | None = None
) -> VoltDrop:
    """Volt drop (r, x, z), mV/A/m, at the conductor temperature of the table.

    cable_table  the rating table ("4D1A") or the drop table itself ("4D1B")
    Where the method knows several arrangements and none is named, the one with the largest z is taken.
    x is negligible up to 16 mm2 and held as 0. Where the publication prints z alone (4F1B above 16 mm2, three-phase)
    r and x are None; where it prints r and z, x is None.
    raises  OutsideTable
    source  BS 7671 Appendix 4. IEC 60364-5-52 prints no such tables: work from resistance and reactance there.
    """
    row = _drop_row(cable_table, method, loading, csa_mm2, arrangement)
    given = (csa_mm2,)
    return VoltDrop(
        row.maybe("r_mV_per_A_m", "mV/A/m", given, name="r"),
        row.maybe("x_mV_per_A_m", "mV/A/m", given, name="x"),
        row.figure("z_mV_per_A_m", "mV/A/m", given, name="z"),
    )


def reactance(
    cable_table: str, method: str, loading: str, csa_mm2: float, *, arrangement: str | None = None
) -> Impedance:
    """Resistance (hot) and reactance of one conductor, mohm/m, from 25 mm2, worked out from the volt drop tables.

    Holds for 4D1, 4D2 (and 4D4, the same figures), 4E1 and 4E4 (and 4E2). Where the method knows several arrangements
    and none is named, the one with the largest reactance is taken. For smaller sizes see typical_reactance().
    raises  OutsideTable
    """
    name = {"4D4B": "4D2B", "4E2B": "4E4B"}.get(_drop_name(cable_table), _drop_name(cable_table))
    rows = table("reactance_derived").some(from_table=name, loading=loading, csa_mm2=csa_mm2)
    row = max(_serving("reactance_derived", rows, method, arrangement), key=lambda r: r.number("x_mohm_per_m") or 0.0)
    given = (csa_mm2,)
    return Impedance(
        row.figure("r_mohm_per_m", "mohm/m", given, name="r"), row.figure("x_mohm_per_m", "mohm/m", given, name="x")
    )


def typical_reactance() -> Figure:
    """Reactance of one conductor of a multicore cable or of touching cables where nothing better is known, mohm/m."""
    return table("temperature_coefficients").row(quantity="typical cable reactance").figure("value", "mohm/m", name="x")


def _drop_name(cable_table: str) -> str:
    """The drop table that belongs to a rating table: 4D1A has 4D1B; 4D5 holds both."""
    return cable_table[:-1] + "B" if cable_table.endswith("A") else cable_table


def _drop_row(cable_table: str, method: str, loading: str, csa_mm2: float, arrangement: str | None) -> Row:
    name = f"vd_{_drop_name(cable_table)}"
    rows = table(name).some(loading=loading, csa_mm2=csa_mm2)
    return max(_serving(name, rows, method, arrangement), key=lambda r: r.number("z_mV_per_A_m") or 0.0)


def _serving(name: str, rows: tuple[Row, ...], method: str, arrangement: str | None) -> list[Row]:
    """The rows that serve a method (and an arrangement, if named); a row that names no method serves all."""
    if arrangement is not None:
        found = [r for r in rows if r.text("arrangement") == arrangement]
        asked = f"arrangement {arrangement}"
    else:
        found = [r for r in rows if not (served := r.text("methods").split()) or method in served]
        asked = f"method {method}"
    if not found:
        raise OutsideTable(name, asked, "; ".join(dict.fromkeys(r.text("arrangement") for r in rows)))
    return found


# ---------- factors on the rating ----------


def ambient_factor(insulation_c: float, ambient_c: float, medium: str = "air", base: str = "BS") -> Figure:
    """Factor Ca for the temperature around the cable.

    insulation_c  conductor temperature that the insulation allows: 60, 70 or 90 C
    ambient_c     C; between two rows the next hotter one is taken, never a value between
    medium        "air" or "ground"
    base          "BS" or "IEC"; "4F2A" and "4F3A" for the flexible cables of those tables
    raises        OutsideTable: hotter than the table's last row, or another insulation
    source        BS 7671 Tables 4B1 and 4B2; IEC 60364-5-52 Tables B.52.14 and B.52.15
    """
    key: dict[str, Cell] = {"base": base, "medium": medium, "conductor_temp_degC": insulation_c}
    row = table("ambient_factor").at_least("ambient_temp_degC", ambient_c, **key)
    return row.figure("factor", "", (insulation_c, ambient_c), name="Ca")


def grouping_factor(arrangement: str, circuits: float) -> Figure:
    """Factor Cg for circuits (or multicore cables) that lie together; between two rows the next larger count.

    arrangement  "bunched" (also enclosed), "wall", "ceiling", "perforated tray", "ladder", "clipped spaced",
                 "buried, touching" ..., "ducts, touching" ...; all: grouping_arrangements()
    circuits     all circuits of the group, this one included, at least 1
    raises       OutsideTable: more circuits than the table knows, fewer than 1
    source       BS 7671 Tables 4C1 to 4C3; IEC 60364-5-52 Tables B.52.17 to B.52.19
    """
    if circuits < 1:
        raise OutsideTable("grouping_factor", f"circuits {circuits:g}", "circuits from 1")
    row = table("grouping_factor").at_least("circuits", circuits, arrangement=arrangement)
    return row.figure("factor", "", (circuits,), name="Cg")


def grouping_arrangements() -> tuple[str, ...]:
    """Arrangements that grouping_factor() knows."""
    return tuple(dict.fromkeys(r.text("arrangement") for r in table("grouping_factor").rows))


def tray_grouping_factor(
    circuits_per_tray: float, *, cable: str = "multicore", support: str = "perforated", spacing: str = "touching",
    trays: float = 1,
) -> Figure:  # fmt: skip
    """Factor Cg on trays one above the other; between two rows the next larger count of circuits and of trays.

    raises  OutsideTable
    source  IEC 60364-5-52 Tables B.52.20 and B.52.21
    """
    held = table("tray_grouping_factor")
    key = {"cable": cable, "support": support, "spacing": spacing}
    tiers = held.at_least("number_of_trays", trays, **key).number("number_of_trays")
    row = held.at_least("circuits_or_cables_per_tray", circuits_per_tray, **key, number_of_trays=tiers)
    return row.figure("factor", "", (circuits_per_tray, trays), name="Cg")


def insulation_factor(length_mm: float) -> Figure:
    """Factor Ci for a cable totally surrounded by thermal insulation over a length, mm: the next longer row.

    source  BS 7671 Table 52.2 and, above 500 mm, 523.9
    """
    if length_mm <= 0:
        raise OutsideTable("insulation_factor", f"length_mm {length_mm:g}", "lengths above 0 mm")
    row = table("insulation_factor").band("length_over_mm", "length_up_to_mm", length_mm)
    return row.figure("factor", "", (length_mm,), name="Ci")


def soil_factor(resistivity_k_m_per_w: float, *, in_duct: bool) -> Figure:
    """Factor for the thermal resistivity of the soil, K.m/W: the next drier row.

    raises  OutsideTable: drier than the last row
    source  IEC 60364-5-52 Table B.52.16
    """
    row = table("soil_factor").at_least("soil_resistivity_K_m_per_W", resistivity_k_m_per_w)
    return row.figure("factor_in_ducts_D1" if in_duct else "factor_direct_D2", "", (resistivity_k_m_per_w,), name="Cs")


def harmonic_neutral_factor(third_harmonic_percent: float) -> Neutral:
    """What a cable with a loaded neutral is sized on for this third-harmonic content of the line current, %.

    On a boundary of two bands the one that asks for the larger cable is taken.
    raises  OutsideTable: below 0
    source  IEC 60364-5-52 Table E.52.1
    """
    low, high = "third_harmonic_min_percent_of_line_current", "third_harmonic_max_percent_of_line_current"
    h = float(third_harmonic_percent)
    held = table("harmonic_neutral")
    rows = [
        r for r in held.rows
        if (r.number(low) or 0.0) <= h and ((top := r.number(high)) is None or h <= top)
    ]  # fmt: skip
    if not rows:
        raise OutsideTable(held.name, f"{h:g} %", "0 % and more")

    def wanted(r: Row) -> float:
        # the neutral carries three times the third harmonic of one line
        return (3 * h / 100 if r.text("size_on") == "neutral" else 1.0) / (r.number("factor") or 1.0)

    row = max(rows, key=wanted)
    size_on: SizeOn = "neutral" if row.text("size_on") == "neutral" else "line"
    return Neutral(size_on, row.figure("factor", "", (third_harmonic_percent,), name="Ch"))


def rewirable_fuse_factor() -> Figure:
    """Factor Cf for a circuit behind a semi-enclosed (rewirable) fuse to BS 3036."""
    return _other("Cf semi-enclosed fuse", "", "Cf")


def buried_factor() -> Figure:
    """Factor Cc for a buried circuit protected against overload (BS 7671 Appendix 4)."""
    return _other("Cc buried circuit", "", "Cc")


def _other(quantity: str, unit: str, name: str) -> Figure:
    return table("other_cable_factors").row(quantity=quantity).figure("value", unit, name=name)


# ---------- resistance, armour, k ----------


def conductor_resistance(csa_mm2: float, conductor_class: int = 2, *, tinned: bool = False) -> Figure:
    """Greatest d.c. resistance of a copper conductor at 20 C, mohm/m.

    conductor_class  1 solid, 2 stranded, 5 flexible
    raises           OutsideTable
    source           IEC 60228
    """
    held = table("conductor_resistance")
    if conductor_class not in (1, 2, 5):
        raise OutsideTable(held.name, f"class {conductor_class}", "classes 1, 2 and 5")
    column = f"class{conductor_class}_{'tinned' if tinned else 'plain'}_mohm_per_m"
    return held.row(csa_mm2=csa_mm2).figure(column, "mohm/m", (csa_mm2,), name="R20")


def temperature_coefficient(material: str = "copper", *, exact: bool = False) -> Figure:
    """Rise of resistance per kelvin from 20 C: R = R20 (1 + alpha (T - 20)).

    material  "copper", "aluminium" or "steel armour"
    exact     for copper: the coefficient of IEC 60028 in place of the rounded one that BS 7671 uses (the larger)
    """
    quantity = f"{material} alpha20" if exact or material != "copper" else "copper alpha simplified"
    return table("temperature_coefficients").row(quantity=quantity).figure("value", "per K", name="alpha")


_MULTIPLIER: Final[Mapping[tuple[str, float], str]] = {
    ("live", 70): "copper Kt at 70 degC to 20 degC",
    ("live", 90): "copper Kt at 90 degC to 20 degC",
    ("bunched", 70): "multiplier 70 degC, cpc in cable or bunched",
    ("bunched", 85): "multiplier 85 degC rubber, cpc in cable or bunched",
    ("bunched", 90): "multiplier 90 degC, cpc in cable or bunched",
}


def temperature_multiplier(conductor_c: float, where: str = "bunched") -> Figure:
    """Multiplier from resistance at 20 C to that at the conductor's working temperature.

    conductor_c  70, 85 or 90 C
    where        "bunched": line and protective conductor in one cable or bunched; "separate": a protective conductor
                 apart (any insulation); "armour": steel armour as protective conductor (any insulation);
                 "live": the line conductor alone, from IEC 60228's own factors (70 and 90)
    raises       OutsideTable
    source       IET On-Site Guide Table I3; IEC 60228 Annex
    """
    held = table("temperature_coefficients")
    always = {"separate": "multiplier cpc separate, not bunched", "armour": "multiplier steel armour as cpc"}
    quantity = always.get(where) or _MULTIPLIER.get((where, float(conductor_c)))
    if quantity is None:
        allowed = "; ".join(f"{w} {c}" for w, c in _MULTIPLIER) + "; separate; armour"
        raise OutsideTable(held.name, f"multiplier {where} at {conductor_c:g} C", allowed)
    return held.row(quantity=quantity).figure("value", "", (conductor_c,), name="Kt")


def ambient_correction(ambient_c: float) -> Figure:
    """Divisor that turns a resistance measured at an ambient of 5, 10, 15, 20 or 25 C into one at 20 C.

    raises  OutsideTable: another temperature (use R = R20 (1 + alpha (T - 20)) then)
    source  IET On-Site Guide Table I2
    """
    quantity = f"ambient correction {ambient_c:g} degC" + (" to 20 degC" if ambient_c == 5 else "")
    return table("temperature_coefficients").row(quantity=quantity).figure("value", "", (ambient_c,), name="Ct")


def r1_r2(line_csa_mm2: float, cpc_csa_mm2: float, conductor_c: float = 20) -> Figure:
    """R1 + R2 of copper, mohm/m, at 20, 70 or 90 C (protective conductor in the cable or bunched).

    source  IEC 60228 class 2 with the multipliers of the On-Site Guide
    """
    held = table("r1_r2_copper")
    if conductor_c not in (20, 70, 90):
        raise OutsideTable(held.name, f"conductor_c {conductor_c:g}", "20, 70 and 90 C")
    row = held.row(line_csa_mm2=line_csa_mm2, cpc_csa_mm2=cpc_csa_mm2)
    return row.figure(f"r_{conductor_c:g}degC_mohm_per_m", "mohm/m", (line_csa_mm2, cpc_csa_mm2), name="R1+R2")


def armour(cores: int, csa_mm2: float) -> Armour:
    """Steel wire armour of a 600/1000 V XLPE cable with `cores` cores of csa_mm2.

    raises  OutsideTable
    source  BS 5467, BS 6724
    """
    row = table("armour_swa_xlpe").row(cores=cores, csa_mm2=csa_mm2)
    given = (csa_mm2,)
    return Armour(
        row.figure("armour_R20_mohm_per_m", "mohm/m", given, name="Rarm"),
        row.maybe("armour_area_mm2", "mm2", given, name="Sarm"),
    )


def armour_reactance() -> Figure:
    """Reactance to allow for the armour path, mohm/m."""
    return (
        table("temperature_coefficients")
        .row(quantity="reactance allowance, armour path")
        .figure("value", "mohm/m", name="Xarm")
    )


def k_factor(conductor: str, insulation: str, use: str = "live", csa_mm2: float = 1.0) -> Figure:
    """k of the heat balance S = sqrt(I2 t) / k, unit A s^0.5/mm2.

    conductor   "copper", "aluminium", "steel", "copper sheath", "lead sheath"
    insulation  "70 C thermoplastic", "90 C thermoplastic", "60 C thermosetting", "85 C thermosetting",
                "90 C thermosetting"; for bare conductors the condition: "normal conditions", "fire risk", ...
    use         "live" (43.1), "separate" (54.2), "in cable" (54.3), "armour" (54.4: armour or sheath),
                "containment" (54.5: steel conduit and trunking), "bare" (54.6)
    csa_mm2     matters above 300 mm2 only
    raises      OutsideTable
    source      BS 7671 Tables 43.1 and 54.2 to 54.6
    """
    key = {"use": use, "conductor": conductor, "insulation": insulation}
    row = table("k_factors").band("csa_over_mm2", "csa_up_to_mm2", csa_mm2, **key)
    return row.figure("k", "A s^0.5/mm2", (csa_mm2,), name="k")
