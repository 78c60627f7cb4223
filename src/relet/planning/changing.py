"""Changes: what is put in and taken out from one tenant to the next, outlet by outlet and device by device."""

from __future__ import annotations

from typing import TYPE_CHECKING

from relet.model import Part
from relet.planning.circuits import device_price, outlet_price
from relet.planning.pieces import device, outlet
from relet.planning.programme import Term

if TYPE_CHECKING:
    from relet.planning.build import Model


def price_the_changes(m: Model) -> None:
    """Between neighbours u, t at place p, for each outlet part o (the same for each device part d):

        more[t,p,o] >= held[t,p,o] - held[u,p,o]        less[t,p,o] >= held[u,p,o] - held[t,p,o]      "more", "less"
        tests[t,p] >= sum_o more[t,p,o],   tests[t,p] >= sum_d more[t,p,d]                             "tests"
        more[t,p,.] <= room worked[t,p]    less[t,p,.] <= room worked[t,p]                             "worked"
        worked[t,p] <= changed[t]                                                                      "changed"

    held[t,p,o] is the sum of count[t,p,c] over the circuits c with outlet o. Outlets and devices are told apart: a
    device may change behind an outlet that stays.
    """
    s, p = m.sets, m.programme
    weight = 1.0
    for u, t in zip(s.tenancies, s.tenancies[1:]):
        weight *= 1.0 - s.problem.choices.discount
        changed = p.choice(f"changed[{t}]", cost=weight * s.costs.once)
        for site in s.sites:
            before, after = _held(m, u, site), _held(m, t, site)
            if not before and not after:
                continue
            worked = p.choice(f"worked[{t},{site}]", cost=weight * s.costs.isolate)
            p.at_most(f"changed[{t},{site}]", [(1.0, worked), (-1.0, changed)], 0.0)
            tests = p.variable(f"tests[{t},{site}]", cost=weight * s.costs.test, high=99.0)
            for kind in ("outlet", "device"):
                parts = {k: q for k, (q, _) in {**before, **after}.items() if k[0] == kind}
                added: list[Term] = []
                for key, part in sorted(parts.items(), key=lambda e: e[0]):
                    now, then = after.get(key, (part, []))[1], before.get(key, (part, []))[1]
                    into, out = _prices(m, kind, part)
                    more = p.variable(f"more[{t},{site},{part.id}]", cost=weight * into, high=99.0)
                    less = p.variable(f"less[{t},{site},{part.id}]", cost=weight * out, high=99.0)
                    gone = [(-a, v) for a, v in then]
                    p.at_least(f"more[{t},{site},{part.id}]", [(1.0, more), *((-a, v) for a, v in now), *then], 0.0)
                    p.at_least(f"less[{t},{site},{part.id}]", [(1.0, less), *now, *gone], 0.0)
                    most_in = _most(m, t, site, part)
                    most_out = max(_most(m, w, site, part) for w in s.tenancies[: s.tenancies.index(t)])
                    for name, v, n in (("more", more, most_in), ("less", less, most_out)):
                        p.at_most(f"worked[{t},{site},{part.id},{name}]", [(1.0, v), (-n, worked)], 0.0)
                    added.append((-1.0, more))
                p.at_least(f"tests[{t},{site},{kind}]", [(1.0, tests), *added], 0.0)


def _held(m: Model, tenancy: str, site: str) -> dict[tuple[str, str], tuple[Part, list[Term]]]:
    """For each outlet and device part its count at a site, as terms."""
    out: dict[tuple[str, str], tuple[Part, list[Term]]] = {}
    for (t, q, c), v in m.vars.count.items():
        if t == tenancy and q == site:
            circuit = m.sets.circuits[c]
            for kind, part in (("outlet", circuit.outlet), ("device", circuit.device)):
                out.setdefault((kind, part.id), (part, []))[1].append((1.0, v))
    return out


def _prices(m: Model, kind: str, part: Part) -> tuple[float, float]:
    costs = m.sets.costs
    if kind == "outlet":
        return outlet_price(part, costs), costs.take_out(outlet("design.t", "A/face/1", part, "A/rail/1"))
    return device_price(part, costs), costs.take_out(device("design.t", "A/rail/1", part))


def _most(m: Model, tenancy: str, site: str, part: Part) -> float:
    """Most of a part that a tenancy has use for at a site: what its machines could plug into, and what has room.

    Nothing is put in beyond that; what is taken out was once put in.
    """
    s = m.sets
    frames = [s.kept_frames[site].frame] if site in s.kept_frames else s.frames_at[site]
    room = max((f.apertures for f in frames), default=0)
    users = [
        n.outlets for n in s.needs_at(site, tenancy)
        if any(part.id in (s.circuits[c].outlet.id, s.circuits[c].device.id) for c in s.pairs[n.id, site].circuits)
    ]  # fmt: skip
    return float(min(room, sum(users)))
