"""relet figures."""

from __future__ import annotations

from collections.abc import Sequence
from pathlib import Path

from relet.cli.checking import judged
from relet.cli.telling import columns, put_json
from relet.files.opened import open_unit
from relet.schedules import figure_rows


def run(file: Path, tenancy: str | None, plans: Sequence[Path], code: str | None, *, json: bool) -> int:
    """List the tabulated figures that decide, worst status first."""
    rows = figure_rows(judged(open_unit(file, plans), tenancy, code))
    if json:
        put_json(
            {
                "format": "relet/figures/1",
                "figures": [
                    {
                        "id": r.id, "table": r.table, "row": r.row, "name": r.name, "value": r.value.text,
                        "status": r.status, "source": r.source, "publications": list(r.publications),
                        "edition": r.edition, "decides": list(r.keys), "verdict": r.verdict,
                    }
                    for r in rows
                ],
            }
        )  # fmt: skip
        return 0
    told = ((r.status, r.value.text, r.table, f"{r.row}  [{r.source}; {r.edition}]  decides {r.decides}") for r in rows)
    for line in columns(told, (7, 16, 24)):
        print(line)
    memory = sum(1 for r in rows if r.status in ("M", "M+"))
    print(f"\n{len(rows)} figures decide; {memory} of them from memory. Check those first in a held copy.")
    return 0
