"""One assembly: does it fit, what is in it, what was found?"""

from __future__ import annotations

from relet.model.values import Value
from relet.schedules import AssemblyRow, FindingRow, about_assembly, assembly_rows, finding_row
from relet.web.frame import Frame
from relet.web.showcase import CaseView
from relet.web.site import Site


class AssemblyPage(Value, frozen=True, kw_only=True):
    """One assembly: its front, its contents, and what was found about it, its feed and its machines."""

    frame: Frame
    row: AssemblyRow
    face: str
    rows: tuple[FindingRow, ...]


def context(site: Site, view: CaseView, seat: str) -> AssemblyPage:
    """Gather the page of one assembly."""
    row = next(r for r in assembly_rows(view.case, view.found, view.dossier.why) if r.seat == seat)
    found = about_assembly(view.case, view.found, seat)
    return AssemblyPage(
        frame=site.frame(view, f"Assembly {seat}"), row=row, face=view.face_svg(seat),
        rows=tuple(finding_row(f, view.case) for f in found),
    )  # fmt: skip
