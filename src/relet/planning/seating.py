"""Seating: each machine at one place that its lead reaches, and only where a frame can host it."""

from __future__ import annotations

from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from relet.planning.build import Model


def seat_every_machine(m: Model) -> None:
    """Each machine is fed from exactly one place and one kind of circuit.

    sum_p sum_c seat[i,p,c] = 1        all machines i        "seat"
    """
    for i in m.sets.needs:
        terms = [t for p in m.sets.sites_of(i) for t in m.seated(i, p)]
        m.programme.equal(f"seat[{i}]", terms, 1.0)


def only_where_hosted(m: Model) -> None:
    """A machine is fed only where a frame hangs that can host it, by one of its circuits, and by this circuit.

        sum_c seat[i,p,c] <= sum_{f hosts i} frame[p,f]        all i, p        "host"
        seat[i,p,c]       <= sum_{f hosts c} frame[p,f]        where fewer frames take c        "host"

    Per machine: summed over machines it allows slivers of frames and the gap does not close (decision 020).
    A kept outlet needs no frame; a kept assembly has its own.
    """
    s = m.sets
    for (i, p), pair in s.pairs.items():
        if p in s.kept_outlets:
            continue
        if p in s.kept_frames:
            for c in pair.circuits:
                if not s.hosts(s.kept_frames[p].frame, s.circuits[c]):
                    m.programme.at_most(f"host[{i},{p},{c}]", [(1.0, m.vars.seat[i, p, c])], 0.0, "assembly.fit")
            continue
        hosting = [f.id for f in s.frames_hosting(i, p)]
        terms = [*m.seated(i, p), *((-1.0, v) for _, v in m.hung(p, hosting))]
        m.programme.at_most(f"host[{i},{p}]", terms, 0.0)
        for c in pair.circuits:
            takes = [f for f in hosting if s.hosts(next(x for x in s.frames if x.id == f), s.circuits[c])]
            if len(takes) < len(hosting):
                terms = [(1.0, m.vars.seat[i, p, c]), *((-1.0, v) for _, v in m.hung(p, takes))]
                m.programme.at_most(f"host[{i},{p},{c}]", terms, 0.0)


def only_where_allowed(m: Model) -> None:
    """Pairs that a rule or wish forbids. They exist only when reasons are looked for, one row for each reason.

    sum_c seat[i,p,c] <= 0        every i, p and rule that stops it        "stop"
    """
    for (i, p), pair in m.sets.pairs.items():
        for n, rule in enumerate(pair.stops):
            m.programme.at_most(f"stop[{i},{p},{n}]", m.seated(i, p), 0.0, rule)
