"""Steps of a working as the pages show them, each fact and table row with the way to its own page."""

from __future__ import annotations

from collections.abc import Iterable

from relet.model.values import Value
from relet.schedules import row_id, status_words
from relet.schedules.numbers import with_unit
from relet.web.links import link
from relet.web.showcase import CaseView
from relet.working import Step


class StepView(Value, frozen=True, kw_only=True):
    """One step. `put` is the formula with its numbers put in, "" for what is no formula."""

    symbol: str
    kind: str
    text: str
    put: str
    value: str
    source: str
    status: str
    href: str


_KINDS = {"fact": "held", "lookup": "table", "formula": "formula", "solved": "solved", "choice": "choice"}


def step_views(view: CaseView, steps: Iterable[Step]) -> tuple[StepView, ...]:
    """Steps in the order of the working: givens first."""
    return tuple(_one(view, s) for s in steps)


def _one(view: CaseView, s: Step) -> StepView:
    href = ""
    if s.kind == "fact":
        href = link(view, f"fact:{s.text}")
    elif s.kind == "lookup":
        table, _, row = s.text.partition(": ")
        href = link(view, f"row:{row_id(table, row)}") if row_id(table, row) in view.figures else ""
    return StepView(
        symbol=s.symbol, kind=_KINDS[s.kind], text=s.text, put=s.put_text, value=with_unit(s.printed, s.unit),
        source=s.source, status=status_words(s.status), href=href,
    )  # fmt: skip
