"""Three lines and a neutral out of balance; capacitors."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from typing import Final

from relet.electrical.balance import LINES, Load, line_currents, star_point
from relet.electrical.currents import (
    active_w,
    correction_kvar,
    design_current,
    kvar_per_phase,
    phase_voltage,
)
from relet.electrical.demand import coincident
from relet.electrical.impedance import Impedance
from relet.electrical.phasors import added, drop, polar
from relet.electrical.voltdrop import sending_voltage
from relet.verify.calling import Call
from relet.verify.case import Example, Way
from relet.verify.topics.common import Values, nought, purely
from relet.working import Figure, Formula, fact

_SUM: Final = Formula("P = P1 + P2 + P3", "W", P1="W", P2="W", P3="W", source="three lines together")
_WATT: Final = Formula("P = 1000 * Pk", "W", Pk="kW", source="turn of unit")


def three_loads(ex: Example, call: Call) -> Values:
    """A load on each line: its current, and what the neutral carries."""
    u0 = ex.figure("phase_v", "V") if "phase_v" in ex.inputs else call(phase_voltage, ex.figure("voltage_ll_v", "V"))
    currents = []
    for power, pf in zip(ex.figures("p_kw", "kW"), ex.figures("power_factor", "")):
        currents.append(call(design_current, "single", u0, power_w=_WATT(power), pf=pf))
        yield "I_a", currents[-1]
    yield "In_a", call(line_currents, _lamps(currents)).neutral


def lamps_and_motor(ex: Example, call: Call) -> Values:
    """Lamps on each line and a balanced motor: a balanced load leaves the neutral as it was."""
    lamps, motor, pf = ex.figures("lamp_a", "A"), ex.figure("motor_a", "A"), ex.figure("motor_pf", "")
    loads = [*_lamps(lamps), Load("motor", motor, pf, LINES)]
    yield "In_a", call(line_currents, loads).neutral
    # lamps and motor of one line are less than a right angle apart, so everything on is the worst case of a line
    for line in call(coincident, loads).lines:
        yield "I_total_a", line
    parts = [call(active_w, i, ex.figure("phase_v", "V"), _unity(), "single") for i in lamps]
    yield "p_lamps_w", _SUM(*parts)
    yield "p_motor_w", call(active_w, motor, ex.figure("voltage_ll_v", "V"), pf, "three")


def four_wire_drop(ex: Example, call: Call) -> Values:
    """Voltage to be sent on the first line, with what its own line and the common neutral take."""
    current = ex.figure("I_a", "A")
    lines = [call(polar, current, a) for a in ex.figures("current_angle_deg", "deg")]
    neutral = call(added, "IN", lines)
    yield "In_re_a", neutral.re
    yield "In_im_a", neutral.im
    load = call(polar, ex.figure("load_phase_v", "V"), nought("deg"))
    in_line = call(drop, lines[0], purely(ex, "r_line_ohm"))
    sent = call(sending_voltage, load, in_line, call(drop, neutral, purely(ex, "r_neutral_ohm")))
    yield "E_R_v", call.read(sent, "magnitude")
    yield "E_R_angle_deg", call.read(sent, "angle")


def star(ex: Example, call: Call) -> Values:
    """Three unequal resistances with a resistance in the neutral."""
    u1, u2, u3 = (call(polar, ex.figure("phase_v", "V"), a) for a in ex.figures("angle_deg", "deg"))
    z1, z2, z3 = (Impedance(r, nought("ohm")) for r in ex.figures("r_load_ohm", "ohm"))
    found = call(star_point, (u1, u2, u3), (z1, z2, z3), purely(ex, "r_neutral_ohm"))
    yield "In_a", found.neutral_a
    for line in found.lines_a:
        yield "I_a", line
    yield "U_shift_v", call.read(found.shift_v, "magnitude")
    yield "U_shift_deg", call.read(found.shift_v, "angle")


def correction(ex: Example, call: Call) -> Values:
    """Capacitor for a better power factor."""
    kvar = call(correction_kvar, ex.figure("p_kw", "kW"), ex.figure("pf_1", ""), ex.figure("pf_2", ""))
    yield "Q_kvar", kvar
    yield "Q_per_phase_kvar", call(kvar_per_phase, kvar)


def _lamps(currents: Sequence[Figure]) -> list[Load]:
    return [Load(f"load on {name}", i, _unity(), (name,)) for name, i in zip(LINES, currents)]


def _unity() -> Figure:
    return fact("example.pf", 1.0, "", "published", "unity power factor")


WAYS: Final[Mapping[str, Way]] = {
    "three_loads": three_loads,
    "lamps_and_motor": lamps_and_motor,
    "four_wire_drop": four_wire_drop,
    "star": star,
    "correction": correction,
}
