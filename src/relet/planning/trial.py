"""Sizing by the real checks: a feed is put into the standing installation by itself and judged.

What passes here is the least that any plan with that feed must build, so it prices the programme from below; what a
whole plan needs beyond it comes back from the checks of the whole plan. Answers are kept, and a feed that passes at
one length passes at every shorter one.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable, Sequence
from dataclasses import dataclass, field
from typing import Any, Protocol, TypeAlias

from relet.errors import ReletError
from relet.model import Case, Installation, Map, Part, Seat, merge
from relet.planning import pieces
from relet.planning.problem import Problem


class Judge(Protocol):
    """`relet.checks.judge`, or something that stands in for it."""

    def __call__(self, case: Case, *, rules: Sequence[str] | None = None) -> Any:
        """Findings of a case, of these rules only if any are named."""


FEED_RULES = (
    "conductor.overload", "conductor.volt_drop", "fault.breaking_capacity", "fault.disconnection",
    "fault.conductor_heating",
)  # fmt: skip
"""Rules that a feed meets or fails whatever is plugged in at its far end."""

Built: TypeAlias = tuple[Installation, tuple[str, ...]]
"""A trial feed, and the seats to look at."""
Make: TypeAlias = Callable[[float], Built]
Grade: TypeAlias = int
"""0 something fails; 1 nothing fails but something depends on what is not known; 2 all is met."""


def grade(findings: Any, about: Iterable[str]) -> Grade:
    """How findings about these seats stand."""
    seats = tuple(about)
    verdicts = {f.verdict for f in findings.findings if f.subject.split("/device")[0].startswith(seats)}
    return 0 if "fails" in verdicts else 1 if "depends" in verdicts else 2


@dataclass
class Trials:
    """Judged trial feeds. `count` says how often the checks were asked."""

    problem: Problem
    kept: Installation
    judge: Judge
    rules: Sequence[str] = FEED_RULES
    count: int = 0
    _passed: dict[tuple[object, ...], tuple[float, float, float]] = field(default_factory=dict)

    def feed(self, key: tuple[object, ...], length_m: float, make: Make) -> Grade:
        """Grade of a feed at a length; `make` builds it for a length.

        Kept by key: (longest that met all, longest that at least did not fail, shortest that failed).
        """
        met, passed, failed = self._passed.get(key, (-1.0, -1.0, float("inf")))
        if length_m <= met:
            return 2
        if length_m >= failed:
            return 0
        new, seats = make(length_m)
        case = Case(
            where="plan", unit=self.problem.unit, installation=merge(self.kept, new), tenancy=None, use=None,
            catalogue=self.problem.catalogue, code=self.problem.code,
        )  # fmt: skip
        self.count += 1
        try:
            got = grade(self.judge(case, rules=self.rules), seats)
        except ReletError:  # outside a published table: not to be built
            got = 0
        if got == 2:
            met = max(met, length_m)
        if got >= 1:
            passed = max(passed, length_m)
        else:
            failed = min(failed, length_m)
        self._passed[key] = (met, passed, failed)
        return got


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
    """The cheapest (price, device, size) that meets every rule; failing that, the cheapest that fails none.

    options  cheapest first
    """
    second: Radial | None = None
    cable, at = trials.problem.choices.cable, next(iter(trials.problem.standing.boards.values())).at_m
    for _, part, csa in options:

        def make(length: float, part: Part = part, csa: float = csa) -> Built:
            return (
                Installation(
                    devices=_map({way: pieces.device("plan", way, part),
                                  "A999/incomer": pieces.device("plan", "A999/incomer", incomer)}),
                    runs=_map({"R999": pieces.run("R999", way, "A999", cable, csa, length, ambient_c)}),
                    assemblies=_map({"A999": pieces.assembly("A999", frame, at, trials.problem.choices.height_m, "")}),
                ),
                ("R999", way),
            )  # fmt: skip

        got = trials.feed(("radial", part.id, csa, ambient_c), length_m, make)
        if got == 2:
            return Radial(part, csa, 2)
        if got == 1 and second is None:
            second = Radial(part, csa, 1)
    return second


@dataclass(frozen=True)
class Drop:
    """How a tap-off with its drop is built."""

    tap: Part
    device: Part
    csa_mm2: float
    grade: Grade


def smallest_drop(
    trials: Trials, way: str, feed: Part, run: Part, options: Sequence[tuple[float, Part, Part, float]],
    along_m: float, drop_m: float, frame: Part, incomer: Part,
) -> Drop | None:  # fmt: skip
    """The cheapest (price, tap-off, device, size) whose drop meets every rule at a distance along a tapped run."""
    second: Drop | None = None
    flexible, at = trials.problem.choices.flexible, next(iter(trials.problem.standing.boards.values())).at_m
    for _, part, dev, csa in options:

        def make(along: float, part: Part = part, dev: Part = dev, csa: float = csa) -> Built:
            at_tap = "R998/tap/1"
            return (
                Installation(
                    devices=_map({way: pieces.device("plan", way, feed), at_tap: pieces.device("plan", at_tap, dev),
                                  "A999/incomer": pieces.device("plan", "A999/incomer", incomer)}),
                    runs=_map({"R998": pieces.tapped_run("R998", way, run, along),
                               "R999": pieces.run("R999", at_tap, "A999", flexible, csa, drop_m)}),
                    taps=_map({at_tap: pieces.tap(at_tap, part, along)}),
                    assemblies=_map({"A999": pieces.assembly("A999", frame, at, trials.problem.choices.height_m, "")}),
                ),
                ("R999", at_tap),
            )  # fmt: skip

        key = ("drop", feed.id, run.id, part.id, dev.id, csa, round(drop_m, 1))
        got = trials.feed(key, along_m, make)
        if got == 2:
            return Drop(part, dev, csa, 2)
        if got == 1 and second is None:
            second = Drop(part, dev, csa, 1)
    return second


def run_feed(
    trials: Trials, way: str, options: Sequence[tuple[float, Part]], run: Part, length_m: float
) -> Part | None:
    """The cheapest device at the board that protects a tapped run of this length."""
    second: Part | None = None
    for _, part in options:

        def make(length: float, part: Part = part) -> Built:
            return (
                Installation(
                    devices=_map({way: pieces.device("plan", way, part)}),
                    runs=_map({"R998": pieces.tapped_run("R998", way, run, length)}),
                ),
                ("R998", way),
            )

        got = trials.feed(("run", part.id, run.id), length_m, make)
        if got == 2:
            return part
        if got == 1 and second is None:
            second = part
    return second


def _map(group: dict[str, Any]) -> Any:
    return Map({Seat(s): p for s, p in group.items()})
