"""Design current, device, conductor and volt drop of a circuit."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Final

from relet.electrical.conductors import Factors, installed_rating, needed_rating, next_rated, smallest_adequate
from relet.electrical.currents import Connection, design_current, phase_voltage
from relet.electrical.impedance import conductor, parallel_equal
from relet.electrical.phasors import added, current_at, displacement
from relet.electrical.voltdrop import (
    along,
    approximate,
    ct,
    exact,
    greatest_rate,
    path_drop,
    percent,
    tabulated,
    to_neutral,
)
from relet.tables.cables import current_rating, sizes
from relet.tables.protection import gg_ratings, mcb_ratings
from relet.verify.calling import Call
from relet.verify.case import Example, Way
from relet.verify.topics.common import Values, as_size, impedance, made
from relet.working import Figure

_RATE: Final = "mV/A/m"


def ratings(ex: Example, loading: str) -> dict[float, Figure]:
    """Tabulated ratings by size of the example's cable and method."""
    cable, method = ex.inputs["cable"], ex.inputs["method"]
    return {s: current_rating(cable, method, loading, s) for s in sizes(cable, method, loading)}


def sub_main(ex: Example, call: Call) -> Values:
    """Load to design current, breaker, rating needed, section, volt drop."""
    ib = _design(ex, call, "single")
    yield "Ib_a", ib
    device = call(next_rated, made(mcb_ratings(), "A"), ib)
    assert device is not None
    yield "In_a", device
    factors = Factors(ca=ex.figure("Ca", ""), cg=ex.figure("Cg", ""), cc=ex.figure("Cc", ""))
    yield "It_min_a", call(needed_rating, device, factors)
    yield "In_of_It_a", call(installed_rating, ex.figure("It_printed_a", "A"), factors)
    yield "csa_mm2", _section(ex, call, "1ph", factors, device)
    yield "vd_v", call(tabulated, ex.figure("vd_mv_per_a_m", _RATE), ib, ex.figure("length_m", "m"))


def heater(ex: Example, call: Call) -> Values:
    """Three-phase heater behind a given fuse, semi-enclosed or not."""
    ib = _design(ex, call, "three")
    yield "Ib_a", ib
    fuse = ex.figure("Cf_bs3036", "") if "Cf_bs3036" in ex.inputs else None
    needed = call(needed_rating, ex.figure("In_a", "A"), Factors(ca=ex.figure("Ca", ""), cf=fuse))
    yield "It_min_a", needed
    yield "csa_mm2", as_size(call(smallest_adequate, ratings(ex, "3ph"), needed))
    yield "vd_v", call(tabulated, ex.figure("vd_mv_per_a_m", _RATE), ib, ex.figure("length_m", "m"))


def motor_feeder(ex: Example, call: Call) -> Values:
    """Shaft power to design current, fuse, rating needed, section; the drop as it should have been printed."""
    ib = call(
        design_current, "three", ex.figure("voltage_v", "V"), shaft_kw=ex.figure("output_kw", "kW"),
        pf=ex.figure("power_factor", ""), efficiency=ex.figure("efficiency", ""),
    )  # fmt: skip
    yield "Ib_a", ib
    device = call(next_rated, made(gg_ratings(), "A"), ib)
    assert device is not None
    yield "In_a", device
    factors = Factors(ca=ex.figure("Ca", ""), cg=ex.figure("Cg", ""))
    yield "It_min_a", call(needed_rating, device, factors)
    yield "In_of_It_a", call(installed_rating, ex.figure("It_printed_a", "A"), factors)
    yield "csa_mm2", _section(ex, call, "3ph", factors, device)
    yield "vd_corrected_v", call(tabulated, ex.figure("vd_mv_per_a_m", _RATE), ib, ex.figure("length_m", "m"))


def limit_governs(ex: Example, call: Call) -> Values:
    """Drop of a section that is too small, and the mV/A/m that would do."""
    current, length = ex.figure("current_a", "A"), ex.figure("length_m", "m")
    yield "vd_v", call(tabulated, ex.figure("vd_mv_per_a_m", _RATE), current, length)
    yield "max_mv_per_a_m", call(greatest_rate, ex.figure("limit_v", "V"), current, length)


def line_and_final(ex: Example, call: Call) -> Values:
    """Three-phase line, then a single-phase circuit: drops of one kind are added."""
    line = call(
        tabulated, ex.figure("line_mv_per_a_m", _RATE), ex.figure("line_current_a", "A"),
        ex.figure("line_length_m", "m"),
    )  # fmt: skip
    yield "line_to_line_v", line
    neutral = call(to_neutral, line)
    yield "line_to_neutral_v", neutral
    final = call(
        tabulated, ex.figure("final_mv_per_a_m", _RATE), ex.figure("final_current_a", "A"),
        ex.figure("final_length_m", "m"),
    )  # fmt: skip
    yield "final_vd_v", final
    whole = call(along, [neutral, final])
    yield "total_vd_v", whole
    yield "total_percent", call(percent, whole, ex.figure("phase_voltage_v", "V"))


def parallel_cables(ex: Example, call: Call) -> Values:
    """Equal cables in parallel: approximate and exact drop line to neutral."""
    one = call(
        conductor, ex.figure("r_ohm_per_km", "mohm/m"), ex.figure("x_ohm_per_km", "mohm/m"),
        ex.figure("length_m", "m"),
    )  # fmt: skip
    z = call(parallel_equal, one, ex.figure("parallel", ""))
    phi = call(displacement, ex.figure("power_factor", ""))
    sent = call(phase_voltage, ex.figure("voltage_ll_v", "V"))
    current = ex.figure("current_a", "A")
    near = call(approximate, current, z, phi)
    yield "vd_phase_approx_v", near
    yield "vd_approx_percent", call(percent, near, sent)
    true = call(exact, sent, current, z, phi)
    yield "vd_phase_exact_v", true
    yield "vd_exact_percent", call(percent, true, sent)


def running_drop(ex: Example, call: Call) -> Values:
    """One feeder in several sections: drop in %, which is the same line to line and line to neutral."""
    phi = call(displacement, ex.figure("power_factor_run", ""))
    u0 = call(phase_voltage, ex.figure("voltage_v", "V"))
    for k in range(len(ex.inputs["csa_mm2"])):
        z = impedance(ex, "r_total_ohm", "x_total_ohm", k)
        drop = call(approximate, ex.figure("current_run_a", "A"), z, phi)
        yield "vd_run_percent", call(percent, drop, u0)


def two_loads(ex: Example, call: Call) -> Values:
    """Tapped feeder: current of the first section and the complex drop to its end."""
    near = call(
        current_at, ex.figure("load_at_200m_a", "A"), call(displacement, ex.figure("pf_at_200m", "")),
    )  # fmt: skip
    far = call(current_at, ex.figure("load_at_300m_a", "A"), call(displacement, ex.figure("pf_at_300m", "")))
    first = call(added, "I", [near, far])
    yield "i_section_1_re_a", first.re
    yield "i_section_1_im_a", first.im
    r, x = ex.figure("loop_r_ohm_per_km", "mohm/m"), ex.figure("loop_x_ohm_per_km", "mohm/m")
    one, two = (call(conductor, r, x, ex.figure(f"section_{n}_m", "m")) for n in (1, 2))
    drop = call(path_drop, [(one, first), (two, far)])
    yield "drop_re_v", drop.re
    yield "drop_im_v", drop.im
    yield "drop_magnitude_v", call.read(drop, "magnitude")


def cooler_conductor(ex: Example, call: Call) -> Values:
    """Ct of a cable that carries less than it could."""
    yield "Ct", call(
        ct, ex.figure("insulation_c", "degC"), ex.figure("reference_c", "degC"), ex.figure("zero_c", "degC"),
        ex.figure("Ca", ""), ex.figure("Cg", ""), ex.figure("Ib_a", "A"), ex.figure("It_a", "A"),
    )  # fmt: skip


def _design(ex: Example, call: Call, connection: Connection) -> Figure:
    return call(
        design_current, connection, ex.figure("voltage_v", "V"), power_w=ex.figure("load_w", "W"),
        pf=ex.figure("power_factor", ""),
    )  # fmt: skip


def _section(ex: Example, call: Call, loading: str, factors: Factors, device: Figure) -> Figure:
    """Smallest section whose rating where it lies is not below the device, as a rule would judge it."""
    installed = {size: call(installed_rating, it, factors) for size, it in ratings(ex, loading).items()}
    return as_size(call(smallest_adequate, installed, device))


WAYS: Final[Mapping[str, Way]] = {
    "sub_main": sub_main,
    "heater": heater,
    "motor_feeder": motor_feeder,
    "limit_governs": limit_governs,
    "line_and_final": line_and_final,
    "parallel_cables": parallel_cables,
    "running_drop": running_drop,
    "two_loads": two_loads,
    "cooler_conductor": cooler_conductor,
}
