"""Tapped runs: built as far as the last tap, and rated for all that is tapped."""

from __future__ import annotations

from typing import TYPE_CHECKING

from relet.planning.current import ANGLES, line_share
from relet.planning.programme import Term

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

        sum_c seat[i,p,c] = sum_k through[i,p,k] + radial[i,p]                    all i, p          "split"
        through[i,p,k] <= sum_{x of k} tap[p,x],  radial[i,p] <= sum_r radial[p,r]   all i, p, k    "through"
        sum_{p at j or beyond} through[i,p,k] <= step[k,j]                        all i, k, j       "beyond"
        sum_i I[i] through[i,p,k] <= sum_{x of k} In[x] tap[p,x]                  all t, p, k       "tap"
        sum_{p at j or beyond} sum_i I[i] through[i,p,k] <= In[k] step[k,j]       all t, k, j       "run"
        sum_p (sum_{i of three lines} I[i] through[i,p,k] + I[h] through[h,p,k])
              <= In[k] step[k,0]                           all k, single-phase h                    "beside"

    Each machine's seat is split by what feeds its place. A bound through >= demand - M (1 - tap) says the same of
    whole numbers and leaves the relaxation slivers of runs; so would taps alone: three neighbouring taps of a third
    each would pay for a third of a run. "beyond" makes each machine pay for the whole of it (decision 021).
    Demand is seen along the middle angle.
    """
    s, v, p = m.sets, m.vars, m.programme
    flows: dict[tuple[str, str], list[tuple[int, Term]]] = {}
    taps_at: dict[tuple[str, str, str], list[Term]] = {}
    three: dict[tuple[str, str], list[Term]] = {}
    one: dict[tuple[str, str], list[Term]] = {}
    beyond: dict[tuple[str, str], list[tuple[int, Term]]] = {}
    for (i, site), _ in s.pairs.items():
        taps, need = s.taps.get(site, ()), s.needs[i]
        if not taps:
            continue
        split = m.seated(i, site)
        amps = need.demand_a(ANGLES[1]) * line_share(need, s.phases)
        for run in sorted({x.run for x in taps}):
            part = v.through[i, site, run] = p.variable(f"through[{i},{site},{run}]")
            feeds = [(-1.0, v.tap[site, x.id]) for x in taps if x.run == run]
            p.at_most(f"through[{i},{site},{run}]", [(1.0, part), *feeds], 0.0)
            split.append((-1.0, part))
            j = s.runs[run].sites.index(site)
            flows.setdefault((need.tenancy, run), []).append((j, (amps, part)))
            alone = (need.demand_a(ANGLES[1]), part)
            if need.phases == 3:
                three.setdefault((need.tenancy, run), []).append(alone)
            elif s.phases == 3:
                one.setdefault((i, run), []).append(alone)
            beyond.setdefault((i, run), []).append((j, (1.0, part)))
            taps_at.setdefault((need.tenancy, site, run), []).append((amps, part))
        part = p.variable(f"by_radial[{i},{site}]")
        radial = [(-1.0, v.radial[site, r.id]) for r in s.radials.get(site, ())]
        p.at_most(f"through[{i},{site},radial]", [(1.0, part), *radial], 0.0)
        p.equal(f"split[{i},{site}]", [*split, (-1.0, part)], 0.0)
    for (i, run), parts in beyond.items():
        for j in sorted({n for n, _ in parts}):
            p.at_most(f"beyond[{i},{run},{j}]", [*(x for n, x in parts if n >= j), (-1.0, v.step[run, j])], 0.0)
    for (t, site, run), terms in taps_at.items():
        rated = [(-x.in_a, v.tap[site, x.id]) for x in s.taps[site] if x.run == run]
        p.at_most(f"tap[{t},{site},{run}]", [*terms, *rated], 0.0, "conductor.overload of feeds")
    for (t, run), through in flows.items():
        rule = f"conductor.overload of tapped runs of {s.runs[run].in_a:g} A"
        for j in sorted({0, *(n for n, _ in through)}):
            bought = (-s.runs[run].in_a, v.step[run, j])
            p.at_most(f"run[{t},{run},{j}]", [*(x for n, x in through if n >= j), bought], 0.0, rule)
    for (i, run), own in one.items():
        rule = f"conductor.overload of tapped runs of {s.runs[run].in_a:g} A"
        terms = [*three.get((s.needs[i].tenancy, run), []), *own, (-s.runs[run].in_a, v.step[run, 0])]
        p.at_most(f"beside[{i},{run}]", terms, 0.0, rule)
