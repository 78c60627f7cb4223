"""Heating of a conductor by a fault that is over before heat can leave it: k2 S2 >= I2 t, up to 5 s.

k in A s^0.5/mm2, S in mm2, energies I2t and k2S2 in A2s. A device's energy does not rise or fall steadily with the
current (slow at small faults, one long instantaneous cycle at large ones), so the range between the least and the
greatest fault current is searched whole: between two breaks of a band (bands.Band.breaks) its energy is a power of the
current, so the worst point lies at an end of the range, at one side of a break, or, with several devices in series,
where the energies of two of them cross. Looking at all of these finds it exactly.

Source: IEC 60364-4-43 434.5.2, IEC 60364-5-54 543.1.2, IEC 60949 (from memory; worked examples in tests).
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from itertools import combinations, pairwise
from typing import Final, NamedTuple

from relet.electrical.bands import Band
from relet.electrical.constants import constant
from relet.working import Figure, Formula, choose, solved

HEAT: Final = "IEC 60364-4-43 434.5.2"
CROSSING: Final = "current at which two devices let the same energy through, by halving"

WITHSTAND = Formula("E = k ** 2 * S ** 2", "A2s", k="A s^0.5/mm2", S="mm2", source=HEAT)
LEAST_CSA = Formula("S = sqrt(I ** 2 * t) / k", "mm2", I="A", t="s", k="A s^0.5/mm2", source="IEC 60364-5-54 543.1.2")
CSA_OF_ENERGY = Formula("S = sqrt(E) / k", "mm2", E="A2s", k="A s^0.5/mm2", source="IEC 60364-5-54 543.1.2")
LONGEST = Formula("t = (k * S / I) ** 2", "s", k="A s^0.5/mm2", S="mm2", I="A", source=HEAT)
RATING = Formula("I = k * S / sqrt(t)", "A", k="A s^0.5/mm2", S="mm2", t="s", source=HEAT)
K_OF_TEMPERATURES = Formula(
    "k = K * sqrt(ln((Tf + beta) / (Ti + beta)))", "A s^0.5/mm2",
    K="A s^0.5/mm2", beta="degC", Ti="degC", Tf="degC", source="IEC 60949",
)  # fmt: skip
K_OF_METAL = Formula(
    "K = sqrt(sigma * (beta + T0) / rho) / 1000000", "A s^0.5/mm2",
    sigma="J/K/m3", beta="degC", T0="degC", rho="ohm m", source="IEC 60949",
)  # fmt: skip
BELOW = Formula("I = I1 * (1 - 1e-9)", "A", I1="A", source="just below a gate, where the slower time still holds")
SPARE = Formula("margin = 1 - E / W", "", E="A2s", W="A2s", source="share of the withstand energy that is left")


class Worst(NamedTuple):
    """The point of the range of fault current that heats the conductor most.

    current_a, time_s, energy_a2s   there; the time is that until the first device has surely opened
    withstand_a2s                   k2 S2
    margin                          1 - energy / withstand: negative where the conductor is overheated
    """

    current_a: Figure
    time_s: Figure
    energy_a2s: Figure
    withstand_a2s: Figure
    margin: Figure


class Heating(NamedTuple):
    """What a search over the range of fault current found.

    worst         None where no current of the range is cleared within the limit of time
    clears_from   least current that the devices surely clear within the limit of time, A
    all_cleared   False where the least fault current lies below that: from there on the relation does not hold
    points        every current looked at, with its energy
    """

    worst: Worst | None
    clears_from: Figure
    all_cleared: bool
    points: tuple[tuple[Figure, Figure], ...]


def least_csa(current_a: Figure, time_s: Figure, k: Figure) -> Figure:
    """Smallest conductor for a current over a time, mm2: sqrt(I2 t) / k."""
    return LEAST_CSA(current_a, time_s, k)


def longest_time(k: Figure, csa_mm2: Figure, current_a: Figure) -> Figure:
    """Longest time that a conductor bears a current, s (the relation holds up to 5 s)."""
    return LONGEST(k, csa_mm2, current_a)


def short_time_rating(k: Figure, csa_mm2: Figure, time_s: Figure) -> Figure:
    """Current that a conductor bears for a time, A."""
    return RATING(k, csa_mm2, time_s)


def k_of_temperatures(metal: str, initial_c: Figure, final_c: Figure, k_metal: Figure | None = None) -> Figure:
    """k between two temperatures: K sqrt(ln((Tf + beta) / (Ti + beta))).

    metal    "copper", "aluminium" or "steel"
    k_metal  K, None: the published one
    raises   OutsideTable for another metal
    """
    big_k = constant("iec60949", f"{metal} K", "A s^0.5/mm2", "K") if k_metal is None else k_metal
    return K_OF_TEMPERATURES(big_k, constant("iec60949", f"{metal} beta", "degC", "beta"), initial_c, final_c)


def k_of_metal(heat_j_per_k_m3: Figure, beta_c: Figure, rho_ohm_m: Figure, t0_c: Figure) -> Figure:
    """K of a metal from its volumetric heat, beta, and resistivity at t0_c."""
    return K_OF_METAL(heat_j_per_k_m3, beta_c, t0_c, rho_ohm_m)


def heating(
    bands: Sequence[Band], least_a: Figure, greatest_a: Figure, k: Figure, csa_mm2: Figure, longest_s: Figure
) -> Heating:
    """Search the range of fault current for the point that heats a conductor most.

    bands       devices in series that see the fault; the first to open counts, and the least let-through
    least_a     least fault current (end, hot), greatest_a the greatest (start, cold)
    longest_s   longest time for which the relation holds
    """
    clears_from = choose([b.trips_within(longest_s) for b in bands], min, "device that clears from the lowest current")
    if clears_from > greatest_a:
        return Heating(None, clears_from, False, ())
    low = choose((least_a, clears_from), max, "lowest current of the range that is cleared in time", name="I")
    currents = _looked_at(bands, low, greatest_a)
    points = [
        (i, choose([b.let_through_a2s(i) for b in bands], min, "device that lets least through")) for i in currents
    ]
    worst_energy = choose([e for _, e in points], max, "worst of the whole range of fault current", name="E")
    at = max(range(len(points)), key=lambda n: points[n][1])
    current = points[at][0]
    time = choose([b.slowest_s(current) for b in bands], min, "whichever opens first", name="t")
    bears = WITHSTAND(k, csa_mm2)
    worst = Worst(current, time, worst_energy, bears, SPARE(worst_energy, bears))
    return Heating(worst, clears_from, bool(least_a >= clears_from), tuple(points))


def _looked_at(bands: Sequence[Band], low: Figure, high: Figure) -> list[Figure]:
    """Currents of the range among which the greatest energy is found, ascending."""
    gates = sorted(g for b in bands for g in b.breaks() if low < g < high)
    currents = [low, *(i for g in gates for i in (BELOW(g), g) if i >= low), high]
    crossings = [
        _crossing(one, other, start, end)
        for one, other in combinations(bands, 2)
        for start, end in pairwise(currents)
        if (_excess(one, other, start) > 0) != (_excess(one, other, end) > 0)
    ]
    return sorted([*currents, *crossings])


def _excess(one: Band, other: Band, current_a: Figure) -> float:
    a, b = float(one.let_through_a2s(current_a)), float(other.let_through_a2s(current_a))
    return 0.0 if a == b else a - b


def _crossing(one: Band, other: Band, start: Figure, end: Figure) -> Figure:
    """Current between two breaks where two devices let the same energy through, by halving in the logarithm."""
    a, b = float(start), float(end)
    first = _excess(one, other, start) > 0
    for _ in range(60):
        middle = solved(math.sqrt(a * b), "A", CROSSING, b / a - 1, (start, end), name="I")
        if (_excess(one, other, middle) > 0) == first:
            a = float(middle)
        else:
            b = float(middle)
    return middle
