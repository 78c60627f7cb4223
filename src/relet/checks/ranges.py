"""Verdicts over what is not known: judge at the ends of every open fact (and between, where a rule is not monotone).

For one rule and subject the open facts that it uses are found by asking. With few of them every combination is judged;
with more, each is probed alone, the worst and the best combination are put together and improved fact by fact.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable, Mapping
from dataclasses import dataclass
from functools import partial
from itertools import product
from math import prod
from typing import Final

from relet.checks.asking import called
from relet.checks.facts import Missing, OpenFact
from relet.checks.findings import Judged, Need, NotApplicable, Refer
from relet.checks.register import Family, RegisterRow, RuleFunction
from relet.checks.study import Study
from relet.errors import OutsideTable
from relet.model import Between, Scalar
from relet.working import printed_towards

GRID_UP_TO: Final = 48
_INSIDE_SCANNED: Final = 3
_INSIDE_ALONE: Final = 15
_ROUNDS: Final = 2
_BISECTIONS: Final = 14
_SCAN_POINTS: Final = 7


@dataclass(frozen=True, slots=True)
class Unjudged:
    """A rule could not be judged: the datum that is missing."""

    path: str
    what: str


Answer = Judged | NotApplicable | Refer | Unjudged
Trial = Mapping[str, Scalar]


def answer(study: Study, row: RegisterRow, fam: Family, f: RuleFunction, subject: str) -> Answer:
    """One rule for one subject under the trial values of a study."""

    def make() -> Answer:
        try:
            view = study.keep(("view", fam.name, subject), lambda: fam.view(study, subject))
            if isinstance(view, NotApplicable):
                return view
            return f(view, study.code)
        except Missing as e:
            return Unjudged(e.path, e.what)
        except OutsideTable as e:
            return Unjudged(f"table {e.table}", str(e))

    return study.keep(("rule", row.rule, subject), make)


@dataclass(frozen=True, slots=True)
class Spread:
    """The answers of one rule and subject over everything that is not known."""

    worst: Judged | None
    best: Judged | None
    worst_at: Trial
    best_at: Trial
    facts: tuple[OpenFact, ...]
    elsewhere: Answer | None
    base: Answer
    only_refers: bool = False


class Prober:
    """Judges one rule and subject under many trial values; studies are shared by all rules of a case."""

    def __init__(self, base: Study) -> None:
        self.base = base
        self._studies: dict[frozenset[tuple[str, Scalar]], Study] = {frozenset(): base}

    def study(self, trial: Trial) -> Study:
        """The study with these values put in."""
        key = frozenset(trial.items())
        if key not in self._studies:
            self._studies[key] = self.base.child(trial)
        return self._studies[key]

    def spread(self, row: RegisterRow, fam: Family, f: RuleFunction, subject: str) -> Spread:
        """Worst and best answer over all open facts that the rule uses for the subject."""
        seen: dict[frozenset[tuple[str, Scalar]], Answer] = {}
        used: set[str] = set()
        key = ("rule", row.rule, subject)

        def ask(trial: Trial) -> Answer:
            mark = frozenset(trial.items())
            if mark not in seen:
                s = self.study(trial)
                seen[mark] = answer(s, row, fam, f, subject)
                used.update(s.used_by(key))
            return seen[mark]

        base = ask({})
        inside = 0 if row.sense == "monotone" else _INSIDE_SCANNED
        probed: set[str] = set()
        alone: dict[str, dict[Scalar, float | None]] = {}
        while todo := sorted(used - probed):
            for path in todo:
                probed.add(path)
                points = self.base.open[path].probes(inside)
                alone[path] = {v: _margin(ask({path: v})) for v in points}
        facts = tuple(self.base.open[p] for p in sorted(probed))
        if inside and len(facts) == 1 and facts[0].is_range:
            for v in facts[0].probes(_INSIDE_ALONE):
                ask({facts[0].path: v})
        if facts:
            if prod(len(fact.probes(inside)) for fact in facts) <= GRID_UP_TO:
                for values in product(*(fact.probes(inside) for fact in facts)):
                    ask({fact.path: v for fact, v in zip(facts, values)})
            else:
                _descend(ask, alone, facts, lowest=True)
                _descend(ask, alone, facts, lowest=False)
        return _spread(seen, facts, base)


def _margin(a: Answer) -> float | None:
    return a.margin if isinstance(a, Judged) else None


def _descend(
    ask: Callable[[Trial], Answer], alone: Mapping[str, Mapping[Scalar, float | None]], facts: tuple[OpenFact, ...],
    *, lowest: bool,
) -> None:  # fmt: skip
    """Look for the worst (or best) combination: each fact at its own worst, then improved one by one."""
    sign = 1.0 if lowest else -1.0
    at: dict[str, Scalar] = {}
    for fact in facts:
        known = {v: m for v, m in alone[fact.path].items() if m is not None}
        at[fact.path] = min(known, key=lambda v: sign * known[v]) if known else fact.nominal
    best = _margin(ask(at))
    for _ in range(_ROUNDS):
        moved = False
        for fact in facts:
            for v in alone[fact.path]:
                if v == at[fact.path]:
                    continue
                m = _margin(ask({**at, fact.path: v}))
                if m is not None and (best is None or sign * m < sign * best - 1e-12):
                    at, best, moved = {**at, fact.path: v}, m, True
        if not moved:
            return


def _spread(seen: Mapping[frozenset[tuple[str, Scalar]], Answer], facts: tuple[OpenFact, ...], base: Answer) -> Spread:
    worst: Judged | None = None
    best: Judged | None = None
    worst_at: Trial = {}
    best_at: Trial = {}
    elsewhere: Answer | None = None
    for mark, a in seen.items():
        if isinstance(a, Judged):
            if worst is None or a.margin < worst.margin:
                worst, worst_at = a, dict(mark)
            if best is None or a.margin > best.margin:
                best, best_at = a, dict(mark)
        elif elsewhere is None or isinstance(a, Unjudged | Refer):
            elsewhere = a
    only_refers = all(isinstance(a, Refer) for a in seen.values())
    return Spread(worst, best, worst_at, best_at, facts, elsewhere, base, only_refers)


def needs(
    prober: Prober, spread: Spread, row: RegisterRow, fam: Family, f: RuleFunction, subject: str, otherwise: str
) -> tuple[Need, ...]:
    """For each open fact the values on which the rule is met: whatever the others are, else with the others at best.

    otherwise   the verdict where it is not met: "fails", "advice", "refer"; "" where that cannot be said
    """

    def met(trial: Trial) -> bool:
        a = answer(prober.study(trial), row, fam, f, subject)
        return isinstance(a, NotApplicable) or (isinstance(a, Judged) and a.meets)

    out: list[Need] = []
    for fact in spread.facts:
        for surely, others in ((True, spread.worst_at), (False, spread.best_at)):
            rest = {k: v for k, v in others.items() if k != fact.path}
            found = _restricting(fact, row.sense == "monotone", partial(_with, met, rest, fact.path))
            if found is not None:
                out.append(_need(fact, found, surely, otherwise))
                break
    return tuple(out)


def _with(met: Callable[[Trial], bool], rest: Trial, path: str, value: Scalar) -> bool:
    return met({**rest, path: value})


def _restricting(
    fact: OpenFact, monotone: bool, met: Callable[[Scalar], bool]
) -> tuple[Scalar, ...] | tuple[Between, ...] | None:
    """As _met_on(), but None where it holds everywhere: then the fact settles nothing."""
    if monotone and fact.is_range and met(fact.low) == met(fact.high):
        return None
    found = _met_on(fact, monotone, met)
    if found is None or (not fact.is_range and len(found) == len(fact.options)):
        return None
    if fact.is_range and len(found) == 1 and isinstance(found[0], Between):
        b = found[0]
        if b.low <= fact.low and b.high >= fact.high:
            return None
    return found


def _met_on(
    fact: OpenFact, monotone: bool, met: Callable[[Scalar], bool]
) -> tuple[Scalar, ...] | tuple[Between, ...] | None:
    """Options or ranges on which something holds; None if nowhere."""
    if not fact.is_range:
        good = tuple(o for o in fact.options if met(o))
        return good or None
    points = [float(p) for p in fact.probes(0 if monotone else _SCAN_POINTS)]
    holds = [met(p) for p in points]
    if not any(holds):
        return None
    ranges: list[Between] = []
    start: float | None = points[0] if holds[0] else None
    for (a, ha), (b, hb) in zip(zip(points, holds), zip(points[1:], holds[1:])):
        if ha == hb:
            continue
        edge = _edge(a, b, ha, met)
        if ha and start is not None:
            ranges.append(Between(start, edge))
            start = None
        else:
            start = edge
    if start is not None:
        ranges.append(Between(start, points[-1]))
    return tuple(ranges)


def _edge(a: float, b: float, holds_at_a: bool, met: Callable[[Scalar], bool]) -> float:
    """The last point on the side that holds, by halving; a round number a hair farther that holds too."""
    low, high = min(a, b), max(a, b)
    for _ in range(_BISECTIONS):
        mid = (a + b) / 2
        if met(mid) == holds_at_a:
            a = mid
        else:
            b = mid
    last, beyond = (a, b) if holds_at_a else (b, a)
    plain = float(f"{last:.3g}")
    farther = plain > last if beyond > last else plain < last
    return plain if farther and low <= plain <= high and met(plain) else last


def _need(fact: OpenFact, found: tuple[Scalar, ...] | tuple[Between, ...], surely: bool, verdict: str) -> Need:
    tail = "" if surely else ", if everything else not known is at its best"
    head, unit = f"meets if {called(fact.path, fact)} is", f" {fact.unit}" if fact.unit else ""
    if not fact.is_range:
        options = tuple(o for o in found if not isinstance(o, Between))
        words = " or ".join(_say(o) for o in options)
        fails = [o for o in fact.options if o not in options]
        otherwise = f", {verdict} if {' or '.join(_say(o) for o in fails)}" if fails and surely and verdict else ""
        return Need(fact.path, (), options, surely, f"{head} {words}{unit}{otherwise}{tail}")
    ranges = tuple(b for b in found if isinstance(b, Between))
    said = " or ".join(_range_words(fact, b) for b in ranges)
    return Need(fact.path, ranges, (), surely, f"{head} {said}{tail}")


def _say(o: Scalar) -> str:
    return f"{o:g}" if isinstance(o, float | int) and not isinstance(o, bool) else str(o)


def _range_words(fact: OpenFact, b: Between) -> str:
    unit = f" {fact.unit}" if fact.unit else ""
    at_bottom, at_top = b.low <= fact.low * (1 + 1e-9) + 1e-12, b.high >= fact.high * (1 - 1e-9)
    if at_bottom and at_top:
        return f"anything from {_say(fact.low)} to {_say(fact.high)}{unit}"
    if at_bottom:
        return f"{printed_towards(b.high, up=False)}{unit} or less"
    if at_top:
        return f"{printed_towards(b.low, up=True)}{unit} or more"
    return f"{printed_towards(b.low, up=True)} to {printed_towards(b.high, up=False)}{unit}"


def settled_share(
    prober: Prober, spread: Spread, fact: OpenFact, ask: Callable[[Trial], Answer], points: Iterable[Scalar]
) -> float:
    """Share of the plausible values of one fact for which it alone settles the verdict."""
    settled = total = 0
    for v in points:
        total += 1
        at_worst = ask({**spread.worst_at, fact.path: v})
        at_best = ask({**spread.best_at, fact.path: v})
        worst_met = not isinstance(at_worst, Judged) or at_worst.meets
        best_met = not isinstance(at_best, Judged) or at_best.meets
        if worst_met == best_met and not isinstance(at_worst, Unjudged):
            settled += 1
    return settled / total if total else 0.0
