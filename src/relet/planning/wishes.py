"""What the person wishes of a plan: pins, walls and places left alone, caps.

    pin      seat[i,p] = 0  at every p that is not the pinned place, wall, outlet or assembly      "pin"
    forbid   place[p] = 0   at every p on the forbidden wall                                       "forbid"
    cap      sum_p place[p] <= most assemblies                                                     "most assemblies"
    cap      price <= most price                                                                   "most price"

Pins and forbidden places take their columns out of the programme (`gather`); when reasons are looked for they stay
and are held at zero by rows under the wish's own name.
"""

from __future__ import annotations

from collections.abc import Sequence
from typing import TYPE_CHECKING

from relet.planning.problem import Problem
from relet.planning.sites import Site

if TYPE_CHECKING:
    from relet.planning.build import Model


def pin_sites(problem: Problem, sites: Sequence[Site]) -> dict[str, tuple[str, frozenset[str]]]:
    """For each pinned machine ("tenancy.machine") the name of the wish and the sites that meet it."""
    out = {}
    for pin, target in problem.wishes.pins.items():
        ids = frozenset(s.id for s in sites if target in (s.id, s.on, s.seat))
        for t in problem.tenancies:
            for m in t.machines:
                if pin in (m, f"{t.id}.{m}"):
                    out[f"{t.id}.{m}"] = (f"wish pin {pin} to {target}", ids)
    return out


def cap(m: Model) -> None:
    """No more assemblies and no higher price than the person allows."""
    wishes = m.sets.problem.wishes
    if wishes.most_assemblies is not None:
        hung = [(1.0, v) for v in m.vars.frame.values()]
        limit = float(wishes.most_assemblies - len(m.sets.kept.assemblies))
        m.programme.at_most("cap[assemblies]", hung, limit, f"wish at most {wishes.most_assemblies} assemblies")
    if wishes.most_price is not None:
        terms = [(c, n) for n, c in enumerate(m.programme.cost) if c]
        limit = wishes.most_price - m.programme.fixed
        m.programme.at_most("cap[price]", terms, limit, f"wish price at most {wishes.most_price:g}")
