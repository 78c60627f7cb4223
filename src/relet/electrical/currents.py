"""Design current: what a load draws in its line conductors.

P is electrical input in W, U0 line to neutral and U line to line in V, pf the true power factor, eta efficiency (a
share, not per cent), S in kVA. Everything here is the definition of active and apparent power (IEC 60050-131) unless
a source says otherwise. Valid for steady r.m.s. values and, three-phase, balanced loads.
"""

from __future__ import annotations

from typing import Final, Literal

from relet.working import Figure, Formula

POWER: Final = "definition of active power"
APPARENT: Final = "definition of apparent power"

SINGLE = Formula("Ib = P / (U0 * pf)", "A", P="W", U0="V", pf="", source=POWER)
THREE = Formula("Ib = P / (sqrt(3) * U * pf)", "A", P="W", U="V", pf="", source=POWER)
TWO_LINES = Formula("Ib = P / (U * pf)", "A", P="W", U="V", pf="", source=POWER)
INPUT = Formula("P = 1000 * Pshaft / eta", "W", Pshaft="kW", eta="", source="definition of efficiency")
SHARE = Formula("share = percent / 100", "", percent="%", source="turn of unit")
OF_KVA: Final = {
    "single": Formula("Ib = 1000 * S / U0", "A", S="kVA", U0="V", source=APPARENT),
    "two lines": Formula("Ib = 1000 * S / U", "A", S="kVA", U="V", source=APPARENT),
    "three": Formula("Ib = 1000 * S / (sqrt(3) * U)", "A", S="kVA", U="V", source=APPARENT),
}
WATT: Final = {
    "single": Formula("P = U0 * I * pf", "W", U0="V", I="A", pf="", source=POWER),
    "two lines": Formula("P = U * I * pf", "W", U="V", I="A", pf="", source=POWER),
    "three": Formula("P = sqrt(3) * U * I * pf", "W", U="V", I="A", pf="", source=POWER),
}
IN_DELTA = Formula("Iphase = I / sqrt(3)", "A", I="A", source="balanced delta: winding against line current")
LINE_OF_PHASE = Formula("U = sqrt(3) * U0", "V", U0="V", source="symmetrical three-phase supply")
PHASE_OF_LINE = Formula("U0 = U / sqrt(3)", "V", U="V", source="symmetrical three-phase supply")
EFFECTIVE = Formula(
    "I1eff = I1max * sqrt(X / 100)", "A", I1max="A", X="%", source="IEC 60974-1: r.m.s. value over the duty cycle"
)
EFFECTIVE_IDLE = Formula(
    "I1eff = sqrt(I1max ** 2 * X / 100 + I0 ** 2 * (1 - X / 100))", "A", I1max="A", X="%", I0="A",
    source="IEC 60974-1: r.m.s. value over the duty cycle with idle current",
)  # fmt: skip
KVAR = Formula(
    "Q = P * (sqrt(1 - pf1 ** 2) / pf1 - sqrt(1 - pf2 ** 2) / pf2)", "kvar", P="kW", pf1="", pf2="",
    source="reactive power P tan phi before and after",
)  # fmt: skip
KVAR_PHASE = Formula("Qphase = Q / 3", "kvar", Q="kvar", source="three equal phases")

Connection = Literal["single", "two lines", "three"]


def input_power(shaft_kw: Figure, efficiency: Figure) -> Figure:
    """Electrical input in W of a machine known by its shaft power in kW and efficiency (share)."""
    return INPUT(shaft_kw, efficiency)


def as_share(percent: Figure) -> Figure:
    """A figure in per cent as a share, for efficiencies and factors printed in per cent."""
    return SHARE(percent)


def of_kva(kva: Figure, voltage_v: Figure, connection: Connection = "three") -> Figure:
    """Line current of an apparent power in kVA: at U0 single-phase, at U between two lines or three-phase."""
    return OF_KVA[connection](kva, voltage_v)


def active_w(current_a: Figure, voltage_v: Figure, pf: Figure, connection: Connection = "three") -> Figure:
    """Active power in W of a line current: at U0 single-phase, at U between two lines or three-phase."""
    return WATT[connection](voltage_v, current_a, pf)


def design_current(
    connection: Connection,
    voltage_v: Figure,
    *,
    current_a: Figure | None = None,
    power_w: Figure | None = None,
    kva: Figure | None = None,
    shaft_kw: Figure | None = None,
    pf: Figure | None = None,
    efficiency: Figure | None = None,
) -> Figure:
    """Design current from whatever the plate holds, best first: amperes as they are, kVA, input W, shaft kW.

    voltage_v   U0 for "single", U for "two lines" and "three"
    pf          needed with power_w and shaft_kw
    efficiency  needed with shaft_kw; not used with power_w, which is input already
    raises      ValueError naming what is missing
    """
    if current_a is not None:
        return current_a
    if kva is not None:
        return of_kva(kva, voltage_v, connection)
    if power_w is None and shaft_kw is not None:
        if efficiency is None:
            raise ValueError("a shaft power needs an efficiency")
        power_w = input_power(shaft_kw, efficiency)
    if power_w is None:
        raise ValueError("none of current, apparent power, input power or shaft power is given")
    if pf is None:
        raise ValueError("a power needs a power factor")
    formula = {"single": SINGLE, "two lines": TWO_LINES, "three": THREE}[connection]
    return formula(power_w, voltage_v, pf)


def line_voltage(u0_v: Figure) -> Figure:
    """Line-to-line voltage sqrt3 U0. Where both nominal voltages are stated (230 and 400 V), state both instead."""
    return LINE_OF_PHASE(u0_v)


def phase_voltage(u_v: Figure) -> Figure:
    """Line-to-neutral voltage U / sqrt3."""
    return PHASE_OF_LINE(u_v)


def winding_current(line_a: Figure) -> Figure:
    """Current in each winding of a balanced delta: I / sqrt3."""
    return IN_DELTA(line_a)


def effective_current(i1max_a: Figure, duty_percent: Figure, idle_a: Figure | None = None) -> Figure:
    """Current that heats like an intermittent load: I1eff = I1max sqrt(X), or with its idle current.

    For conductors and overload. Devices' inrush, volt drop and selectivity use the peak, I1max.
    valid  duty 0 to 100 %; cycles short against the time constant of the cable (IEC 60974-1: 10 minutes)
    """
    if idle_a is None:
        return EFFECTIVE(i1max_a, duty_percent)
    return EFFECTIVE_IDLE(i1max_a, duty_percent, idle_a)


def correction_kvar(power_kw: Figure, pf_now: Figure, pf_wanted: Figure) -> Figure:
    """Capacitor, kvar, that raises the power factor of a load: P (tan phi1 - tan phi2)."""
    return KVAR(power_kw, pf_now, pf_wanted)


def kvar_per_phase(kvar: Figure) -> Figure:
    """Each of three equal capacitors."""
    return KVAR_PHASE(kvar)
