"""Arc welding sets: the current that heats."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Final

from relet.electrical.currents import effective_current
from relet.verify.calling import Call
from relet.verify.case import Example, Way
from relet.verify.topics.common import Values


def effective(ex: Example, call: Call) -> Values:
    """I1eff over the duty cycle, with idle current."""
    yield (
        "I1eff_a",
        call(effective_current, ex.figure("I1max_a", "A"), ex.figure("duty_percent", "%"), ex.figure("idle_a", "A")),
    )


WAYS: Final[Mapping[str, Way]] = {"effective": effective}
