"""Alternating currents and voltages as two figures, real and imaginary part, so that a working can show them.

Angles are in degrees. The supply is symmetrical and turns L1, L2, L3: U1 at 0, U2 at -120, U3 at 120 degrees; the
voltage from L1 to L2 stands at 30. A lagging current has a positive displacement phi and stands at minus phi.
"""

from __future__ import annotations

from collections.abc import Sequence
from typing import Final, NamedTuple

from relet.electrical.impedance import Impedance, total
from relet.working import Figure, Formula

_THEORY: Final = "circuit theory, phasors at one frequency"

LAG = Formula("phi = atan2_deg(sqrt(1 - pf ** 2), pf)", "deg", pf="", source="lagging: phi = arccos pf")
LEAD = Formula("phi = -atan2_deg(sqrt(1 - pf ** 2), pf)", "deg", pf="", source="leading: phi = -arccos pf")

ANGLES_DEG: Final = {
    "L1": 0, "L2": -120, "L3": 120,
    "L1-L2": 30, "L2-L3": -90, "L3-L1": 150, "L2-L1": -150, "L3-L2": 90, "L1-L3": -30,
}  # fmt: skip
"""Angle of each voltage: line to neutral, and from the first line to the second."""

_RE: Final = {
    a: Formula(f"Ire = I * cos_deg({a} - phi)", "A", I="A", phi="deg", source=_THEORY) for a in ANGLES_DEG.values()
}
_IM: Final = {
    a: Formula(f"Iim = I * sin_deg({a} - phi)", "A", I="A", phi="deg", source=_THEORY) for a in ANGLES_DEG.values()
}
POLAR_RE: Final = {u: Formula("re = m * cos_deg(a)", u, m=u, a="deg", source=_THEORY) for u in ("A", "V")}
POLAR_IM: Final = {u: Formula("im = m * sin_deg(a)", u, m=u, a="deg", source=_THEORY) for u in ("A", "V")}
MAGNITUDE: Final = {u: Formula("m = hypot(re, im)", u, re=u, im=u, source=_THEORY) for u in ("A", "V")}
ANGLE: Final = {u: Formula("a = atan2_deg(im, re)", "deg", im=u, re=u, source=_THEORY) for u in ("A", "V")}
DROP_RE = Formula("Ure = Ire * R - Iim * X", "V", Ire="A", R="ohm", Iim="A", X="ohm", source="real part of I (R + jX)")
DROP_IM = Formula(
    "Uim = Ire * X + Iim * R", "V", Ire="A", X="ohm", Iim="A", R="ohm", source="imaginary part of I (R + jX)"
)


class Phasor(NamedTuple):
    """Real and imaginary part of a current (A) or a voltage (V), r.m.s."""

    re: Figure
    im: Figure

    @property
    def magnitude(self) -> Figure:
        """Its r.m.s. value, A or V."""
        return MAGNITUDE[self.re.unit](self.re, self.im)

    @property
    def angle(self) -> Figure:
        """Its angle, degrees from -180 to 180."""
        return ANGLE[self.re.unit](self.im, self.re)

    @property
    def value(self) -> complex:
        """The plain complex number, for numerical work; it has no working."""
        return complex(self.re, self.im)


def displacement(pf: Figure, *, leading: bool = False) -> Figure:
    """Displacement phi, degrees, of a power factor from 0 to 1: positive when the current lags. nan above 1."""
    return (LEAD if leading else LAG)(pf)


def polar(magnitude: Figure, angle_deg: Figure) -> Phasor:
    """A phasor from its r.m.s. value (A or V) and angle."""
    u = magnitude.unit
    return Phasor(POLAR_RE[u](magnitude, angle_deg), POLAR_IM[u](magnitude, angle_deg))


def current_at(current_a: Figure, phi: Figure, voltage: str = "L1") -> Phasor:
    """A current displaced by phi from a voltage of the symmetrical supply ("L2", or "L1-L2" between two lines).

    raises  KeyError for another voltage than those of ANGLES_DEG
    """
    at = ANGLES_DEG[voltage]
    return Phasor(_RE[at](current_a, phi), _IM[at](current_a, phi))


def added(symbol: str, phasors: Sequence[Phasor]) -> Phasor:
    """Sum of phasors of one unit: real and imaginary parts apart."""
    return Phasor(
        total([p.re for p in phasors], f"{symbol}re", _THEORY),
        total([p.im for p in phasors], f"{symbol}im", _THEORY),
    )


def drop(current: Phasor, z: Impedance) -> Phasor:
    """Voltage along an impedance, V: I (R + jX)."""
    return Phasor(DROP_RE(current.re, z.r, current.im, z.x), DROP_IM(current.re, z.x, current.im, z.r))
