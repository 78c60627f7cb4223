"""Values and names put into words for messages."""

from __future__ import annotations

import difflib
from collections.abc import Iterable, Sequence
from typing import Any, Final

_LONGEST: Final = 60
_LIKE: Final = 0.6
_LIKE_SHORT: Final = 0.5
_SHORT: Final = 3
_MANY: Final = 3000


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


def clean(text: str, most: int = 1200) -> str:
    """A text that fits on a screen whatever the file holds: no control characters, not endless."""
    plain = text if text.isprintable() else "".join(c if c.isprintable() else "?" for c in text)
    return plain if len(plain) <= most else plain[: most - 4] + " ..."


def listed(words: Iterable[Any]) -> str:
    """Words as they are written, with commas between."""
    return ", ".join(_toml(w) for w in words)


def nearest(word: str, known: Sequence[str], cutoff: float = 0.0) -> str | None:
    """The known name that `word` was most likely meant to be, in any case of letters; None if none is near.

    cutoff  least likeness, 0 to 1; left out: 0.6, for a short word 0.5
    """
    asked = word.casefold()
    if len(known) > _MANY:  # look only among those that begin alike
        known = [k for k in known if k[:1].casefold() == asked[:1] and abs(len(k) - len(word)) < _SHORT][:_MANY]
    by_fold: dict[str, str] = {}
    for k in known:
        by_fold.setdefault(k.casefold(), k)
    cutoff = cutoff or (_LIKE if len(word) > _SHORT else _LIKE_SHORT)
    found = difflib.get_close_matches(asked, list(by_fold), n=4, cutoff=cutoff)
    if not found:
        return None
    # of names that are equally like it, the one that begins the same: "eest" is east, not west
    best = max(sorted(found), key=lambda f: (difflib.SequenceMatcher(None, f, asked).ratio(), f[:1] == asked[:1]))
    return by_fold[best]


def near_hint(word: str, known: Sequence[str]) -> str:
    """ " Nearest: "X1"." or nothing."""
    near = nearest(word, known) if known else None
    return f' Nearest: "{near}".' if near else ""
