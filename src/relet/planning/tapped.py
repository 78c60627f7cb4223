"""Tapped runs: built as far as the last tap, and rated for all that is tapped."""

from __future__ import annotations

from typing import TYPE_CHECKING

from relet.planning.current import demand

if TYPE_CHECKING:
    from relet.planning.build import Model


def build_as_far_as_tapped(m: Model) -> None:
    """A run reaches every tap on it, and is built without gaps.

        tap[p,x] <= step[k, j(p)]                  all taps x of run k, j(p) the place's number on it        "reach"
        step[k,j] <= step[k,j-1]                   all runs k, j > 0                                         "on"

    A chain, not a length times a choice: the relaxation pays for every metre.
    """
    s, v, p = m.sets, m.vars, m.programme
    by_place: dict[tuple[str, str], list[int]] = {}
    for site, taps in s.taps.items():
        for x in taps:
            by_place.setdefault((x.run, site), []).append(v.tap[site, x.id])
    for (run, site), columns in by_place.items():
        j = s.runs[run].sites.index(site)
        p.at_most(f"reach[{run},{site}]", [*((1.0, c) for c in columns), (-1.0, v.step[run, j])], 0.0)
    for run, j in v.step:
        if j:
            p.at_most(f"on[{run},{j}]", [(1.0, v.step[run, j]), (-1.0, v.step[run, j - 1])], 0.0)


def carry_the_taps(m: Model) -> None:
    """The demand of all assemblies tapped from a run is within its rating, for each tenant.

        through[t,k,p] >= demand[t,p] - M (1 - sum_x tap[p,x])        all t, k, p        "through"
        sum_p through[t,k,p] <= In[k] step[k,0]                       all t, k           "run"

    M is the greatest demand that can meet at p, at most the largest rating that can be tapped there.
    """
    s, v, p = m.sets, m.vars, m.programme
    for run in s.runs.values():
        for t in s.tenancies:
            flows = []
            for site in run.sites:
                taps = [x for x in s.taps.get(site, ()) if x.run == run.id]
                terms = demand(m, site, t)
                if not taps or not terms:
                    continue
                most = min(sum({c: a for a, c in terms}.values()), max(f.in_a for f in s.frames))
                flow = p.variable(f"through[{t},{run.id},{site}]", high=most)
                tapped = [(-most, v.tap[site, x.id]) for x in taps]
                p.at_least(f"through[{t},{run.id},{site}]", [(1.0, flow), *((-a, c) for a, c in terms), *tapped], -most)
                flows.append((1.0, flow))
            if flows:
                rule = f"conductor.overload of tapped runs of {run.in_a:g} A"
                p.at_most(f"run[{t},{run.id}]", [*flows, (-run.in_a, v.step[run.id, 0])], 0.0, rule)
