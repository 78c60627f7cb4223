"""Heating of a conductor by a fault: least section, longest time, rating, k."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Final

from relet.electrical.adiabatic import (
    CSA_OF_ENERGY,
    heating,
    k_of_metal,
    k_of_temperatures,
    least_csa,
    longest_time,
    short_time_rating,
)
from relet.electrical.bands import Band, Gate
from relet.electrical.earthing import next_size
from relet.electrical.faults import least_fault, source_of_parts
from relet.verify.calling import Call
from relet.verify.case import Example, Way
from relet.verify.topics.common import Values, here, in_ka, purely

_K: Final = "A s^0.5/mm2"


def protective_conductor(ex: Example, call: Call) -> Values:
    """Earth fault current, least section for it, next made size."""
    c_min, u0 = ex.figure("Cmin", ""), ex.figure("U0_v", "V")
    fault = call(least_fault, source_of_parts(purely(ex, "Zs_ohm"), u0), here(), c_min, u0).current_a
    yield "If_a", fault
    least = call(least_csa, fault, ex.figure("time_s", "s"), ex.figure("k", _K))
    yield "S_min_mm2", least
    yield "cpc_mm2", call(next_size, least, ex.figures("made_mm2", "mm2"))


def longest(ex: Example, call: Call) -> Values:
    """Longest time for a section and a current."""
    yield "t_max_s", call(longest_time, ex.figure("k", _K), ex.figure("S_mm2", "mm2"), ex.figure("I_a", "A"))


def longest_of_each(ex: Example, call: Call) -> Values:
    """The same for several sections, each with its current."""
    for section, current in zip(ex.figures("S_mm2", "mm2"), ex.figures("I_a", "A")):
        yield "time_s", call(longest_time, ex.figure("k", _K), section, current)


def rating_of_temperatures(ex: Example, call: Call) -> Values:
    """K of the metal, k between two temperatures, short-time rating."""
    metal = call(
        k_of_metal, ex.figure("sigma_c_j_per_k_m3", "J/K/m3"), ex.figure("beta_c", "degC"),
        ex.figure("rho_ohm_m", "ohm m"), ex.figure("rho_at_c", "degC"),
    )  # fmt: skip
    yield "K_a_s05_per_mm2", metal
    k = call(k_of_temperatures, "copper", ex.figure("theta_i_c", "degC"), ex.figure("theta_f_c", "degC"), metal)
    yield "I_ad_ka", in_ka(call(short_time_rating, k, ex.figure("S_mm2", "mm2"), ex.figure("time_s", "s")))


def fuses(ex: Example, call: Call) -> Values:
    """Energy by the search over the range of fault current, the section that bears it, and the next made size."""
    k, time, any_size = ex.figure("k", _K), ex.figure("time_s", "s"), ex.figure("made_mm2", "mm2", 0)
    for current in ex.figures("Ia_5s_a", "A"):
        gate = Gate(current, time, thermal=True)
        fuse = Band("fuse", (gate,), (), "held", None, current, current, current)
        worst = call(heating, [fuse], current, current, k, any_size, time).worst
        assert worst is not None
        least = CSA_OF_ENERGY(worst.energy_a2s, k)
        yield "S_min_mm2", least
        yield "next_size_mm2", call(next_size, least, ex.figures("made_mm2", "mm2"))


WAYS: Final[Mapping[str, Way]] = {
    "protective_conductor": protective_conductor,
    "longest_time": longest,
    "longest_of_each": longest_of_each,
    "rating_of_temperatures": rating_of_temperatures,
    "fuses": fuses,
}
