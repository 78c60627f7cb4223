"""Fault currents and loop impedance between a source that is only partly known and a path that is.

A source is the magnitude of an impedance, or a range of it, with an angle or a range of angles. |Zs at angle a + Zp|
falls steadily as a moves away from the angle of Zp, so the least total impedance lies at the end of the range farther
from the path's angle, and the greatest at the path's own angle or, if that is outside the range, at the nearer end.

One path, one source: the loop of line and protective conductor with the line-earth source, line and neutral with the
line-neutral source, one line alone with the three-phase source (per phase). Voltages are line to neutral.
"""

from __future__ import annotations

from typing import NamedTuple

from relet.electrical.constants import constant
from relet.electrical.impedance import ANGLE, MAGNITUDE, Impedance, scaled
from relet.working import Figure, Formula, choose

IEC60909 = "IEC 60909-0"

# ---------- the source ----------
EMF = Formula("U = c * U0", "V", c="", U0="V", source=f"voltage factor, {IEC60909}")
EMF_OF_LINES = Formula("U = c * Un / sqrt(3)", "V", c="", Un="V", source=f"voltage factor, {IEC60909}")
Z_OF_CURRENT = Formula(
    "Z = U / (1000 * Ik)", "ohm", U="V", Ik="kA", source="a fault current as it was read or declared"
)
PER_PHASE = Formula("Z = Zln / F", "ohm", Zln="ohm", F="", source="three-phase out of a line-neutral source")
NEAREST = Formula(
    "a = min(max(p, low), high)", "deg", p="deg", low="deg", high="deg",
    source="angle of the source nearest to that of the path: greatest total impedance",
)  # fmt: skip
R_OF = Formula("Rs = Zs * cos_deg(a)", "ohm", Zs="ohm", a="deg", source="resistance of the source at that angle")
X_OF = Formula("Xs = Zs * sin_deg(a)", "ohm", Zs="ohm", a="deg", source="reactance of the source at that angle")
Z_GRID = Formula("Zq = c * Uq ** 2 / Sk", "ohm", c="", Uq="kV", Sk="MVA", source=f"{IEC60909} 6.2")
X_GRID = Formula("Xq = Zq / sqrt(1 + q ** 2)", "ohm", Zq="ohm", q="", source=f"{IEC60909} 6.2, q = R/X")
R_GRID = Formula("Rq = q * Xq", "ohm", q="", Xq="ohm", source=f"{IEC60909} 6.2, q = R/X")
REFERRED = Formula("Z = Zhv * (Ulv / Uhv) ** 2", "ohm", Zhv="ohm", Ulv="V", Uhv="V", source="square of the ratio")
Z_TRANSFORMER = Formula(
    "ZT = uk / 100 * Ur ** 2 / (1000 * Sr)", "ohm", uk="%", Ur="V", Sr="kVA", source=f"{IEC60909} 6.3"
)
R_TRANSFORMER = Formula(
    "RT = ur / 100 * Ur ** 2 / (1000 * Sr)", "ohm", ur="%", Ur="V", Sr="kVA", source=f"{IEC60909} 6.3"
)
R_OF_LOSS = Formula("RT = P * (Ur / (1000 * Sr)) ** 2", "ohm", P="W", Ur="V", Sr="kVA", source=f"{IEC60909} 6.3")
X_TRANSFORMER = Formula("XT = sqrt(ZT ** 2 - RT ** 2)", "ohm", ZT="ohm", RT="ohm", source=f"{IEC60909} 6.3")
X_RELATIVE = Formula("xT = XT * 1000 * Sr / Ur ** 2", "", XT="ohm", Sr="kVA", Ur="V", source=f"{IEC60909} 6.3")
KT = Formula("KT = n * cmax / (1 + w * xT)", "", n="", cmax="", w="", xT="", source=f"{IEC60909} 6.3.3")

# ---------- currents ----------
R_TOTAL = Formula("R = Rs + Rp", "ohm", Rs="ohm", Rp="ohm", source="source and path in series")
X_TOTAL = Formula("X = Xs + Xp", "ohm", Xs="ohm", Xp="ohm", source="source and path in series")
FAULT = Formula("Ik = U / Z", "A", U="V", Z="ohm", source="Ohm's law")
LEAST = Formula(
    "Ik = Cmin * U0 / Z", "A", Cmin="", U0="V", Z="ohm", source="CLC/TR 50480, BS 7671 411.4.4 (from memory)"
)
IN_KA = Formula("Ik = I / 1000", "kA", I="A", source="turn of unit")
TWO_LINES = Formula("Ik2 = sqrt(3) / 2 * Ik3", "A", Ik3="A", source=f"{IEC60909}, far from generators")
KAPPA = Formula(
    "kappa = a + b * exp(-n * R / X)", "", a="", b="", n="", R="ohm", X="ohm", source=f"{IEC60909} 4.3.1 (peak factor)"
)
PEAK = Formula("ip = kappa * sqrt(2) * Ik", "kA", kappa="", Ik="kA", source=f"{IEC60909} 4.3.1")

# ---------- disconnection ----------
LOOP_LIMIT = Formula(
    "Zsmax = Cmin * U0 / Ia",
    "ohm",
    Cmin="",
    U0="V",
    Ia="A",
    source="BS 7671 411.4.4, IEC 60364-4-41 411.4.4 (from memory)",
)


class Source(NamedTuple):
    """What stands behind the origin, for one kind of fault.

    emf_v                 voltage that drives the greatest fault, line to neutral
    low_ohm, high_ohm     range of the magnitude of its impedance (equal when it is one figure)
    angle_low, angle_high range of its angle, degrees, within 0 to 90
    """

    emf_v: Figure
    low_ohm: Figure
    high_ohm: Figure
    angle_low: Figure
    angle_high: Figure


class Fault(NamedTuple):
    """A fault current with the total impedance that limits it."""

    current_a: Figure
    total: Impedance
    angle: Figure

    @property
    def current_ka(self) -> Figure:
        """The current in kA."""
        return IN_KA(self.current_a)


def emf(c: Figure, u0_v: Figure) -> Figure:
    """Driving voltage c U0 of a line-to-neutral voltage."""
    return EMF(c, u0_v)


def emf_of_lines(c: Figure, un_v: Figure) -> Figure:
    """Driving voltage c Un / sqrt3 of a voltage between lines."""
    return EMF_OF_LINES(c, un_v)


def source_of_impedance(low_ohm: Figure, high_ohm: Figure, emf_v: Figure, low_deg: Figure, high_deg: Figure) -> Source:
    """A source whose Ze is read or declared; give the same figure twice when it is one."""
    return Source(emf_v, low_ohm, high_ohm, low_deg, high_deg)


def source_of_current(low_ka: Figure, high_ka: Figure, emf_v: Figure, low_deg: Figure, high_deg: Figure) -> Source:
    """A source whose fault current at the origin is read or declared.

    The current is taken as it is: whatever emf_v holds, the greatest fault at the origin is high_ka again, so no
    voltage factor counts twice. emf_v with a factor in it lets more flow farther down (IEC 60909-0 6.2).
    """
    return Source(emf_v, Z_OF_CURRENT(emf_v, high_ka), Z_OF_CURRENT(emf_v, low_ka), low_deg, high_deg)


def source_of_parts(z: Impedance, emf_v: Figure) -> Source:
    """A source known in resistance and reactance: a transformer with its grid, or an upstream point."""
    magnitude, angle = MAGNITUDE(z.r, z.x), ANGLE(z.x, z.r)
    return Source(emf_v, magnitude, magnitude, angle, angle)


def three_phase_of(line_neutral: Source, factor: Figure | None = None) -> Source:
    """Per-phase source out of a line-neutral one, until it is measured: its impedance divided by `factor`.

    factor  None: the published safe estimate (twice the current), exact where line and neutral are alike
    """
    f = factor if factor is not None else _constant("three-phase over line-neutral current", "F")
    low, high = PER_PHASE(line_neutral.low_ohm, f), PER_PHASE(line_neutral.high_ohm, f)
    return line_neutral._replace(low_ohm=low, high_ohm=high)


def transformer(sr_kva: Figure, ur_v: Figure, uk_percent: Figure, resistive: Figure) -> Impedance:
    """Short-circuit impedance of a transformer at its rated voltage ur_v.

    resistive  load loss in W, or resistive part of the short-circuit voltage in %
    """
    z = Z_TRANSFORMER(uk_percent, ur_v, sr_kva)
    r = R_OF_LOSS(resistive, ur_v, sr_kva) if resistive.unit == "W" else R_TRANSFORMER(resistive, ur_v, sr_kva)
    return Impedance(r, X_TRANSFORMER(z, r))


def corrected(z: Impedance, sr_kva: Figure, ur_v: Figure, c_max: Figure) -> Impedance:
    """A transformer's impedance times KT, for greatest faults only (IEC 60909-0 6.3.3)."""
    n, w = (_constant(f"transformer correction {q}", s) for q, s in (("numerator", "n"), ("term of reactance", "w")))
    return scaled(z, KT(n, c_max, w, X_RELATIVE(z.x, sr_kva, ur_v)))


def grid(uq_kv: Figure, sk_mva: Figure, c: Figure, r_over_x: Figure) -> Impedance:
    """Impedance of a grid at its own voltage from its short-circuit power: c U^2 / S."""
    z = Z_GRID(c, uq_kv, sk_mva)
    x = X_GRID(z, r_over_x)
    return Impedance(R_GRID(r_over_x, x), x)


def referred(z: Impedance, lv_v: Figure, hv_v: Figure) -> Impedance:
    """An impedance seen from the other side of a transformer, by its rated voltages."""
    return Impedance(REFERRED(z.r, lv_v, hv_v), REFERRED(z.x, lv_v, hv_v))


def greatest_fault(source: Source, path: Impedance) -> Fault:
    """Greatest current of a fault at the end of a path (cold): emf over the least total impedance."""
    p = path.angle
    a = choose(
        (source.angle_low, source.angle_high),
        lambda ends: max(ends, key=lambda e: abs(e - p)),
        f"end of the range of angles farther from the path's {float(p):.1f}: least total impedance",
        name="a",
    )
    whole = _with(source.low_ohm, a, path)
    return Fault(FAULT(source.emf_v, whole.z), whole, a)


def greatest_loop(source: Source, path: Impedance) -> tuple[Impedance, Figure]:
    """Greatest total impedance at the end of a path (hot) and the source's angle that gives it."""
    a = NEAREST(path.angle, source.angle_low, source.angle_high)
    return _with(source.high_ohm, a, path), a


def least_fault(source: Source, path: Impedance, c_min: Figure, u0_v: Figure) -> Fault:
    """Least current of a fault at the end of a path (hot): Cmin U0 over the greatest total impedance."""
    whole, a = greatest_loop(source, path)
    return Fault(LEAST(c_min, u0_v, whole.z), whole, a)


def two_line_fault(three_phase_a: Figure) -> Figure:
    """Fault between two lines from the three-phase fault at the same place, A."""
    return TWO_LINES(three_phase_a)


def peak_ka(fault: Fault) -> Figure:
    """Peak of a fault current: kappa sqrt2 Ik, kappa by R/X of the total impedance (no 1.15 for meshed networks)."""
    return PEAK(peak_factor(fault.total), fault.current_ka)


def peak_factor(z: Impedance) -> Figure:
    """kappa of IEC 60909-0 from R/X; without reactance its constant term alone."""
    a, b, n = (
        _constant(f"peak factor {q}", s)
        for q, s in (("constant term", "a"), ("exponential term", "b"), ("exponent", "n"))
    )
    return KAPPA(a, b, n, z.r, z.x) if z.x > 0 else a


def loop_limit(c_min: Figure, u0_v: Figure, ia_a: Figure) -> Figure:
    """Greatest loop impedance for a device that needs ia_a to open in time: Cmin U0 / Ia."""
    return LOOP_LIMIT(c_min, u0_v, ia_a)


def _with(magnitude: Figure, angle: Figure, path: Impedance) -> Impedance:
    return Impedance(R_TOTAL(R_OF(magnitude, angle), path.r), X_TOTAL(X_OF(magnitude, angle), path.x))


def _constant(quantity: str, name: str) -> Figure:
    return constant("iec60909", quantity, "", name)
