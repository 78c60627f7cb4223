"""Current: the demand of each tenant on each assembly fits its feed."""

from __future__ import annotations

from typing import TYPE_CHECKING

from relet.planning.needs import Need
from relet.planning.programme import Term

if TYPE_CHECKING:
    from relet.planning.build import Model


def line_share(need: Need, phases: int) -> float:
    """Share of a machine's current that falls on the average line: a third of a single-phase one."""
    return 1.0 if need.phases == 3 or phases == 1 else 1.0 / 3.0


ANGLES = (0.0, 0.35, 0.7)
"""Angles (radians) along which a sum of phasors is looked at: from each it is no longer than it really is."""


def demand(m: Model, site: str, tenancy: str, angle: float) -> list[Term]:
    """Terms of the demand on the average line at a site, A, seen along an angle: never above that of the worst line."""
    return [
        (n.demand_a(angle) * line_share(n, m.sets.phases), v)
        for n in m.sets.needs_at(site, tenancy)
        for _, v in m.seated(n.id, site)
    ]


def _beside(m: Model, site: str, tenancy: str, angle: float) -> list[tuple[str, list[Term]]]:
    """For each single-phase machine at a site the terms of its own line: itself, and all that load three lines."""
    if m.sets.phases != 3:
        return []
    here = m.sets.needs_at(site, tenancy)
    three = [(n.demand_a(angle), v) for n in here if n.phases == 3 for _, v in m.seated(n.id, site)]
    singles = [n for n in here if n.phases != 3 and n.demand_a(angle) > 0]
    return [(n.id, [*three, *((n.demand_a(angle), v) for _, v in m.seated(n.id, site))]) for n in singles]


def carry_the_demand(m: Model) -> None:
    """Demand on the average line within the rating of the feed; and no machine larger than its feed.

        sum_i I[i] cos(phi[i] - angle) / lines seat[i,p] <= sum_r In[r] feed[p,r]        all t, p, angles     "demand"
        sum_{i of three lines} I[i] cos(..) seat[i,p] + I[k] cos(..) seat[k,p]
              <= sum_r In[r] feed[p,r]            all t, p, single-phase k, angles                            "beside"
        Ib[i] sum_c seat[i,p,c] <= sum_r In[r] feed[p,r]                                 all i, p             "largest"

    The case that governs is restart after a loss of supply: all that comes back by itself, as phasors. A projection is
    linear and never overstates it, nor does the average line overstate the worst. "beside" is exact for up to three
    single-phase machines, each on a line of its own. What is still short for some tenant comes back from the checks.
    """
    s = m.sets
    for site in s.sites:
        if site in s.kept_outlets:
            continue
        feeds = m.fed(site)
        limit = s.kept_frames[site].feed_a if site in s.kept_frames else 0.0
        carried = [(-a, v) for a, v in feeds]
        for t in s.tenancies:
            for k, angle in enumerate(ANGLES):
                if terms := demand(m, site, t, angle):
                    name = f"demand[{t},{site},{k}]"
                    m.programme.at_most(name, [*terms, *carried], limit, "conductor.overload of feeds")
                for one, beside in _beside(m, site, t, angle):
                    m.programme.at_most(
                        f"beside[{one},{site},{k}]", [*beside, *carried], limit, "conductor.overload of feeds"
                    )
        least = min((a for a, _ in feeds), default=0.0)
        for n in (n for t in s.tenancies for n in s.needs_at(site, t)):
            if n.ib_a > max(least, limit):
                able = [(-1.0, v) for a, v in feeds if a + 1e-9 >= n.ib_a]
                m.programme.at_most(f"largest[{n.id},{site}]", [*m.seated(n.id, site), *able], 0.0)
