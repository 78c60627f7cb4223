"""Sizing by the real checks: a feed is put behind the board by itself and judged.

What passes here is the least that any plan with that feed must build, so it prices the programme from below; what a
whole plan needs beyond it comes back from the checks of the whole plan.

A supply whose impedance or fault current is not known is tried at its two corners: greatest impedance with greatest
fault current, and least with least. What passes at the first holds whatever the readings say; what passes only at the
second depends on them. Answers are kept, and a loop that is short enough at one length is so at every shorter one.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable, Sequence
from dataclasses import dataclass, field
from typing import Any, Protocol, TypeAlias

from relet.codes import load_code
from relet.errors import ReletError
from relet.model import Case, Claim, Exactly, Installation, Map, Part, Path, Seat, merge
from relet.planning import held, pieces
from relet.planning.parts import of_kind, same_range
from relet.planning.problem import Problem


class Judge(Protocol):
    """`relet.checks.judge`, or something that stands in for it."""

    def __call__(self, case: Case, *, rules: Sequence[str] | None = None) -> Any:
        """Findings of a case, of these rules only if any are named."""


OVERLOAD = ("conductor.overload",)
BREAKING = ("fault.breaking_capacity",)
CLEARING = ("fault.disconnection",)
HEATING = ("fault.conductor_heating",)
OPEN_SUPPLY = ("ze_ohm", "ipf_ka")
WORTH_A_SURE_ONE = 1.05
"""How much dearer a feed may be that holds whatever the readings say, before the cheapest that may hold is taken."""

Built: TypeAlias = tuple[Installation, tuple[str, ...]]
"""A trial feed, and the seats to look at."""
Make: TypeAlias = Callable[[float], Built]
Grade: TypeAlias = int
"""0 something fails; 1 nothing fails but something depends on what is not known; 2 all is met."""


def grade(findings: Any, about: Iterable[str]) -> Grade:
    """How findings about these seats stand."""
    seats = tuple(about)
    verdicts = {f.verdict for f in findings.findings if f.subject.split("/device")[0] in seats}
    return 0 if "fails" in verdicts else 1 if "depends" in verdicts else 2


def corners(problem: Problem) -> tuple[Map[str, Claim], ...]:
    """The supply at its worst and at its best, as claims that close what is open; one corner if nothing is."""
    facts, code = problem.unit.supply.facts, load_code(problem.code)
    earthing = held.words(facts, "earthing", code, "supply")
    phases = held.number(facts, "phases", code, "supply") or 3
    out: list[Map[str, Claim]] = []
    ends: tuple[held.End, ...] = ("high", "low")
    for end in ends:
        claims: dict[str, Claim] = {}
        for fact in OPEN_SUPPLY:
            claim = facts.get(fact)
            if claim is not None and claim.certain:
                continue
            cases = earthing if fact == "ze_ohm" else (f"{phases:g}",)
            value = held.number(facts, fact, code, "supply", end, cases)
            if value is not None:
                path = Path(claim.about if claim is not None else f"supply.{fact}")
                claims[str(path)] = Claim(
                    about=path, holds=Exactly(value), how="chosen", note=f"tried at its {end} end"
                )
        out.append(Map(claims))
    return tuple(out) if out[0] else tuple(out[:1])


@dataclass
class Trials:
    """Judged trial feeds. `count` says how often the checks were asked."""

    problem: Problem
    kept: Installation
    judge: Judge
    count: int = 0
    _passed: dict[tuple[object, ...], tuple[float, float, float, float]] = field(default_factory=dict)

    def __post_init__(self) -> None:
        boards = self.kept.boards
        incomers = {s: d for s, d in self.kept.devices.items() if s.endswith("/incomer") and s.split("/")[0] in boards}
        self._behind = Installation(boards=boards, devices=Map(incomers))
        self._corners = corners(self.problem)
        board = self.problem.catalogue.parts.get(next(iter(boards.values())).part)
        outgoing = [p for p in of_kind(self.problem.catalogue, "mcb", "rcbo") if board is None or same_range(p, board)]
        self._outgoing = outgoing[0] if outgoing else None

    def feed(self, key: tuple[object, ...], rules: Sequence[str], length_m: float, make: Make) -> Grade:
        """Grade of a feed at a length by some rules; `make` builds it for a length.

        Kept by key and rules. Grades fall with length: longest that met all, shortest and longest that only did not
        fail, shortest that failed.
        """
        key = (*key, *rules)
        met, first, passed, failed = self._passed.get(key, (-1.0, float("inf"), -1.0, float("inf")))
        if length_m <= met:
            return 2
        if first <= length_m <= passed:
            return 1
        if length_m >= failed:
            return 0
        got = self._grade(rules, *make(length_m))
        if got == 2:
            met = length_m
        elif got == 1:
            first, passed = min(first, length_m), max(passed, length_m)
        else:
            failed = length_m
        self._passed[key] = (met, first, passed, failed)
        return got

    def _grade(self, rules: Sequence[str], new: Installation, seats: tuple[str, ...]) -> Grade:
        for n, learned in enumerate(self._corners):
            case = Case(
                where="plan", unit=self.problem.unit, installation=merge(self._behind, new), tenancy=None, use=None,
                catalogue=self.problem.catalogue, code=self.problem.code, learned=learned,
            )  # fmt: skip
            self.count += 1
            try:
                got = grade(self.judge(case, rules=rules), seats)
            except ReletError:  # outside a published table: not to be built
                got = 0
            if got:
                return min(got, 2 - n)
        return 0

    def at_the_end(self, frame: Part, incomer: Part) -> Installation:
        """An assembly "A999" with its incomer and one outgoing device: what makes its feed a distribution circuit."""
        at = next(iter(self.problem.standing.boards.values())).at_m
        devices = {"A999/incomer": pieces.device("plan", "A999/incomer", incomer)}
        if self._outgoing is not None:
            devices["A999/rail/1"] = pieces.device("plan", "A999/rail/1", self._outgoing)
        hung = pieces.assembly("A999", frame, at, self.problem.choices.height_m, "")
        return Installation(devices=at_seats(devices), assemblies=at_seats({"A999": hung}))


Stage: TypeAlias = tuple[tuple[object, ...], tuple[str, ...], float]
"""(what the answer is kept by, rules, length looked at)."""


def first_that_passes(
    trials: Trials, options: Sequence[float], stages: Callable[[int], Sequence[Stage]], make: Callable[[int], Make]
) -> tuple[int, Grade] | None:
    """The cheapest option that fails nothing; a dearer one up to WORTH_A_SURE_ONE if it depends on less.

    options  prices, cheapest first;  stages(n) what option n is tried by, the cheap trials first
    """
    best: tuple[int, tuple[int, ...]] | None = None
    for n, price in enumerate(options):
        if best is not None and price > options[best[0]] * WORTH_A_SURE_ONE:
            break
        grades: list[Grade] = []
        several = stages(n)
        for key, rules, length in several:
            grades.append(trials.feed(key, rules, length, make(n)))
            if not grades[-1] or (best is not None and sum(grades) + 2 * (len(several) - len(grades)) <= sum(best[1])):
                break  # it fails, or depends on no less than the cheaper one does
        if not grades[-1] or len(grades) < len(several):
            continue
        if all(g == 2 for g in grades):
            return n, 2
        if best is None or sum(grades) > sum(best[1]):
            best = (n, tuple(grades))
    return None if best is None else (best[0], 1)


@dataclass(frozen=True)
class Radial:
    """How a radial of one rating is built at one length."""

    device: Part
    csa_mm2: float
    grade: Grade


def smallest_radial(
    trials: Trials, way: str, options: Sequence[tuple[float, Part, float]], length_m: float, frame: Part, incomer: Part,
    ambient_c: float | None = None,
) -> Radial | None:  # fmt: skip
    """The cheapest (price, device, size) of a radial that passes.

    options  cheapest first
    """
    cable, end = trials.problem.choices.cable, trials.at_the_end(frame, incomer)

    def make(n: int) -> Make:
        _, part, csa = options[n]

        def at(length: float) -> Built:
            new = Installation(
                devices=at_seats({way: pieces.device("plan", way, part)}),
                runs=at_seats({"R999": pieces.run("R999", way, "A999", cable, csa, length, ambient_c)}),
            )
            return merge(new, end), ("R999", way)

        return at

    def stages(n: int) -> Sequence[Stage]:
        _, part, csa = options[n]
        rated = (part.kind, part.data.get("in_a"), csa, ambient_c)
        long = (part.id, csa, ambient_c)
        return (
            (rated, OVERLOAD, 1.0), ((part.id,), BREAKING, 1.0), (long, CLEARING, length_m), (long, HEATING, length_m)
        )  # fmt: skip

    got = first_that_passes(trials, [o[0] for o in options], stages, make)
    return None if got is None else Radial(options[got[0]][1], options[got[0]][2], got[1])


@dataclass(frozen=True)
class Drop:
    """How a tap-off with its drop is built."""

    tap: Part
    device: Part
    csa_mm2: float
    grade: Grade


def smallest_drop(
    trials: Trials, way: str, feed: Part, run: Part, options: Sequence[tuple[float, Part, Part, float]],
    along_m: float, nearest_m: float, drop_m: float, frame: Part, incomer: Part,
) -> Drop | None:  # fmt: skip
    """The cheapest (price, tap-off, device, size) of a drop that passes at a distance along a tapped run.

    nearest_m  the nearest tap on the run, where its device may have to break most
    """
    flexible, end, seat = trials.problem.choices.flexible, trials.at_the_end(frame, incomer), "R998/tap/1"

    def make(n: int) -> Make:
        _, part, dev, csa = options[n]

        def at(along: float) -> Built:
            new = Installation(
                devices=at_seats({way: pieces.device("plan", way, feed), seat: pieces.device("plan", seat, dev)}),
                runs=at_seats(
                    {
                        "R998": pieces.tapped_run("R998", way, run, along),
                        "R999": pieces.run("R999", seat, "A999", flexible, csa, drop_m),
                    }
                ),
                taps=at_seats({seat: pieces.tap(seat, part, along)}),
            )
            return merge(new, end), ("R999", seat)

        return at

    def stages(n: int) -> Sequence[Stage]:
        _, part, dev, csa = options[n]
        long = (feed.id, run.id, part.id, dev.id, csa, round(drop_m, 1))
        return (
            (("drop", dev.kind, dev.data.get("in_a"), csa), OVERLOAD, along_m),
            (("drop", feed.id, run.id, dev.id), BREAKING, nearest_m),
            (long, CLEARING, along_m), (long, HEATING, along_m),
        )  # fmt: skip

    got = first_that_passes(trials, [o[0] for o in options], stages, make)
    return None if got is None else Drop(*options[got[0]][1:], got[1])


def run_feed(
    trials: Trials, way: str, options: Sequence[tuple[float, Part]], run: Part, length_m: float
) -> Part | None:
    """The cheapest device at the board that protects a tapped run of this length."""

    def make(n: int) -> Make:
        part = options[n][1]

        def at(length: float) -> Built:
            new = Installation(
                devices=at_seats({way: pieces.device("plan", way, part)}),
                runs=at_seats({"R998": pieces.tapped_run("R998", way, run, length)}),
            )
            return new, ("R998", way)

        return at

    def stages(n: int) -> Sequence[Stage]:
        part = options[n][1]
        return (("run", part.id, run.id), (*OVERLOAD, *CLEARING), length_m), ((part.id,), BREAKING, 1.0)

    got = first_that_passes(trials, [o[0] for o in options], stages, make)
    return None if got is None else options[got[0]][1]


def at_seats(group: dict[str, Any]) -> Any:
    """Pieces by seat."""
    return Map({Seat(s): p for s, p in group.items()})
