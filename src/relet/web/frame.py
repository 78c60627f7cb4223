"""What stands round every page: where one is, the cases in a row, the basis, the caution."""

from __future__ import annotations

from relet.model.values import Value
from relet.schedules import SHORT, basis_row, paper_state
from relet.web.links import of
from relet.web.showcase import CaseView


class Tab(Value, frozen=True, kw_only=True):
    """One way to go. `here`: this is where one is."""

    name: str
    href: str
    here: bool
    under: str = ""


class Cell(Value, frozen=True, kw_only=True):
    """One cell of the title block."""

    name: str
    value: str
    href: str = ""


class Frame(Value, frozen=True, kw_only=True):
    """Everything round the content. `title` is that of the browser's tab, `head` the page's own heading."""

    title: str
    head: str
    unit: str
    case: str
    case_name: str
    cases: tuple[Tab, ...]
    ways: tuple[Tab, ...]
    block: tuple[Cell, ...]
    caution: str
    draft: bool


_WAYS = (("", "Unit"), ("findings", "Findings"), ("change", "Change"), ("price", "Price"), ("figures", "Figures"))


def frame(views: tuple[CaseView, ...], view: CaseView, head: str, way: str = "") -> Frame:
    """The frame of one page of one case.

    head  heading of the page
    way   which way of the case one is on ("findings" ...)
    """
    basis, state = basis_row(view.found.basis), paper_state(view.found)
    there = {"change": view.dossier.job is not None, "price": bool(view.dossier.prices)}
    cases = tuple(
        Tab(name=v.dossier.name, href=of(v.id), here=v.id == view.id, under=v.dossier.stay) for v in views
    )  # fmt: skip
    ways = tuple(
        Tab(name=name, href=of(view.id, tail) if tail else of(view.id), here=tail == way)
        for tail, name in _WAYS
        if there.get(tail, True)
    )
    block = (
        Cell(name="code and edition", value=basis.code),
        Cell(name="figures from memory that decide", value=basis.memory, href=of(view.id, "figures")),
        Cell(name="edition unconfirmed", value=basis.unconfirmed, href=of(view.id, "figures")),
        Cell(name="catalogue", value=basis.catalogue),
        Cell(name="state", value=state.name),
    )
    return Frame(
        title=f"{head}, {view.dossier.name}, {view.case.unit.name}", head=head, unit=view.case.unit.name, case=view.id,
        case_name=view.dossier.name, cases=cases, ways=ways, block=block, caution=SHORT, draft=state.draft,
    )  # fmt: skip
