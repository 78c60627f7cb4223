"""Counts: enough outlets of each kind at each place for the machines fed there. An idle one may stay."""

from __future__ import annotations

from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from relet.planning.build import Model


def count_circuits(m: Model) -> None:
    """As many circuits of each kind as the machines on it take.

        gangs[c] count[t,p,c] >= sum_i outlets[i] seat[i,p,c]          all t, p, c               "count"
        total[c] count[t,p,c] >= sum_i Ib[i] seat[i,p,c]               outlets of several gangs  "load.twin"
        gangs >= sum_i outlets[i] seat[i,p]                            kept outlets              "kept"

    Nothing says equal: an outlet that a later tenant needs may stay idle.
    """
    s, p = m.sets, m.programme
    for (t, site, c), column in m.vars.count.items():
        circuit = s.circuits[c]
        users = [n for n in s.needs_at(site, t) if c in s.pairs[n.id, site].circuits]
        seats = [(-float(n.outlets), m.vars.seat[n.id, site, c]) for n in users]
        p.at_least(f"count[{t},{site},{c}]", [(float(circuit.gangs), column), *seats], 0.0)
        if circuit.gangs > 1:
            loads = [(-n.ib_a, m.vars.seat[n.id, site, c]) for n in users]
            p.at_least(f"twin[{t},{site},{c}]", [(circuit.total_a, column), *loads], 0.0)
    for site, kept in s.kept_outlets.items():
        for t in s.tenancies:
            here = s.needs_at(site, t)
            if not here:
                continue
            rule = f"{site} takes {kept.gangs} plug{'s' if kept.gangs > 1 else ''}"
            taken = [(float(n.outlets), m.vars.seat[n.id, site, "kept"]) for n in here]
            p.at_most(f"kept[{t},{site}]", taken, float(kept.gangs), rule)
            p.at_most(
                f"kept_a[{t},{site}]", [(n.ib_a, m.vars.seat[n.id, site, "kept"]) for n in here], kept.total_a, rule
            )
