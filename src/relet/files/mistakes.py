"""Every mistake that one file can still show, gathered from structure and meaning, told in the order of its lines."""

from __future__ import annotations

import types
import typing
from collections.abc import Callable, Collection, Iterable, Mapping, Sequence
from functools import partial
from typing import Any, Final, TypeVar, Union, get_args, get_origin

from pydantic import BaseModel, ValidationError
from pydantic.fields import FieldInfo

from relet.errors import InputError, InputErrors
from relet.files.grammar import FACTS_KEY, REFUSED, Facts, Row
from relet.files.source import TAIL_UNREAD, Source
from relet.files.words import clean, near_hint, shown

MOST_TOLD: Final = 100
Where = tuple[str | int, ...]
M = TypeVar("M", bound=BaseModel)
_ROUNDS: Final = 6
_STAND_INS: Final[Mapping[str | int, Any]] = {
    "at_m": [0, 0], "height_m": 0, "ceiling_m": 40, "ways": 200, "from": "origin", "to": "end", "cable": "tapped-run",
    "path_m": [[0, 0], [0, 1]],
}  # fmt: skip
"""What takes the place of a value that is missing or cannot be read, so that the rest can be looked at. A place keeps
its first mistake, so no stand-in is ever spoken of, and a file with a mistake gives no unit."""
_FEW: Final = 14


class Mistakes:
    """What is wrong with one file: noted cheaply, put into words only for the mistakes that are told."""

    def __init__(self, source: Source) -> None:
        self.source = source
        self._noted: dict[Where, tuple[str | Callable[[], str], str, Collection[str]]] = {}

    def note(
        self,
        where: Sequence[str | int],
        what: str | Callable[[], str],
        word: str = "",
        known: Collection[str] = (),
    ) -> None:
        """One mistake at a place; a place keeps its first.

        what          a sentence, or what makes it
        word, known   a name that was met and the names there are: the nearest of them ends the message
        """
        self._noted.setdefault(tuple(where), (what, word, known))

    def line(self, *where: str | int) -> int | None:
        """The line of a place, for a message that points to a second one."""
        return self.source.lines.at(where)

    def __bool__(self) -> bool:
        return bool(self._noted) or self.source.broken is not None

    def tell(self) -> None:
        """Raise InputErrors if anything is wrong."""
        if not self:
            return
        lines, name = self.source.lines, self.source.name
        in_order = sorted(((lines.at(at) or 0, n, at) for n, at in enumerate(self._noted)))
        told = []
        for line, _, at in in_order[:MOST_TOLD]:
            what, word, known = self._noted[at]
            text = clean((what if isinstance(what, str) else what()) + near_hint(word, sorted(known)))
            told.append(InputError(text, file=name, line=line or None, place=clean(".".join(map(str, at)), 300)))
        broken = self.source.broken
        if broken is not None:
            raise InputErrors([*told, broken], tail=TAIL_UNREAD)
        every = len(in_order)
        tail = f"{every} mistakes, the first {MOST_TOLD} are listed, nothing was changed" if every > MOST_TOLD else ""
        raise InputErrors(told, tail)


def validated(model: type[M], data: dict[str, Any], mistakes: Mistakes) -> M | None:
    """The rows of a document; what is wrong with them goes to `mistakes` and what is left is read all the same.

    None when not even a part of it can be read.
    """
    stood_in: dict[Where, Any] = {}
    for _ in range(_ROUNDS):
        try:
            return model.model_validate(data)
        except ValidationError as e:
            faults = e.errors(include_url=False, include_context=True)
        broken = mistakes.source.broken is not None
        gone: list[Where] = []
        for fault in faults:
            full = tuple(fault["loc"])
            where = tuple(p for p in full if p != FACTS_KEY) or full
            if fault["type"] == "missing":
                if where[-1] in _STAND_INS and where not in stood_in:
                    stood_in[where] = _STAND_INS[where[-1]]
                else:
                    gone.append(where[:-1])
                if not broken:
                    mistakes.note(where, f"{where[-1]} is missing; it is needed here.")
            else:
                gone.append(where)
                mistakes.note(where, partial(_said, model, where, fault))
        data = _with(_without(data, gone), stood_in)
        if not data:
            return None
    return None


def _said(model: type[BaseModel], where: Where, fault: Any) -> str:
    kind, met = fault["type"], fault["input"]
    if kind == REFUSED:
        return str(fault["ctx"]["said"])
    if kind == "extra_forbidden":
        allowed = allowed_keys(model, where[:-1])
        near = near_hint(str(where[-1]), allowed)
        more = "" if near and len(allowed) > _FEW else f" Allowed: {', '.join(allowed)}."
        return f"no such name is known here.{near}{more}"
    if kind in ("model_type", "dict_type", "model_attributes_type"):
        return f"{shown(met)} stands where a table is expected: {{ name = value, ... }}."
    if kind in ("tuple_type", "list_type"):
        return f"{shown(met)} stands where a list is expected: [ ... ]."
    if kind == "literal_error":
        return f"{shown(met)} cannot stand here. Allowed: {fault['ctx']['expected'].replace(chr(39), chr(34))}."
    return f"{shown(met)} cannot stand here: {fault['msg'][0].lower()}{fault['msg'][1:]}."


def _without(data: dict[str, Any], gone: Iterable[Where]) -> dict[str, Any]:
    """The document without these places; what is not touched is shared with the original."""
    tree: dict[Any, Any] = {}
    for where in gone:
        at = tree
        for part in where[:-1]:
            if at.get(part, {}) is None:
                break
            at = at.setdefault(part, {})
        else:
            if not where:
                return {}
            at[where[-1]] = None
    return typing.cast("dict[str, Any]", _cut(data, tree))


def _with(data: dict[str, Any], stood_in: Mapping[Where, Any]) -> dict[str, Any]:
    """The document with stand-ins put where the tables for them are still there."""
    for where, value in stood_in.items():
        data = _put(data, where, value)
    return data


def _put(at: Any, where: Where, value: Any) -> Any:
    if not isinstance(at, dict):
        return at
    if len(where) == 1:
        return {where[0]: value, **at}
    return {**at, where[0]: _put(at[where[0]], where[1:], value)} if where[0] in at else at


def _cut(value: Any, tree: dict[Any, Any]) -> Any:
    if isinstance(value, list):
        return [_cut(v, tree[i]) if tree.get(i) else v for i, v in enumerate(value) if i not in tree or tree[i]]
    if not isinstance(value, dict):
        return value
    return {k: _cut(v, tree[k]) if tree.get(k) else v for k, v in value.items() if k not in tree or tree[k]}


def allowed_keys(model: Any, where: Where) -> list[str]:
    """Which keys may stand at a place of a document; nothing where any may."""
    here: Any = model
    for part in where:
        here = _inside(here, str(part))
    found: list[str] = []
    for one in _alternatives(here):
        if isinstance(one, type) and issubclass(one, BaseModel):
            for name, info in one.model_fields.items():
                found += _facts_of(info) if name == "facts" else [info.alias or name]
        elif get_origin(one) is typing.Annotated:
            found += [f for m in get_args(one)[1:] if isinstance(m, Facts) for f in m.fields]
    return sorted(found)


def _facts_of(info: FieldInfo) -> list[str]:
    return [f for m in info.metadata if isinstance(m, Facts) for f in m.fields]


def _alternatives(annotation: Any) -> tuple[Any, ...]:
    if get_origin(annotation) in (Union, types.UnionType):
        return tuple(a for a in get_args(annotation) if a is not type(None))
    return (annotation,)


def _inside(annotation: Any, part: str) -> Any:
    for one in _alternatives(annotation):
        if isinstance(one, type) and issubclass(one, Row):
            for name, info in one.model_fields.items():
                if part == (info.alias or name):
                    meta = [m for m in info.metadata if isinstance(m, Facts)]
                    return typing.Annotated[info.annotation, meta[0]] if meta else info.annotation
        if get_origin(one) is dict:
            return get_args(one)[1]
        if get_origin(one) is tuple:
            return get_args(one)[0]
    return None
