"""From a problem to the sets of the programme: needs, sites, frames, circuits, pairs and feeds."""

from __future__ import annotations

from collections.abc import Sequence

import numpy as np

from relet.codes import load_code
from relet.errors import NotFeasible
from relet.model import Installation, Seat
from relet.planning import held
from relet.planning.circuits import Circuit, circuits_for, covers, thin_out
from relet.planning.costs import Costs
from relet.planning.feeds import radial_feeds, tapped_runs
from relet.planning.lacking import why_none
from relet.planning.needs import Need, needs_of
from relet.planning.parts import Frame, datum, frames, ip_codes, phases_of, usable, whole
from relet.planning.problem import PER_OUTLET, Problem, check_problem
from relet.planning.sets import KeptFrame, KeptOutlet, Pair, Sets, size_of
from relet.planning.sites import Site, kept_part, sites_of, ways_m
from relet.planning.trial import Judge, Trials
from relet.planning.wishes import pin_sites
from relet.pricing import PriceBook
from relet.tables.assemblies import rated_diversity_factor

MOST_CIRCUITS = 16
"""Circuits up to which the rated diversity factor of an assembly is looked up; no frame holds more."""


def gather(problem: Problem, book: PriceBook, judge: Judge, *, every_pair: bool = False) -> tuple[Sets, Trials]:
    """The sets of a problem.

    every_pair  keep pairs that a rule or wish forbids, with its name: to tell what clashes
    raises      InputError: a problem that cannot be planned
    """
    check_problem(problem)
    code = load_code(problem.code)
    kept, costs = kept_part(problem), Costs(book, problem.catalogue)
    policy = problem.unit.policy.facts
    spare = held.number(policy, "spare_share", code, "policy") or 0.0
    phases = int(held.number(problem.unit.supply.facts, "phases", code, "supply") or 3)
    idn = float(code.limit("socket_rcd_idn_ma"))
    arrangement = problem.choices.arrangement
    could = [
        f for f in frames(problem.catalogue, phases, spare, arrangement, idn)
        if costs.known(f.part.id) and costs.known(f.incomer.id)
    ]  # fmt: skip
    held_frames = worth(could, costs, arrangement)
    sizes = sorted({size_of(f) for f in held_frames})
    sites = {s.id: s for s in sites_of(problem, code, kept, sizes)}
    height = problem.choices.height_m
    needs = {n.id: n for t in problem.tenancies for n in needs_of(t, problem.unit, code, height)}
    for n in needs.values():
        if n.phases > phases:
            raise NotFeasible(("supply.phases: the supply has one line", f"{n.id} asks for three"))
    found = {n.id: circuits_for(n, problem.catalogue, code, costs, arrangement) for n in needs.values()}
    thin = thin_out(found, costs)
    circuits = {c.id: c for several in thin.values() for c in several}
    outlets = _kept_outlets(problem, kept)
    kept_frames = _kept_frames(kept, problem, could, spare)
    pairs = _pairs(problem, list(needs.values()), list(sites.values()), thin, kept, outlets, could, every_pair)
    for n in needs.values():
        if not found[n.id] and not any(i == n.id for i, _ in pairs):
            raise NotFeasible(why_none(n, problem.catalogue, code, costs, arrangement))
    ways = free_ways(kept, problem.standing)
    trials = Trials(problem, kept, judge)
    reached = {p for _, p in pairs if not sites[p].seat}
    places = [s for s in sites.values() if s.id in reached]
    poles = 3 if phases == 3 else 1
    radials = radial_feeds(problem, places, held_frames, trials, costs, ways[0], poles, {}) if ways else []
    runs, taps = ([], []) if not ways or phases != 3 else tapped_runs(
        problem, [s for s in places if not s.stops], held_frames, trials, costs, ways[0], poles
    )  # fmt: skip
    diversity = tuple(float(rated_diversity_factor(n)) for n in range(1, MOST_CIRCUITS + 1))
    return Sets(
        problem=problem, code=code, costs=costs, kept=kept, needs=needs, sites=sites, frames=tuple(held_frames),
        circuits=circuits, pairs=pairs,
        radials={p: tuple(r for r in radials if r.site == p) for p in reached},
        runs={r.id: r for r in runs}, taps={p: tuple(x for x in taps if x.site == p) for p in reached},
        kept_outlets=outlets, kept_frames=kept_frames, ways=ways, phases=phases, spare_share=spare, idn_ma=idn,
        standing_share=float(code.limit("standing_share")), diversity=diversity, every_pair=every_pair,
    ), trials  # fmt: skip


def worth(could: Sequence[Frame], costs: Costs, arrangement: str) -> list[Frame]:
    """Frames that no cheaper one equals in room, current and ingress, least current first."""
    from relet.planning.pieces import assembly, device

    price = {
        id(f): costs.put_in(assembly("A", f.part, (0.0, 0.0), 1.0, ""))
        + costs.put_in(device("plan", "A/incomer", f.incomer))
        for f in could
    }  # fmt: skip

    def beats(a: Frame, b: Frame) -> bool:
        better = (
            a.apertures >= b.apertures and a.ways >= b.ways and a.in_a >= b.in_a
            and set(ip_codes(a.part)) >= set(ip_codes(b.part))
            and datum(a.part, "face_depth_mm") >= datum(b.part, "face_depth_mm")
        )  # fmt: skip
        better = better and (arrangement == PER_OUTLET or covers(a.incomer, str(b.incomer.data.get("rcd_type"))))
        return better and (price[id(a)], a.id) < (price[id(b)], b.id)

    kept = [f for f in could if not any(beats(o, f) for o in could if o is not f)]
    return sorted(kept, key=lambda f: (f.in_a, price[id(f)], f.id))


def frame_price(f: Frame, costs: Costs) -> float:
    """Price of hanging an enclosure with its incomer."""
    from relet.planning.pieces import assembly, device

    return costs.put_in(assembly("A", f.part, (0.0, 0.0), 1.0, "")) + costs.put_in(
        device("plan", "A/incomer", f.incomer)
    )


def free_ways(kept: Installation, standing: Installation) -> tuple[str, ...]:
    """Ways at which no kept device sits, board by board; those at which something stands now come last."""
    out: list[str] = []
    for seat, board in kept.boards.items():
        used = {s.split("/")[1].split(".")[0] for s in kept.devices if s.startswith(f"{seat}/")}
        now = {s.split("/")[1].split(".")[0] for s in standing.devices if s.startswith(f"{seat}/")}
        free = [str(n) for n in range(1, board.ways + 1) if str(n) not in used]
        out += [f"{seat}/{n}" for n in sorted(free, key=lambda n: (n in now, int(n)))]
    return tuple(out)


def _kept_outlets(problem: Problem, kept: Installation) -> dict[str, KeptOutlet]:
    out = {}
    for seat, o in kept.outlets.items():
        if o.behind is not None:
            continue
        part = problem.catalogue.parts.get(o.part)
        gangs = max(1, whole(part, "gangs")) if part else 1
        total = (datum(part, "total_a") or datum(part, "in_a")) if part else 0.0
        out[str(seat)] = KeptOutlet(seat, gangs, total)
    return out


def _kept_frames(kept: Installation, problem: Problem, could: Sequence[Frame], spare: float) -> dict[str, KeptFrame]:
    out = {}
    for seat, a in kept.assemblies.items():
        part = problem.catalogue.parts.get(a.part)
        incomer = kept.devices.get(Seat(f"{seat}/incomer"))
        held_by = problem.catalogue.parts.get(incomer.part) if incomer else None
        if part is None or held_by is None:
            continue
        inside = [problem.catalogue.parts[d.part] for s, d in kept.devices.items() if s.startswith(f"{seat}/rail/")]
        face = [problem.catalogue.parts[o.part] for s, o in kept.outlets.items() if s.startswith(f"{seat}/face/")]
        apertures = usable(whole(part, "apertures"), spare) - sum(whole(o, "apertures") for o in face)
        ways = usable(whole(part, "ways"), spare) - whole(held_by, "ways") - sum(whole(d, "ways") for d in inside)
        in_a = datum(part, "in_a")
        out[str(seat)] = KeptFrame(seat, Frame(part, held_by, apertures, ways, in_a), in_a)
    return out


def _pairs(
    problem: Problem, needs: Sequence[Need], sites: Sequence[Site], thin: dict[str, tuple[Circuit, ...]],
    kept: Installation, outlets: dict[str, KeptOutlet], could: Sequence[Frame], every_pair: bool,
) -> dict[tuple[str, str], Pair]:  # fmt: skip
    way = ways_m(problem, needs, sites)
    pins = pin_sites(problem, sites)
    out: dict[tuple[str, str], Pair] = {}
    for a, n in enumerate(needs):
        for b, s in enumerate(sites):
            stops = list(s.stops)
            if not np.isfinite(way[a, b]) or way[a, b] > n.lead_m + 1e-9:
                stops.append(f"place.reach: {n.id} with a lead of {n.lead_m:g} m")
            if n.id in pins and s.id not in pins[n.id][1]:
                stops.append(pins[n.id][0])
            if s.id in outlets:
                fits = _plugs_in(problem, n, s, kept, outlets[s.id])
                kinds: tuple[str, ...] = ("kept",)
                if not fits:
                    continue
            else:
                ip = s.ip.with_(n.ip)
                kinds = tuple(c.id for c in thin[n.id] if ip.met_by(*ip_codes(c.outlet)))
                if not kinds:
                    kinds = tuple(c.id for c in thin[n.id])
                    stops.append(f"assembly.ingress: {n.id} asks IP{ip.solid}{ip.water}")
                elif not s.seat and not any(ip.met_by(*ip_codes(f.part)) for f in could):
                    stops.append(f"assembly.ingress: {n.id} at {s.id} asks IP{ip.solid}{ip.water} of an enclosure")
            if not kinds or (stops and not every_pair):
                continue
            out[n.id, s.id] = Pair(kinds, tuple(dict.fromkeys(stops)))
    return out


def _plugs_in(problem: Problem, n: Need, s: Site, kept: Installation, o: KeptOutlet) -> bool:
    part = problem.catalogue.parts.get(kept.outlets[o.seat].part)
    if part is None or phases_of(part.data.get("poles")) != n.phases or n.ib_a > o.total_a:
        return False
    form = n.plug.form or "60309"
    return part.data.get("outlet") == form and (n.plug.in_a in (0.0, datum(part, "in_a"))) and s.ip.with_(n.ip).met_by(
        *ip_codes(part)
    )  # fmt: skip
