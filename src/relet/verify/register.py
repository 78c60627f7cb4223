"""Which publication stands behind a source code of a check: examples have their own register, tables have theirs."""

from __future__ import annotations

import tomllib
from collections.abc import Mapping
from dataclasses import dataclass
from functools import lru_cache
from pathlib import Path
from typing import Final

from relet.errors import OutsideTable
from relet.tables.sources import sources as table_sources

DATA: Final = Path(__file__).parent / "data"


@dataclass(frozen=True, slots=True)
class Source:
    """A publication: title, publisher (with authors) and edition."""

    code: str
    title: str
    publisher: str
    edition: str

    def __str__(self) -> str:
        return ", ".join(filter(None, (self.title, self.publisher, self.edition)))


@lru_cache(maxsize=1)
def examples_register() -> Mapping[str, Source]:
    """Every source of the worked examples, by code."""
    held = tomllib.loads((DATA / "sources.toml").read_text(encoding="utf-8"))
    return {code: Source(code, s["title"], s["publisher"], s["edition"]) for code, s in held.items()}


def source(code: str) -> Source:
    """The publication behind a code. Raises OutsideTable for a code that stands in neither register."""
    held = examples_register()
    if code in held:
        return held[code]
    try:
        (one,) = table_sources(code)
    except OutsideTable:
        raise OutsideTable("source registers", f"code {code}", f"{len(held)} codes and those of the tables") from None
    return Source(code, one.title, one.publisher, one.edition)
