"""relet change."""

from __future__ import annotations

import textwrap
from collections.abc import Iterable, Sequence
from pathlib import Path

from relet.changeover import Job, as_json
from relet.cli.telling import put_json
from relet.files.dossiers import changeover
from relet.files.opened import open_unit
from relet.schedules import CAUTIONS
from relet.schedules.change import VERBS


def run(file: Path, from_: str, to: str, plans: Sequence[Path], *, json: bool, quiet: bool) -> int:
    """List the changeover."""
    work = changeover(open_unit(file, plans), from_, to)
    if json:
        put_json(as_json(work))
        return 0
    for line in lines(work):
        print(line)
    if not quiet:
        print()
        for caution in CAUTIONS:
            print("\n".join(textwrap.wrap(f"- {caution}", 110, subsequent_indent="  ")))
    return 0


def lines(work: Job) -> Iterable[str]:
    """The job in words: steps, parts, results, hours, price."""
    if not work.steps:
        yield "Nothing differs: no work."
        return
    for s in work.steps:
        after = f"  (after {', '.join(map(str, s.after_steps))})" if s.after_steps else ""
        yield f"{s.n:>4}  {VERBS[s.verb]:<12} {s.seat:<14} {s.minutes:>4g} min{after}"
        if s.warning:
            yield f"      WARNING: {s.warning}"
        for line in textwrap.wrap(s.words, 104):
            yield f"      {line}"
    for title, moved in (("Parts in", work.parts_in), ("Parts out", work.parts_out)):
        yield f"\n{title}"
        for m in moved:
            yield f"  {m.quantity:>6g}  {m.part}  {m.place}"
    for title, results in (("Results that fall", work.tests_void), ("Results that stand", work.tests_standing)):
        yield f"\n{title}"
        for v in results:
            yield f"  {v.reading.id}  {v.reading.of} at {v.reading.at}  {'; '.join(v.why)}".rstrip()
    yield "\nLoses supply"
    for o in work.outages:
        who = ", ".join(dict.fromkeys(x.name for x in o.loses_supply)) or "nobody"
        yield f"  {o.point}  {o.hours:g} h  {who}"
    p = work.price
    yield f"\n{work.hours:g} hours. {work.certificate}."
    landlord, tenant = p.by_payer["landlord"], p.by_payer["tenant"]
    yield f"Price {p.total:,.2f} {p.currency}: landlord {landlord:,.2f}, tenant {tenant:,.2f}"
