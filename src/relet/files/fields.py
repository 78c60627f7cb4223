"""The register of facts: what a file may say about each thing, in which unit, within which window."""

from __future__ import annotations

import math
from collections.abc import Mapping
from dataclasses import dataclass
from functools import lru_cache
from pathlib import Path
from typing import Any, Final, Literal

from relet.errors import InputError
from relet.files.typed import parse_quantity, turned, units_like
from relet.files.words import listed, nearest, number_text, shown
from relet.model import Scalar
from relet.model.facts import Open
from relet.tables.core import read_csv

Form = Literal["number", "whole", "word", "text", "flag", "words"]
_NOUNS: Final[Mapping[str, str]] = {
    "machine": "a machine", "load": "a load", "device": "a device", "outlet": "an outlet", "assembly": "an assembly",
    "board": "a board", "run": "a run", "tap": "a tap-off", "containment": "a containment", "supply": "a supply",
}  # fmt: skip
OTHER_CLAIMS: Final = '{ one_of = [...] }, "unknown"'
_LONGEST_TEXT: Final = 400


class Refused(Exception):
    """A value that its field does not take; the text says what was met and what is allowed."""


@dataclass(frozen=True, slots=True)
class Field:
    """One fact of one thing. low, high in `unit`; words empty unless only these may be written."""

    of: str
    name: str
    form: Form
    unit: str
    low: float
    high: float
    words: tuple[Scalar, ...]
    noun: str

    def scalar(self, raw: Any, *, claim: bool = True) -> Scalar:
        """One value of this field as it is held.

        claim   whether the message may offer claims ({ one_of = [...] }, "unknown") as well
        raises  Refused
        """
        if self.form in ("number", "whole"):
            return self._number(raw, claim)
        if self.form == "flag":
            if isinstance(raw, bool):
                return raw
            if isinstance(raw, str) and raw.casefold() in ("yes", "no"):
                return raw.casefold() == "yes"
            raise Refused(f"{shown(raw)} is neither true nor false{self._more(claim)}.")
        if self.form == "words":
            if isinstance(raw, list) and raw and all(isinstance(w, str) and w for w in raw):
                return "|".join(raw)
            if isinstance(raw, str) and raw:
                return raw
            raise Refused(f"{shown(raw)} is not {self.noun}. Allowed: a list of texts in quotes{self._more(claim)}.")
        if not isinstance(raw, str):
            raise Refused(f"{shown(raw)} is not {self.noun}. Allowed: {self._allowed(claim)}.")
        if self.words:
            if raw not in self.words:
                near = nearest(raw, [str(w) for w in self.words])
                hint = f' Nearest: "{near}".' if near else ""
                raise Refused(f"{shown(raw)} is not {self.noun}. Allowed: {self._allowed(claim)}.{hint}")
            return raw
        if not raw.strip() or len(raw) > _LONGEST_TEXT:
            raise Refused(f"{shown(raw)} is not {self.noun}. Allowed: a text of 1 to {_LONGEST_TEXT} letters.")
        return raw

    def _number(self, raw: Any, claim: bool) -> Scalar:
        value: float | int
        if isinstance(raw, str):
            try:
                typed = parse_quantity(raw, self.unit)
            except InputError as e:
                raise Refused(e.what) from None
            if isinstance(typed, Open):
                raise Refused(f'"unknown" cannot stand here. Allowed: {self._allowed(False)}.')
            value = typed
        elif isinstance(raw, int | float) and not isinstance(raw, bool):
            value = raw
        else:
            raise Refused(f"{shown(raw)} is not a number. Allowed: {self._allowed(claim)}.")
        if not math.isfinite(value):
            raise Refused(f"{shown(raw)} is not a finite number. Allowed: {self._allowed(claim)}.")
        if self.form == "whole":
            if value != int(value):
                raise Refused(f"{number_text(value)} is not a whole number. Allowed: {self._allowed(claim)}.")
            value = int(value)
        if self.words:
            if value not in self.words:
                raise Refused(f"{number_text(value)} is not {self.noun}. Allowed: {self._allowed(claim)}.")
        elif not self.low <= value <= self.high:
            size = "small" if value < self.low else "large"
            raise Refused(
                f"{_with_unit(value, self.unit)} is too {size} for {self.noun} ({self.window()}).{self._hint(value)}"
            )
        return value

    def window(self) -> str:
        """The window in words: "10 to 250000 W"."""
        return _with_unit(f"{number_text(self.low)} to {number_text(self.high)}", self.unit)

    def _hint(self, value: float) -> str:
        """The slip that explains a value outside the window: kW for W, mm for m."""
        for other in units_like(self.unit):
            meant = turned(value, other, self.unit)
            if other != self.unit and meant is not None and self.low <= meant <= self.high:
                return f" For {number_text(value)} {other} write {self.name} = {number_text(meant)}."
        return ""

    def _allowed(self, claim: bool) -> str:
        if self.words:
            own = listed(self.words)
        elif self.form in ("number", "whole"):
            own = ("whole numbers " if self.form == "whole" else "") + self.window()
        else:
            own = "a text in quotes"
        return own + (f", {OTHER_CLAIMS}" if claim else "")

    def _more(self, claim: bool) -> str:
        return '. Allowed: true, false, { told = true }, "unknown"' if claim and self.form == "flag" else ""


def _with_unit(value: float | str, unit: str) -> str:
    text = value if isinstance(value, str) else number_text(value)
    return f"{text} {unit}" if unit and unit != "share" else text


@lru_cache(maxsize=1)
def register() -> Mapping[str, Mapping[str, Field]]:
    """Every field by thing and name, as fields.csv holds them."""
    header, rows = read_csv(Path(__file__).with_name("fields.csv"))
    out: dict[str, dict[str, Field]] = {}
    for line, cells in rows:
        r = dict(zip(header, cells))
        words: tuple[Scalar, ...] = tuple(filter(None, r["words"].split("|")))
        if r["form"] == "whole":
            words = tuple(int(str(w)) for w in words)
        for of in r["of"].split("|"):
            if r["field"] in out.setdefault(of, {}):
                raise ValueError(f"fields.csv:{line}: {of}.{r['field']} stands twice")
            out[of][r["field"]] = Field(
                of, r["field"], r["form"], r["unit"],  # type: ignore[arg-type]
                float(r["low"] or "-inf"), float(r["high"] or "inf"), words, r["is"] or _NOUNS.get(of, f"a {of}"),
            )  # fmt: skip
    return out
