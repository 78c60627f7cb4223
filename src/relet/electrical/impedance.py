"""Impedance of conductors and loops, resistance and reactance apart, and the readings that check them.

Lengths in m, resistance of a conductor in mohm/m (which is ohm/km), impedances in ohm. Every relation is plain
circuit theory except where its source says otherwise; table figures come in as arguments.
"""

from __future__ import annotations

from collections.abc import Sequence
from functools import lru_cache
from typing import NamedTuple

from relet.working import Figure, Formula

CIRCUIT = "circuit theory"

R_AT = Formula(
    "R = R0 * (1 + alpha * (T - T0))", "ohm", R0="ohm", alpha="per K", T="degC", T0="degC",
    source="linear rise of resistance, IEC 60028, IEC 60228 Annex",
)  # fmt: skip
R_MOVED = Formula(
    "R2 = R1 * (1 + alpha * (T2 - T0)) / (1 + alpha * (T1 - T0))", "ohm",
    R1="ohm", alpha="per K", T1="degC", T2="degC", T0="degC", source="linear rise of resistance, IEC 60028",
)  # fmt: skip
ALONG = Formula("R = r * L / 1000", "ohm", r="mohm/m", L="m", source="resistance along a conductor")
ALONG_X = Formula("X = x * L / 1000", "ohm", x="mohm/m", L="m", source="reactance along a conductor")
TIMES = Formula("R = R0 * F", "ohm", R0="ohm", F="", source="multiplier for the temperature of the conductor")
SCALED = Formula("Z = Z0 * F", "ohm", Z0="ohm", F="", source=CIRCUIT)
DIVIDED = Formula("Z = Z0 / n", "ohm", Z0="ohm", n="", source="n equal conductors in parallel")
MAGNITUDE = Formula("Z = hypot(R, X)", "ohm", R="ohm", X="ohm", source="magnitude of R + jX")
ANGLE = Formula("angle = atan2_deg(X, R)", "deg", X="ohm", R="ohm", source="angle of R + jX")
PARALLEL_R = Formula(
    "R = (Ra * (Rb ** 2 + Xb ** 2) + Rb * (Ra ** 2 + Xa ** 2)) / ((Ra + Rb) ** 2 + (Xa + Xb) ** 2)", "ohm",
    Ra="ohm", Xa="ohm", Rb="ohm", Xb="ohm", source="real part of Za Zb / (Za + Zb)",
)  # fmt: skip
PARALLEL_X = Formula(
    "X = (Xa * (Rb ** 2 + Xb ** 2) + Xb * (Ra ** 2 + Xa ** 2)) / ((Ra + Rb) ** 2 + (Xa + Xb) ** 2)", "ohm",
    Ra="ohm", Xa="ohm", Rb="ohm", Xb="ohm", source="imaginary part of Za Zb / (Za + Zb)",
)  # fmt: skip
SEQUENCE_LOOP = Formula(
    "Z = (2 * Z1 + Z0) / 3", "ohm", Z1="ohm", Z0="ohm", source="line-earth loop from sequence impedances, Z1 = Z2"
)
RETURN_OF_SEQUENCE = Formula(
    "Zn = (Z0 - Z1) / 3", "ohm", Z0="ohm", Z1="ohm", source="return conductor out of the zero sequence"
)
ZS_HOT = Formula(
    "Zs = Ze + (Zm - Ze) * F", "ohm", Ze="ohm", Zm="ohm", F="",
    source="measured loop, its part inside the installation brought to working temperature",
)  # fmt: skip
HOTTER = Formula(
    "F = (1 + alpha * (T2 - T0)) / (1 + alpha * (T1 - T0))", "", alpha="per K", T1="degC", T2="degC", T0="degC",
    source="linear rise of resistance, IEC 60028",
)  # fmt: skip
SPLIT_R2 = Formula(
    "R2 = R12 * Sline / (Sline + Scpc)", "ohm", R12="ohm", Sline="mm2", Scpc="mm2",
    source="two conductors of one metal and length in series",
)  # fmt: skip
SPLIT_R1 = Formula(
    "R1 = R12 * Scpc / (Sline + Scpc)", "ohm", R12="ohm", Sline="mm2", Scpc="mm2",
    source="two conductors of one metal and length in series",
)  # fmt: skip
RING_CROSSED = Formula(
    "R = (ra * p + rb * (1 - p)) * (ra * (1 - p) + rb * p) / (ra + rb)", "ohm", ra="ohm", rb="ohm", p="",
    source="ring with opposite ends of its two conductors joined, seen from a point: two ways in parallel",
)  # fmt: skip
RING_CROSSED_MIDDLE = Formula(
    "R = (ra + rb) / 4", "ohm", ra="ohm", rb="ohm", source="cross-connected reading, IET Guidance Note 3 (from memory)"
)
RING_POINT = Formula(
    "R12 = (ra + rb) * p * (1 - p)",
    "ohm",
    ra="ohm",
    rb="ohm",
    p="",
    source="ring fed from both ends, seen from a point",
)


class Impedance(NamedTuple):
    """Resistance and reactance of one path, ohm."""

    r: Figure
    x: Figure

    @property
    def z(self) -> Figure:
        """Magnitude, ohm."""
        return MAGNITUDE(self.r, self.x)

    @property
    def angle(self) -> Figure:
        """Angle, degrees."""
        return ANGLE(self.x, self.r)


@lru_cache(maxsize=64)
def _sum(symbol: str, n: int, unit: str, source: str) -> Formula:
    names = [f"{symbol}{i}" for i in range(1, n + 1)]
    return Formula(f"{symbol} = {' + '.join(names)}", unit, source=source, **dict.fromkeys(names, unit))


def total(figures: Sequence[Figure], symbol: str, source: str) -> Figure:
    """Sum of several figures of one unit as one step: "R = R1 + R2 + R3". One figure is returned as it is."""
    if len(figures) == 1:
        return figures[0]
    return _sum(symbol, len(figures), figures[0].unit, source)(*figures)


def resistance_at(r0_ohm: Figure, alpha_per_k: Figure, t_c: Figure, t0_c: Figure) -> Figure:
    """Resistance at t_c of a conductor that has r0_ohm at t0_c: R0 (1 + alpha (T - T0)).

    alpha_per_k  coefficient that belongs to t0_c (for tables at 20 C: that at 20 C)
    valid        -20 to 250 C for copper, aluminium and steel, within some percent at the upper end
    """
    return R_AT(r0_ohm, alpha_per_k, t_c, t0_c)


def resistance_moved(r_ohm: Figure, alpha_per_k: Figure, from_c: Figure, to_c: Figure, t0_c: Figure) -> Figure:
    """A resistance read at from_c, brought to to_c; alpha belongs to t0_c."""
    return R_MOVED(r_ohm, alpha_per_k, from_c, to_c, t0_c)


def conductor(
    r_mohm_per_m: Figure, x_mohm_per_m: Figure, length_m: Figure, multiplier: Figure | None = None
) -> Impedance:
    """One conductor, screen, armour, or length of sound steel conduit or trunking.

    r_mohm_per_m  resistance at the temperature of its table
    multiplier    from that to the wanted temperature (hot), None: as in the table (cold)
    """
    r = ALONG(r_mohm_per_m, length_m)
    return Impedance(r if multiplier is None else TIMES(r, multiplier), ALONG_X(x_mohm_per_m, length_m))


def series(*parts: Impedance, source: str = "sum along the path") -> Impedance:
    """Impedances one after the other: resistances and reactances are summed apart."""
    return Impedance(total([p.r for p in parts], "R", source), total([p.x for p in parts], "X", source))


def parallel(a: Impedance, b: Impedance) -> Impedance:
    """Two ways side by side, for example an armour and a separate protective conductor: Za Zb / (Za + Zb)."""
    return Impedance(PARALLEL_R(a.r, a.x, b.r, b.x), PARALLEL_X(a.r, a.x, b.r, b.x))


def parallel_equal(one: Impedance, conductors: Figure) -> Impedance:
    """`conductors` equal ones side by side, sharing alike: Z / n."""
    return Impedance(DIVIDED(one.r, conductors), DIVIDED(one.x, conductors))


def scaled(z: Impedance, factor: Figure) -> Impedance:
    """An impedance times a plain number."""
    return Impedance(SCALED(z.r, factor), SCALED(z.x, factor))


def loop_of_sequence(z1: Impedance, z0: Impedance) -> Impedance:
    """Line-earth (or line-neutral) loop of an element given by its positive and zero sequence: (2 Z1 + Z0) / 3."""
    return Impedance(SEQUENCE_LOOP(z1.r, z0.r), SEQUENCE_LOOP(z1.x, z0.x))


def return_of_sequence(z1: Impedance, z0: Impedance) -> Impedance:
    """Return conductor that stands behind a zero sequence when the earth carries nothing: (Z0 - Z1) / 3."""
    return Impedance(RETURN_OF_SEQUENCE(z0.r, z1.r), RETURN_OF_SEQUENCE(z0.x, z1.x))


def temperature_factor(alpha_per_k: Figure, from_c: Figure, to_c: Figure, t0_c: Figure) -> Figure:
    """Factor that brings a resistance from one temperature to another; alpha belongs to t0_c."""
    return HOTTER(alpha_per_k, from_c, to_c, t0_c)


def zs_at_working_temperature(ze_ohm: Figure, zs_measured_ohm: Figure, factor: Figure) -> Figure:
    """Loop impedance expected in service from a cold reading: Ze + (Zs - Ze) F.

    factor  from the temperature at test to that in service (temperature_factor); only the part inside is corrected,
            so at a given reading a smaller Ze makes the result worse
    """
    return ZS_HOT(ze_ohm, zs_measured_ohm, factor)


def split_r1_r2(r12_ohm: Figure, line_mm2: Figure, cpc_mm2: Figure) -> tuple[Figure, Figure]:
    """R1 and R2 out of a reading of both in series, for conductors of one metal and length (by their sections)."""
    return SPLIT_R1(r12_ohm, line_mm2, cpc_mm2), SPLIT_R2(r12_ohm, line_mm2, cpc_mm2)


def ring_cross_connected(ra_ohm: Figure, rb_ohm: Figure, share: Figure | None = None) -> Figure:
    """Reading at a point of a ring whose two conductors are joined crosswise at the board.

    ra_ohm, rb_ohm  end-to-end readings: r1 and r2 (line and protective conductor) or r1 and rn (line and neutral)
    share           place of the point along the ring, 0 to 1; None: the figure to expect, (ra + rb) / 4, which is
                    exact in the middle and everywhere when both conductors are alike
    """
    return RING_CROSSED_MIDDLE(ra_ohm, rb_ohm) if share is None else RING_CROSSED(ra_ohm, rb_ohm, share)


def ring_point(ra_ohm: Figure, rb_ohm: Figure, share: Figure) -> Figure:
    """R1 + R2 (or R1 + Rn) of a ring in service at a point, as its supply sees it: (ra + rb) p (1 - p)."""
    return RING_POINT(ra_ohm, rb_ohm, share)
