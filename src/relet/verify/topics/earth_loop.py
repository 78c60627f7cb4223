"""Earth fault loop: its impedance along a path, and the greatest one that a device allows."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Final

from relet.electrical.currents import phase_voltage
from relet.electrical.devices import breaker
from relet.electrical.faults import greatest_loop, loop_limit, source_of_parts
from relet.electrical.impedance import Impedance, series
from relet.verify.calling import Call
from relet.verify.case import Example, Way
from relet.verify.topics.common import Values, impedance, nought, purely
from relet.working import fact

_ANY_EMF: Final = fact("example.emf", 230.0, "V", "chosen", "drives nothing here: impedances alone are asked")


def breaker_limits(ex: Example, call: Call) -> Values:
    """Band of a breaker, current that surely opens it in time, greatest loop; Cmin as the example sets it."""
    for rated in ex.figures("In_a", "A"):
        band = call(breaker, rated, ex.inputs["curve"])
        ia = call(band.trips_within, ex.figure("within_s", "s"))
        yield "Zs_max_ohm", call(loop_limit, ex.figure("Cmin", ""), ex.figure("U0_v", "V"), ia)


def three_stages(ex: Example, call: Call) -> Values:
    """Loop at three points of a path, resistance and reactance apart."""
    source = source_of_parts(impedance(ex, "transformer_r_ohm", "transformer_x_ohm"), _ANY_EMF)
    submain_return, final_line = purely(ex, "submain_return_r_ohm"), purely(ex, "final_line_r_ohm")
    stages = {
        "A": ("board", [
            impedance(ex, "supply_line_r_ohm", "supply_line_x_ohm"),
            impedance(ex, "supply_return_r_ohm", "supply_return_x_ohm"),
        ]),
        "B": ("board", [impedance(ex, "submain_line_r_ohm", "submain_line_x_ohm"), submain_return]),
        "C": ("point", [final_line, impedance(ex, "final_return_r_ohm", "final_return_x_ohm")]),
    }  # fmt: skip
    path: list[Impedance] = []
    for name, (kind, parts) in stages.items():
        path += parts
        loop, _ = call(greatest_loop, source, call(series, *path))
        yield f"R_at_{name}_ohm", loop.r
        yield f"X_at_{name}_ohm", loop.x
        yield f"Zs_{kind}_{name}_ohm", loop.z


def motor_loops(ex: Example, call: Call) -> Values:
    """Source, cable and the way through the earth, for several sections."""
    source = source_of_parts(impedance(ex, "source_re_ohm", "source_im_ohm"), _ANY_EMF)
    earth = Impedance(ex.figure("earth_path_re_ohm", "ohm"), nought("ohm"))
    for k in range(len(ex.inputs["csa_mm2"])):
        path = call(series, impedance(ex, "za_plus_zc_re_ohm", "za_plus_zc_im_ohm", k), earth)
        loop, _ = call(greatest_loop, source, path)
        yield "Z_loop_ohm", loop.z


def fuse_limits(ex: Example, call: Call) -> Values:
    """Greatest loop from the current that melts a fuse in time."""
    u0 = call(phase_voltage, ex.figure("voltage_ll_v", "V"))
    for ia in ex.figures("Ia_5s_a", "A"):
        yield "Z_max_ohm", call(loop_limit, ex.figure("Cmin", ""), u0, ia)


WAYS: Final[Mapping[str, Way]] = {
    "breaker_limits": breaker_limits,
    "three_stages": three_stages,
    "motor_loops": motor_loops,
    "fuse_limits": fuse_limits,
}
