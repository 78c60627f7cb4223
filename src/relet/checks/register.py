"""The rule register and the two decorators that fill it.

A family is a view: all that its rules may look at, made by the study for each of its subjects. A rule is one small
function from a view to a judgement, one row in register.csv (title, family, sense) and one in each code's rules.csv
(force, clause). A test compares the rows with the functions.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable, Mapping
from dataclasses import dataclass
from functools import lru_cache
from pathlib import Path
from typing import TYPE_CHECKING, Any, Final, TypeVar

from relet.checks.findings import Judged, NotApplicable, Refer
from relet.codes import Code, rows_of

if TYPE_CHECKING:
    from relet.checks.study import Study

Outcome = Judged | NotApplicable | Refer
View = Any
RuleFunction = Callable[[Any, Code], Outcome]

_RULES: Final[dict[str, RuleFunction]] = {}
_FAMILIES: Final[dict[str, Family]] = {}
R = TypeVar("R", bound=RuleFunction)


@dataclass(frozen=True, slots=True)
class Family:
    """How to find the subjects of a family, and how to look at one of them.

    none  what the coverage table says when there is no subject at all
    """

    name: str
    subjects: Callable[[Study], Iterable[str]]
    view: Callable[[Study, str], View]
    none: str


@dataclass(frozen=True, slots=True)
class RegisterRow:
    """One row of register.csv.

    sense  "monotone" (ends of a range are enough) or "scanned" (points between are tried too)
    """

    rule: str
    family: str
    title: str
    inputs: str
    sense: str
    check: str


def rule(id: str) -> Callable[[R], R]:
    """Register a rule."""

    def keep(f: R) -> R:
        if id in _RULES:
            raise ValueError(f"rule {id} is defined twice")
        _RULES[id] = f
        return f

    return keep


def family(name: str, *, subjects: Callable[[Study], Iterable[str]], none: str) -> Callable[[Any], Any]:
    """Register the view function of a family."""

    def keep(view: Callable[[Study, str], View]) -> Callable[[Study, str], View]:
        if name in _FAMILIES:
            raise ValueError(f"family {name} is defined twice")
        _FAMILIES[name] = Family(name, subjects, view, none)
        return view

    return keep


def functions() -> Mapping[str, RuleFunction]:
    """Every registered rule function."""
    return _RULES


def families() -> Mapping[str, Family]:
    """Every registered family."""
    return _FAMILIES


@lru_cache(maxsize=1)
def register() -> Mapping[str, RegisterRow]:
    """The rows of register.csv by rule, in the order of the file."""
    rows = rows_of(Path(__file__).parent / "register.csv")
    return {
        r["rule"]: RegisterRow(r["rule"], r["family"], r["title"], r["inputs"], r["sense"], r["check"]) for _, r in rows
    }
