"""relet verify."""

from __future__ import annotations

from relet.cli.telling import columns, put_json
from relet.verify import as_json, mutants, verify


def run(*, json: bool, mutate: bool, quiet: bool) -> int:
    """Recompute the published checks; with mutate, see that a wrong function is noticed."""
    checks = verify()
    wrong = mutants() if mutate else ()
    if json:
        put_json(as_json(checks, wrong))
    else:
        rows = (
            (
                ("ok" if c.ok else "WRONG"),
                c.id,
                c.status,
                f"{c.printed} {c.unit}".strip(),
                f"{c.got:.6g}  {c.function}  [{c.source}]",
            )
            for c in checks
        )
        if not quiet:
            for line in columns(rows, (6, 44, 4, 16)):
                print(line)
        for m in wrong:
            print(f"{'caught' if m.ok else 'NOT CAUGHT':<11} {m.function}  ({m.caught} of {m.checks} values)")
    failed = sum(1 for c in checks if not c.ok) + sum(1 for m in wrong if not m.ok)
    if not json:
        published = sum(1 for c in checks if c.status in ("V1", "V2") and c.kind == "example")
        print(f"\n{len(checks)} values, {published} of them printed in worked examples; {failed} wrong.")
    return 1 if failed else 0
