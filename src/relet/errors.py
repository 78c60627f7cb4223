"""The one tree of errors that a user can meet.

    ReletError
    ├── InputError       a file, an argument or a value that cannot be used: where, value met, what is allowed
    ├── InputErrors      several InputErrors of one file, told together
    ├── OutsideTable     a look-up outside the range of a published table: table and value; nothing is extrapolated
    ├── NotSolved        a network without a solution: how far it came
    ├── NotFeasible      no plan exists: the rules and wishes that cannot be met together
    └── RecordConflict   two people changed the same thing

One sentence serves command, page and JSON. No traceback reaches a user for any of them.
"""

from __future__ import annotations

from collections.abc import Sequence


class ReletError(Exception):
    """Base of every error that is told to a user in one sentence."""


class InputError(ReletError):
    """Something that was typed or read cannot be used.

    what    one sentence: the value met and what is allowed
    file    name of the file, if any
    line    1-based line in it, if known
    place   dotted path inside the file, if any
    """

    def __init__(self, what: str, *, file: str = "", line: int | None = None, place: str = "") -> None:
        self.what, self.file, self.line, self.place = what, file, line, place
        super().__init__(str(self))

    def __str__(self) -> str:
        head = self.file + (f":{self.line}" if self.line is not None else "") if self.file else ""
        return ": ".join(part for part in (head, self.place, self.what) if part)


class InputErrors(ReletError):
    """Every mistake that one file can still show, in the order of its lines."""

    def __init__(self, mistakes: Sequence[InputError], tail: str = "") -> None:
        self.mistakes = tuple(mistakes)
        self.tail = tail
        super().__init__(str(self))

    def __str__(self) -> str:
        n = len(self.mistakes)
        last = self.tail or f"{n} mistake{'' if n == 1 else 's'}, nothing was changed"
        return "\n".join([*(str(m) for m in self.mistakes), last])


class OutsideTable(ReletError):
    """A look-up met a value that the table does not hold. Nothing is extrapolated."""

    def __init__(self, table: str, asked: str, allowed: str) -> None:
        self.table, self.asked, self.allowed = table, asked, allowed
        super().__init__(f"table {table}: {asked} is outside it. It holds {allowed}. Nothing is extrapolated.")


class NotSolved(ReletError):
    """A calculation by repeated steps did not settle. There is no answer, and none is given."""

    def __init__(self, what: str, residual: float, steps: int) -> None:
        self.what, self.residual, self.steps = what, residual, steps
        super().__init__(f"{what}: no solution after {steps} steps, residual {residual:.1e}")


class NotFeasible(ReletError):
    """No plan can meet all of these together. `clash` is minimal: drop any one and the rest can be met."""

    def __init__(self, clash: Sequence[str]) -> None:
        self.clash = tuple(clash)
        super().__init__("these cannot be met together:\n" + "\n".join(f"  - {c}" for c in self.clash))


class RecordConflict(ReletError):
    """Two people changed the same thing; both values are named."""
