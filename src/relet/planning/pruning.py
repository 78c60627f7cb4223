"""Columns that no best plan can use, left out before the solver sees them.

    a frame   with more room and current than all who reach its place could ever fill, where a smaller one has enough
    a feed    rated above all that could ever draw at its place, or no cheaper than one of a higher rating
    a circuit for whose every user at a place another does as much there for less money and no more room

Each is exact: the smaller one does the same for no more money. "Ever" counts every machine of a tenancy that reaches
the place, all single-phase ones on one line.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import replace
from typing import TypeVar

from relet.planning.circuits import Circuit, circuit_price
from relet.planning.diversity import most_circuits
from relet.planning.feeds import RadialFeed, TapFeed
from relet.planning.gather import frame_price
from relet.planning.parts import Frame, datum
from relet.planning.sets import Pair, Sets


def prune(s: Sets) -> Sets:
    """The same sets without what no best plan can use."""
    if any(pair.stops for pair in s.pairs.values()):
        return s
    s = replace(s, pairs=_worth_it(s))
    radials, taps, frames_at = dict(s.radials), dict(s.taps), dict(s.frames_at)
    for site in s.places():
        if site not in s.radials:
            continue
        apertures, ways, amps = _most(s, site)
        frames_at[site] = _enough(s, site, apertures, ways, amps)
        radials[site] = _rated(s.radials[site], amps)
        by_run: dict[str, list[TapFeed]] = {}
        for x in s.taps[site]:
            by_run.setdefault(x.run, []).append(x)
        taps[site] = tuple(x for several in by_run.values() for x in _rated(several, amps))
    return replace(s, radials=radials, taps=taps, frames_at=frames_at)


def _worth_it(s: Sets) -> dict[tuple[str, str], Pair]:
    """Pairs without circuits that another serves as well for all who could use them at the same place."""
    price = {c.id: circuit_price(c, s.costs) for c in s.circuits.values()}
    out = dict(s.pairs)
    for site in dict.fromkeys(p for _, p in s.pairs):
        if site in s.kept_outlets:
            continue
        users: dict[str, set[str]] = {}
        for i, p in s.pairs:
            if p == site:
                for c in s.pairs[i, p].circuits:
                    users.setdefault(c, set()).add(i)
        gone: set[str] = set()
        for c in sorted(users, key=lambda c: (-price[c], c)):
            better = (b for b in users if b not in gone and (price[b], b) < (price[c], c) and users[b] >= users[c])
            if any(_serves_as_well(s, s.circuits[b], s.circuits[c], users[c], site) for b in better):
                gone.add(c)
        for i, p in s.pairs:
            if p == site:
                out[i, p] = replace(s.pairs[i, p], circuits=tuple(c for c in s.pairs[i, p].circuits if c not in gone))
    return out


def _serves_as_well(s: Sets, b: Circuit, c: Circuit, users: set[str], site: str) -> bool:
    """Room, plugs, depth, and how many others may be in use beside each user."""
    if b.apertures > c.apertures or b.ways > c.ways or b.gangs < c.gangs or (c.gangs > 1 and b.total_a < c.total_a):
        return False
    frames = [s.kept_frames[site].frame] if site in s.kept_frames else s.frames_at[site]
    if any(s.hosts(f, c) and not s.hosts(f, b) for f in frames):
        return False
    most = max((f.apertures for f in frames), default=0)
    return all(
        min(most, most_circuits(s.needs[i].heats_a, b.inc_a, s.diversity))
        >= min(most, most_circuits(s.needs[i].heats_a, c.inc_a, s.diversity))
        for i in users
    )


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


def _enough(s: Sets, site: str, apertures: int, ways: int, amps: float) -> tuple[Frame, ...]:
    """Frames less those that a no dearer one serves as well here, for every machine that could be there."""
    frames = sorted(s.frames_at[site], key=lambda f: (frame_price(f, s.costs), f.id))
    needs = [s.needs[i] for i, p in s.pairs if p == site]

    def serves(a: Frame, b: Frame) -> bool:
        return (
            min(a.apertures, apertures) >= min(b.apertures, apertures)
            and min(a.ways, ways) >= min(b.ways, ways)
            and min(a.in_a, amps) >= min(b.in_a, amps)
            and datum(a.part, "face_depth_mm") >= datum(b.part, "face_depth_mm")
            and all(s.bears(a, n) or not s.bears(b, n) for n in needs)
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
