"""Values and names put into words for messages."""

from __future__ import annotations

import difflib
from collections.abc import Iterable, Sequence
from typing import Any, Final

_LONGEST: Final = 60


def number_text(value: float) -> str:
    """A number as a person writes it: 2200, 0.35, 1e+20."""
    if isinstance(value, int) and abs(value) < 10**15:
        return str(value)
    return f"{float(value):.10g}"


def shown(value: Any) -> str:
    """A value as it stands in the file, shortened."""
    text = _toml(value)
    return text if len(text) <= _LONGEST else text[: _LONGEST - 4] + " ..."


def _toml(value: Any, deep: int = 0) -> str:
    if isinstance(value, bool):
        return "true" if value else "false"
    if isinstance(value, int | float):
        return number_text(value)
    if isinstance(value, str):
        short = value if len(value) <= _LONGEST else value[: _LONGEST - 3] + "..."
        return '"' + "".join(c if c.isprintable() else " " for c in short).replace('"', "'") + '"'
    if isinstance(value, list | tuple):
        if deep > 2:
            return "[...]"
        return "[" + ", ".join(_toml(v, deep + 1) for v in value[:12]) + (", ..." if len(value) > 12 else "") + "]"
    if isinstance(value, dict):
        if deep > 2:
            return "{ ... }"
        inner = ", ".join(f"{k} = {_toml(v, deep + 1)}" for k, v in list(value.items())[:8])
        return "{ " + inner + (", ..." if len(value) > 8 else "") + " }"
    return str(value)


def listed(words: Iterable[Any]) -> str:
    """Words as they are written, with commas between."""
    return ", ".join(_toml(w) for w in words)


def nearest(word: str, known: Sequence[str], cutoff: float = 0.6) -> str | None:
    """The known name that `word` was most likely meant to be, in any case of letters; None if none is near."""
    by_fold: dict[str, str] = {}
    for k in known:
        by_fold.setdefault(k.casefold(), k)
    found = difflib.get_close_matches(word.casefold(), list(by_fold), n=1, cutoff=cutoff)
    return by_fold[found[0]] if found else None


def near_hint(word: str, known: Sequence[str]) -> str:
    """ " Nearest: "X1"." or nothing."""
    near = nearest(word, known)
    return f' Nearest: "{near}".' if near else ""
