"""What of a plan is built larger than the programme reckoned with."""

from __future__ import annotations

from dataclasses import dataclass, field

from relet.model import Part
from relet.planning.feeds import RadialFeed, TapFeed
from relet.planning.parts import Frame


@dataclass(frozen=True)
class Sizing:
    """By site, where it differs from the programme's: size of the cable, device at the board, the feed itself (of a
    higher rating), and the frame that bears it."""

    csa_mm2: dict[str, float] = field(default_factory=dict)
    device: dict[str, Part] = field(default_factory=dict)
    feed: dict[str, RadialFeed | TapFeed] = field(default_factory=dict)
    frame: dict[str, Frame] = field(default_factory=dict)
