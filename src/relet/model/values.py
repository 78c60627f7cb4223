"""The bottom of the model: frozen values, a read-only map, and one digest for equal content."""

from __future__ import annotations

import hashlib
import json
import re
from collections.abc import Iterable, Iterator, Mapping
from typing import Any, Generic, NewType, TypeAlias, TypeVar

import msgspec

Digest = NewType("Digest", str)
Seat = NewType("Seat", str)
"""Where a piece can be: "DB1/2.L1", "A4", "A4/face/3", "A4/rail/2", "R7", "R7/tap/2"."""
Path = NewType("Path", str)
"""A fact about something: "standing.runs.R7.length_m", "tenancies.slipwell.machines.kiln.power_w"."""

Natural: TypeAlias = tuple[tuple[int, str], ...]

K = TypeVar("K", bound=str)
V = TypeVar("V", covariant=True)
W = TypeVar("W")


def natural(seat: str) -> Natural:
    """A sorting key for seats as people count: "DB1/9" before "DB1/10", an incomer before the ways."""
    parts = re.split(r"(\d+)", seat.replace("/incomer", "/0"))
    return tuple((int(p), "") if p.isdigit() else (-1, p) for p in parts if p)


class Value(msgspec.Struct, frozen=True, kw_only=True):
    """Base of every frozen value. Equal content is equal; digest() tells equal content across processes."""


class Map(Mapping[K, V], Generic[K, V]):
    """A read-only mapping, ordered by key, compared by content, hashable when its values are."""

    __slots__ = ("_d", "_h")

    def __init__(self, items: Mapping[K, V] | Iterable[tuple[K, V]] = ()) -> None:
        self._d: dict[K, V] = dict(sorted(dict(items).items()))
        self._h: int | None = None

    def __getitem__(self, key: K) -> V:
        return self._d[key]

    def __iter__(self) -> Iterator[K]:
        return iter(self._d)

    def __len__(self) -> int:
        return len(self._d)

    def __contains__(self, key: object) -> bool:
        return key in self._d

    def __hash__(self) -> int:
        if self._h is None:
            self._h = hash(tuple(self._d.items()))
        return self._h

    def __eq__(self, other: object) -> bool:
        return isinstance(other, Map) and self._d == other._d

    def __repr__(self) -> str:
        return f"Map({self._d!r})"

    def put(self, key: K, value: W) -> Map[K, V | W]:
        """A map with one entry added or replaced."""
        both: dict[K, V | W] = {**self._d, key: value}
        return Map(both)

    def drop(self, *keys: K) -> Map[K, V]:
        """A map without these entries."""
        return Map({k: v for k, v in self._d.items() if k not in keys})

    def merged(self, other: Mapping[K, W]) -> Map[K, V | W]:
        """A map with all entries of both; `other` wins."""
        both: dict[K, V | W] = {**self._d, **other}
        return Map(both)


def plain(value: Any) -> Any:
    """A value as plain JSON data: maps as objects, structs as objects with their class name under "is"."""
    if isinstance(value, float):
        return int(value) if value.is_integer() else float(value)
    if value is None or isinstance(value, str | int | bool):
        return value
    if isinstance(value, Mapping):
        return {str(k): plain(v) for k, v in value.items()}
    if isinstance(value, msgspec.Struct):
        body = {f: plain(getattr(value, f)) for f in value.__struct_fields__}
        return {"is": type(value).__name__, **body}
    if isinstance(value, tuple | list):
        return [plain(v) for v in value]
    if isinstance(value, frozenset | set):
        return sorted((plain(v) for v in value), key=lambda x: json.dumps(x, sort_keys=True))
    if hasattr(value, "isoformat"):
        return value.isoformat()
    raise TypeError(f"no plain form for {type(value).__name__}")


def digest(value: Any) -> Digest:
    """sha256 of the canonical JSON of a value: equal content, equal digest, in any process."""
    text = json.dumps(plain(value), sort_keys=True, separators=(",", ":"), ensure_ascii=False)
    return Digest(hashlib.sha256(text.encode()).hexdigest()[:32])
