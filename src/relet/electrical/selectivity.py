"""Relations between two overcurrent devices in series: which opens first.

A verdict needs more than one of them, and a maker's table, where there is one, goes before all.
"""

from __future__ import annotations

from relet.electrical.bands import Band
from relet.working import Figure, Formula, choose

RATIO = Formula("ratio = Iupper / Ilower", "", Iupper="A", Ilower="A", source="rated currents: a label, no proof")
ENERGY_SHARE = Formula(
    "share = Elower / Eupper", "", Elower="A2s", Eupper="A2s",
    source="IEC 60269-2: operating I2t of the lower against pre-arcing I2t of the upper",
)  # fmt: skip


def rating_ratio(upper_a: Figure, lower_a: Figure) -> Figure:
    """Ratio of two rated currents."""
    return RATIO(upper_a, lower_a)


def energy_share(lower_operating_a2s: Figure, upper_prearcing_a2s: Figure) -> Figure:
    """Operating (let-through) energy of the lower device as a share of what the upper one bears; selective up to 1."""
    return ENERGY_SHARE(lower_operating_a2s, upper_prearcing_a2s)


def magnetic_limit(upper: Band, greatest_a: Figure) -> Figure:
    """Current up to which an upper breaker does not open at once: its lower instantaneous bound, or the greatest fault.

    Below it a lower device that opens at once is alone; at greatest_a the pair is selective over the whole range.
    """
    return choose((upper.instant_low_a, greatest_a), min, "the smaller of lower bound and greatest fault", name="Is")
