"""Which line every single-phase circuit of a plan is on."""

from __future__ import annotations

from collections.abc import Mapping

from relet.planning import phases
from relet.planning.build import Model
from relet.planning.feeds import TapFeed
from relet.planning.made import Contents, Hung, Plugged


def lines_of(m: Model, hung: Mapping[str, Hung], fitted: Contents, placed: Plugged) -> dict[tuple[str, str, int], str]:
    """Line of every single-phase circuit by (tenancy, site, number): one for as long as its outlet stays."""
    s, name = m.sets, {}
    loads: dict[str, dict[str, complex]] = {}
    groups = {h.site: _groups(h) for h in hung.values()}
    three: dict[str, dict[str, complex]] = {phases.UNIT: {}, **{g: {} for several in groups.values() for g in several}}
    stays: dict[tuple[str, int, str], str] = {}
    for t in s.tenancies:
        now: dict[tuple[str, int, str], str] = {}
        for site in hung:
            for n, f in enumerate(fitted[t][site]):
                load = sum((x.phasor for x in placed[t][site].get(n, ())), 0j)
                if f.circuit.phases == 3:
                    for g in (phases.UNIT, *groups[site]):
                        three[g][t] = three[g].get(t, 0j) + load
                    continue
                key = (site, f.face, f.circuit.outlet.id)
                id = now[key] = stays.get(key, f"{t} {site} {f.face}")
                loads.setdefault(id, {})[t] = load
                name[t, site, n] = id
        stays = now
    if s.phases != 3:
        return dict.fromkeys(name, phases.LINES[0])
    home = {id: groups[site] for (_, site, _), id in name.items()}
    singles = [phases.Single(id, home[id], z) for id, z in loads.items()]
    singles += phases.standing(s.problem.standing, s.kept, s.tenancies, s.code)
    rated = {phases.UNIT: float("inf")} | {g: a for h in hung.values() for g, a in _rated(m, h)}
    on = phases.balance(singles, [phases.Group(g, rated[g], z) for g, z in three.items()], s.tenancies)
    return {key: phases.LINES[on[id]] for key, id in name.items()}


def _groups(h: Hung) -> tuple[str, ...]:
    return (h.site, f"run {h.feed.run}") if isinstance(h.feed, TapFeed) else (h.site,)


def _rated(m: Model, h: Hung) -> list[tuple[str, float]]:
    out = [(h.site, h.feed.in_a if h.feed is not None else h.frame.in_a)]
    return [*out, (f"run {h.feed.run}", m.sets.runs[h.feed.run].in_a)] if isinstance(h.feed, TapFeed) else out
