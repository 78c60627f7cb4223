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

SizeOn = Literal["line", "neutral"]


class VoltDrop(NamedTuple):
    """Volt drop in mV/A/m: line-to-neutral loop for 1ph, line to line for 3ph. None: not printed."""

    r: Figure | None
    x: Figure | None
    z: Figure


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
                 "buried, touching" ..., "ducts, touching" ...; all: the column arrangement of the table
    circuits     all circuits of the group, this one included, at least 1
    raises       OutsideTable: more circuits than the table knows, fewer than 1
    source       BS 7671 Tables 4C1 to 4C3; IEC 60364-5-52 Tables B.52.17 to B.52.19
    """
    if circuits < 1:
        raise OutsideTable("grouping_factor", f"circuits {circuits:g}", "circuits from 1")
    row = table("grouping_factor").at_least("circuits", circuits, arrangement=arrangement)
    return row.figure("factor", "", (circuits,), name="Cg")


def insulation_factor(length_mm: float) -> Figure:
    """Factor Ci for a cable totally surrounded by thermal insulation over a length, mm: the next longer row.

    source  BS 7671 Table 52.2 and, above 500 mm, 523.9
    """
    if length_mm <= 0:
        raise OutsideTable("insulation_factor", f"length_mm {length_mm:g}", "lengths above 0 mm")
    row = table("insulation_factor").band("length_over_mm", "length_up_to_mm", length_mm)
    return row.figure("factor", "", (length_mm,), name="Ci")


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
