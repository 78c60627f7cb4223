"""Prospective fault currents from the source down."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Final

from relet.electrical import faults
from relet.electrical.currents import phase_voltage
from relet.electrical.faults import (
    Fault,
    corrected,
    greatest_fault,
    grid,
    peak_factor,
    peak_ka,
    referred,
    source_of_current,
    source_of_parts,
    transformer,
)
from relet.electrical.impedance import Impedance, conductor, parallel_equal, series
from relet.verify.calling import Call
from relet.verify.case import Example, Way
from relet.verify.topics.common import Values, here, impedance, in_ka, in_mohm
from relet.working import Figure


def secondary_fault(ex: Example, call: Call) -> Values:
    """Fault behind a transformer, with a source of finite and of infinite power."""
    emf = _emf(call, ex.figure("c", ""), ex.figure("secondary_v", "V"))
    unit = call(
        transformer, ex.figure("transformer_kva", "kVA"), ex.figure("secondary_v", "V"), ex.figure("x_percent", "%"),
        ex.figure("r_percent", "%"),
    )  # fmt: skip
    ahead = call(
        grid, ex.figure("secondary_kv", "kV"), ex.figure("source_mva_a", "MVA"), ex.figure("c", ""),
        ex.figure("source_r_over_x", ""),
    )  # fmt: skip
    yield "Ik_a_ka", in_ka(_at(call, call(series, ahead, unit), emf).current_a)
    yield "Ik_b_ka", in_ka(_at(call, unit, emf).current_a)


def peak(ex: Example, call: Call) -> Values:
    """Current, peak factor and peak of one loop."""
    z = impedance(ex, "r_ohm", "x_ohm")
    fault = _at(call, z, ex.figure("source_v", "V"))
    yield "Ik_a", fault.current_a
    yield "kappa", call(peak_factor, z)
    yield "ip_ka", call(peak_ka, fault)


def chain(ex: Example, call: Call) -> Values:
    """Source, transformer and cables one after the other."""
    volt, c = ex.figure("voltage_v", "V"), ex.figure("c", "")
    ahead = call(
        grid, ex.figure("voltage_kv", "kV"), ex.figure("source_mva", "MVA"), c, ex.figure("source_r_over_x", "")
    )
    yield "Z_source_mohm", in_mohm(call.read(ahead, "z"))
    unit = call(
        transformer, ex.figure("transformer_kva", "kVA"), volt, ex.figure("uk_percent", "%"),
        ex.figure("transformer_r_percent", "%"),
    )  # fmt: skip
    yield "Z_transformer_mohm", in_mohm(call.read(unit, "z"))
    emf = _emf(call, c, volt)
    path = call(series, ahead, unit)
    yield "Ik_at_lv_ka", in_ka(_at(call, path, emf).current_a)
    for k in range(len(ex.inputs["cable_length_m"])):
        one = call(
            conductor, ex.figure("cable_r_ohm_per_km", "mohm/m", k), ex.figure("cable_x_ohm_per_km", "mohm/m", k),
            ex.figure("cable_length_m", "m", k),
        )  # fmt: skip
        path = call(series, path, call(parallel_equal, one, ex.figure("cable_sets", "", k)))
        yield "Z_cum_mohm", in_mohm(call.read(path, "z"))
        yield "Ik_cum_ka", in_ka(_at(call, path, emf).current_a)


def guide_chain(ex: Example, call: Call) -> Values:
    """Elements one after the other, with the current after some of them."""
    emf = _emf(call, ex.figure("c", ""), ex.figure("no_load_v", "V"))
    elements = [impedance(ex, "r_ohm", "x_ohm", k) for k in range(len(ex.inputs["r_ohm"]))]
    after = {"supply_cable": 3, "busbars": 5, "95mm2": 6, "10mm2": 7}
    for name, number in after.items():
        path = call(series, *elements[:number])
        yield f"Isc_after_{name}_ka", in_ka(_at(call, path, emf).current_a)


def two_parallel(ex: Example, call: Call) -> Values:
    """Two transformers side by side behind a grid, with the correction of IEC 60909."""
    kva, lv, c = ex.figure("transformer_kva", "kVA"), ex.figure("lv_v", "V"), ex.figure("c_max", "")
    ahead = call(grid, ex.figure("grid_kv", "kV"), ex.figure("grid_mva", "MVA"), c, ex.figure("grid_r_over_x", ""))
    ahead = call(referred, ahead, lv, ex.figure("hv_v", "V"))
    unit = call(transformer, kva, lv, ex.figure("uk_percent", "%"), ex.figure("ukr_percent", "%"))
    both = call(parallel_equal, call(corrected, unit, kva, lv, c), ex.figure("parallel", ""))
    emf = _emf(call, c, ex.figure("fault_bus_nominal_v", "V"))
    yield "Ik_ka", in_ka(_at(call, call(series, ahead, both), emf).current_a)


def from_declared_current(ex: Example, call: Call) -> Values:
    """The same cables behind a current that is declared at their head, with the angle of its source."""
    declared, angle = ex.figure("declared_ka", "kA"), ex.figure("source_angle_deg", "deg")
    emf = _emf(call, ex.figure("c", ""), ex.figure("voltage_v", "V"))
    source = source_of_current(declared, declared, emf, angle, angle)
    parts: list[Impedance] = []
    for k in range(len(ex.inputs["cable_length_m"])):
        one = call(
            conductor, ex.figure("cable_r_ohm_per_km", "mohm/m", k), ex.figure("cable_x_ohm_per_km", "mohm/m", k),
            ex.figure("cable_length_m", "m", k),
        )  # fmt: skip
        parts.append(call(parallel_equal, one, ex.figure("cable_sets", "", k)))
        yield "Ik_cum_ka", in_ka(call(greatest_fault, source, call(series, *parts)).current_a)


def _emf(call: Call, c: Figure, line_v: Figure) -> Figure:
    """Driving voltage of a fault, line to neutral."""
    return call(faults.emf, c, call(phase_voltage, line_v))


def _at(call: Call, z: Impedance, emf_v: Figure) -> Fault:
    """Fault right behind an impedance."""
    return call(greatest_fault, source_of_parts(z, emf_v), here())


WAYS: Final[Mapping[str, Way]] = {
    "secondary_fault": secondary_fault,
    "peak": peak,
    "chain": chain,
    "guide_chain": guide_chain,
    "two_parallel": two_parallel,
    "from_declared_current": from_declared_current,
}
