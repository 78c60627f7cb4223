"""The documented form `relet/findings/1`: findings as plain data."""

from __future__ import annotations

from typing import Any

from relet.checks.findings import Finding, Findings
from relet.working import Step, steps


def _json_number(x: float) -> float | None:
    return float(x) if x == x and abs(x) != float("inf") else None


def step_json(s: Step) -> dict[str, Any]:
    """A step as it stands in the JSON forms."""
    return {
        "symbol": s.symbol, "kind": s.kind, "text": s.text, "put_in": {k: _json_number(v) for k, v in s.put_in},
        "put_text": s.put_text, "value": _json_number(s.value), "printed": s.printed, "unit": s.unit,
        "source": s.source, "status": s.status,
    }  # fmt: skip


def finding_json(f: Finding, *, working: bool = True) -> dict[str, Any]:
    """A finding as it stands in `relet/findings/1`."""
    j = f.worst
    out: dict[str, Any] = {
        "rule": f.rule, "subject": f.subject, "where": f.where, "verdict": f.verdict, "force": f.force,
        "value": _json_number(float(j.value)) if j else None, "limit": _json_number(float(j.limit)) if j else None,
        "unit": j.value.unit if j else "", "sense": j.sense if j else None,
        "best_value": _json_number(float(f.best.value)) if f.best else None,
        "best_limit": _json_number(float(f.best.limit)) if f.best else None,
        "margin": _json_number(f.margin) if j else None, "value_text": f.value_text, "limit_text": f.limit_text,
        "clause": f.clause, "sentence": f.sentence, "grounds": f.grounds, "status": f.status, "edition_mark": f.mark,
        "searched": not f.monotone,
        "needs": [
            {
                "about": n.about, "meets_on": [[_json_number(b.low), _json_number(b.high)] for b in n.meets_on],
                "options": list(n.options), "surely": n.surely, "words": n.words,
            }
            for n in f.needs
        ],
    }  # fmt: skip
    if working:
        out["working"] = [step_json(s) for s in f.working()]
        out["beside"] = [step_json(s) for g in f.beside() for s in steps(g)[-1:]]
    return out


def findings_json(found: Findings, *, working: bool = True) -> dict[str, Any]:
    """The form `relet/findings/1`."""
    b = found.basis
    return {
        "format": "relet/findings/1",
        "basis": {
            "code": b.code, "code_id": b.code_id, "figures": b.figures, "catalogue": b.catalogue, "method": b.method,
            "figures_from_memory_that_decide": b.memory_decides, "edition_unconfirmed_that_decide": b.unconfirmed,
            "assumed": list(found.assumed),
        },
        "coverage": [
            {
                "rule": c.rule, "title": c.title, "force": c.force, "clause": c.clause, "state": c.state,
                "findings": c.count, "why": c.why,
            }
            for c in found.coverage
        ],
        "findings": [finding_json(f, working=working) for f in found.worst_first],
        "counts": found.counts(),
        "measure_next": [
            {
                "about": m.about, "words": m.words, "way": m.way, "minutes": m.minutes, "share": round(m.share, 4),
                "settles": m.settles, "of": m.of,
            }
            for m in found.next
        ],
    }  # fmt: skip
