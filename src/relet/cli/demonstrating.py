"""relet demo: the whole main job on the example unit."""

from __future__ import annotations

from dataclasses import replace
from pathlib import Path

import relet
from relet.checks import Findings, Verdict, judge, merge_findings
from relet.cli.designing import planned
from relet.cli.packing import pack, path_lines, ready
from relet.cli.telling import basis_lines, columns, counts_line, solved_line
from relet.errors import InputError
from relet.files.opened import open_unit
from relet.files.plan_out import write_plan
from relet.model import Map

EXAMPLE = Path(relet.__file__).parents[2] / "examples" / "limekiln_yard" / "unit_7.toml"


def run(folder: Path, seconds: float, *, quiet: bool) -> int:
    """Check, plan, prove, price, draw, write the papers, change over. Everything lands in one folder."""
    if not EXAMPLE.exists():
        raise InputError("the example is not beside this installation. Use `relet check` on a unit file of your own.")
    ready(folder)
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
    assert scheme.solved is not None
    print(f"  {solved_line(scheme.solved)}\n")
    at = replace(opened, schemes=Map(dict.fromkeys(scheme.contents, scheme)))
    written = path_lines(unit.name, [("plan file", plan_file)])
    results: list[tuple[str, Findings]] = [("as it stands", standing)]
    for t in at.unit_file.in_order:
        found, paths = pack(at, t.id, folder)
        results.append((t.name, found))
        written += path_lines(t.name, paths)
    verdicts: tuple[Verdict, ...] = ("fails", "depends", "refer", "advice", "meets", "not applicable")
    print("\n".join(columns([("", *verdicts)], (18, *(len(v) for v in verdicts)))))
    for name, found in results:
        counts = found.counts()
        row = (name, *(f"{counts[v]:>{len(v)}}" for v in verdicts))
        print("\n".join(columns([row], (18, *(len(v) for v in verdicts)))))
    print("\n".join(["", *written, "", *basis_lines(merge_findings([found for _, found in results]))]))
    print(f"\nLook at it: relet serve {EXAMPLE} --plan {plan_file}")
    return 0
