"""What the real checks say of a plan, sorted by what the planner can do about it."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Any

from relet.model import Case
from relet.planning.made import Made
from relet.planning.problem import Problem
from relet.planning.trial import Judge

BEYOND_A_PLAN = ("load.supply_capacity", "load.unbalance", "place.explosive")
"""Rules that no choice of the planner can turn: the supply's own limit, and what a specialist answers."""
MUST_HEED = ("place.reach", "place.clearance", "place.height")
"""Rules of the person's own policy: advice to anybody else, but a plan of ours heeds them."""
LIKES_TO_HEED = ("conductor.volt_drop", "conductor.starting_volt_drop")
"""Guidance that a larger cable settles: heeded where one does, never a reason to refuse a plan."""


@dataclass(frozen=True)
class Wrong:
    """A finding against a plan.

    must   the plan may not stand with it; False: a wish of guidance
    value, limit  as judged at the worst of what is not known
    """

    tenancy: str
    rule: str
    subject: str
    value: float
    limit: float
    said: str
    must: bool


def judged(problem: Problem, made: Made, judge: Judge) -> list[Wrong]:
    """Everything wrong with a plan, tenancy by tenancy; findings about kept pieces alone are not the plan's."""
    out = []
    ours = set(made.run_site) | {h.seat for h in made.hung.values()}
    for t in problem.tenancies:
        case = Case(
            where=f"design.{t.id}", unit=problem.unit, installation=made.scheme.installation(t.id), tenancy=t,
            use=made.scheme.uses[t.id], catalogue=problem.catalogue, code=problem.code,
        )  # fmt: skip
        for f in judge(case).findings:
            subject = str(f.subject)
            if f.rule in BEYOND_A_PLAN:
                continue
            if not (subject.startswith("tenancies.") or subject in ours or subject.split("/")[0] in ours):
                continue
            must = f.verdict == "fails" or (f.verdict == "advice" and f.rule in MUST_HEED)
            if must or (f.verdict == "advice" and f.rule in LIKES_TO_HEED):
                out.append(_wrong(t.id, f, must))
    return out


def _wrong(tenancy: str, f: Any, must: bool) -> Wrong:
    worst = getattr(f, "worst", None)
    value, limit = (worst.value, worst.limit) if worst is not None else (f.value, f.limit)
    value_text, limit_text = (str(getattr(f, n, "")) for n in ("value_text", "limit_text"))
    said = f"{f.subject} in {tenancy}: {value_text or f'{value:g}'} against {limit_text or f'{limit:g}'}"
    return Wrong(tenancy, f.rule, str(f.subject), float(value), float(limit), said, must)


def sites_of(made: Made, w: Wrong) -> tuple[str, ...]:
    """Sites that a finding is about: by its run or device, by its assembly, or by its machine."""
    if w.subject in made.run_site:
        return made.run_site[w.subject]
    by_seat = {h.seat: h.site for h in made.hung.values()}
    if w.subject.split("/")[0] in by_seat:
        return (by_seat[w.subject.split("/")[0]],)
    need = f"{w.tenancy}.{w.subject.rsplit('.', 1)[-1]}"
    return tuple(
        site for (t, site), several in made.seated.items()
        if t == w.tenancy and site in made.hung and any(i == need for i, _ in several)
    )  # fmt: skip
