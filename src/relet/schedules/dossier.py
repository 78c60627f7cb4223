"""Everything that is printed about one case, gathered: the one argument of papers and pages."""

from __future__ import annotations

from datetime import date
from math import isfinite
from typing import Any, Final

from relet.changeover import Job
from relet.checks.findings import Findings
from relet.checks.forms import findings_json
from relet.model import Case, SolverReport
from relet.model.values import Map, Value, plain
from relet.pricing import Price
from relet.readings import Reading
from relet.schedules.numbers import stay
from relet.schedules.prices import PriceKind

STANDING: Final = "standing"


class Dossier(Value, frozen=True, kw_only=True):
    """One case with what was found and worked out about it.

    price      price of the whole installation as new work, None where there is none
    job        changeover from what was before, with its own price; None where there is nothing before
    before     name of what was before, in words ("as inherited", "Harbour & Husk")
    readings   results on record
    solved     how the planner found it, None for what stands or was made by hand
    why        seat -> why it hangs there
    on         the day that a paper bears
    """

    case: Case
    found: Findings
    price: Price | None = None
    job: Job | None = None
    before: str = ""
    readings: tuple[Reading, ...] = ()
    solved: SolverReport | None = None
    why: Map[str, str] = Map()
    on: date | None = None

    @property
    def id(self) -> str:
        """Short name of the case: "standing", or the tenancy's id."""
        return self.case.where.removeprefix("design.")

    @property
    def name(self) -> str:
        """Name in words."""
        if self.case.where == STANDING or self.case.tenancy is None:
            return "as it stands"
        return self.case.tenancy.name

    @property
    def stay(self) -> str:
        """When the tenant is in."""
        t = self.case.tenancy
        if t is None:
            return ""
        return f"with the machines of {t.name}" if self.case.where == STANDING else stay(t.from_, t.to)

    @property
    def prices(self) -> tuple[tuple[PriceKind, Price], ...]:
        """What it costs: the change, and the whole as new work; those that there are."""
        out: list[tuple[PriceKind, Price]] = []
        if self.job is not None:
            out.append(("change", self.job.price))
        if self.price is not None:
            out.append(("whole", self.price))
        return tuple(out)


def _finite(x: float | None) -> float | None:
    return x if x is not None and isfinite(x) else None


def case_json(d: Dossier, *, working: bool = False) -> dict[str, Any]:
    """The form `relet/case/1`: installation and use of one case as plain data, its own prices, and its findings.

    `solved` tells of the planning of all tenancies at once, None where nobody planned.
    """
    s = d.solved
    solved = None if s is None else {
        "price": _finite(s.price), "bound": _finite(s.bound), "gap": _finite(s.gap), "places": s.places,
        "binaries": s.binaries, "rows": s.rows, "seconds": s.seconds, "rounds": s.rounds, "stopped": s.stopped,
        "log": list(s.log),
    }  # fmt: skip
    return {
        "format": "relet/case/1", "unit": d.case.unit.id, "case": d.id,
        "installation": plain(d.case.installation), "use": plain(d.case.use), "why": dict(d.why),
        "prices": {kind: _finite(price.total) for kind, price in d.prices}, "solved": solved,
        "findings": findings_json(d.found, working=working),
    }  # fmt: skip
