"""plan(): programme, synthesis, the real checks; what fails comes back as a constraint, until nothing fails.

Gap = (price of the checked design - valid bound of the whole problem) / price. The bound is that of the programme,
whose costs are the least that any design must pay; a constraint fed back removes only designs that the checks refuse.
"""

from __future__ import annotations

import threading
import time
from collections.abc import Callable, Sequence
from dataclasses import replace
from typing import Any

import numpy as np

from relet.errors import NotFeasible, ReletError
from relet.model import Case, Digest, Scheme, SolverReport
from relet.planning.apart import solve_apart
from relet.planning.build import Model, build
from relet.planning.clash import clash
from relet.planning.costs import price_scheme
from relet.planning.gather import gather
from relet.planning.made import Made
from relet.planning.nogoods import NoGood
from relet.planning.problem import Problem
from relet.planning.solver import Limits, Progress
from relet.planning.synthesis import synthesise
from relet.planning.trial import Judge
from relet.pricing import PriceBook

Watch = Callable[[Progress], None]
Tell = Callable[[str], None]

NOBODY = Digest("")
ABOUT_FEEDS = ("conductor.overload", "fault.", "protection.inrush")
ABOUT_PLACES = ("place.", "assembly.ingress", "conductor.volt_drop", "conductor.starting_volt_drop")
"""Rules that fail because of where something is: the constraint holds there alone."""
ABOUT_FRAMES = ("assembly.heat", "assembly.fit")
BEYOND_A_PLAN = ("load.supply_capacity", "place.explosive")
"""Rules that no choice of the planner can turn: the supply's own limit, and what a specialist answers."""


def plan(
    problem: Problem, book: PriceBook, judge: Judge, *, made_for: Digest = NOBODY, watch: Watch | None = None,
    tell: Tell | None = None, stop: threading.Event | None = None,
) -> Scheme:  # fmt: skip
    """Plan all tenancies of a problem at once, and prove it.

    watch   called with price, bound and gap while the programme is solved
    tell    called with each line of the log
    stop    set it to stop with the best kept
    raises  NotFeasible: the rules and wishes that cannot be met together, as a minimal set; InputError: bad problem
    """
    began = time.monotonic()
    log: list[str] = []

    def say(line: str) -> None:
        log.append(line)
        if tell is not None:
            tell(line)

    sets, trials = gather(problem, book, judge)
    say(f"{len(sets.places())} places, {len(sets.needs)} machines, {trials.count} trial feeds judged")
    cuts: list[NoGood] = []
    bound, best = -np.inf, None
    for n in range(1, problem.choices.rounds + 1):
        m = build(sets, cuts)
        left = max(2.0, problem.choices.seconds - (time.monotonic() - began))
        limits = Limits(left, problem.choices.gap, problem.choices.threads, problem.choices.seed)
        answer = solve_apart(m.programme.arrays(), limits, watch=watch, stop=stop)
        if answer.status == "infeasible":
            if best is not None:
                break
            raise NotFeasible(_clash(problem, book, judge, cuts, limits, stop))
        if answer.values is None:
            break
        bound = max(bound, answer.bound)
        made = synthesise(m, answer.values, made_for)
        price = price_scheme(
            [made.scheme.installation(t) for t in sets.tenancies], sets.kept, sets.costs, problem.choices.discount
        )  # fmt: skip
        say(f"round {n}: price {price:,.2f}, not below {bound:,.2f}")
        wrong = _wrong(problem, made, judge)
        new = [c for c in _cuts(m, made, wrong) if c not in cuts]
        report = (len(wrong), price, made, m)
        if best is None or report[:2] < best[:2]:
            best = report
        for name, rule in dict.fromkeys((cut.name, cut.rule) for cut in new):
            say(f"round {n}: {rule} fails: {name}")
        if not new or (stop is not None and stop.is_set()) or time.monotonic() - began > problem.choices.seconds * 2:
            break
        cuts += new
    if best is None:
        why = "it was stopped" if stop is not None and stop.is_set() else f"{problem.choices.seconds:g} s were over"
        raise ReletError(f"no plan was found before {why}. Nothing was written. Give it more time with --seconds.")
    failing, price, made, m = best
    if failing:
        say(f"no plan without a failing check was found in the rounds and time given: {failing} still fail")
    stopped = stop is not None and stop.is_set()
    bound = min(float(bound), price)  # costs are rounded piece by piece, the price line by line
    gap = (price - bound) / price if price > 0 else 0.0
    solved = SolverReport(
        price=round(price, 2), bound=round(float(bound), 2), gap=round(gap, 6), places=len(sets.places()),
        binaries=m.programme.binaries, rows=len(m.programme.rows), seconds=round(time.monotonic() - began, 2),
        rounds=sum(1 for line in log if ": price" in line), stopped=stopped, log=tuple(log),
    )  # fmt: skip
    s = made.scheme
    return Scheme(backbone=s.backbone, contents=s.contents, uses=s.uses, made_for=s.made_for, solved=solved, why=s.why)


def _clash(
    problem: Problem, book: PriceBook, judge: Judge, cuts: Sequence[NoGood], limits: Limits,
    stop: threading.Event | None,
) -> tuple[str, ...]:  # fmt: skip
    """The rules and wishes that cannot be met together: with every pair in the programme, each stop a named row."""
    sets, _ = gather(problem, book, judge, every_pair=True)
    for n in sets.needs.values():
        if not sets.sites_of(n.id):
            plug = f"a {n.plug.in_a:g} A plug" if n.plug.in_a else "its plug"
            return (f"parts of the catalogue: no outlet takes {plug} of {n.id} and carries its {n.ib_a:.1f} A",)
    found = clash(build(sets, cuts).programme, Limits(10.0, limits.gap, limits.threads, limits.seed), stop)
    return found or ("no arrangement of places, enclosures and feeds serves all machines",)


def _wrong(problem: Problem, made: Made, judge: Judge) -> list[tuple[str, Any]]:
    """Findings that fail, with the tenancy they fail in."""
    out = []
    for t in problem.tenancies:
        case = Case(
            where=f"design.{t.id}", unit=problem.unit, installation=made.scheme.installation(t.id), tenancy=t,
            use=made.scheme.uses[t.id], catalogue=problem.catalogue, code=problem.code,
        )  # fmt: skip
        for f in judge(case).findings:
            if f.verdict == "fails" and f.rule not in BEYOND_A_PLAN:
                out.append((t.id, f))
    return out


def _cuts(m: Model, made: Made, wrong: Sequence[tuple[str, Any]]) -> list[NoGood]:
    """A constraint for each thing that fails, naming the rule and where."""
    out: dict[str, NoGood] = {}
    by_seat = {h.seat: h for h in made.hung.values()}
    for t, f in wrong:
        for site in _sites_of(made, str(f.subject), by_seat, t):
            h = made.hung[site]
            machines = tuple(i for i, _ in made.seated.get((t, site), ()))
            said = f"{f.subject} in {t}: {f.value_text} against {f.limit_text}"
            cut = NoGood(name="", rule=f.rule, site=site, machines=machines)
            if f.rule.startswith(ABOUT_FEEDS) and h.feed is not None:
                loaded = f.rule == "conductor.overload"
                cut = replace(cut, machines=machines if loaded else (), feed_up_to=h.feed.in_a)
                more = f"a feed above {h.feed.in_a:g} A for {_all(cut.machines) or site}"
            elif f.rule.startswith(ABOUT_FRAMES):
                cut = replace(cut, frames=(h.frame.id,))
                more = f"another enclosure than {h.frame.part.id} for {_all(machines) or site}"
            elif machines:
                more = f"not {_all(machines)} in one assembly"
            else:
                continue
            cut = replace(cut, name=f"{said}; added: {more}")
            for q in _alike(m, cut) if not f.rule.startswith(ABOUT_PLACES) else [site]:
                out.setdefault(f"{f.rule}|{q}|{cut.machines}|{cut.feed_up_to}|{cut.frames}", replace(cut, site=q))
    return list(out.values())


def _all(machines: Sequence[str]) -> str:
    return " with ".join(machines)


def _alike(m: Model, cut: NoGood) -> list[str]:
    """Sites at which the same machines would fail in the same way: all that every one of them reaches."""
    if not cut.machines:
        return [cut.site]
    reached = [set(m.sets.sites_of(i)) for i in cut.machines]
    return [q for q in m.sets.places() if all(q in r for r in reached)] or [cut.site]


def _sites_of(made: Made, subject: str, by_seat: dict[str, Any], t: str) -> tuple[str, ...]:
    """Sites that a finding is about: by its run or device, by its assembly, or by its machine."""
    if subject in made.run_site:
        return made.run_site[subject]
    if subject.split("/")[0] in by_seat:
        return (by_seat[subject.split("/")[0]].site,)
    machine = subject.rsplit(".", 1)[-1]
    return tuple(
        site for (u, site), several in made.seated.items()
        if u == t and site in made.hung and any(i == f"{t}.{machine}" for i, _ in several)
    )  # fmt: skip
