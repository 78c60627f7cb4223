"""verify(): every value that must be met, met or not; mutants(): would a wrong function be noticed."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import asdict, dataclass, replace
from typing import Any, Final, NamedTuple

from relet.errors import ReletError
from relet.verify.calling import Call
from relet.verify.case import Case, Kind, Value, cases
from relet.verify.register import source
from relet.working import Fact, Figure, Lookup

FORMAT: Final = "relet/verify/1"
SCALE: Final = 1.02
PUBLISHED: Final = ("V2", "V1")
FROM_MEMORY: Final = ("M+", "M")
_HAIR: Final = 1e-9


@dataclass(frozen=True, slots=True)
class Check:
    """One value, met or not.

    source     codes of the register, "WE01;WE02"
    status     V2 V1 published, M+ M from memory, C computed here
    function   the function of the product whose result is compared; `through` holds all that the case called so far
    printed    the expected value as it stands in print
    kind       "example", or "table": a row of a printed table that a formula gives again
    """

    id: str
    topic: str
    source: str
    status: str
    function: str
    expected: float
    got: float
    unit: str
    tolerance: float
    ok: bool
    note: str
    printed: str
    locator: str
    kind: Kind
    through: tuple[str, ...]


class Counts(NamedTuple):
    """published, sources and functions speak of worked examples in print alone; the rest is counted apart.

    published    values of status V2 or V1          computed, from_memory  C; M+ and M
    sources      publications behind the published  functions  functions whose results are compared with them
    reproduced   values of printed tables           failed     of all
    """

    published: int
    computed: int
    from_memory: int
    sources: int
    functions: int
    reproduced: int
    failed: int


@dataclass(frozen=True, slots=True)
class Mutant:
    """A function with its result scaled.

    checks   values that then come out otherwise       caught   of these, the ones that fail
    ok       the mistake was noticed
    """

    function: str
    checks: int
    caught: int
    ok: bool


def verify(mutate: float | None = None) -> tuple[Check, ...]:
    """Every check, in the order of the list.

    mutate  None: as the product is. A factor: each value is met again with the result of its own function scaled by
            it, so that every check ought to fail (mutants() tells function by function)
    """
    if mutate is None:
        return tuple(c for case in cases() for c in _checks(case, Call()))
    tried: dict[tuple[str, str], dict[str, Check]] = {}
    for case in cases():
        for name in {c.function for c in _checks(case, Call())}:
            tried[case.id, name] = {c.id: c for c in _checks(case, Call(name, mutate))}
    wrong = []
    for case in cases():
        for c in _checks(case, Call()):
            again = tried[case.id, c.function].get(c.id)
            wrong.append(again or replace(c, got=math.nan, ok=False, note="the scaled result was refused"))
    return tuple(wrong)


def mutants(factor: float = SCALE) -> tuple[Mutant, ...]:
    """For each function that a case calls: is its result, wrong by a factor, noticed by a check."""
    called: dict[str, list[Case]] = {}
    right: dict[str, float] = {}
    for case in cases():
        call = Call()
        right |= {c.id: c.got for c in _checks(case, call)}
        for name in dict.fromkeys(call.trail):
            called.setdefault(name, []).append(case)
    out = []
    for name, users in sorted(called.items()):
        tried = [c for case in users for c in _checks(case, Call(name, factor))]
        moved = [c for c in tried if c.got != right.get(c.id)]
        caught = sum(not c.ok for c in moved)
        out.append(Mutant(name, len(moved), caught, caught > 0))
    return tuple(out)


def counts(checks: Sequence[Check]) -> Counts:
    """How many of which kind."""
    examples = [c for c in checks if c.kind == "example"]
    published = [c for c in examples if c.status in PUBLISHED]
    return Counts(
        published=len(published),
        computed=sum(c.status == "C" for c in examples),
        from_memory=sum(c.status in FROM_MEMORY for c in examples),
        sources=len({code for c in published for code in c.source.split(";")}),
        functions=len({c.function for c in published}),
        reproduced=sum(c.kind == "table" for c in checks),
        failed=sum(not c.ok for c in checks),
    )


def as_json(checks: Sequence[Check], tried: Sequence[Mutant] | None = None) -> dict[str, Any]:
    """The documented form "relet/verify/1"; `tried` adds what mutants() found."""
    codes = sorted({code for c in checks for code in c.source.split(";")})
    out: dict[str, Any] = {
        "format": FORMAT,
        "checks": [asdict(c) | {"got": c.got if math.isfinite(c.got) else None} for c in checks],
        "counts": counts(checks)._asdict(),
        "sources": {code: str(source(code)) for code in codes},
    }
    if tried:
        out["mutants"] = [asdict(m) for m in tried]
        out["counts"]["not_caught"] = sum(not m.ok for m in tried)
    return out


def _checks(case: Case, call: Call) -> list[Check]:
    out = []
    try:
        for value, figure in case.run(call):
            out.append(_check(case, value, figure, call))
    except ReletError:
        if call.wrong is None:
            raise
        # a scaled result that the next function refuses: noticed, and told as a value that is not met
        out.append(_refused(case, call))
    return out


def _check(case: Case, value: Value, figure: Figure, call: Call) -> Check:
    if isinstance(figure.origin, Lookup | Fact):
        raise TypeError(f"{value.id}: the value was read, not computed")
    if figure.unit != value.unit:
        raise TypeError(f"{value.id}: in {figure.unit or 'no unit'}, expected in {value.unit or 'no unit'}")
    expected, got = float(value.printed), float(figure)
    ok = abs(got - expected) <= value.tolerance + _HAIR * max(1.0, abs(expected))  # False for nan
    return Check(
        id=value.id, topic=case.topic, source=value.source, status=value.status, function=call.trail[-1],
        expected=expected, got=got, unit=value.unit, tolerance=value.tolerance, ok=ok, note=value.note,
        printed=value.printed, locator=value.locator, kind=case.kind, through=tuple(dict.fromkeys(call.trail)),
    )  # fmt: skip


def _refused(case: Case, call: Call) -> Check:
    return Check(
        id=f"{case.id}.refused", topic=case.topic, source="C", status="C", function=call.trail[-1],
        expected=0.0, got=math.nan, unit="", tolerance=0.0, ok=False, note="the scaled result was refused",
        printed="", locator="", kind=case.kind, through=tuple(dict.fromkeys(call.trail)),
    )  # fmt: skip
