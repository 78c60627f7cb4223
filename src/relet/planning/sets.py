"""The sets of the programme: what may be chosen, and which choices go together.

t  tenancies          i  machines ("tenancy.machine")      p  sites: places, kept assemblies, kept outlets
f  frames             c  circuits (outlet + device)        r  radial feeds, tapped runs, taps
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field

from relet.codes import Code
from relet.model import Installation, Seat
from relet.planning.circuits import Circuit, covers
from relet.planning.costs import Costs
from relet.planning.feeds import RadialFeed, TapFeed, TappedRun
from relet.planning.needs import Ip, Need
from relet.planning.parts import Frame, datum, ip_codes, same_range
from relet.planning.problem import Problem
from relet.planning.sites import Site


def size_of(frame: Frame) -> tuple[float, float]:
    """Width and depth of a frame's enclosure, mm."""
    return datum(frame.part, "width_mm"), datum(frame.part, "depth_mm")


@dataclass(frozen=True)
class Pair:
    """A machine at a site.

    circuits  kinds of circuit that may feed it there; for a kept outlet only its own seat counts
    stops     names of the rules and wishes that stand in the way, () if none
    """

    circuits: tuple[str, ...]
    stops: tuple[str, ...] = ()


@dataclass(frozen=True)
class KeptOutlet:
    """A kept outlet on the wall: how many plugs it takes and what it carries."""

    seat: Seat
    gangs: int
    total_a: float


@dataclass(frozen=True)
class KeptFrame:
    """A kept assembly: its frame, what its kept contents leave of it, and the rating that feeds it."""

    seat: Seat
    frame: Frame
    feed_a: float


@dataclass(frozen=True)
class Sets:
    """Everything the constraint families range over."""

    problem: Problem
    code: Code
    costs: Costs
    kept: Installation
    needs: Mapping[str, Need]
    sites: Mapping[str, Site]
    frames: tuple[Frame, ...]
    circuits: Mapping[str, Circuit]
    pairs: Mapping[tuple[str, str], Pair]
    radials: Mapping[str, tuple[RadialFeed, ...]]
    runs: Mapping[str, TappedRun]
    taps: Mapping[str, tuple[TapFeed, ...]]
    kept_outlets: Mapping[str, KeptOutlet]
    kept_frames: Mapping[str, KeptFrame]
    ways: tuple[str, ...]
    phases: int
    spare_share: float
    idn_ma: float
    standing_share: float
    diversity: tuple[float, ...]
    every_pair: bool = False
    frames_at: dict[str, tuple[Frame, ...]] = field(default_factory=dict)

    def __post_init__(self) -> None:
        if self.frames_at:  # pruned already
            return
        for s in self.sites.values():
            suits = tuple(f for f in self.frames if s.ip.met_by(*ip_codes(f.part)) and size_of(f) in s.takes)
            if self.every_pair:  # to tell what clashes: the pairs carry the names of what stands in the way
                suits = self.frames
            self.frames_at[s.id] = () if s.seat else suits

    @property
    def tenancies(self) -> tuple[str, ...]:
        """Tenancies in their order."""
        return tuple(t.id for t in self.problem.tenancies)

    def of(self, tenancy: str) -> list[Need]:
        """Needs of one tenancy."""
        return [n for n in self.needs.values() if n.tenancy == tenancy]

    def sites_of(self, need: str) -> list[str]:
        """Sites that a machine may be seated at."""
        return [p for i, p in self.pairs if i == need]

    def needs_at(self, site: str, tenancy: str) -> list[Need]:
        """Machines of a tenancy that may be seated at a site."""
        return [self.needs[i] for i, p in self.pairs if p == site and self.needs[i].tenancy == tenancy]

    def places(self) -> list[str]:
        """Sites where something new may hang, in order."""
        return [s.id for s in self.sites.values() if not s.seat]

    def hosts(self, frame: Frame, circuit: Circuit) -> bool:
        """True if a frame takes a circuit: depth, range, room for one, current."""
        o, d, e = circuit.outlet, circuit.device, frame.part
        return (
            datum(o, "depth_mm") <= (datum(e, "face_depth_mm") or float("inf"))
            and datum(d, "depth_mm") <= (datum(e, "rail_depth_mm") or float("inf"))
            and same_range(e, d)
            and same_range(e, o)
            and circuit.apertures <= frame.apertures
            and circuit.ways <= frame.ways
        )

    def frames_hosting(self, need: str, site: str) -> tuple[Frame, ...]:
        """Frames at a site that can host a machine with at least one of its circuits there."""
        kinds = [self.circuits[c] for c in self.pairs[need, site].circuits]
        n = self.needs[need]
        return tuple(
            f
            for f in self.frames_at[site]
            if f.in_a + 1e-9 >= n.ib_a and self.bears(f, n) and any(self.hosts(f, c) for c in kinds)
        )

    def bears(self, frame: Frame, need: Need) -> bool:
        """True if a frame has the ingress code that a machine asks, and its incomer the type of residual current."""
        if not self.every_pair and not need.ip.met_by(*ip_codes(frame.part)):
            return False
        return not self.one_incoming or covers(frame.incomer, need.rcd_type)

    def circuits_at(self, site: str, tenancy: str) -> list[Circuit]:
        """Kinds of circuit that some machine of a tenancy could use at a site."""
        ids = {c for n in self.needs_at(site, tenancy) for c in self.pairs[n.id, site].circuits}
        return [self.circuits[c] for c in sorted(ids)]

    def asked_ip(self, need: Need, site: Site) -> Ip:
        """Ingress asked of the outlet that feeds a machine from a site."""
        return site.ip.with_(need.ip)

    @property
    def one_incoming(self) -> bool:
        """True if one residual-current device at the incomer protects a whole assembly."""
        return self.problem.choices.arrangement == "one incoming device"
