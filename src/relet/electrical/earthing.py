"""Earthing: made sizes of protective conductors, and the greatest electrode of a TT system.

The limits are a code's and come in as figures.
"""

from __future__ import annotations

from collections.abc import Sequence

from relet.errors import OutsideTable
from relet.working import Figure, Formula, choose

ELECTRODE_LIMIT = Formula(
    "RAmax = UL / (IdN / 1000)", "ohm", UL="V", IdN="mA", source="IEC 60364-4-41 411.5.3: RA IdN <= UL"
)


def next_size(needed_mm2: Figure, made_mm2: Sequence[Figure]) -> Figure:
    """The smallest made size that is not below the needed one.

    raises  OutsideTable: larger than every made size
    """
    fit = [s for s in made_mm2 if s >= needed_mm2]
    if not fit:
        raise OutsideTable("made sizes", f"{float(needed_mm2):.4g} mm2", f"up to {max(made_mm2, default=0.0):g} mm2")
    one = min(fit)
    return choose([needed_mm2, *made_mm2], lambda _: one, "next made size", name="S")


def electrode_limit(touch_v: Figure, idn_ma: Figure) -> Figure:
    """Greatest resistance of electrode and protective conductor in TT behind an RCD, ohm: UL / IdN."""
    return ELECTRODE_LIMIT(touch_v, idn_ma)
