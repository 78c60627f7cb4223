"""TT systems: the greatest electrode resistance behind a residual current device."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Final

from relet.electrical.earthing import electrode_limit
from relet.verify.calling import Call
from relet.verify.case import Example, Way
from relet.verify.topics.common import Values


def electrode(ex: Example, call: Call) -> Values:
    """RA for each rated residual current."""
    for idn in ex.figures("IdN_ma", "mA"):
        yield "RA_max_ohm", call(electrode_limit, ex.figure("U_touch_v", "V"), idn)


WAYS: Final[Mapping[str, Way]] = {"electrode": electrode}
