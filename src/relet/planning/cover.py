"""Cover rows: said once more, and stronger, that something must hang within each machine's reach."""

from __future__ import annotations

from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from relet.planning.build import Model


def cover_every_machine(m: Model) -> None:
    """Some frame that can host it hangs within each machine's reach.

        sum_{p in reach of i} sum_{f hosts i} frame[p,f] >= 1        all i without kept hosts    "cover"

    Implied by seating and hosting for whole numbers; written out, the solver finds its best cuts from it.
    """
    s = m.sets
    done: set[frozenset[int]] = set()
    for i in s.needs:
        sites = s.sites_of(i)
        if any(p in s.kept_outlets or p in s.kept_frames for p in sites):
            continue
        terms = [t for p in sites for t in m.hung(p, [f.id for f in s.frames_hosting(i, p)])]
        key = frozenset(v for _, v in terms)
        if key not in done:
            done.add(key)
            m.programme.at_least(f"cover[{i}]", terms, 1.0)
