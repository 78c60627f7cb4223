"""Readings of conductors: splitting R1 + R2, the steps of the ring test."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Final

from relet.electrical.impedance import ring_cross_connected, split_r1_r2
from relet.verify.calling import Call
from relet.verify.case import Example, Way
from relet.verify.topics.common import Values, nought


def split(ex: Example, call: Call) -> Values:
    """R1 and R2 by the sections of the two conductors."""
    r1, r2 = call(
        split_r1_r2, ex.figure("r1_plus_r2_ohm", "ohm"), ex.figure("csa_line_mm2", "mm2"),
        ex.figure("csa_cpc_mm2", "mm2"),
    )  # fmt: skip
    yield "r2_ohm", r2
    yield "r1_ohm", r1


def ring(ex: Example, call: Call) -> Values:
    """Cross-connected reading: to be expected, and at the board itself."""
    r1, r2 = ex.figure("r1_ohm", "ohm"), ex.figure("r2_ohm", "ohm")
    yield "R1R2_max_at_midpoint_ohm", call(ring_cross_connected, r1, r2)
    yield "R1R2_at_board_ohm", call(ring_cross_connected, r1, r2, nought(""))


WAYS: Final[Mapping[str, Way]] = {"split": split, "ring": ring}
