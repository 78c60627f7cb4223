"""The unit page: is this layout good and safe?"""

from __future__ import annotations

from relet.model.values import Value
from relet.schedules import (
    AssemblyRow,
    CircuitRow,
    FindingRow,
    MachineRow,
    NextRow,
    PriceSheet,
    VerdictCount,
    assembly_rows,
    circuit_rows,
    counts,
    finding_rows,
    machine_rows,
    next_rows,
    paper_state,
    price_sheet,
)
from relet.schedules.numbers import count, gap, money
from relet.web.frame import Cell, Frame
from relet.web.links import of
from relet.web.showcase import CaseView
from relet.web.site import Site

WORST_SHOWN = 25


class UnitPage(Value, frozen=True, kw_only=True):
    """What the unit page shows.

    worst  the first findings, worst margin first; all_findings: how many there are, in words
    """

    frame: Frame
    counts: tuple[VerdictCount, ...]
    plan: str
    single_line: str
    worst: tuple[FindingRow, ...]
    all_findings: str
    next: tuple[NextRow, ...]
    assemblies: tuple[AssemblyRow, ...]
    circuits: tuple[CircuitRow, ...]
    machines: tuple[MachineRow, ...]
    prices: tuple[PriceSheet, ...]
    solved: tuple[Cell, ...]
    in_the_way: tuple[str, ...]


def context(site: Site, view: CaseView) -> UnitPage:
    """Gather the unit page of one case."""
    d, found, case = view.dossier, view.found, view.case
    rows = finding_rows(found, case)
    solved: tuple[Cell, ...] = ()
    if d.solved is not None:
        there = of(view.id, "planned")
        solved = (
            Cell(name="price", value=money(d.solved.price), href=there),
            Cell(name="not below", value=money(d.solved.bound), href=there),
            Cell(name="gap", value=gap(d.solved.gap), href=there),
        )
    return UnitPage(
        frame=site.frame(view, case.unit.name), counts=counts(found), plan=view.plan_svg,
        single_line=view.single_line_svg, worst=rows[:WORST_SHOWN], all_findings=count(len(rows), "finding"),
        next=next_rows(found.next), assemblies=assembly_rows(case, found, d.why), circuits=circuit_rows(case, found),
        machines=machine_rows(case, found),
        prices=tuple(price_sheet(p, kind, case.catalogue) for kind, p in d.prices), solved=solved,
        in_the_way=paper_state(found).in_the_way,
    )  # fmt: skip
