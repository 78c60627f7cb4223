"""plan(): programme, synthesis, the real checks; what fails comes back as a constraint, until nothing fails.

    gather -> [ solve -> synthesise -> judge -> repair by sizing -> feed back ] -> scheme with price, bound and gap

Rounds are rough at first (few places), then whole.
Gap = (price of the checked design - valid bound of the whole problem) / price. The bound is that of the programme,
whose costs are the least that any design must pay for what it decides; constraints fed back count for it as long as
each removes only designs that the checks refuse.
"""

from __future__ import annotations

import threading
import time
from collections.abc import Callable
from dataclasses import dataclass, field, replace

import numpy as np

from relet.errors import NotFeasible, ReletError
from relet.model import Digest, Scheme, SolverReport
from relet.planning.apart import solve_apart
from relet.planning.build import Model, build
from relet.planning.clash import clash
from relet.planning.costs import price_scheme
from relet.planning.feedback import cuts_from
from relet.planning.first import carried, first_plan
from relet.planning.gather import gather
from relet.planning.least import hang_the_least, least
from relet.planning.made import Made
from relet.planning.nogoods import Cut
from relet.planning.problem import Problem
from relet.planning.programme import Numbers
from relet.planning.pruning import prune
from relet.planning.repair import enlarged
from relet.planning.sets import Sets
from relet.planning.sizing import Sizing
from relet.planning.solver import Limits, Progress
from relet.planning.synthesis import synthesise
from relet.planning.trial import Judge
from relet.planning.verdicts import Wrong, judged
from relet.pricing import PriceBook

Watch = Callable[[Progress], None]
Tell = Callable[[str], None]

NOBODY = Digest("")
ROUGH, ROUGH_SHARE = 4, 0.4
"""Most rounds over few places, and the share of the time after which no further one begins."""
FULL_SHARE = 0.9
"""Share of what time is left that the first whole programme may take."""
LEAST_S = 2.0
LARGER = 8
"""Most steps of repair by sizing in one round."""


@dataclass
class _Search:
    """A search under way: its clock, its log, and the best plan so far.

    best  (how many checks it fails, price, plan, programme, column values)
    """

    problem: Problem
    book: PriceBook
    judge: Judge
    made_for: Digest
    watch: Watch | None
    tell: Tell | None
    stop: threading.Event
    began: float = field(default_factory=time.monotonic)
    log: list[str] = field(default_factory=list)
    cuts: list[Cut] = field(default_factory=list)
    bound: float = -np.inf
    rounds: int = 0
    best: tuple[int, float, Made, Model, Numbers] | None = None

    @property
    def seconds(self) -> float:
        return time.monotonic() - self.began

    def say(self, line: str) -> None:
        self.log.append(line)
        if self.tell is not None:
            self.tell(line)

    def limits(self, seconds: float) -> Limits:
        c = self.problem.choices
        return Limits(max(LEAST_S, seconds), c.gap, c.threads, c.seed)

    def progress(self, p: Progress) -> None:
        if self.watch is not None:
            self.watch(replace(p, seconds=self.seconds))


def plan(
    problem: Problem, book: PriceBook, judge: Judge, *, made_for: Digest = NOBODY, watch: Watch | None = None,
    tell: Tell | None = None, stop: threading.Event | None = None,
) -> Scheme:  # fmt: skip
    """Plan all tenancies of a problem at once, and prove it.

    watch   called with price, bound and gap while the programme is solved
    tell    called with each line of the log
    stop    set it to stop with the best kept
    raises  NotFeasible: the rules and wishes that cannot be met together, as a minimal set; InputError: bad problem;
            ReletError: stopped, or out of time, before there was any plan
    """
    made_for = made_for or problem.digest()
    search = _Search(problem, book, judge, made_for, watch, tell, stop or threading.Event())
    sets, trials = gather(problem, book, judge)
    sets = prune(sets)
    search.say(f"{len(sets.places())} places, {len(sets.needs)} machines, {trials.count} trial feeds judged")
    if _rough_rounds(search, sets):
        _full_rounds(search, sets)
    return _told(search, sets)


def _rough_rounds(search: _Search, sets: Sets) -> bool:
    """Plans over few places, quick to find: they meet most of what the checks refuse before the long solve begins, and
    leave a checked plan in hand. Returns True if there is more to do."""
    seconds = search.problem.choices.seconds
    for _ in range(ROUGH):
        m = build(sets, search.cuts)
        values = first_plan(m, search.cuts, search.limits(seconds / 5), search.progress, search.stop)
        if values is None:
            return not search.stop.is_set() or search.best is None
        new = _proved(search, sets, m, values, feeds=False)
        search.cuts += new
        if search.stop.is_set() or not new or search.seconds > ROUGH_SHARE * seconds:
            break
    return not search.stop.is_set()


def _full_rounds(search: _Search, sets: Sets) -> None:
    """The whole programme: first with exact constraints alone, for a bound that holds; then with all that guide."""
    seconds, first = search.problem.choices.seconds, True
    known = least(sets, search.limits(LEAST_S), search.stop)
    while search.rounds < search.problem.choices.rounds:
        cuts = [c for c in search.cuts if c.exact or not first]
        m = build(sets, cuts)
        hang_the_least(m, known)
        left = seconds - search.seconds
        start = _start(search, m)
        if not first and start is None and left < 3 * LEAST_S and search.best is not None and search.best[0] == 0:
            break  # a checked plan is in hand, and there is no time to find another from nothing
        limits = search.limits(left * FULL_SHARE if first else left)
        answer = solve_apart(m.programme.arrays(), limits, start=start, watch=search.progress, stop=search.stop)
        if answer.status == "infeasible" and search.best is None:
            raise NotFeasible(_clash(search))
        if all(c.exact for c in cuts):
            search.bound = max(search.bound, answer.bound)
        if answer.values is None:
            break
        new, first = _proved(search, sets, m, answer.values, feeds=True), False
        search.cuts += new
        assert search.best is not None
        done = search.best[0] == 0 and search.best[1] - search.bound <= search.problem.choices.gap * search.best[1]
        late = search.seconds > seconds * (1.0 if search.best[0] == 0 else 2.0)
        if not new or done or late or search.stop.is_set():
            break


def _start(search: _Search, m: Model) -> Numbers | None:
    """The best plan so far, where the programme still takes it."""
    if search.best is None:
        return None
    _, _, _, of, values = search.best
    start = carried(of, values, m)
    return None if m.programme.broken(start, 1e-5) else start


def _proved(search: _Search, sets: Sets, m: Model, values: Numbers, *, feeds: bool) -> list[Cut]:
    """Judge what a solution stands for, enlarge what a larger size settles, keep it if it is the best so far.

    returns  constraints for the next round that no earlier one holds
    """
    search.rounds += 1
    n, sizing = search.rounds, Sizing()
    made = synthesise(m, values, search.made_for)
    wrong = judged(search.problem, made, search.judge)
    for _ in range(LARGER):
        larger, told = enlarged(m, made, wrong, sizing, feeds=feeds)
        if not told:
            break
        trial = synthesise(m, values, search.made_for, larger)
        found = judged(search.problem, trial, search.judge)
        if _badness(found) >= _badness(wrong):
            break
        made, wrong, sizing = trial, found, larger
        for line in told:
            search.say(f"round {n}: {line}")
    installations = [made.scheme.installation(t) for t in sets.tenancies]
    price = price_scheme(installations, sets.kept, sets.costs, search.problem.choices.discount)
    known = f", not below {min(search.bound, price):,.2f}" if np.isfinite(search.bound) else ", over a few places"
    search.say(f"round {n}: price {price:,.2f}{known}")
    failing = sum(w.must for w in wrong)
    if search.best is None or (failing, price) < search.best[:2]:
        search.best = (failing, price, made, m, values)
    held = set(search.cuts)
    new = [c for c in cuts_from(m, made, wrong) if c not in held]
    for name, rule in dict.fromkeys((cut.name, cut.rule) for cut in new):
        search.say(f"round {n}: {rule} fails: {name}")
    return new


def _badness(wrong: list[Wrong]) -> tuple[int, int, float]:
    """What must go, what is against guidance, and by how much in all."""
    over = sum(abs(w.value - w.limit) / (abs(w.limit) or 1.0) for w in wrong)
    return sum(w.must for w in wrong), len(wrong), round(over, 9)


def _clash(search: _Search) -> tuple[str, ...]:
    """The rules and wishes that cannot be met together: with every pair in the programme, each stop a named row."""
    sets, _ = gather(search.problem, search.book, search.judge, every_pair=True)
    found = clash(build(sets, search.cuts).programme, search.limits(10.0), search.stop)
    return found or ("no arrangement of places, enclosures and feeds serves all machines",)


def _told(search: _Search, sets: Sets) -> Scheme:
    """The best plan with its report."""
    stopped = search.stop.is_set()
    if search.best is None:
        why = "it was stopped" if stopped else f"{search.problem.choices.seconds:g} s were over"
        raise ReletError(f"no plan was found before {why}. Nothing was written. Give it more time with --seconds.")
    failing, price, made, m, _ = search.best
    if failing:
        search.say(f"no plan without a failing check was found in the rounds and time given: {failing} still fail")
    bound = min(search.bound, price)  # costs are rounded piece by piece, the price line by line
    bound = max(0.0, float(bound)) if np.isfinite(bound) else 0.0
    solved = SolverReport(
        price=round(price, 2), bound=round(bound, 2), gap=round((price - bound) / price, 6) if price > 0 else 0.0,
        places=len(sets.places()), binaries=m.programme.binaries, rows=len(m.programme.rows),
        seconds=round(search.seconds, 2), rounds=search.rounds, stopped=stopped, log=tuple(search.log),
    )  # fmt: skip
    s = made.scheme
    return Scheme(backbone=s.backbone, contents=s.contents, uses=s.uses, made_for=s.made_for, solved=solved, why=s.why)
