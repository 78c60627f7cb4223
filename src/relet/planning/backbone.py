"""What stays: devices at the board, cables, tapped runs with taps and drops, enclosures with their incomers."""

from __future__ import annotations

from collections.abc import Collection, Iterator, Mapping
from dataclasses import dataclass, field

from relet.model import Assembly, Device, Run, Tap
from relet.planning import pieces
from relet.planning.build import Model
from relet.planning.feeds import RadialFeed, TapFeed, run_on_walls
from relet.planning.made import Hung
from relet.planning.sizing import Sizing


@dataclass
class Backbone:
    """New pieces by seat, and which sites each feed serves.

    tapped  seat of a tapped run or of its device -> the run's name in the programme
    """

    devices: dict[str, Device] = field(default_factory=dict)
    assemblies: dict[str, Assembly] = field(default_factory=dict)
    runs: dict[str, Run] = field(default_factory=dict)
    taps: dict[str, Tap] = field(default_factory=dict)
    sites: dict[str, tuple[str, ...]] = field(default_factory=dict)
    tapped: dict[str, str] = field(default_factory=dict)


def bones_of(m: Model, hung: Mapping[str, Hung], sizing: Sizing) -> Backbone:
    """The new backbone: one way of the board for each feed, in the order of the walls."""
    bones, standing = Backbone(), m.sets.problem.standing
    ways, runs = iter(m.sets.ways), free_names("R", {*standing.runs})
    _tapped(m, hung, bones, ways, runs, sizing)
    for h in hung.values():
        if h.feed is None:
            continue
        if isinstance(h.feed, RadialFeed):
            way, seat = next(ways), next(runs)
            r, csa = h.feed, sizing.csa_mm2.get(h.site, h.feed.csa_mm2)
            bones.devices[way] = pieces.device("plan", way, sizing.device.get(h.site, r.device))
            cable = m.sets.problem.choices.cable
            bones.runs[seat] = pieces.run(seat, way, h.seat, cable, csa, r.length_m, route_m=r.points)
            bones.sites[seat] = bones.sites[way] = (h.site,)
        site = m.sets.sites[h.site]
        bones.assemblies[h.seat] = pieces.assembly(h.seat, h.frame.part, site.at_m, site.height_m, h.site)
        bones.devices[f"{h.seat}/incomer"] = pieces.device("plan", f"{h.seat}/incomer", h.frame.incomer)
    return bones


def _tapped(
    m: Model, hung: Mapping[str, Hung], bones: Backbone, ways: Iterator[str], runs: Iterator[str], sizing: Sizing
) -> None:
    s = m.sets
    for name, run in s.runs.items():
        on = {h.site: (h, h.feed) for h in hung.values() if isinstance(h.feed, TapFeed) and h.feed.run == name}
        if not on:
            continue
        way, seat = next(ways), next(runs)
        last = max(run.sites.index(site) for site in on)
        length, points = run_on_walls(s.problem, way, [s.sites[q] for q in run.sites[: last + 1]])
        bones.devices[way] = pieces.device("plan", way, run.device)
        bones.runs[seat] = pieces.tapped_run(seat, way, run.part, length, points)
        bones.sites[seat] = bones.sites[way] = tuple(q for q in run.sites if q in on)
        bones.tapped[seat] = bones.tapped[way] = name
        for n, site in enumerate(bones.sites[seat], 1):
            h, x = on[site]
            tap, drop = f"{seat}/tap/{n}", next(runs)
            csa = sizing.csa_mm2.get(site, x.csa_mm2)
            bones.taps[tap] = pieces.tap(tap, x.tap, x.along_m)
            bones.devices[tap] = pieces.device("plan", tap, x.device)
            bones.runs[drop] = pieces.run(drop, tap, h.seat, s.problem.choices.flexible, csa, x.drop_m)
            bones.sites[tap] = bones.sites[drop] = (site,)


def free_names(letter: str, taken: Collection[str]) -> Iterator[str]:
    """ "A1", "A2" ... without the names of what stands: a new piece is never mistaken for an old one."""
    n = 0
    while True:
        n += 1
        if f"{letter}{n}" not in taken:
            yield f"{letter}{n}"
