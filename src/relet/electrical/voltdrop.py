"""Volt drop: by tabulated mV/A/m, and by phasors, approximate and exact, along a path.

A drop is line to line for a three-phase circuit and line to neutral for a single-phase one; along a path of both,
drops are turned to line to neutral before they are added (to_neutral). Percentages are of the nominal voltage of the
same kind. The load's displacement phi is positive when it lags (phasors.displacement).
"""

from __future__ import annotations

from collections.abc import Sequence
from typing import Final

from relet.electrical.impedance import Impedance, total
from relet.electrical.phasors import Phasor, added
from relet.electrical.phasors import drop as along_impedance
from relet.working import Figure, Formula

_APPENDIX: Final = "BS 7671 Appendix 4, 6.1 to 6.3 (from memory)"
_THEORY: Final = "circuit theory"

DROP = Formula("Vd = v * I * L / 1000", "V", v="mV/A/m", I="A", L="m", source="tabulated volt drop, BS 7671 Appendix 4")
RATE = Formula("v = r * cos_deg(phi) + x * sin_deg(phi)", "mV/A/m", r="mV/A/m", phi="deg", x="mV/A/m", source=_APPENDIX)
RATE_COOLER = Formula(
    "v = Ct * r * cos_deg(phi) + x * sin_deg(phi)", "mV/A/m", Ct="", r="mV/A/m", phi="deg", x="mV/A/m",
    source=_APPENDIX,
)  # fmt: skip
COOLER_Z = Formula("v = Ct * r", "mV/A/m", Ct="", r="mV/A/m", source=_APPENDIX)
CT = Formula(
    "Ct = (t0 + tp - (Ca ** 2 * Cg ** 2 - Ib ** 2 / It ** 2) * (tp - tr)) / (t0 + tp)", "",
    t0="degC", tp="degC", Ca="", Cg="", Ib="A", It="A", tr="degC",
    source=f"{_APPENDIX}: resistance at the temperature the conductor really reaches",
)  # fmt: skip
RATE_SINGLE = Formula("v = 2 * z", "mV/A/m", z="mohm/m", source="line and neutral conductor of a loop")
RATE_THREE = Formula("v = sqrt(3) * z", "mV/A/m", z="mohm/m", source="line to line, balanced")
TO_NEUTRAL = Formula("Vln = Vll / sqrt(3)", "V", Vll="V", source="balanced line-to-line drop as line to neutral")
TO_LINES = Formula("Vll = sqrt(3) * Vln", "V", Vln="V", source="balanced line-to-neutral drop as line to line")
PERCENT = Formula("drop = 100 * Vd / Un", "%", Vd="V", Un="V", source="of the nominal voltage of the same kind")
GREATEST_RATE = Formula(
    "vmax = 1000 * Vmax / (I * L)", "mV/A/m", Vmax="V", I="A", L="m", source="tabulated volt drop turned round"
)
LONGEST = Formula(
    "Lmax = 1000 * Vmax / (v * I)", "m", Vmax="V", v="mV/A/m", I="A", source="tabulated volt drop turned round"
)
APPROXIMATE = Formula(
    "Vd = I * (R * cos_deg(phi) + X * sin_deg(phi))", "V", I="A", R="ohm", phi="deg", X="ohm",
    source=f"{_THEORY}: part of I Z in line with the voltage",
)  # fmt: skip
ACROSS = Formula(
    "Vq = I * (X * cos_deg(phi) - R * sin_deg(phi))", "V", I="A", X="ohm", phi="deg", R="ohm",
    source=f"{_THEORY}: part of I Z across the voltage",
)  # fmt: skip
EXACT = Formula(
    "Vd = U + Vp - sqrt(U ** 2 - Vq ** 2)", "V", U="V", Vp="V", Vq="V",
    source=f"{_THEORY}: sending voltage less receiving voltage, angle of the load at the receiving end",
)  # fmt: skip
SENT_RE = Formula("Ere = Ure + Vre + Nre", "V", Ure="V", Vre="V", Nre="V", source=f"{_THEORY}: load, line and neutral")
SENT_IM = Formula("Eim = Uim + Vim + Nim", "V", Uim="V", Vim="V", Nim="V", source=f"{_THEORY}: load, line and neutral")
FALL = Formula("fall = U1 - U2", "V", U1="V", U2="V", source="difference of two magnitudes")

# ---------- by table ----------


def tabulated(rate: Figure, current_a: Figure, length_m: Figure) -> Figure:
    """Drop of a length by mV/A/m: line to line for a three-phase figure, loop of line and neutral for single-phase."""
    return DROP(rate, current_a, length_m)


def rate(r: Figure, x: Figure, phi: Figure, ct: Figure | None = None) -> Figure:
    """mV/A/m for a load of known displacement: Ct r cos phi + x sin phi. Ct touches the resistance only.

    r, x  tabulated parts above 16 mm2. Up to 16 mm2 the tables print no x; taking it as nought with a low power
          factor flatters the result, so give the typical reactance (rate_of_reactance) there
    """
    return RATE(r, phi, x) if ct is None else RATE_COOLER(ct, r, phi, x)


def cooler(r: Figure, ct: Figure) -> Figure:
    """mV/A/m of a size without tabulated reactance at the temperature it really reaches: Ct r."""
    return COOLER_Z(ct, r)


def ct(
    insulation_c: Figure, reference_c: Figure, zero_c: Figure, ca: Figure, cg: Figure, ib_a: Figure, it_a: Figure
) -> Figure:
    """Ct: how much cooler than at full rating the conductor runs, as a factor on its resistance.

    insulation_c  limit temperature of the insulation       reference_c  ambient of the rating table
    zero_c        temperature constant of the metal, as the inverse of its coefficient less that temperature
    valid         not behind semi-enclosed fuses; ambient not below the reference; Ib within It Ca Cg (then at most 1)
    """
    return CT(zero_c, insulation_c, ca, cg, ib_a, it_a, reference_c)


def rate_of(mohm_per_m: Figure, *, three_phase: bool) -> Figure:
    """mV/A/m from the resistance or reactance of one conductor: twice it single-phase, sqrt3 times it three-phase."""
    return (RATE_THREE if three_phase else RATE_SINGLE)(mohm_per_m)


def greatest_rate(limit_v: Figure, current_a: Figure, length_m: Figure) -> Figure:
    """Greatest mV/A/m that keeps a drop within a limit."""
    return GREATEST_RATE(limit_v, current_a, length_m)


def longest(limit_v: Figure, rate: Figure, current_a: Figure) -> Figure:
    """Greatest length, m, that keeps a drop within a limit."""
    return LONGEST(limit_v, rate, current_a)


# ---------- along a path ----------


def to_neutral(line_to_line_v: Figure) -> Figure:
    """A balanced three-phase drop as line to neutral, for adding to single-phase drops downstream."""
    return TO_NEUTRAL(line_to_line_v)


def to_lines(line_to_neutral_v: Figure) -> Figure:
    """A balanced line-to-neutral drop as line to line."""
    return TO_LINES(line_to_neutral_v)


def along(drops: Sequence[Figure]) -> Figure:
    """Sum of the drops of a path, all of one kind, V: never below the phasor result."""
    return total(drops, "Vd", "sum along the path")


def percent(drop_v: Figure, nominal_v: Figure) -> Figure:
    """A drop in % of the nominal voltage of the same kind."""
    return PERCENT(drop_v, nominal_v)


# ---------- by phasors ----------


def approximate(current_a: Figure, z: Impedance, phi: Figure) -> Figure:
    """I (R cos phi + X sin phi), V. z of one conductor: drop line to neutral, balanced; z of the loop: single-phase."""
    return APPROXIMATE(current_a, z.r, phi, z.x)


def exact(sending_v: Figure, current_a: Figure, z: Impedance, phi: Figure) -> Figure:
    """Difference of the magnitudes at both ends, V; phi refers to the voltage at the load. nan if it cannot be fed.

    sending_v  voltage at the sending end, of the kind of the drop wanted (line to neutral)
    """
    return EXACT(sending_v, APPROXIMATE(current_a, z.r, phi, z.x), ACROSS(current_a, z.x, phi, z.r))


def path_drop(sections: Sequence[tuple[Impedance, Phasor]]) -> Phasor:
    """Complex drop along a path of sections, each with its impedance and the current in it.

    The current of a section is the sum of what is drawn at its end and beyond (phasors.added), all angles from one
    reference.
    """
    return added("Vd", [along_impedance(i, z) for z, i in sections])


def sending_voltage(load_v: Phasor, line: Phasor, neutral: Phasor) -> Phasor:
    """Voltage that must be sent for a voltage at the load: load + drop in its line + drop in the common neutral."""
    return Phasor(SENT_RE(load_v.re, line.re, neutral.re), SENT_IM(load_v.im, line.im, neutral.im))


def fall(sending_v: Figure, receiving_v: Figure) -> Figure:
    """Difference of two voltages' magnitudes; negative where the receiving end is higher (neutral shift)."""
    return FALL(sending_v, receiving_v)
