"""Rated diversity: circuits that are loaded together warm one another, so each may carry less the more there are."""

from __future__ import annotations

from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from relet.planning.build import Model


def most_circuits(ib_a: float, inc_a: float, diversity: tuple[float, ...]) -> int:
    """Most circuits in an assembly beside which a circuit of rating Inc still carries Ib: Ib <= Inc RDF(n)."""
    return sum(1 for factor in diversity if ib_a <= inc_a * factor + 1e-9)


def rated_together(m: Model) -> None:
    """A machine that fills its circuit is seated only among few others.

        sum_c count[t,p,c] + (K - n) seat[i,p,k] <= K        n: most circuits beside which k carries i        "together"

    K is the most circuits that any frame at p takes.
    """
    s, p = m.sets, m.programme
    for (i, site, c), column in m.vars.seat.items():
        need = s.needs[i]
        if c == "kept":
            continue
        frames = [s.kept_frames[site].frame] if site in s.kept_frames else s.frames_at[site]
        room = max((f.apertures for f in frames), default=0)
        fits = most_circuits(need.ib_a, s.circuits[c].inc_a, s.diversity)
        if fits >= room:
            continue
        counted = [(1.0, v) for (t, q, _), v in m.vars.count.items() if q == site and t == need.tenancy]
        p.at_most(
            f"together[{i},{site},{c}]",
            [*counted, (float(room - fits), column)],
            float(room),
            "assembly.circuit_rating",
        )
