"""Whole networks: a four-wire load flow, and faults behind a transformer and a cable."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Final

import numpy as np

from relet.electrical.currents import phase_voltage
from relet.electrical.faults import (
    corrected,
    emf_of_lines,
    greatest_fault,
    grid,
    peak_ka,
    referred,
    source_of_parts,
    transformer,
    two_line_fault,
)
from relet.electrical.impedance import Impedance, conductor, loop_of_sequence, return_of_sequence, series
from relet.electrical.network import (
    Loads,
    Network,
    balanced_v,
    line_current,
    sequence_matrix,
    solve,
    voltage,
)
from relet.verify.calling import Call
from relet.verify.case import Example, Way
from relet.verify.topics.common import Values, here, in_ka, per_unit


def two_bus(ex: Example, call: Call) -> Values:
    """Unbalanced constant-power loads at the end of one line; the grid resists negative and zero sequence alone."""
    behind = call(
        grid, ex.figure("grid_kv", "kV"), ex.figure("grid_mva", "MVA"), ex.figure("c_for_grid", ""),
        ex.figure("grid_r_over_x", ""),
    )  # fmt: skip
    z0, z1 = (
        call(
            conductor, ex.figure(f"r{s}_ohm_per_km", "mohm/m"), ex.figure(f"x{s}_ohm_per_km", "mohm/m"),
            ex.figure("length_m", "m"),
        )
        for s in (0, 1)
    )  # fmt: skip
    u0 = call(phase_voltage, ex.figure("voltage_ll_v", "V"))
    net = Network(
        np.array([-1, 0]),
        np.array([0, _plain(z1)]),
        np.array([0, _plain(call(return_of_sequence, z1, z0))]),
        balanced_v(float(u0)),
        sequence_matrix(_plain(behind), 0, _plain(behind)),
    )
    p, q = ex.figures("p_kw", "kW"), ex.figures("q_kvar", "kvar")
    power = np.zeros((2, 3), complex)
    power[1] = [1000 * complex(a, b) for a, b in zip(p, q)]
    given = (u0, *p, *q)
    solution = call(solve, net, Loads(power_va=power))
    for line in range(3):
        yield "u_sending_pu", per_unit(voltage(solution, 0, line, given), u0)
        yield "u_load_pu", per_unit(voltage(solution, 1, line, given), u0)
        yield "i_load_end_a", line_current(solution, 1, line, given)


def transformer_and_cable(ex: Example, call: Call) -> Values:
    """Greatest faults at a board and at the end of a cable: three lines, two lines, line to earth, peak."""
    kva, lv, c = ex.figure("transformer_kva", "kVA"), ex.figure("lv_v", "V"), ex.figure("c", "")
    ahead = call(grid, ex.figure("grid_kv", "kV"), ex.figure("grid_max_mva", "MVA"), c, ex.figure("grid_r_over_x", ""))
    ahead = call(referred, ahead, lv, ex.figure("hv_v", "V"))
    unit = call(transformer, kva, lv, ex.figure("uk_percent", "%"), ex.figure("ukr_percent", "%"))
    unit = call(corrected, unit, kva, lv, c)
    cable, zero = (
        call(
            conductor, ex.figure(f"r{s}_ohm_per_km", "mohm/m"), ex.figure(f"x{s}_ohm_per_km", "mohm/m"),
            ex.figure("cable_m", "m"),
        )
        for s in (1, 0)
    )  # fmt: skip
    emf = call(emf_of_lines, c, lv)
    origin = call(series, ahead, unit)
    three = source_of_parts(origin, emf)
    # the zero sequence of a Dyn transformer ends at its star point: the grid takes no part in it
    earth = source_of_parts(call(loop_of_sequence, origin, unit), emf)
    loop = call(loop_of_sequence, cable, zero)
    for place, path, back in (("board", here(), here()), ("end", cable, loop)):
        fault = call(greatest_fault, three, path)
        yield f"{place}_3ph_ka", in_ka(fault.current_a)
        yield f"{place}_2ph_ka", in_ka(call(two_line_fault, fault.current_a))
        yield f"{place}_line_earth_ka", in_ka(call(greatest_fault, earth, back).current_a)
        yield f"ip_{place}_ka", call(peak_ka, fault)


def _plain(z: Impedance) -> complex:
    return complex(z.r, z.x)


WAYS: Final[Mapping[str, Way]] = {"two_bus": two_bus, "transformer_and_cable": transformer_and_cable}
