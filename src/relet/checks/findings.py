"""What judging answers: findings, needs, coverage, and the order in which to find out more."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass, field
from typing import Final, Literal

from relet.codes import Force
from relet.model import Between, Scalar
from relet.tables.core import worst_status
from relet.working import Figure, Ground, Lookup, Solved, Step, leaves, printed, printed_towards, steps, weakest_ground

Beside = Figure | Callable[[], Figure | None]
Verdict = Literal["meets", "fails", "depends", "refer", "advice", "not applicable"]
Sense = Literal["at_most", "at_least"]
_COUNTED: Final = "counted: "
_NOISE: Final = 1e-9

WORST_FIRST: tuple[Verdict, ...] = ("fails", "depends", "refer", "advice", "meets", "not applicable")


@dataclass(frozen=True, slots=True)
class Judged:
    """What a rule answers for one subject when everything is certain: a value against a limit.

    sense     the value must be at most, or at least, the limit
    sentence  one sentence in plain words, without the figures
    beside    further figures worth showing: the other method, the phasor result; made when they are shown
    rests     words and figures that decide without being part of value or limit
    """

    value: Figure
    limit: Figure
    sense: Sense
    sentence: str
    beside: tuple[Beside, ...] = ()
    rests: tuple[Figure, ...] = ()

    @property
    def margin(self) -> float:
        """Room to the limit as a share of it; negative beyond it. A limit of zero counts as one; a count that is
        met has all its room."""
        v, lim = float(self.value), float(self.limit)
        if v != v or lim != lim:
            return float("-inf")
        if lim in (float("inf"), float("-inf")) or v in (float("inf"), float("-inf")):
            ok = v <= lim if self.sense == "at_most" else v >= lim
            return float("inf") if ok else float("-inf")
        room = lim - v if self.sense == "at_most" else v - lim
        if room >= 0 and self.counted:
            return 1.0
        return room / (abs(lim) or 1.0)

    @property
    def counted(self) -> str:
        """What was counted, where the value is a count and no quantity; else ""."""
        o = self.value.origin
        is_count = isinstance(o, Solved) and o.method.startswith(_COUNTED)
        return o.method.removeprefix(_COUNTED) if is_count else ""  # type: ignore[union-attr]

    @property
    def meets(self) -> bool:
        """Judged with unrounded figures; a hair of arithmetic noise is not a failure."""
        return self.margin >= -1e-12


@dataclass(frozen=True, slots=True)
class NotApplicable:
    """A rule does not apply to a subject, and why in one line."""

    why: str


@dataclass(frozen=True, slots=True)
class Refer:
    """The question belongs to a specialist."""

    specialist: str
    question: str
    bring_back: str
    rests: tuple[Figure, ...] = ()


def at_most(value: Figure, limit: Figure, sentence: str, *beside: Beside, rests: tuple[Figure, ...] = ()) -> Judged:
    """The value may not pass the limit."""
    return Judged(value, limit, "at_most", sentence, beside, rests)


def at_least(value: Figure, limit: Figure, sentence: str, *beside: Beside, rests: tuple[Figure, ...] = ()) -> Judged:
    """The value may not fall below the limit."""
    return Judged(value, limit, "at_least", sentence, beside, rests)


def worst(*several: Judged) -> Judged:
    """The one with the least room."""
    return min(several, key=lambda j: j.margin)


@dataclass(frozen=True, slots=True)
class Need:
    """What would settle a finding that depends.

    about      address of the fact
    meets_on   ranges of it on which the rule is met
    options    options of it on which the rule is met, when it is a choice
    surely     whatever the other unknowns are (False: only if they are at their best)
    words      "meets if Ze at the origin is 0.25 ohm or less", rounded to the safe side
    """

    about: str
    meets_on: tuple[Between, ...] = ()
    options: tuple[Scalar, ...] = ()
    surely: bool = True
    words: str = ""


@dataclass(frozen=True, slots=True)
class Finding:
    """One rule judged for one subject. `worst` and `best` are the judgements at the ends of what is not known."""

    rule: str
    subject: str
    where: str
    verdict: Verdict
    force: Force
    clause: str
    sentence: str
    title: str
    rule_status: str
    mark: str = ""
    worst: Judged | None = None
    best: Judged | None = None
    needs: tuple[Need, ...] = ()
    rests_on: tuple[str, ...] = ()
    monotone: bool = True

    @property
    def margin(self) -> float:
        """Room of the worst judgement; 0 where there is none."""
        return self.worst.margin if self.worst is not None else 0.0

    @property
    def decided_by(self) -> tuple[Figure, ...]:
        """Facts and table rows behind value, limit and whatever else decides the worst judgement."""
        if self.worst is None:
            return ()
        out: dict[int, Figure] = {}
        for f in (*self.figures, *self.worst.rests):
            out.update({id(leaf): leaf for leaf in leaves(f)})
        return tuple(out.values())

    @property
    def grounds(self) -> Ground:
        """The weakest ground among what decides it."""
        return weakest_ground((*self.figures, *(self.worst.rests if self.worst else ())))

    @property
    def status(self) -> str:
        """The weakest status among the rule's row and the table rows that decide it."""
        held = [f.origin.status for f in self.decided_by if isinstance(f.origin, Lookup)]
        return worst_status([self.rule_status, *held])

    @property
    def figures(self) -> tuple[Figure, ...]:
        """Value and limit of the worst judgement."""
        return (self.worst.value, self.worst.limit) if self.worst is not None else ()

    @property
    def value_text(self) -> str:
        """The value, rounded to the unfavourable side; a range where it is not certain."""
        if self.worst is None:
            return ""
        return _shown(self.worst, self.best, "value")

    @property
    def limit_text(self) -> str:
        """The limit, rounded to the unfavourable side; a range where it is not certain."""
        if self.worst is None:
            return ""
        return _shown(self.worst, self.best, "limit")

    def working(self) -> tuple[Step, ...]:
        """Steps behind value and limit of the worst judgement, each once."""
        out: dict[Step, None] = {}
        for f in self.figures:
            out.update(dict.fromkeys(steps(f)))
        return tuple(out)

    def beside(self) -> tuple[Figure, ...]:
        """Further figures worth showing."""
        if self.worst is None:
            return ()
        made = (b if isinstance(b, Figure) else b() for b in self.worst.beside)
        return tuple(b for b in made if b is not None)

    @property
    def key(self) -> str:
        """Address of the finding itself."""
        return f"{self.where}|{self.rule}|{self.subject}"


def _one(j: Judged, part: Literal["value", "limit"]) -> str:
    f = j.value if part == "value" else j.limit
    if j.counted:
        return f"{float(f):g}"
    if abs(float(f)) < _NOISE:
        return "0"
    up = (j.sense == "at_most") == (part == "value")
    return printed_towards(float(f), up=up) if f.unit else printed(float(f), 4)


def _shown(worst_: Judged, best: Judged | None, part: Literal["value", "limit"]) -> str:
    a = _one(worst_, part)
    if worst_.counted and part == "limit":
        return "none" if worst_.sense == "at_most" else f"at least {a}"
    unit = worst_.counted or (worst_.value if part == "value" else worst_.limit).unit
    if best is None or best.sense != worst_.sense or best.value.unit != worst_.value.unit:
        return f"{a} {unit}".rstrip()
    if bool(best.counted) != bool(worst_.counted) or (b := _one(best, part)) == a:
        return f"{a} {unit}".rstrip()
    if not worst_.counted and best.sentence != worst_.sentence:
        return f"{a} {unit}".rstrip()
    low, high = sorted((a, b), key=lambda t: float(t) if t.replace(".", "").lstrip("-").isdigit() else 0.0)
    return f"{low} to {high} {unit}".rstrip()


@dataclass(frozen=True, slots=True)
class Covered:
    """How far one rule was judged.

    state  "judged", "not applicable" or "not judged"
    """

    rule: str
    title: str
    force: Force
    clause: str
    state: str
    count: int
    why: str


@dataclass(frozen=True, slots=True)
class MeasureNext:
    """One look, question or reading, ranked.

    share    share of the open findings that this one answer settles, over its plausible range
    minutes  how long it takes
    way      "look", "ask" or "read"
    """

    about: str
    words: str
    way: str
    minutes: float
    share: float
    settles: int
    of: int


@dataclass(frozen=True, slots=True)
class Basis:
    """What every figure on a paper rests on."""

    code: str
    code_id: str
    figures: str
    catalogue: str
    method: str
    memory_decides: int
    unconfirmed: int


@dataclass(frozen=True, slots=True)
class Findings:
    """Everything judged for one case or several."""

    basis: Basis
    findings: tuple[Finding, ...]
    coverage: tuple[Covered, ...]
    next: tuple[MeasureNext, ...] = ()
    assumed: tuple[str, ...] = field(default=())

    def of(self, *verdicts: Verdict) -> tuple[Finding, ...]:
        """Findings with one of these verdicts."""
        return tuple(f for f in self.findings if f.verdict in verdicts)

    @property
    def worst_first(self) -> tuple[Finding, ...]:
        """Fails first, then what depends, refers and advises, then what meets by least margin."""
        return tuple(sorted(self.findings, key=lambda f: (WORST_FIRST.index(f.verdict), f.margin, f.rule, f.subject)))

    def counts(self) -> dict[Verdict, int]:
        """Number of findings by verdict."""
        return {v: sum(1 for f in self.findings if f.verdict == v) for v in WORST_FIRST}

    @property
    def exit_code(self) -> int:
        """0 nothing fails or depends, 1 something fails, 3 something depends."""
        counts = self.counts()
        return 1 if counts["fails"] else 3 if counts["depends"] else 0
