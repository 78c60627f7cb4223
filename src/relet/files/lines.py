"""From a path inside a file to its line, by one small scan. Made only when a message needs it."""

from __future__ import annotations

import re
from collections.abc import Iterator, Mapping, Sequence
from typing import Final

_BARE_OR_QUOTED: Final = r"""(?:[A-Za-z0-9_-]+|"(?:[^"\\]|\\.)*"|'[^']*')"""
_KEY: Final = rf"{_BARE_OR_QUOTED}(?:[ \t]*\.[ \t]*{_BARE_OR_QUOTED})*"
_TABLE: Final = re.compile(rf"[ \t]*\[\[?[ \t]*({_KEY})[ \t]*\]")
_PAIR: Final = re.compile(rf"[ \t]*({_KEY})[ \t]*=")
_PART: Final = re.compile(_BARE_OR_QUOTED)
_LONG_OR_SHORT: Final = re.compile(
    r'"""(?:[^\\]|\\.)*?"""(?:"{0,2})|' + r"'''.*?'''(?:'{0,2})|" + r'"(?:[^"\\\n]|\\.)*"|' + r"'[^'\n]*'|#[^\n]*",
    re.DOTALL,
)
_TEXT_OR_COMMENT: Final = re.compile(r'"(?:[^"\\]|\\.)*"|' + r"'[^']*'|#.*")
_ESCAPE: Final = re.compile(r"\\(u[0-9A-Fa-f]{4}|U[0-9A-Fa-f]{8}|.)")
_ESCAPED: Final = {"b": "\b", "t": "\t", "n": "\n", "f": "\f", "r": "\r"}


class Lines(Mapping[str, int]):
    """Line by dotted path ("standing.runs.R7.length_m"). A path that has no line of its own has its parent's."""

    def __init__(self, text: str) -> None:
        self._lines: dict[tuple[str, ...], int] = {}
        self._rows: list[tuple[int, tuple[str, ...]]] = []
        self._dotted: dict[str, int] = {}
        self._scan(text)

    def _scan(self, text: str) -> None:
        table: tuple[str, ...] = ()
        depth = 0
        if '"""' in text or "'''" in text:
            text = _LONG_OR_SHORT.sub(_shortened, text)
        for number, line in enumerate(text.split("\n"), 1):
            if depth <= 0:
                depth = 0
                if (head := _TABLE.match(line)) is not None:
                    table = self._note(_parts(head[1]), number)
                    continue
                pair = _PAIR.match(line)
                if pair is None:
                    continue
                self._note(table + _parts(pair[1]), number)
                line = line[pair.end() :]
            line = _TEXT_OR_COMMENT.sub("", line)
            depth += line.count("[") + line.count("{") - line.count("]") - line.count("}")

    def _note(self, path: tuple[str, ...], number: int) -> tuple[str, ...]:
        for n in range(len(path), 0, -1):
            if path[:n] in self._lines:
                break
            self._lines[path[:n]] = number
        self._rows.append((number, path))
        return path

    def at(self, where: Sequence[str | int]) -> int | None:
        """Line of a place given part by part; its nearest parent's if it has none; None for an unknown place."""
        parts = tuple(str(w) for w in where)
        while parts:
            if parts in self._lines:
                return self._lines[parts]
            parts = parts[:-1]
        return None

    def path_near(self, number: int) -> tuple[str, ...]:
        """The path that begins on a line, or on the last line before it that begins one."""
        return next((path for line, path in reversed(self._rows) if line <= number), ())

    def _by_dots(self) -> dict[str, int]:
        if not self._dotted:
            self._dotted = {".".join(p): n for p, n in self._lines.items()}
        return self._dotted

    def __getitem__(self, path: str) -> int:
        lines = self._by_dots()
        asked = path
        while asked not in lines:
            if "." not in asked:
                raise KeyError(path)
            asked = asked.rsplit(".", 1)[0]
        return lines[asked]

    def __iter__(self) -> Iterator[str]:
        return iter(self._by_dots())

    def __len__(self) -> int:
        return len(self._lines)


def _shortened(m: re.Match[str]) -> str:
    """A text of several lines without its words, its line breaks kept so that lines count; anything else as it is."""
    return '""' + "\n" * m[0].count("\n") if m[0][:3] in ('"""', "'''") else m[0]


def _parts(key: str) -> tuple[str, ...]:
    return tuple(_plain(p) for p in _PART.findall(key))


def _plain(part: str) -> str:
    if part[0] == "'":
        return part[1:-1]
    if part[0] != '"':
        return part
    return _ESCAPE.sub(_unescaped, part[1:-1])


def _unescaped(m: re.Match[str]) -> str:
    code = m[1]
    if code[0] in "uU" and len(code) > 1:
        return chr(int(code[1:], 16))
    return _ESCAPED.get(code, code)
