"""How the plan was found: price, bound and gap, and what each round taught."""

from __future__ import annotations

from relet.model import SolverReport
from relet.model.values import Value
from relet.schedules.numbers import gap, money, number
from relet.web.frame import Cell, Frame
from relet.web.showcase import CaseView
from relet.web.site import Site


class PlannedPage(Value, frozen=True, kw_only=True):
    """The report of the solver and the reasons it gave."""

    frame: Frame
    pairs: tuple[Cell, ...]
    log: tuple[str, ...]
    why: tuple[Cell, ...]


def context(site: Site, view: CaseView, s: SolverReport) -> PlannedPage:
    """Gather the page."""
    pairs = (
        Cell(name="price", value=money(s.price)), Cell(name="proven not below", value=money(s.bound)),
        Cell(name="gap, as a share of the price", value=gap(s.gap)), Cell(name="candidate places", value=str(s.places)),
        Cell(name="yes-or-no choices", value=str(s.binaries)), Cell(name="rows", value=str(s.rows)),
        Cell(name="time", value=number(round(s.seconds, 1), "s")), Cell(name="rounds", value=str(s.rounds)),
        Cell(name="ended", value="stopped, the best so far kept" if s.stopped else "by itself"),
    )  # fmt: skip
    why = tuple(Cell(name=k, value=v) for k, v in view.dossier.why.items())
    return PlannedPage(frame=site.frame(view, "How the plan was found"), pairs=pairs, log=s.log, why=why)
