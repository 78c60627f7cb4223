"""Reduced low voltage: current of the transformer, greatest loop."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Final

from relet.electrical.currents import of_kva
from relet.electrical.devices import breaker
from relet.electrical.faults import loop_limit
from relet.verify.calling import Call
from relet.verify.case import Example, Way
from relet.verify.topics.common import Values


def transformer(ex: Example, call: Call) -> Values:
    """A single-phase 110 V transformer with a breaker behind it."""
    yield "I_a", call(of_kva, ex.figure("kva", "kVA"), ex.figure("voltage_v", "V"), "single")
    band = call(breaker, ex.figure("In_a", "A"), ex.inputs["curve"])
    ia = call(band.trips_within, ex.figure("within_s", "s"))
    yield "Zs_max_ohm", call(loop_limit, ex.figure("Cmin", ""), ex.figure("U0_v", "V"), ia)


WAYS: Final[Mapping[str, Way]] = {"transformer": transformer}
