"""relet pack: the papers and drawings of each design of a unit."""

from __future__ import annotations

from collections.abc import Sequence
from datetime import date
from pathlib import Path

from relet.checks.findings import Findings
from relet.cli.changing import lines
from relet.cli.pictures import draw, pictures
from relet.cli.telling import basis_lines, columns
from relet.documents import proposal
from relet.errors import InputError
from relet.files.atomic import write_text
from relet.files.dossiers import before, changeover, dossier
from relet.files.opened import Opened, open_unit

Written = tuple[Findings, list[tuple[str, Path]]]


def ready(folder: Path) -> None:
    """Make the folder where papers go. Raises InputError."""
    try:
        folder.mkdir(parents=True, exist_ok=True)
    except OSError as e:
        raise InputError(f"cannot be written: {e.strerror or e}.", file=str(folder)) from None


def pack(opened: Opened, tenancy: str, folder: Path, code: str | None = None) -> Written:
    """Write proposal, plan, single-line diagram and changeover of one design; what was found, and the paths."""
    case = opened.design_case(tenancy, code)
    d = dossier(opened, case, on=date.today())
    on_plan, on_line = draw(case, d.found, folder, tenancy)
    paper = proposal(folder / f"{tenancy}_proposal.pdf", d, pictures(case, d.found))
    listing = folder / f"{tenancy}_changeover.txt"
    write_text(listing, "\n".join(lines(changeover(opened, before(opened, tenancy), tenancy))) + "\n")
    return d.found, [("plan", on_plan), ("single line", on_line), ("proposal", paper), ("changeover", listing)]


def path_lines(name: str, paths: Sequence[tuple[str, Path]]) -> list[str]:
    """What was written, a name before the first."""
    rows = [(f"{name}: {what}" if n == 0 else what, str(path)) for n, (what, path) in enumerate(paths)]
    return [f"  {line}" for line in columns(rows, (28,))]


def run(file: Path, tenancy: str | None, plans: Sequence[Path], out: Path, code: str | None, *, quiet: bool) -> int:
    """Write what there is for every design, or for one."""
    opened = open_unit(file, plans)
    held = [tenancy] if tenancy is not None else [t.id for t in opened.unit_file.in_order if t.id in opened.schemes]
    if not held:
        raise InputError("there is no design yet. `relet design` makes one; name its plan with --plan.", file=str(file))
    ready(out)
    for id in held:
        found, paths = pack(opened, id, out, code)
        print("\n".join(path_lines(opened.tenancy(id).name, paths)))
    if not quiet:
        print("\n".join(["", *basis_lines(found)]))
    return 0
