"""What the proposal tells, as plain data for its template. Nothing is computed that a schedule does not hold."""

from __future__ import annotations

from typing import Any, Final

from relet.documents.pictures import Pictures, beside, on_a_sheet
from relet.model.values import plain
from relet.schedules import (
    CAUTIONS,
    SHORT,
    VERDICTS,
    AssemblyRow,
    Dossier,
    FindingRow,
    assembly_rows,
    basis_row,
    change_sheet,
    circuit_rows,
    counts,
    coverage_rows,
    figure_rows,
    finding_rows,
    machine_rows,
    next_rows,
    order_rows,
    paper_state,
    price_sheet,
)
from relet.schedules.numbers import day

_FIGURES_SHOWN: Final = 120


def proposal_data(d: Dossier, pictures: Pictures) -> dict[str, Any]:
    """Everything on the paper as JSON data; text is ready to print."""
    case, found = d.case, d.found
    state, basis = paper_state(found), basis_row(found.basis)
    figures = figure_rows(found)
    left = len(figures) - _FIGURES_SHOWN
    return {
        "title": f"Proposal: {case.unit.name}, {d.name}", "unit": case.unit.name, "tenancy": d.name, "kind": "proposal",
        "by": found.basis.method, "draft": state.draft, "state": state.name, "in_the_way": list(state.in_the_way),
        "basis": plain(basis), "caution": SHORT, "cautions": list(CAUTIONS), "before": d.before or "nothing",
        "cover": _cover(d), "worst": _worst(d),
        "counts": [plain(c) | {"says": VERDICTS[c.verdict].says} for c in counts(found)],
        "pictures": _sheets(pictures),
        "assemblies": [_assembly(a, pictures) for a in assembly_rows(case, found, d.why)],
        "open": plain(finding_rows(found, case, "fails", "depends", "refer", "advice")),
        "met": _by_rule(finding_rows(found, case, "meets")),
        "coverage": plain(coverage_rows(found.coverage)), "circuits": plain(circuit_rows(case, found)),
        "machines": plain(machine_rows(case, found)),
        "prices": [plain(price_sheet(p, kind, case.catalogue)) for kind, p in d.prices],
        "order": plain(order_rows(d.prices[0][1], d.prices[0][0], case.catalogue)) if d.prices else [],
        "change": plain(change_sheet(d.job, case.catalogue)) if d.job is not None else None,
        "next": plain(next_rows(found.next)), "assumed": list(found.assumed),
        "figures": plain(figures[:_FIGURES_SHOWN]),
        "figures_left": f"and {left} rows of stronger status, see the command for figures" if left > 0 else "",
    }  # fmt: skip


def _sheets(p: Pictures) -> list[dict[str, Any]]:
    out = [on_a_sheet(p.plan, "Plan", to_scale=True)] if p.plan else []
    for n, svg in enumerate(p.single_line, 1):
        of = f", sheet {n} of {len(p.single_line)}" if len(p.single_line) > 1 else ""
        out.append(on_a_sheet(svg, f"Single-line diagram{of}", to_scale=False))
    return out


def _cover(d: Dossier) -> list[dict[str, str]]:
    b = d.found.basis
    rows = [
        ("job", f"from {d.before} to {d.name}" if d.before else d.name),
        ("in from, until", d.stay or "not set"),
        ("day", day(d.on, "not dated")),
        ("code and edition", b.code),
        ("figures", f"{b.figures}; catalogue {b.catalogue}"),
        ("made with", b.method),
        ("state of this paper", paper_state(d.found).name),
        ("figures from memory that decide", str(b.memory_decides)),
        ("edition unconfirmed", str(b.unconfirmed)),
    ]
    if d.solved is not None:
        rows.append(("planned", "among " + str(d.solved.places) + " places"))
    return [{"name": name, "value": value} for name, value in rows]


def _worst(d: Dossier) -> list[dict[str, str]]:
    out = []
    for f in finding_rows(d.found, d.case, "fails", "depends")[:3]:
        margin = f"{f.verdict}, margin {f.margin}" if f.margin else f.verdict
        out.append({"title": f.title, "subject": f.subject, "margin_words": margin})
    return out


def _by_rule(rows: tuple[FindingRow, ...]) -> list[dict[str, Any]]:
    """Findings gathered by rule; the rule with the least margin comes first, and inside it the least margin."""
    out: dict[str, dict[str, Any]] = {}
    for f in rows:
        group = out.setdefault(f.rule, {"title": f.title, "clause": f.clause, "force": f.force, "rows": []})
        group["rows"].append(plain(f))
    return list(out.values())


def _assembly(a: AssemblyRow, pictures: Pictures) -> dict[str, Any]:
    spare = ", ".join(
        f"{text} {what}" for text, what in ((a.spare_apertures.text, "apertures"), (a.spare_ways.text, "ways")) if text
    )
    face = beside(pictures.faces.get(a.seat, ""), f"Face of {a.seat}")
    return plain(a) | {"face": face, "spare": spare or "not declared"}  # type: ignore[no-any-return]
