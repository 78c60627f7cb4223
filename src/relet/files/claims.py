"""How a value may be written, and what is then held: a number, a claim, a range, one of several, or unknown.

2200                                                    seen on site, taken as it is
{ read = 0.31, on = 2026-11-18, with = "loop tester 1" }    also plus_minus = 0.02
{ told = 2200, by = "tenant" }    { seen = 2200 }
{ low = 14, high = 22 }           { one_of = ["B", "C"] }        "unknown"
{ told = { low = 14, high = 22 } }    any of these with the word that says how it is known
"""

from __future__ import annotations

from collections.abc import Callable, Mapping
from datetime import date, datetime
from typing import Any, Final, NamedTuple, get_args

from relet.files.fields import Field, Refused
from relet.files.words import listed, near_hint, shown
from relet.model import Between, Claim, Exactly, Facts, Held, How, Map, OneOf, Open, Path

HOWS: Final[tuple[How, ...]] = get_args(How)
_BESIDE: Final = ("on", "with", "by", "note", "plus_minus")
_NOTE_KEY: Final[Mapping[str, str]] = {"read": "with", "told": "by"}
_FORMS: Final = (
    '{ read = ..., on = ..., with = "..." }, { told = ... }, { seen = ... }, { low = ..., high = ... }, '
    '{ one_of = [...] }, "unknown"'
)


class Said(NamedTuple):
    """What one place of a file says, before it has an address. how None: the file says nothing about it."""

    holds: Held
    how: How | None = None
    on: date | None = None
    note: str = ""

    @property
    def bare(self) -> bool:
        """One value, and nothing said about how it is known."""
        return isinstance(self.holds, Exactly) and self.how is None and self.on is None and not self.note


def nominal(holds: Held) -> Any:
    """One value to draw and measure with: the one held, the middle of a range, the first option; None if not known."""
    if isinstance(holds, Exactly):
        return holds.value
    if isinstance(holds, Between):
        return (holds.low + holds.high) / 2
    return holds.options[0] if isinstance(holds, OneOf) else None


def reader(field: Field) -> Callable[[Any], Said]:
    """The reader of one field's values; it raises Refused."""
    scalar = field.scalar

    def said(raw: Any) -> Said:
        if isinstance(raw, dict):
            return _claim(field, raw)
        if isinstance(raw, str) and raw in ("unknown", "?"):
            return Said(Open())
        return Said(Exactly(scalar(raw)))

    return said


def _claim(field: Field, raw: Mapping[str, Any]) -> Said:
    hows = [h for h in HOWS if h in raw]
    if len(hows) > 1:
        raise Refused(
            f"{shown(raw)} holds two claims about one fact ({hows[0]} and {hows[1]}). Keep the one that counts."
        )
    body: Any = raw
    how: How | None = None
    if hows:
        how = hows[0]
        body = raw[how]
        beside = {k: v for k, v in raw.items() if k != how}
    else:
        beside = {k: v for k, v in raw.items() if k in _BESIDE}
        body = {k: v for k, v in raw.items() if k not in _BESIDE}
    unknown = sorted(set(beside) - set(_BESIDE))
    if unknown:
        raise Refused(f"{shown(raw)}: {unknown[0]} is not known in a claim.{near_hint(unknown[0], [*HOWS, *_BESIDE])}")
    holds = _held(field, body, raw)
    if "plus_minus" in beside:
        holds = _widened(field, holds, beside["plus_minus"])
    return Said(holds, how, _day(beside.get("on")), _note(raw, beside))


def _held(field: Field, body: Any, raw: Mapping[str, Any]) -> Held:
    if not isinstance(body, dict):
        return Open() if isinstance(body, str) and body in ("unknown", "?") else Exactly(field.scalar(body))
    keys = set(body)
    if keys == {"low", "high"}:
        if field.form not in ("number", "whole"):
            raise Refused(
                f"{shown(raw)}: a range needs a number, and {field.name} is none. Allowed: {listed(field.words)}."
            )
        low, high = (float(field.scalar(body[k])) for k in ("low", "high"))
        if low > high:
            raise Refused(f"{shown(raw)} contradicts itself: low is above high.")
        return Between(low, high)
    if keys == {"one_of"}:
        return _one_of(field, body["one_of"], raw)
    wrong = sorted(keys - {"low", "high", "one_of"})
    hint = near_hint(wrong[0], [*HOWS, "low", "high", "one_of"]) if wrong else ""
    if keys and keys < {"low", "high"}:
        raise Refused(f"{shown(raw)} is half a range. Write both low and high.")
    raise Refused(f"{shown(raw)} is not a way to write a value. Allowed: a plain value, {_FORMS}.{hint}")


def _one_of(field: Field, options: Any, raw: Mapping[str, Any]) -> Held:
    if not isinstance(options, list) or len(options) < 2:
        raise Refused(f"{shown(raw)}: one_of needs two values or more, as in {{ one_of = [4, 6] }}.")
    held = tuple(field.scalar(o) for o in options)
    twice = next((o for i, o in enumerate(held) if o in held[:i]), None)
    if twice is not None:
        raise Refused(f"{shown(raw)} names {shown(twice)} twice.")
    return OneOf(held)


def _widened(field: Field, holds: Held, by: Any) -> Held:
    if not isinstance(holds, Exactly) or isinstance(holds.value, bool | str):
        raise Refused("plus_minus needs one number beside it, as in { read = 0.31, plus_minus = 0.02 }.")
    if isinstance(by, bool) or not isinstance(by, int | float) or not 0 <= by < float("inf"):
        raise Refused(f"plus_minus {shown(by)} is not a number from 0 up, in {field.unit or 'the unit of the value'}.")
    return Between(float(holds.value) - by, float(holds.value) + by)


def _day(on: Any) -> date | None:
    if on is None or (isinstance(on, date) and not isinstance(on, datetime)):
        return on
    raise Refused(f"on = {shown(on)} is not a day. Allowed: a date without quotes, as in on = 2026-11-18.")


def _note(raw: Mapping[str, Any], beside: Mapping[str, Any]) -> str:
    notes = [(k, beside[k]) for k in ("with", "by", "note") if k in beside]
    if len(notes) > 1:
        raise Refused(f"{shown(raw)}: write one of {notes[0][0]} and {notes[1][0]}.")
    if notes and not isinstance(notes[0][1], str):
        raise Refused(f"{notes[0][0]} = {shown(notes[0][1])} is not a text in quotes.")
    return notes[0][1] if notes else ""


def claims(prefix: str, facts: Mapping[str, Said], how: How, beside: Facts | None = None) -> Facts:
    """Claims by field, addressed under `prefix`.

    how      how a value is known where the file says nothing about it
    beside   what is held about the same piece where it stands: a value that repeats it is that claim itself
    """
    out: dict[str, Claim] = {}
    for f, s in facts.items():
        own = Claim(about=Path(f"{prefix}.{f}"), holds=s.holds, how=s.how or how, on=s.on, note=s.note)
        there = beside.get(f) if beside is not None else None
        out[f] = there if there is not None and _repeats(s, own, there) else own
    return Map(out)


def _repeats(said: Said, own: Claim, there: Claim) -> bool:
    if said.how is None and said.on is None and not said.note:
        return said.holds == there.holds
    return (own.holds, own.how, own.on, own.note) == (there.holds, there.how, there.on, there.note)


def written(claim: Claim, how: How, beside: Claim | None = None) -> Any:
    """A claim as it is written in a file whose plain values mean `how`: the reverse of reading."""
    holds = claim.holds
    body: Any
    if isinstance(holds, Exactly):
        body = holds.value
    elif isinstance(holds, Between):
        body = {"low": holds.low, "high": holds.high}
    elif isinstance(holds, OneOf):
        body = {"one_of": list(holds.options)}
    else:
        body = "unknown"
    repeats = beside is not None and beside.holds == holds
    if claim == beside or (claim.how == how and claim.on is None and not claim.note and not repeats):
        return body
    out: dict[str, Any] = {claim.how: body}
    if claim.on is not None:
        out["on"] = claim.on
    if claim.note:
        out[_NOTE_KEY.get(claim.how, "note")] = claim.note
    return out
