"""A first plan in hand, in two steps: where to hang what, without counts and changes; then the rest over those places.

    1  minimise frames and radials; seats, room, demand and diversity as in the whole programme; the ways of the board
       are not counted, no run is tapped, nothing is priced inside the assemblies
    2  the whole programme, over the places of step 1 alone

The second is small, and its columns are columns of the whole programme by name, the rest of which stand at zero: its
answer is a plan of the whole. That helps the first answer, not the proof.
"""

from __future__ import annotations

import threading
from collections.abc import Sequence
from dataclasses import replace

import numpy as np

from relet.planning import cover, current, diversity, feeding, rooms, seating
from relet.planning.apart import solve_apart
from relet.planning.build import Model, backbone, build, seats
from relet.planning.nogoods import Cut
from relet.planning.programme import Numbers
from relet.planning.sets import Sets
from relet.planning.solver import Limits, Progress, Watch

ROUGH_GAP = 0.03


def first_plan(
    m: Model, cuts: Sequence[Cut], limits: Limits, watch: Watch | None, stop: threading.Event | None
) -> Numbers | None:
    """Column values of a plan of the whole programme, or None if these two steps find none.

    limits  for each step
    watch   called with prices of the second step, without a bound: it has none for the whole
    """
    rough = replace(limits, gap=ROUGH_GAP)
    placed = placing(m.sets)
    where = solve_apart(placed.programme.arrays(), rough, stop=stop)
    if where.values is None:
        return None
    hung = {p for (p, _), v in placed.vars.frame.items() if where.values[v] > 0.5}
    kept = {p for _, p in m.sets.pairs if p in m.sets.kept_outlets or p in m.sets.kept_frames}
    small = build(narrowed(m.sets, hung | kept), cuts)

    def told(p: Progress) -> None:
        if watch is not None:
            watch(replace(p, bound=None, gap=None))

    answer = solve_apart(small.programme.arrays(), rough, watch=told, stop=stop)
    return None if answer.values is None else carried(small, answer.values, m)


def placing(s: Sets, *, fed: bool = True) -> Model:
    """The programme of the first step; feeds and demand may be left aside."""
    m = Model(replace(s, runs={}, taps=dict.fromkeys(s.taps, ())))
    backbone(m)
    seats(m)
    seating.seat_every_machine(m)
    seating.only_where_hosted(m)
    cover.cover_every_machine(m)
    rooms.fit_the_seated(m)
    rooms.one_frame_a_place(m)
    diversity.rated_together(m)
    if fed:
        feeding.feed_every_frame(m)
        current.carry_the_demand(m)
    return m


def narrowed(s: Sets, sites: set[str]) -> Sets:
    """The same sets with no other sites."""
    return replace(
        s,
        pairs={k: v for k, v in s.pairs.items() if k[1] in sites},
        radials={p: r for p, r in s.radials.items() if p in sites},
        taps={p: x for p, x in s.taps.items() if p in sites},
    )


def carried(of: Model, values: Numbers, to: Model) -> Numbers:
    """Values of one programme's columns put into another's by name; columns that it does not have stand at zero."""
    by_name = dict(zip(of.programme.names, values))
    return np.array([by_name.get(name, 0.0) for name in to.programme.names], dtype=np.float64)
