"""From what the checks refuse to constraints of the programme, each named by its rule and its subject.

What holds wherever the same machines meet is said for every place that all of them reach. A constraint is exact where
it removes only plans that the checks refuse; the bound of a programme with others in it counts for nothing.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace

from relet.planning.build import Model
from relet.planning.current import ANGLES, line_share
from relet.planning.made import Hung, Made
from relet.planning.needs import Need
from relet.planning.nogoods import Cut, NoGood, NotOneRun, RunShort
from relet.planning.parts import Frame, datum
from relet.planning.phases import least_worst_line
from relet.planning.repair import is_demand
from relet.planning.sets import size_of
from relet.planning.verdicts import MUST_HEED, Wrong, sites_of

A_LITTLE = 0.99


def cuts_from(m: Model, made: Made, wrong: Sequence[Wrong]) -> list[Cut]:
    """Constraints that leave out what failed, the same one only once."""
    out: dict[tuple[object, ...], Cut] = {}
    for w in (w for w in wrong if w.must):
        for cut in _cuts(m, made, w):
            key = (cut.rule, *(getattr(cut, f) for f in cut.__dataclass_fields__ if f not in ("name", "rule", "exact")))
            out.setdefault(key, cut)
    return list(out.values())


def _cuts(m: Model, made: Made, w: Wrong) -> list[Cut]:
    if w.subject in made.tapped and is_demand(made, w):
        return [_run_short(m, made, w)]
    out: list[Cut] = []
    for site in sites_of(made, w):
        h = made.hung[site]
        here = [i for i, _ in made.seated.get((w.tenancy, site), ())]
        if is_demand(made, w) and h.feed is not None:
            out += _feed_short(m, h, w, [m.sets.needs[i] for i in here])
        elif w.rule in ("assembly.heat", "assembly.fit") and here:
            out += _frame_short(m, h, w, here)
        elif w.rule == "place.reach":
            i = f"{w.tenancy}.{w.subject.rsplit('.', 1)[-1]}"
            out.append(NoGood(f"{w.said}; added: {i} not at {site}", w.rule, site, (i,)))
        elif w.rule in MUST_HEED:
            out.append(_not_here(m, h, w))
        elif w.rule.startswith(("fault.", "conductor.")) and h.feed is not None and w.subject in made.run_site:
            name = f"{w.said}; added: a feed above {h.feed.in_a:g} A for {site}"
            out.append(NoGood(name, w.rule, site, feed_up_to=h.feed.in_a, exact=False))
        else:
            out += _circuit(m, made, h, w, here)
    return out


def _run_short(m: Model, made: Made, w: Wrong) -> Cut:
    """The fewest machines on a run that pass its rating however they are spread; or, if none do, what its average line
    may carry so that its worst, as uneven as now, stays within the rating."""
    run, rated = made.tapped[w.subject], made.tapped_a[w.subject]
    on = [
        m.sets.needs[i] for (t, site), several in made.seated.items() for i, _ in several
        if t == w.tenancy and site in made.hung and getattr(made.hung[site].feed, "run", "") == run
    ]  # fmt: skip
    if few := _fewest(on, m.sets.phases, rated):
        names = tuple(sorted(n.id for n in few))
        said = f"{w.said}; added: not {' with '.join(names)} on one tapped run up to {rated:g} A"
        return NotOneRun(said, w.rule, names, rated)
    average = sum(n.demand_a(ANGLES[1]) * line_share(n, m.sets.phases) for n in on)
    limit = round(A_LITTLE * average * w.limit / w.value, 2)
    name = f"{w.said}; added: no more than {limit:.1f} A of {w.tenancy} on the average line of {w.subject}"
    return RunShort(name, w.rule, run, w.tenancy, limit)


def _feed_short(m: Model, h: Hung, w: Wrong, here: Sequence[Need]) -> list[Cut]:
    """A larger feed wherever the fewest of these machines that pass this one meet."""
    assert h.feed is not None
    few = _fewest(here, m.sets.phases, h.feed.in_a) or list(here)
    least = _worst_line(few, m.sets.phases)
    short = [a for a, _ in m.fed(h.site) if a < max(least, h.feed.in_a + 1e-6)]
    up_to = max(short, default=h.feed.in_a)
    names = tuple(sorted(n.id for n in few))
    said = f"{w.said}; added: a feed above {up_to:g} A for {' with '.join(names)}"
    cut = NoGood(said, w.rule, h.site, names, feed_up_to=up_to, exact=least > h.feed.in_a)
    return [replace(cut, site=q) for q in _alike(m, names, h.site)]


def _fewest(needs: Sequence[Need], phases: int, rating_a: float) -> list[Need]:
    """The largest machines, as few as pass a rating on their worst line however they are spread; none if all do not."""
    few = sorted(needs, key=lambda n: (-n.heats_a, n.id))
    if _worst_line(few, phases) <= rating_a:
        return []
    while len(few) > 1 and _worst_line(few[:-1], phases) > rating_a:
        few.pop()
    for n in list(few):
        less = [x for x in few if x is not n]
        if less and _worst_line(less, phases) > rating_a:
            few = less
    return few


def _worst_line(needs: Sequence[Need], phases: int) -> float:
    three = sum((n.phasor for n in needs if n.phases == 3), 0j)
    singles = [n.phasor for n in needs if n.phases != 3]
    return least_worst_line(three, singles) if phases == 3 else abs(three + sum(singles))


def _frame_short(m: Model, h: Hung, w: Wrong, here: Sequence[str]) -> list[Cut]:
    """Another enclosure: none that carries off no more heat, or that takes no more, than this one."""

    def no_better(f: Frame) -> bool:
        if w.rule == "assembly.heat" and datum(h.frame.part, "dissipation_w_per_k"):
            mine, its = (datum(p, "dissipation_w_per_k") for p in (h.frame.part, f.part))
            return 0 < its <= mine
        return f.part.id == h.frame.part.id

    names = tuple(sorted(here))
    out: list[Cut] = []
    for q in _alike(m, names, h.site):
        frames = tuple(f.id for f in m.sets.frames_at[q] if no_better(f))
        said = f"{w.said}; added: another enclosure than {h.frame.part.id} for {' with '.join(names)}"
        if frames:
            out.append(NoGood(said, w.rule, q, names, frames=frames, exact=q == h.site))
    return out or [NoGood(f"{w.said}; added: not all of them together", w.rule, h.site, names)]


def _not_here(m: Model, h: Hung, w: Wrong) -> NoGood:
    """No enclosure as large as this one at its place."""
    wide, deep = size_of(h.frame)
    frames = tuple(f.id for f in m.sets.frames_at[h.site] if size_of(f)[0] >= wide and size_of(f)[1] >= deep)
    return NoGood(f"{w.said}; added: nothing as large at {h.site}", w.rule, h.site, frames=frames)


def _circuit(m: Model, made: Made, h: Hung, w: Wrong, here: Sequence[str]) -> list[Cut]:
    """Machines on the circuit that is refused: another kind of circuit for one alone, not together for several."""
    uses = made.scheme.uses[w.tenancy].plugged
    outlets = made.scheme.contents[w.tenancy].outlets
    face = {s for s, o in outlets.items() if s == w.subject or o.behind == w.subject}
    on = tuple(i for i in here if uses.get(m.sets.needs[i].machine) in face) if "/" in w.subject else ()
    several = on or tuple(sorted(here))
    if not several:
        return []
    kind = dict(made.seated[w.tenancy, h.site])[several[0]] if len(on) == 1 else ""
    added = f"another circuit for {several[0]}" if kind else f"not {' with '.join(several)} together"
    cut = NoGood(f"{w.said}; added: {added}", w.rule, h.site, several, circuit=kind, exact=len(several) > 1)
    return [replace(cut, site=q) for q in _alike(m, several, h.site)] if w.rule.startswith("protection.") else [cut]


def _alike(m: Model, machines: Sequence[str], site: str) -> list[str]:
    """Places that every one of these machines reaches."""
    reached = [set(m.sets.sites_of(i)) for i in machines]
    return [q for q in m.sets.places() if all(q in r for r in reached)] or [site]
