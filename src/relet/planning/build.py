"""The programme of a plan: variables here, one module for each family of constraints.

    minimise  sum frame[p,f] price + sum radial, step, tap price            backbone, once
            + first tenancy: outlets, devices, tests of its circuits
            + each later one: what is added, taken out, tested, and each assembly isolated for it

    frame[p,f]        a frame f hangs at p                                  0/1
    radial[p,r]       p is fed by radial r                                  0/1
    step[k,j]         tapped run k is built as far as its j-th place        0/1
    tap[p,x]          p is fed by tap x                                     0/1
    through[i,p,k]    machine i at p draws through tapped run k                0..1
    seat[i,p,c]       machine i is fed at p from a circuit of kind c        0/1
    count[t,p,c]      circuits of kind c at p while t is in                 continuous; whole for twins
    more, less        outlets and devices put in and taken out between neighbours
    worked[t,p], changed[t]   p is worked in, anything is changed, when t comes

Counts are continuous because each machine is bounded by the frames that can host it (see docs/decisions/020).
"""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass, field

from relet.planning import (
    changing,
    counts,
    cover,
    current,
    diversity,
    feeding,
    ingress,
    leakage,
    nogoods,
    rooms,
    seating,
    tapped,
    ways,
    wishes,
)
from relet.planning.circuits import device_price, outlet_price
from relet.planning.gather import frame_price
from relet.planning.nogoods import Cut
from relet.planning.programme import Programme, Term
from relet.planning.sets import Sets


@dataclass
class Variables:
    """Column numbers by what they stand for."""

    frame: dict[tuple[str, str], int] = field(default_factory=dict)
    radial: dict[tuple[str, str], int] = field(default_factory=dict)
    step: dict[tuple[str, int], int] = field(default_factory=dict)
    tap: dict[tuple[str, str], int] = field(default_factory=dict)
    seat: dict[tuple[str, str, str], int] = field(default_factory=dict)
    count: dict[tuple[str, str, str], int] = field(default_factory=dict)
    through: dict[tuple[str, str, str], int] = field(default_factory=dict)


@dataclass
class Model:
    """A programme with its sets and variables."""

    sets: Sets
    programme: Programme = field(default_factory=Programme)
    vars: Variables = field(default_factory=Variables)

    def seated(self, need: str, site: str) -> list[Term]:
        """Terms of machine i being at site p, whatever the circuit."""
        return [(1.0, self.vars.seat[need, site, c]) for c in self.sets.pairs[need, site].circuits]

    def hung(self, site: str, frames: Iterable[str] | None = None) -> list[Term]:
        """Terms of one of these frames (or any) hanging at p."""
        ids = [f.id for f in self.sets.frames_at[site]] if frames is None else frames
        return [(1.0, self.vars.frame[site, f]) for f in ids]

    def fed(self, site: str) -> list[tuple[float, int]]:
        """(rating A, column) of every feed of p."""
        out = [(r.in_a, self.vars.radial[site, r.id]) for r in self.sets.radials.get(site, ())]
        return out + [(x.in_a, self.vars.tap[site, x.id]) for x in self.sets.taps.get(site, ())]


def build(sets: Sets, cuts: Iterable[Cut] = ()) -> Model:
    """The whole programme."""
    m = Model(sets)
    backbone(m)
    seats(m)
    _counts(m)
    seating.seat_every_machine(m)
    seating.only_where_hosted(m)
    seating.only_where_allowed(m)
    cover.cover_every_machine(m)
    counts.count_circuits(m)
    rooms.fit_on_face_and_rail(m)
    rooms.one_frame_a_place(m)
    ingress.outlet_suits_place(m)
    feeding.feed_every_frame(m)
    current.carry_the_demand(m)
    tapped.build_as_far_as_tapped(m)
    tapped.carry_the_taps(m)
    ways.enough_ways(m)
    leakage.standing_currents(m)
    diversity.rated_together(m)
    changing.price_the_changes(m)
    wishes.cap(m)
    nogoods.forbid(m, cuts)
    return m


def backbone(m: Model) -> None:
    """Columns of what stays."""
    s, v, p = m.sets, m.vars, m.programme
    p.fixed += s.costs.once
    for site in s.places():
        if site not in s.radials:
            continue
        for f in s.frames_at[site]:
            v.frame[site, f.id] = p.choice(f"frame[{site},{f.id}]", cost=frame_price(f, s.costs))
        for r in s.radials[site]:
            v.radial[site, r.id] = p.choice(f"radial[{r.id}]", cost=r.cost)
        for x in s.taps[site]:
            v.tap[site, x.id] = p.choice(f"tap[{x.id}]", cost=x.cost)
    for run in s.runs.values():
        for j, cost in enumerate(run.step_cost):
            v.step[run.id, j] = p.choice(f"step[{run.id},{j}]", cost=cost + (run.start if j == 0 else 0.0))


def seats(m: Model) -> None:
    """Columns of who is fed where."""
    for (i, site), pair in m.sets.pairs.items():
        for c in pair.circuits:
            m.vars.seat[i, site, c] = m.programme.choice(f"seat[{i},{site},{c}]")


def _counts(m: Model) -> None:
    s = m.sets
    for site in dict.fromkeys(q for _, q in s.pairs):
        if site in s.kept_outlets:
            continue
        met: dict[str, int] = {}
        for t in s.tenancies:
            for kind in s.circuits_at(site, t):
                users = sum(n.outlets for n in s.needs_at(site, t) if kind.id in s.pairs[n.id, site].circuits)
                met[kind.id] = max(met.get(kind.id, 0), users)
            for c, most in sorted(met.items()):
                _count(m, t, site, c, most)


def _count(m: Model, t: str, site: str, c: str, most: int) -> None:
    """Circuits of a kind held at a site while t is in: from the first tenancy on that has use for it there."""
    s, kind, cost = m.sets, m.sets.circuits[c], 0.0
    if t == s.tenancies[0]:
        cost = outlet_price(kind.outlet, s.costs) + device_price(kind.device, s.costs) + s.costs.test
    m.vars.count[t, site, c] = m.programme.variable(
        f"count[{t},{site},{c}]", cost=cost, high=float(most), whole=kind.gangs > 1
    )
