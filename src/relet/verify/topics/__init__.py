"""One module a topic: how the inputs of its worked examples go through the product's functions.

A way takes an example and the door to the functions under test, and yields (key of the expected value, figure) right
after the call whose result it is. Inputs that an old edition asks for (Cmin, voltages, c) are arguments like any other.
"""

from __future__ import annotations

from collections.abc import Mapping
from typing import Final

from relet.verify.case import Way
from relet.verify.topics import (
    adiabatic,
    cable_sizing,
    conductor_tests,
    demand,
    earth_loop,
    enclosure_heat,
    harmonic_neutral,
    motor_start,
    network,
    probability,
    rcd_tt,
    reduced_low_voltage,
    short_circuit,
    unbalance_power_factor,
    welder,
)

WAYS: Final[Mapping[str, Mapping[str, Way]]] = {
    "cable_sizing": cable_sizing.WAYS,
    "earth_loop": earth_loop.WAYS,
    "short_circuit": short_circuit.WAYS,
    "adiabatic": adiabatic.WAYS,
    "demand": demand.WAYS,
    "enclosure_heat": enclosure_heat.WAYS,
    "motor_start": motor_start.WAYS,
    "harmonic_neutral": harmonic_neutral.WAYS,
    "rcd_tt": rcd_tt.WAYS,
    "unbalance_power_factor": unbalance_power_factor.WAYS,
    "reduced_low_voltage": reduced_low_voltage.WAYS,
    "conductor_tests": conductor_tests.WAYS,
    "welder": welder.WAYS,
    "probability": probability.WAYS,
    "network": network.WAYS,
}
"""Ways by name, by the data file that names them."""
