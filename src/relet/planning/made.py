"""What a plan is made of, kept beside the scheme so that a finding about a seat leads back to a decision."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TypeAlias

from relet.model import Scheme
from relet.planning.contents import Fitted, Room
from relet.planning.feeds import RadialFeed, TapFeed
from relet.planning.needs import Need
from relet.planning.parts import Frame

Contents: TypeAlias = dict[str, dict[str, tuple[Fitted, ...]]]
"""By tenancy and site: the circuits at their places."""
Plugged: TypeAlias = dict[str, dict[str, dict[int, list[Need]]]]
"""By tenancy, site and number of the circuit there: the machines on it."""


@dataclass(frozen=True)
class Hung:
    """An assembly of the plan: its seat, frame, feed (None where it stands already) and room for contents."""

    site: str
    seat: str
    frame: Frame
    feed: RadialFeed | TapFeed | None
    room: Room


@dataclass(frozen=True)
class Made:
    """A scheme with what it was made of, so that a finding about a seat leads back to a decision.

    hung      assemblies by site
    seated    (tenancy, site) -> machines with the circuit each hangs on
    run_site  run or device seat of a feed -> sites that it serves
    tapped    seat of a tapped run or of its device at the board -> the run's name in the programme
    tapped_a  its rating, by the same seats
    """

    scheme: Scheme
    hung: dict[str, Hung]
    seated: dict[tuple[str, str], tuple[tuple[str, str], ...]]
    run_site: dict[str, tuple[str, ...]]
    tapped: dict[str, str]
    tapped_a: dict[str, float]
