"""One case under one set of trial values, worked out as far as somebody asks and no further.

Everything that is worked out is kept together with the open facts it used. A study with other trial values (a child)
takes over whatever does not depend on the facts that differ: a what-if costs only what it changes.
"""

from __future__ import annotations

from collections.abc import Callable, Mapping
from functools import wraps
from typing import Any, Concatenate, ParamSpec, TypeVar, cast

from relet.checks.facts import FactBook, OpenFact
from relet.codes import Code, load_code
from relet.electrical.topology import Topology, topology
from relet.model import Case, Scalar

T = TypeVar("T")
P = ParamSpec("P")


class _Raised:
    """A kept exception."""

    __slots__ = ("error",)

    def __init__(self, error: Exception) -> None:
        self.error = error


class Study:
    """A case under trial values. Views and figures are made by functions marked @kept that take a study first.

    case   what is judged
    code   the pack it is judged by
    facts  answers questions about facts
    feeds  who feeds whom
    """

    def __init__(
        self, case: Case, *, code: Code | None = None, trial: Mapping[str, Scalar] | None = None,
        parent: Study | None = None,
    ) -> None:  # fmt: skip
        self.case = case
        self.code = code or load_code(case.code)
        self.trial: dict[str, Scalar] = dict(trial or {})
        self._parent = parent
        self._kept: dict[Any, tuple[Any, frozenset[str]]] = {}
        self._stack: list[set[str]] = [set()]
        self.facts = FactBook(case, self.code, self.trial, self._touch)
        if parent is not None:
            self.facts.open = parent.facts.open
            before = parent.trial
            keys = {*before, *self.trial}
            self._differs = frozenset(k for k in keys if before.get(k, _NOTHING) != self.trial.get(k, _NOTHING))
            self.feeds: Topology = parent.feeds
        else:
            self._differs = frozenset()
            self.feeds = topology(case.installation, case.use)

    def _touch(self, path: str) -> None:
        self._stack[-1].add(path)

    @property
    def open(self) -> Mapping[str, OpenFact]:
        """Open facts met so far, by address."""
        return self.facts.open

    def child(self, trial: Mapping[str, Scalar]) -> Study:
        """The same case with other values put in."""
        return Study(self.case, code=self.code, trial={**self.trial, **trial}, parent=self)

    def keep(self, key: Any, make: Callable[[], T]) -> T:
        """The kept answer to `key`, or make it, noting the open facts that it uses."""
        entry = self._kept.get(key)
        if entry is None and self._parent is not None:
            entry = self._parent._inherit(key, self._differs)
            if entry is not None:
                self._kept[key] = entry
        if entry is None:
            self._stack.append(set())
            value: Any
            try:
                value = make()
            except Exception as e:
                value = _Raised(e)
            entry = (value, frozenset(self._stack.pop()))
            self._kept[key] = entry
        self._stack[-1].update(entry[1])
        if isinstance(entry[0], _Raised):
            raise entry[0].error
        return cast(T, entry[0])

    def _inherit(self, key: Any, differs: frozenset[str]) -> tuple[Any, frozenset[str]] | None:
        entry = self._kept.get(key)
        if entry is not None:
            return None if entry[1] & differs else entry
        if self._parent is not None:
            return self._parent._inherit(key, differs | self._differs)
        return None

    def used_by(self, key: Any) -> frozenset[str]:
        """Open facts that the kept answer to `key` used."""
        entry = self._kept.get(key)
        return entry[1] if entry is not None else frozenset()


_NOTHING = object()


def kept(f: Callable[Concatenate[Study, P], T]) -> Callable[Concatenate[Study, P], T]:
    """Keep the answers of a function of a study and hashable arguments."""
    name = f"{f.__module__}.{f.__qualname__}"

    @wraps(f)
    def asked(study: Study, *args: P.args, **kwargs: P.kwargs) -> T:
        return study.keep((name, args, tuple(sorted(kwargs.items()))), lambda: f(study, *args, **kwargs))

    return cast(Callable[Concatenate[Study, P], T], asked)
