"""Rated diversity: circuits that are loaded together warm one another, so each may carry less the more there are."""

from __future__ import annotations

from typing import TYPE_CHECKING

from relet.planning.programme import Term

if TYPE_CHECKING:
    from relet.planning.build import Model


def most_circuits(ib_a: float, inc_a: float, diversity: tuple[float, ...]) -> int:
    """Most circuits in an assembly beside which a circuit of rating Inc still carries Ib: Ib <= Inc RDF(n)."""
    return sum(1 for factor in diversity if ib_a <= inc_a * factor + 1e-9)


def rated_together(m: Model) -> None:
    """A machine that fills its circuit is seated only among few others.

        sum_j seat[j,p] / gangs + (K - n) seat[i,p,k] <= K hung[p]        all i, p, k with n < K        "together"
        seat[i,p,k] + sum_c seat[j,p,c] <= hung[p]                        where n = 1, all j            "alone"

    n: most circuits in use beside which k carries i; K: most that can be in use at p at once; hung[p]: a frame hangs
    at p (1 for a kept assembly). On the right hung[p], not 1: slivers of frames would else let slivers of too many in.
    """
    s, p = m.sets, m.programme
    for (i, site, c), column in m.vars.seat.items():
        need = s.needs[i]
        if c == "kept":
            continue
        frames = [s.kept_frames[site].frame] if site in s.kept_frames else s.frames_at[site]
        others = {n.id: _outlets(m, n.id, site) for n in s.needs_at(site, need.tenancy)}
        most = min(
            float(max((f.apertures for f in frames), default=0)), sum(a for t in others.values() for a, _ in t[:1])
        )
        fits = most_circuits(need.heats_a, s.circuits[c].inc_a, s.diversity)
        if fits >= most:
            continue
        hung, right = ([], most) if site in s.kept_frames else ([(-most, v) for _, v in m.hung(site)], 0.0)
        used = [t for several in others.values() for t in several]
        terms = [*used, (most - fits, column), *hung]
        p.at_most(f"together[{i},{site},{c}]", terms, right, "assembly.circuit_rating")
        if fits > 1:
            continue
        for j in others:
            if j != i:
                hung = [] if site in s.kept_frames else [(-1.0, v) for _, v in m.hung(site)]
                both = [(1.0, column), *m.seated(j, site), *hung]
                p.at_most(
                    f"alone[{i},{j},{site},{c}]", both, 1.0 if site in s.kept_frames else 0.0, "assembly.circuit_rating"
                )


def _outlets(m: Model, need: str, site: str) -> list[Term]:
    """Outlets that a machine brings into use at a site: a share of one that takes several plugs."""
    s = m.sets
    return [(1.0 / s.circuits[c].gangs, m.vars.seat[need, site, c]) for c in s.pairs[need, site].circuits]
