"""relet check."""

from __future__ import annotations

from collections.abc import Sequence
from pathlib import Path

from relet.checks import Findings, findings_json, judge, merge_findings
from relet.cli.telling import basis_lines, columns, counts_line, finding_lines, put_json, told
from relet.files.opened import Opened, open_unit


def judged(opened: Opened, tenancy: str | None, code: str | None) -> Findings:
    """Judge every case that was asked for."""
    return merge_findings([judge(case) for case in opened.cases(tenancy, code)])


def run(file: Path, tenancy: str | None, plans: Sequence[Path], code: str | None, *, json: bool, quiet: bool) -> int:
    """Judge and tell. Returns the exit code."""
    opened = open_unit(file, plans)
    found = judged(opened, tenancy, code)
    if json:
        put_json(findings_json(found))
        return found.exit_code
    for line in told(found, opened.name_of, "fails", "depends", "refer", "advice"):
        print(line)
    if not quiet:
        print("\nMet")
        for f in found.worst_first:
            if f.verdict == "meets":
                print(next(iter(finding_lines(f))))
        print("\nCoverage")
        rows = [(c.state, c.rule, f"{c.count} judged" if c.count else "", c.why) for c in found.coverage]
        for line in columns(rows, (14, 36, 12)):
            print(line)
    if found.next:
        print("\nMeasure next")
        for n, m in enumerate(found.next[:8], 1):
            print(f" {n}  {m.words}  ({m.way}, {m.minutes:g} min, settles {m.settles} of {m.of})  [{m.about}]")
    print("\n" + counts_line(found))
    for line in basis_lines(found):
        print(line)
    return found.exit_code
