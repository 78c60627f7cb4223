"""Drawings of a case, for files and papers."""

from __future__ import annotations

from pathlib import Path

from relet.checks.findings import Findings
from relet.documents.pictures import FACE_MM, Pictures
from relet.drawing import face, plan, single_line, single_line_sheets, svg
from relet.files.atomic import write_text
from relet.model import Case, Map
from relet.schedules.findings import marks


def pictures(case: Case, found: Findings | None = None) -> Pictures:
    """Plan, single-line sheets and faces in the paper palette."""
    seen = marks(found) if found is not None else {}
    i, t = case.installation, case.tenancy
    sheets = single_line_sheets(i, case.use, case.unit, case.catalogue, t, verdicts=seen)
    return Pictures(
        plan=svg(plan(case.unit, i, case.use, t, case.catalogue, verdicts=seen), "paper"),
        single_line=tuple(svg(s, "paper") for s in sheets),
        faces=Map(
            {str(a): svg(face(a, i, case.catalogue, case.use, t, room_mm=FACE_MM), "paper") for a in i.assemblies}
        ),
    )


def draw(case: Case, found: Findings | None, folder: Path, stem: str) -> tuple[Path, Path]:
    """Write the plan on its sheet and the single line of a case as SVG; returns both paths."""
    seen = marks(found) if found is not None else {}
    i, t = case.installation, case.tenancy
    on_plan, on_line = folder / f"{stem}_plan.svg", folder / f"{stem}_single_line.svg"
    write_text(on_plan, svg(plan(case.unit, i, case.use, t, case.catalogue, verdicts=seen, paper="A3"), "paper"))
    write_text(on_line, svg(single_line(i, case.use, case.unit, case.catalogue, t, verdicts=seen), "paper"))
    return on_plan, on_line
