"""What is held about a fact, at the end of its range that asks most of a plan.

A plan must hold for every value that an unknown may have, so the planner reads each fact at its worse end: the
greatest power, the least power factor. What only the library of kinds says is taken at its usual value: planning for
the largest machine of a kind would refuse the plug it usually has; the verdict on it stays open. Order as in the
checks: what is held, the code pack's default, the plausible range. (Verdicts are the checks' business; nothing here is
a figure of a working.)
"""

from __future__ import annotations

from collections.abc import Iterable
from typing import Literal

from relet.checks.facts import typical
from relet.codes import Code
from relet.errors import OutsideTable
from relet.model import Between, Claim, Exactly, Facts, OneOf, Scalar
from relet.tables.plausible import plausible

End = Literal["high", "low"]


def number(
    facts: Facts, field: str, code: Code, scope: str, end: End = "high", cases: Iterable[str] = ()
) -> float | None:
    """The fact as a number at its worse end, or None if nothing is held, defaulted or plausible.

    scope  of the default in the code pack: "machine", "supply", "policy"
    end    which end asks most
    cases  names under which the plausible range may be narrowed, best first
    """
    claim = facts.get(field)
    if claim is not None and (found := _ends(claim)):
        return max(found) if end == "high" else min(found)
    if claim is None and (default := code.default(scope, field)) is not None:
        ends = [v for v in (default.low, default.high) if v is not None] or [float(default.value)]
        return max(ends) if end == "high" else min(ends)
    for case in (*cases, ""):
        try:
            row = plausible(field, case)
        except OutsideTable:
            continue
        ends = [float(v) for v in (row.low, row.high) if v is not None]
        if ends:
            return max(ends) if end == "high" else min(ends)
    return None


def words(facts: Facts, field: str, code: Code, scope: str) -> tuple[str, ...]:
    """Every word that the fact may be; () if nothing is held or defaulted."""
    claim = facts.get(field)
    if claim is None:
        default = code.default(scope, field)
        return (default.value,) if default is not None and default.value else ()
    if isinstance(claim.holds, Exactly):
        return (_word(claim.holds.value),)
    if isinstance(claim.holds, OneOf):
        return tuple(_word(o) for o in claim.holds.options)
    return ()


def yes(facts: Facts, field: str, code: Code, scope: str) -> bool:
    """True if the fact may be yes."""
    return any(w in ("yes", "true", "True") for w in words(facts, field, code, scope))


def _ends(claim: Claim) -> list[float]:
    h = claim.holds
    if isinstance(h, Exactly):
        return _numbers((h.value,))
    if isinstance(h, Between):
        return [typical(claim.note, h)] if claim.how == "kind" else [h.low, h.high]
    return _numbers(h.options) if isinstance(h, OneOf) else []


def _numbers(values: Iterable[Scalar]) -> list[float]:
    out = []
    for v in values:
        try:
            out.append(float(v))
        except ValueError:
            continue
    return out


def _word(value: Scalar) -> str:
    if isinstance(value, bool):
        return "yes" if value else "no"
    return f"{value:g}" if isinstance(value, float) else str(value)
