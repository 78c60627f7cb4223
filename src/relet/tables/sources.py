"""The source register: which publication stands behind a code in a row's source cell."""

from __future__ import annotations

from dataclasses import dataclass
from functools import lru_cache
from pathlib import Path

from relet.errors import OutsideTable
from relet.tables.core import DATA, read_csv


@dataclass(frozen=True, slots=True)
class Source:
    """A publication: `where` in it the figure stands, what was `seen` of it, and how strong it is as a source."""

    code: str
    title: str
    publisher: str
    edition: str
    where: str
    seen: str
    strength: str

    def __str__(self) -> str:
        return ", ".join(filter(None, (self.title, self.publisher, self.edition)))


def sources(codes: str) -> tuple[Source, ...]:
    """The publications behind a source cell such as "S02;S45". Raises OutsideTable for an unknown code."""
    register = _register(DATA)
    for code in codes.split(";"):
        if code not in register:
            raise OutsideTable("sources", f"code {code}", f"{len(register)} codes")
    return tuple(register[code] for code in codes.split(";"))


@lru_cache(maxsize=8)
def _register(root: Path) -> dict[str, Source]:
    header, raw = read_csv(root / "sources.csv")
    rows = [dict(zip(header, cells)) for _, cells in raw]
    return {r["code"]: Source(**{k: r[k] for k in Source.__dataclass_fields__}) for r in rows}
