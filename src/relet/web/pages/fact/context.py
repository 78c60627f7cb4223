"""One fact."""

from __future__ import annotations

from relet.model.values import Value
from relet.schedules import FactRow, FindingRow, NextRow, Shown, finding_row, next_rows
from relet.schedules.numbers import count, number
from relet.web.frame import Frame
from relet.web.showcase import CaseView
from relet.web.site import Site
from relet.working import Fact, ground_of, without_unit

SHOWN = 40


class FactPage(Value, frozen=True, kw_only=True):
    """One fact: what is held, and the findings that rest on it, gravest first.

    ask  how it would be found out, where it is open
    """

    frame: Frame
    row: FactRow
    ask: tuple[NextRow, ...]
    decides: str
    rows: tuple[FindingRow, ...]


def context(site: Site, view: CaseView, about: str) -> FactPage | None:
    """Gather the page of one fact; None where nothing of that address is held or used."""
    row = view.facts.get(about) or _used(view, about) or _asked(view, about)
    if row is None:
        return None
    keys = view.rests_on(about)
    rows = tuple(finding_row(view.addresses[view.by_key[k]], view.case) for k in keys[:SHOWN])
    ask = tuple(n for n in next_rows(view.found.next) if n.about == about)
    return FactPage(
        frame=site.frame(view, f"{row.field} of {row.thing}"), row=row, ask=ask, decides=count(len(keys), "finding"),
        rows=rows,
    )  # fmt: skip


def _used(view: CaseView, about: str) -> FactRow | None:
    """A fact that stands in workings without a claim: a default, a count, something measured in the plan."""
    figure = view.leaves.get(about)
    if figure is None or not isinstance(figure.origin, Fact):
        return None
    o = figure.origin
    thing, _, field = about.rpartition(".")
    text = o.word or ("not known" if o.open else number(float(figure), figure.unit))
    doubt = o.open or o.ground in ("assumed", "from memory", "unknown")
    return FactRow(
        about=about, thing=thing, field=without_unit(field), value=Shown(text=text, doubt=doubt),
        how=ground_of(figure), on="", note=o.note,
    )  # fmt: skip


def _asked(view: CaseView, about: str) -> FactRow | None:
    """A fact of which nothing is held, but which would settle something."""
    if about not in view.asked:
        return None
    thing, _, name = about.rpartition(".")
    field, value = without_unit(name), Shown(text="not known", doubt=True)
    return FactRow(about=about, thing=thing, field=field, value=value, how="nothing is held", on="", note="")
