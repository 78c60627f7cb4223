"""Motors: full-load current, starting current, and the voltage while they start."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Final

from relet.electrical.currents import design_current, input_power, of_kva, phase_voltage, winding_current
from relet.electrical.faults import grid
from relet.electrical.impedance import conductor
from relet.electrical.motors import (
    locked_rotor_kva,
    machine_of_circuit,
    start_through,
)
from relet.electrical.phasors import displacement
from relet.electrical.voltdrop import approximate, percent
from relet.verify.calling import Call
from relet.verify.case import Example, Way
from relet.verify.topics.common import Values, impedance


def constant_current(ex: Example, call: Call) -> Values:
    """Dip along a feeder of several sections at a constant starting current."""
    phi = call(displacement, ex.figure("power_factor_start", ""))
    u0 = call(phase_voltage, ex.figure("voltage_v", "V"))
    for k in range(len(ex.inputs["csa_mm2"])):
        z = impedance(ex, "r_total_ohm", "x_total_ohm", k)
        yield "vd_start_percent", call(percent, call(approximate, ex.figure("start_a", "A"), z, phi), u0)


def impedance_start(ex: Example, call: Call) -> Values:
    """Motor as an impedance behind system and cable."""
    system = call(
        grid, ex.figure("system_kv", "kV"), ex.figure("system_mva", "MVA"), ex.figure("system_c", ""),
        ex.figure("system_r_over_x", ""),
    )  # fmt: skip
    cable = call(
        conductor, ex.figure("cable_r_ohm_per_km", "mohm/m"), ex.figure("cable_x_ohm_per_km", "mohm/m"),
        ex.figure("cable_length_m", "m"),
    )  # fmt: skip
    machine = call(
        machine_of_circuit, impedance(ex, "stator_r_ohm", "stator_x_ohm"),
        impedance(ex, "magnetizing_r_ohm", "magnetizing_x_ohm"), impedance(ex, "rotor_r_ohm", "rotor_x_ohm"),
        ex.figure("slip", ""),
    )  # fmt: skip
    start = call(start_through, call(phase_voltage, ex.figure("system_v", "V")), system, cable, machine)
    yield "I_start_a", start.current_a
    yield "U_motor_phase_v", start.terminal_v
    yield "U_motor_angle_deg", start.terminal_deg


def code_letter(ex: Example, call: Call) -> Values:
    """Starting current from a code letter."""
    kva = call(locked_rotor_kva, ex.figure("kva_per_hp", "kVA/hp"), ex.figure("power_hp", "hp"))
    yield "I_start_a", call(of_kva, kva, ex.figure("voltage_v", "V"))


def full_load(ex: Example, call: Call) -> Values:
    """Output to input, line current, and current in a delta winding."""
    power = call(input_power, ex.figure("output_kw", "kW"), ex.figure("efficiency", ""))
    yield "input_w", power
    line = call(design_current, "three", ex.figure("voltage_v", "V"), power_w=power, pf=ex.figure("power_factor", ""))
    yield "line_a", line
    yield "phase_a", call(winding_current, line)


WAYS: Final[Mapping[str, Way]] = {
    "constant_current": constant_current,
    "impedance_start": impedance_start,
    "code_letter": code_letter,
    "full_load": full_load,
}
