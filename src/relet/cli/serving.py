"""relet serve."""

from __future__ import annotations

from collections.abc import Sequence
from pathlib import Path

from relet.files.dossiers import dossiers
from relet.files.opened import open_unit
from relet.web import address, serve, showcase


def run(file: Path, plans: Sequence[Path], code: str | None, port: int) -> int:
    """Work out every case of the unit, then serve its pages until interrupted."""
    shown = showcase(*dossiers(open_unit(file, plans), code))
    print(f"{shown.unit}: {address(port)}   Ctrl-C ends it", flush=True)
    serve(shown, port)
    return 0
