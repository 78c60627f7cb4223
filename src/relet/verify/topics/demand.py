"""Demand: allowances, utilisation and coincidence, diversity."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Final

from relet.electrical.balance import Load
from relet.electrical.demand import (
    allowance,
    by_allowances,
    coincident_sum,
    count,
    diversified,
    diversity_factor,
    first_and_balance,
    load_factor,
    mean_power,
    share_of,
    used,
)
from relet.tables.machines import Diversity
from relet.verify.calling import Call
from relet.verify.case import Example, Way
from relet.verify.topics.common import Values
from relet.working import fact


def workshops(ex: Example, call: Call) -> Values:
    """Three boards of a small works, each its machines, sockets and lighting, then the main board."""
    boards, installed = [], []
    for k, name in enumerate("ABC"):
        machines = []
        for i in range(len(ex.inputs[f"{name}_machines_count"])):
            number = ex.figure(f"{name}_machines_count", "", i)
            several = call(count, number, ex.figure(f"{name}_machines_kva", "kVA", i))
            installed.append(several)
            machines.append(call(used, several, ex.figure(f"{name}_machines_ku", "", i)))
        sockets, lighting = ex.figure("sockets_kva", "kVA", k), ex.figure("lighting_kva", "kVA", k)
        installed += [sockets, lighting]
        parts = [
            call(coincident_sum, machines, ex.figure(f"{name}_machines_ks", "")),
            call(coincident_sum, [sockets], ex.figure("sockets_ks", "", k)),
            lighting,
        ]
        boards.append(call(coincident_sum, parts, ex.figure("board_ks", "", k)))
        yield f"{name}_kva", boards[-1]
    yield "installed_kva", call(coincident_sum, installed)
    yield "total_kva", call(coincident_sum, boards, ex.figure("main_ks", ""))


def dwelling(ex: Example, call: Call) -> Values:
    """Allowances between the circuits of one board, and their sum."""
    rest = ex.figure("rings_rest_percent", "%")
    rings = call(allowance, ex.figures("rings_a", "A"), Diversity(ex.figure("rings_largest_percent", "%"), rest, rest))
    yield "rings_after_a", rings
    lamps = call(share_of, call(coincident_sum, ex.figures("lighting_a", "A")), ex.figure("lighting_percent", "%"))
    yield "lighting_after_a", lamps
    cooker = call(
        first_and_balance, ex.figure("cooker_a", "A"), ex.figure("cooker_full_a", "A"),
        ex.figure("cooker_rest_percent", "%"), ex.figure("cooker_socket_a", "A"),
    )  # fmt: skip
    yield "cooker_after_a", cooker
    lighting = ex.figure("lighting_percent", "%")
    rows = {
        "ring": Diversity(ex.figure("rings_largest_percent", "%"), rest, rest),
        "lighting": Diversity(lighting, lighting, lighting),
    }
    circuits = [("ring", i) for i in ex.figures("rings_a", "A")]
    circuits += [("lighting", i) for i in ex.figures("lighting_a", "A")]
    circuits += [("water heater", ex.figure("water_heater_a", "A")), ("cooker", cooker)]
    unity = fact("example.pf", 1.0, "", "chosen")
    loads = [Load(f"{kind} {n}", i, unity, ("L1",), kind=kind) for n, (kind, i) in enumerate(circuits)]
    yield "total_a", call(by_allowances, loads, rows, "L1")


def four_feeders(ex: Example, call: Call) -> Values:
    """Demand factors feeder by feeder, then a diversity factor."""
    connected, factors = ex.figures("connected_kva", "kVA"), ex.figures("demand_factor", "")
    whole = call(coincident_sum, [call(used, s, ku) for s, ku in zip(connected, factors)])
    yield "sum_kva", whole
    yield "diversified_kva", call(diversified, whole, ex.figure("diversity_factor", ""))


def station(ex: Example, call: Call) -> Values:
    """Diversity factor, mean power and load factor."""
    common = ex.figure("station_max_kw", "kW")
    yield "diversity_factor", call(diversity_factor, ex.figures("max_demands_kw", "kW"), common)
    mean = call(mean_power, ex.figure("energy_kwh", "kWh"), ex.figure("time_h", "h"))
    yield "average_kw", mean
    yield "load_factor_percent", call(load_factor, mean, common)


WAYS: Final[Mapping[str, Way]] = {
    "workshops": workshops,
    "dwelling": dwelling,
    "four_feeders": four_feeders,
    "station": station,
}
