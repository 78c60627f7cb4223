"""How a fact is found out: by a look, a question or a reading, and how many minutes that takes."""

from __future__ import annotations

from functools import lru_cache
from pathlib import Path
from typing import Final

from relet.checks.facts import OpenFact
from relet.codes import rows_of
from relet.working import without_unit

_GROUPS: Final = tuple(
    f".{group}."
    for group in ("boards", "assemblies", "devices", "outlets", "runs", "taps", "loads", "machines", "containment")
)


@lru_cache(maxsize=1)
def _rows() -> dict[tuple[str, str], tuple[str, str, float]]:
    rows = rows_of(Path(__file__).parent / "asking.csv")
    return {(r["of"], r["field"]): (r["words"], r["way"], float(r["minutes"])) for _, r in rows}


def asking(path: str, fact: OpenFact | None) -> tuple[str, str, float]:
    """Words, way and minutes for finding out the fact at `path`."""
    field = fact.field if fact is not None else path.rsplit(".", 1)[-1]
    of = fact.of if fact is not None else ("part" if path.startswith("catalogue.") else "")
    rows = _rows()
    words, way, minutes = rows.get((of, field)) or rows.get((of, "")) or rows[("", "")]
    return words.format(at=thing(path, field), field=without_unit(field)), way, minutes


def called(path: str, fact: OpenFact | None) -> str:
    """What the fact at `path` is called: "Ze at the origin", "letter on DB1/1"."""
    return asking(path, fact)[0].partition(":")[0]


def thing(path: str, field: str) -> str:
    """The thing that a fact is about: "standing.devices.DB1/1.curve" -> "DB1/1"."""
    head = path.removesuffix(f".{field}")
    for group in _GROUPS:
        if group in head:
            return head.split(group, 1)[1]
    return head.rsplit(".", 1)[-1]
