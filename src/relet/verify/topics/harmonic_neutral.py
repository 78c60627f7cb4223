"""Third harmonics: the neutral's current and the current that a cable is sized on."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Final

from relet.electrical.conductors import smallest_adequate
from relet.electrical.harmonics import neutral_current, sizing
from relet.tables.cables import harmonic_neutral_factor
from relet.verify.calling import Call
from relet.verify.case import Example, Way
from relet.verify.topics.cable_sizing import ratings
from relet.verify.topics.common import Values, as_size
from relet.working import Figure


def annex(ex: Example, call: Call) -> Values:
    """Neutral current, current to size on, and the section, without and with third harmonics."""
    for third in ex.figures("third_harmonic_percent", "%"):
        yield "neutral_a", call(neutral_current, ex.figure("Ib_a", "A"), third)
        size = sized(ex, call, third)
        yield "sizing_current_a", size
        yield "csa_mm2", as_size(call(smallest_adequate, ratings(ex, "3ph"), size))


def two_cases(ex: Example, call: Call) -> Values:
    """Line governs in the first case, neutral in the second."""
    first, second = ex.figures("third_harmonic_percent", "%")
    yield "sizing_a", sized(ex, call, first)
    yield "sizing_corrected_a", sized(ex, call, second)


def sized(ex: Example, call: Call, third: Figure) -> Figure:
    """Current to size on, by the row of the annex for this share."""
    row = harmonic_neutral_factor(third)
    return call(sizing, ex.figure("Ib_a", "A"), third, row.size_on, row.factor).size_a


WAYS: Final[Mapping[str, Way]] = {"annex": annex, "two_cases": two_cases}
