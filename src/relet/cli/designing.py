"""relet design."""

from __future__ import annotations

import sys
from collections.abc import Sequence
from dataclasses import replace
from pathlib import Path
from typing import Any

from relet.checks import Findings, findings_json, judge, merge_findings
from relet.cli.telling import basis_lines, counts_line, put_json, solved_line, told
from relet.files.atomic import check_place
from relet.files.opened import Opened, open_unit
from relet.files.plan_out import write_plan
from relet.model import Case, Map, Scheme, plain
from relet.planning import Choices, Problem, Progress, plan, stop_on_interrupt
from relet.schedules.numbers import gap, not_above


def planned(opened: Opened, tenancy: str | None, seconds: float, code: str | None, *, quiet: bool) -> Scheme:
    """Plan one or all tenancies of an opened unit, showing price, bound and gap on standard error."""
    u = opened.unit_file
    chosen = (opened.tenancy(tenancy),) if tenancy is not None else u.in_order
    problem = Problem(
        unit=u.unit, standing=u.standing, tenancies=chosen, wishes=u.wishes, catalogue=opened.catalogue,
        code=code or opened.code, choices=Choices(seconds=seconds),
    )  # fmt: skip
    shown = Shown(quiet=quiet)
    with stop_on_interrupt() as stop:
        return plan(
            problem, opened.prices, verdicts, made_for=u.digest, watch=shown.progress, tell=shown.line, stop=stop
        )


def verdicts(case: Case, *, rules: Sequence[str] | None = None) -> Findings:
    """The real checks without thresholds: what the planner asks."""
    return judge(case, rules=rules, thresholds=False, rank=False)


class Shown:
    """Progress on standard error: one moving line on a terminal, plain lines elsewhere."""

    def __init__(self, *, quiet: bool) -> None:
        self.quiet, self.moving, self._open = quiet, sys.stderr.isatty(), False
        self._last: tuple[float, float] | None = None

    def progress(self, p: Progress) -> None:
        """Price, bound and gap while the programme is solved."""
        if self.quiet or p.price is None or p.bound is None:
            return
        part = gap(p.gap) if p.gap is not None else "-"
        text = f"best {p.price:,.0f}   not below {not_above(p.bound, 0)}   gap {part}   {p.seconds:.0f} s"
        text += "   (Ctrl-C keeps the best)"
        if self.moving:
            print(f"\r{text:<90}", end="", file=sys.stderr, flush=True)
            self._open = True
        elif self._last is None or abs(p.price - self._last[0]) + abs(p.bound - self._last[1]) > p.price / 500:
            self._last = (p.price, p.bound)
            print(text, file=sys.stderr)

    def line(self, text: str) -> None:
        """One line of the log."""
        if not self.quiet:
            print(("\n" if self._open else "") + text, file=sys.stderr, flush=True)
            self._open = False


def proven(opened: Opened, scheme: Scheme, code: str | None) -> Findings:
    """Judge every tenancy of a scheme with everything."""
    at = replace(opened, schemes=Map(dict.fromkeys(scheme.contents, scheme)))
    return merge_findings([judge(at.design_case(t, code)) for t in scheme.contents])


def form(scheme: Scheme, found: Findings, path: Path) -> dict[str, Any]:
    """The form `relet/design/1`."""
    s = scheme.solved
    assert s is not None
    return {
        "format": "relet/design/1",
        "design": {
            "backbone": plain(scheme.backbone), "contents": plain(scheme.contents), "uses": plain(scheme.uses),
            "why": dict(scheme.why),
        },
        "plan": str(path), "price": s.price, "bound": s.bound, "gap": s.gap, "places": s.places,
        "binaries": s.binaries, "rows": s.rows, "seconds": s.seconds, "rounds": s.rounds, "stopped": s.stopped,
        "log": list(s.log), "findings": findings_json(found, working=False),
    }  # fmt: skip


def run(
    file: Path, tenancy: str | None, out: Path | None, seconds: float, code: str | None, *, json: bool, quiet: bool
) -> int:
    """Plan, prove, write the plan file, tell."""
    opened = open_unit(file)
    target = out or file.with_name(f"{file.stem}.plan.toml")
    check_place(target)
    scheme = planned(opened, tenancy, seconds, code, quiet=quiet)
    write_plan(scheme, target, opened.unit_file)
    found = proven(opened, scheme, code)
    if json:
        put_json(form(scheme, found, target))
        return found.exit_code
    s = scheme.solved
    assert s is not None
    for seat, why in scheme.why.items():
        print(f"{seat:<5} {scheme.backbone.assemblies[seat].place:<14} {why}")  # type: ignore[index]
    for line in told(found, opened.name_of, "fails", "depends", "refer"):
        print(line)
    print(f"\nover all tenancies: {counts_line(found)}")
    print(solved_line(s))
    print(f"plan written: {target}")
    if not quiet:
        for line in basis_lines(found):
            print(line)
    return found.exit_code
