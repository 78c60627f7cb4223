"""Columns that no best plan can use, left out before the solver sees them.

    a frame   with more room and current than all who reach its place could ever fill, where a smaller one has enough
    a feed    rated above all that could ever draw at its place, or above a dearer-or-equal feed of a higher rating

Each is exact: the smaller one does the same for no more money. "Ever" counts every machine of a tenancy that reaches
the place, all single-phase ones on one line.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import replace
from typing import TypeVar

from relet.planning.circuits import Circuit
from relet.planning.costs import Costs
from relet.planning.feeds import RadialFeed, TapFeed
from relet.planning.gather import frame_price
from relet.planning.parts import Frame
from relet.planning.sets import Sets


def prune(s: Sets) -> Sets:
    """The same sets without what no best plan can use."""
    if any(pair.stops for pair in s.pairs.values()):
        return s
    radials, taps, frames_at = dict(s.radials), dict(s.taps), dict(s.frames_at)
    for site in s.places():
        if site not in s.radials:
            continue
        apertures, ways, amps = _most(s, site)
        frames_at[site] = _enough(s.frames_at[site], apertures, ways, amps, s.costs)
        radials[site] = _rated(s.radials[site], amps)
        by_run: dict[str, list[TapFeed]] = {}
        for x in s.taps[site]:
            by_run.setdefault(x.run, []).append(x)
        taps[site] = tuple(x for several in by_run.values() for x in _rated(several, amps))
    out = replace(s, radials=radials, taps=taps)
    out.frames_at.clear()
    out.frames_at.update(frames_at)
    return out


def _most(s: Sets, site: str) -> tuple[int, int, float]:
    """Most apertures, ways and amperes on one line that could ever be asked of a site; idle circuits included."""
    apertures = ways = 0
    amps = 0.0
    held: dict[str, int] = {}
    for t in s.tenancies:
        needs = s.needs_at(site, t)
        amps = max(amps, sum(n.ib_a for n in needs))
        for c in s.circuits_at(site, t):
            users = sum(n.outlets for n in needs if c.id in s.pairs[n.id, site].circuits)
            held[c.id] = max(held.get(c.id, 0), users)
    kinds: Mapping[str, Circuit] = s.circuits
    apertures = sum(kinds[c].apertures * n for c, n in held.items())
    ways = sum(kinds[c].ways * n for c, n in held.items())
    return apertures, ways, amps


def _enough(frames: Sequence[Frame], apertures: int, ways: int, amps: float, costs: Costs) -> tuple[Frame, ...]:
    """Frames less those that a no dearer one serves as well here."""
    frames = sorted(frames, key=lambda f: (frame_price(f, costs), f.id))

    def serves(a: Frame, b: Frame) -> bool:
        return (
            min(a.apertures, apertures) >= min(b.apertures, apertures)
            and min(a.ways, ways) >= min(b.ways, ways)
            and min(a.in_a, amps) >= min(b.in_a, amps)
            and float(a.part.data.get("face_depth_mm", 0)) >= float(b.part.data.get("face_depth_mm", 0))
        )

    return tuple(f for n, f in enumerate(frames) if not any(serves(g, f) for g in frames[:n]))


Feed = TypeVar("Feed", RadialFeed, TapFeed)


def _rated(feeds: Sequence[Feed], amps: float) -> tuple[Feed, ...]:
    """Feeds less those that a no dearer one serves as well, by rating."""
    kept: list[Feed] = []
    for r in sorted(feeds, key=lambda r: (r.cost, -r.in_a)):
        if not any(min(q.in_a, amps) >= min(r.in_a, amps) for q in kept):
            kept.append(r)
    return tuple(sorted(kept, key=lambda r: r.in_a))
