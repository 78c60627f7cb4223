"""From what is held to figures: which claim counts, what a left-out fact is taken as, what an unknown may be.

Order: a trial value (what if) > what was learned > the piece's own claim > the maker's data of its part >
the printed default of the code pack > the plausible range of the tool's table > missing.
"""

from __future__ import annotations

from collections.abc import Callable, Mapping
from dataclasses import dataclass, replace
from functools import lru_cache
from typing import Final

from relet.codes import Code
from relet.model import Between, Case, Claim, Exactly, Facts, OneOf, Open, Part, Scalar
from relet.tables.plausible import Plausible
from relet.tables.plausible import facts as known_facts
from relet.tables.plausible import plausible as of_table
from relet.working import Figure, Ground, Word, fact, lookup

_GROUND: Final[Mapping[str, Ground]] = {
    "read": "measured", "seen": "nameplate", "told": "declared", "maker": "declared", "kind": "assumed",
    "chosen": "chosen", "default": "assumed",
}  # fmt: skip
YES: Final = frozenset({"true", "yes"})


@dataclass(frozen=True, slots=True)
class Owner:
    """Something that facts are held about.

    at     prefix of its addresses: "standing.runs.R7"
    of     scope for defaults and plausible ranges: supply, run, device, machine, load, board, assembly, outlet, tap,
           containment, policy
    """

    at: str
    of: str
    facts: Facts
    part: Part | None = None
    case: str = ""

    def cased(self, case: str) -> Owner:
        """The same owner with another case for its plausible ranges."""
        return replace(self, case=case)


@dataclass(frozen=True, slots=True)
class OpenFact:
    """A fact that may be one of several things: the options, or the ends of a range.

    kind     "unknown", "range", "choice" or "assumed"
    source   where the plausible range of an unknown comes from
    """

    path: str
    of: str
    field: str
    unit: str
    kind: str
    options: tuple[Scalar, ...]
    low: float
    high: float
    nominal: Scalar
    source: str

    @property
    def is_range(self) -> bool:
        """True for a range of numbers, False for options."""
        return not self.options

    def probes(self, between: int = 0) -> tuple[Scalar, ...]:
        """Values to try: every option, or both ends and `between` points inside."""
        if self.options:
            return self.options
        n = between + 1
        return tuple(self.low + (self.high - self.low) * i / n for i in range(n + 1))


class Missing(Exception):
    """A rule needs a datum that is nowhere held, not even as a plausible range. It becomes `depends`, never a crash."""

    def __init__(self, path: str, what: str) -> None:
        self.path, self.what = path, what
        super().__init__(f"{what} is not held at {path}")


class FactBook:
    """Answers questions about facts, and remembers which open facts were asked for.

    trial    values put in for open facts (or any fact: "what if")
    touched  called with the address of every open or tried fact that is used
    """

    def __init__(self, case: Case, code: Code, trial: Mapping[str, Scalar], touched: Callable[[str], None]) -> None:
        self.case, self.code, self.trial, self._touched = case, code, trial, touched
        self.open: dict[str, OpenFact] = {}

    # ---- numbers ----

    def number(self, owner: Owner, field: str, unit: str, *, name: str = "") -> Figure:
        """The fact as a figure; left out, it is unknown over its plausible range. Raises Missing."""
        found = self.maybe(owner, field, unit, name=name)
        if found is None:
            path = f"{owner.at}.{field}"
            row = plausible(owner, field)
            if row is None:
                raise Missing(path, field)
            opened = self._remember(_from_row(path, owner.of, field, unit, row, "unknown"))
            value = _number(opened.nominal, path)
            return fact(path, value, unit, "unknown", opened.source, name=name or field, is_open=True)
        return found

    def maybe(self, owner: Owner, field: str, unit: str, *, name: str = "") -> Figure | None:
        """The fact as a figure, its printed default when it is left out, or None when there is no default."""
        path, claim = self._claim(owner, field)
        name = name or field
        if path in self.trial:
            return self._tried(owner, field, unit, path, claim, name)
        if claim is None:
            return self._left_out(owner, field, unit, path, name)
        h = claim.holds
        if isinstance(h, Exactly):
            return fact(path, _number(h.value, path), unit, _GROUND[claim.how], claim.note, name=name)
        opened = self._opened(owner, field, unit, path, claim)
        return fact(
            path, _number(opened.nominal, path), unit, _GROUND[claim.how], opened.source, name=name, is_open=True
        )

    def word(self, owner: Owner, field: str) -> Word:
        """The fact as a word; left out, it is unknown over its plausible options. Raises Missing."""
        found = self.maybe_word(owner, field)
        if found is None:
            path = f"{owner.at}.{field}"
            row = plausible(owner, field)
            if row is None:
                raise Missing(path, field)
            opened = self._remember(_from_row(path, owner.of, field, "", row, "unknown"))
            return Word(_word(opened.nominal), path, "unknown", opened.source, is_open=True)
        return found

    def maybe_word(self, owner: Owner, field: str) -> Word | None:
        """The fact as a word, its printed default when it is left out, or None when there is no default."""
        path, claim = self._claim(owner, field)
        if path in self.trial:
            opened = self._opened(owner, field, "", path, claim, quiet=True)
            self._touched(path)
            return Word(_word(self.trial[path]), path, "assumed", opened.source if opened else "what if", is_open=True)
        if claim is None:
            d = self.code.default(owner.of, field)
            if d is not None:
                return Word(d.value, path, "assumed", f"left out: {d.why} [{d.status}]")
            return None
        if isinstance(claim.holds, Exactly):
            return Word(_word(claim.holds.value), path, _GROUND[claim.how], claim.note)
        opened = self._opened(owner, field, "", path, claim)
        return Word(_word(opened.nominal), path, _GROUND[claim.how], opened.source, is_open=True)

    def yes(self, owner: Owner, field: str) -> bool | None:
        """A yes or no fact; None when nothing is held about it."""
        w = self.maybe_word(owner, field)
        return None if w is None else w.lower() in YES

    def says(self, owner: Owner, field: str) -> bool:
        """True if something is held about the fact by the piece or its part (not by a default)."""
        return self._claim(owner, field)[1] is not None

    # ---- how ----

    def _claim(self, owner: Owner, field: str) -> tuple[str, Claim | None]:
        own = owner.facts.get(field)
        path = own.about if own is not None else f"{owner.at}.{field}"
        if (learned := self.case.learned.get(path)) is not None:
            return path, learned
        if own is not None:
            return path, own
        if owner.part is not None and field in owner.part.data:
            value = owner.part.data[field]
            note = owner.part.note or "data of the part"
            at = f"catalogue.{owner.part.id}.{field}"
            return at, Claim(about=at, holds=Exactly(value), how="maker", note=note)  # type: ignore[arg-type]
        return path, None

    def _tried(self, owner: Owner, field: str, unit: str, path: str, claim: Claim | None, name: str) -> Figure:
        opened = self._opened(owner, field, unit, path, claim, quiet=True)
        self._touched(path)
        note = opened.source if opened else "what if"
        return fact(path, _number(self.trial[path], path), unit, "assumed", note, name=name, is_open=True)

    def _left_out(self, owner: Owner, field: str, unit: str, path: str, name: str) -> Figure | None:
        d = self.code.default(owner.of, field)
        if d is not None:
            if d.low is not None and d.high is not None:
                self._remember(
                    OpenFact(path, owner.of, field, unit, "assumed", (), d.low, d.high, float(d.value), d.why)
                )
                return fact(path, float(d.value), unit, "assumed", f"left out: {d.why}", name=name)
            row = f"{d.of}.{d.field}: {d.why}"
            return lookup(f"{self.code.id} defaults", row, float(d.value), unit, d.source, d.status, name=name)
        return None

    def _opened(
        self, owner: Owner, field: str, unit: str, path: str, claim: Claim | None, *, quiet: bool = False
    ) -> OpenFact:
        h = claim.holds if claim is not None else Open()
        if isinstance(h, Between):
            how = "assumed" if claim is not None and claim.how in ("kind", "default") else "range"
            note = claim.note if claim is not None else ""
            nominal = typical(note, h)
            return self._remember(OpenFact(path, owner.of, field, unit, how, (), h.low, h.high, nominal, note))
        if isinstance(h, OneOf):
            note = claim.note if claim is not None else ""
            return self._remember(
                OpenFact(path, owner.of, field, unit, "choice", h.options, 0.0, 0.0, h.options[0], note)
            )
        row = plausible(owner, field)
        if row is None:
            if quiet:
                return OpenFact(path, owner.of, field, unit, "what if", (), 0.0, 0.0, 0.0, "what if")
            raise Missing(path, field)
        return self._remember(_from_row(path, owner.of, field, unit, row, "unknown"))

    def _remember(self, opened: OpenFact) -> OpenFact:
        self.open.setdefault(opened.path, opened)
        self._touched(opened.path)
        return opened


def plausible(owner: Owner, field: str) -> Plausible | None:
    """What a fact may plausibly be when nothing is known; None if the table has no row for it."""
    return _plausible(field, owner.case)


@lru_cache(maxsize=1024)
def _plausible(field: str, case: str) -> Plausible | None:
    return of_table(field, case) if field in known_facts() else None


def _from_row(path: str, of: str, field: str, unit: str, row: Plausible, kind: str) -> OpenFact:
    source = f"plausible range [{row.source}, {row.status}]: {row.note}"
    if row.options:
        return OpenFact(path, of, field, unit, kind, row.options, 0.0, 0.0, row.options[0], source)
    assert row.low is not None and row.high is not None
    low, high = float(row.low), float(row.high)
    return OpenFact(path, of, field, unit, kind, (), low, high, (low + high) / 2, source)


def typical(note: str, h: Between) -> float:
    """The usual value that a note names ("typical 4400"), held within its range; the middle where it names none."""
    _, _, tail = note.partition("typical ")
    try:
        value = float(tail.split()[0].rstrip(",;")) if tail else (h.low + h.high) / 2
    except ValueError:
        value = (h.low + h.high) / 2
    return min(max(value, h.low), h.high)


def _word(value: Scalar) -> str:
    if isinstance(value, bool):
        return "yes" if value else "no"
    return f"{value:g}" if isinstance(value, float | int) else value


def _number(value: Scalar, path: str) -> float:
    if isinstance(value, bool | str):
        try:
            return float(value)
        except ValueError as e:
            raise Missing(path, f"a number (found {value!r})") from e
    return float(value)
