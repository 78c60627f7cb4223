"""relet demo: the whole main job on the example unit."""

from __future__ import annotations

from dataclasses import replace
from datetime import date
from pathlib import Path

import relet
from relet.checks import Findings, Verdict, judge
from relet.cli import changing
from relet.cli.designing import planned
from relet.cli.pictures import draw, pictures
from relet.cli.telling import basis_lines, columns, counts_line
from relet.documents import proposal
from relet.errors import InputError
from relet.files.atomic import write_text
from relet.files.dossiers import before, changeover, dossier
from relet.files.opened import open_unit
from relet.files.plan_out import write_plan
from relet.model import Map

EXAMPLE = Path(relet.__file__).parents[2] / "examples" / "limekiln_yard" / "unit_7.toml"


def run(folder: Path, seconds: float, *, quiet: bool) -> int:
    """Check, plan, prove, price, draw, write the papers, change over. Everything lands in one folder."""
    if not EXAMPLE.exists():
        raise InputError("the example is not beside this installation. Use `relet check` on a unit file of your own.")
    try:
        folder.mkdir(parents=True, exist_ok=True)
    except OSError as e:
        raise InputError(f"cannot be written: {e.strerror or e}.", file=str(folder)) from None
    opened = open_unit(EXAMPLE)
    unit = opened.unit_file.unit
    print(f"{unit.name}, {opened.unit_file.file}. Everything in it is invented.\n")
    standing = judge(opened.standing_case(None))
    print(f"As it stands:  {counts_line(standing)}")
    for n, m in enumerate(standing.next[:3], 1):
        print(f"  measure next {n}: {m.words} ({m.way}, {m.minutes:g} min)")
    print("\nPlanning all tenancies at once")
    scheme = planned(opened, None, seconds, None, quiet=quiet)
    plan_file = folder / "unit_7.plan.toml"
    write_plan(scheme, plan_file, opened.unit_file)
    s = scheme.solved
    assert s is not None
    print(f"  price {s.price:,.2f}   not below {s.bound:,.2f}   gap {100 * s.gap:.2f} %   {s.seconds:g} s\n")
    at = replace(opened, schemes=Map(dict.fromkeys(scheme.contents, scheme)))
    paths: list[tuple[str, Path]] = [("plan file", plan_file)]
    results: list[tuple[str, Findings]] = [("as it stands", standing)]
    for t in at.unit_file.in_order:
        case = at.design_case(t.id)
        d = dossier(at, case, on=date.today())
        results.append((t.name, d.found))
        on_plan, on_line = draw(case, d.found, folder, t.id)
        paper = proposal(folder / f"{t.id}_proposal.pdf", d, pictures(case, d.found))
        work = changeover(at, before(at, t.id), t.id)
        listing = folder / f"{t.id}_changeover.txt"
        write_text(listing, "\n".join(changing.lines(work)) + "\n")
        paths += [(f"{t.name}: plan", on_plan), ("single line", on_line), ("proposal", paper), ("changeover", listing)]
    verdicts: tuple[Verdict, ...] = ("fails", "depends", "refer", "advice", "meets", "not applicable")
    print("\n".join(columns([("", *verdicts)], (18, *(len(v) for v in verdicts)))))
    for name, found in results:
        counts = found.counts()
        row = (name, *(f"{counts[v]:>{len(v)}}" for v in verdicts))
        print("\n".join(columns([row], (18, *(len(v) for v in verdicts)))))
    print()
    for what, path in paths:
        print(f"  {what:<28} {path}")
    print()
    for line in basis_lines(results[-1][1]):
        print(line)
    print(f"\nLook at it: relet serve {EXAMPLE} --plan {plan_file}")
    return 0
