"""The one door through which a case calls a function of the product.

A case never calls a function under test directly: `call(function, ...)` notes its name and, when a check is tried on
purpose against a wrong function, scales what that function returns. So the cases need not know about it, and the
product is not touched.
"""

from __future__ import annotations

import dataclasses
from collections.abc import Callable
from typing import Any, ParamSpec, TypeVar

import numpy as np

from relet.working import Figure

P = ParamSpec("P")
R = TypeVar("R")


class Call:
    """Calls functions, keeps their dotted names in order, and scales the result of one of them.

    wrong   dotted name of the function whose result is scaled; None: none is
    factor  by how much
    """

    def __init__(self, wrong: str | None = None, factor: float = 1.0) -> None:
        self.wrong, self.factor = wrong, factor
        self.trail: list[str] = []

    def __call__(self, function: Callable[P, R], *args: P.args, **kwargs: P.kwargs) -> R:
        """The result of a function of the product."""
        return self._passed(f"{function.__module__}.{function.__qualname__}", function(*args, **kwargs))

    def read(self, thing: object, name: str) -> Figure:
        """A figure that an object works out when it is asked for (a property), under the same watch."""
        kind = type(thing)
        value = getattr(thing, name)
        if not isinstance(value, Figure):
            raise TypeError(f"{kind.__qualname__}.{name} is no figure")
        return self._passed(f"{kind.__module__}.{kind.__qualname__}.{name}", value)

    def _passed(self, name: str, result: R) -> R:
        self.trail.append(name)
        return scaled(result, self.factor) if name == self.wrong else result


def scaled(result: R, factor: float) -> R:
    """A result with every number in it times a factor: figures, plain numbers, arrays, and records of them.

    Units, words, counts, truth values and what a figure was given stay as they are. A choice among made sizes is
    scaled as the figure that was chosen.
    raises  TypeError where there is no number: a function of words cannot be tried like this
    """
    out, numbers = _scaled(result, factor)
    if not numbers:
        raise TypeError(f"{result!r} holds no number to scale")
    return out  # type: ignore[no-any-return]  # the same type as `result`, built field by field


def _scaled(x: Any, factor: float) -> tuple[Any, int]:  # any type may come back from a function
    if isinstance(x, Figure):
        return Figure(float(x) * factor, x.unit, x.origin, x.given, x.name), 1
    if isinstance(x, np.ndarray):
        return (x * factor, 1) if x.dtype.kind in "fc" else (x, 0)
    if isinstance(x, float | complex) and not isinstance(x, bool):
        return x * factor, 1
    if isinstance(x, tuple):
        parts = [_scaled(v, factor) for v in x]
        values = [v for v, _ in parts]
        return (type(x)(*values) if hasattr(x, "_fields") else tuple(values)), sum(n for _, n in parts)
    if isinstance(x, dict):
        parts = [_scaled(v, factor) for v in x.values()]
        return dict(zip(x, (v for v, _ in parts))), sum(n for _, n in parts)
    if dataclasses.is_dataclass(x) and not isinstance(x, type):
        fields = {f.name: _scaled(getattr(x, f.name), factor) for f in dataclasses.fields(x) if f.init}
        return dataclasses.replace(x, **{k: v for k, (v, _) in fields.items()}), sum(n for _, n in fields.values())
    return x, 0
