"""A job as plain data, `relet/change/1`."""

from __future__ import annotations

from typing import Any

from relet.changeover.step import Job, Loss, Moved, Step
from relet.pricing import Price
from relet.readings import Verdict

FORMAT = "relet/change/1"


def as_json(job: Job) -> dict[str, Any]:
    """The documented form: steps, parts_in, parts_out, tests_void, tests_standing, hours, price, loses_supply."""
    return {
        "format": FORMAT,
        "job": job.id,
        "steps": [_step(s) for s in job.steps],
        "parts_in": [_moved(m, "from") for m in job.parts_in],
        "parts_out": [_moved(m, "to") for m in job.parts_out],
        "tests_void": [_verdict(v) for v in job.tests_void],
        "tests_standing": [_verdict(v) for v in job.tests_standing],
        "hours": job.hours,
        "price": price_as_json(job.price),
        "loses_supply": [
            {"point": o.point, "hours": o.hours, "who": [_loss(x) for x in o.loses_supply]} for o in job.outages
        ],
        "certificate": job.certificate,
    }


def price_as_json(price: Price) -> dict[str, Any]:
    """A price as plain data."""
    return {
        "edition": price.edition,
        "currency": price.currency,
        "total": price.total,
        "landlord": price.by_payer["landlord"],
        "tenant": price.by_payer["tenant"],
        "by_share": dict(price.by_share),
        "vat_percent": price.vat_percent,
        "vat": price.vat,
        "lines": [
            {
                "what": x.what, "quantity": x.quantity, "unit": x.unit, "each": x.each, "total": x.total,
                "payer": x.payer, "share": x.share, "why": x.why,
            }
            for x in price.lines
        ],
    }  # fmt: skip


def _step(s: Step) -> dict[str, Any]:
    return {
        "n": s.n, "verb": s.verb, "seat": s.seat, "words": s.words, "warning": s.warning, "before": s.before,
        "after": s.after, "opens": list(s.opens), "isolate_at": list(s.isolate_at),
        "other_sources": list(s.other_sources), "prove_dead_at": list(s.prove_dead_at),
        "loses_supply": [_loss(x) for x in s.loses_supply], "from": s.from_, "to": s.to,
        "parts": [{"part": p, "quantity": n} for p, n in s.parts], "minutes": s.minutes,
        "after_steps": list(s.after_steps), "kind": s.difference.kind if s.difference is not None else "",
        "like_for_like": s.difference is not None and s.difference.like_for_like,
    }  # fmt: skip


def _loss(x: Loss) -> dict[str, str]:
    return {"seat": x.seat, "kind": x.kind, "name": x.name, "tenancy": x.tenancy, "serves": x.serves}


def _moved(m: Moved, place: str) -> dict[str, Any]:
    return {"part": m.part, "quantity": m.quantity, "unit": m.unit, place: m.place, "seats": list(m.seats)}


def _verdict(v: Verdict) -> dict[str, Any]:
    return {
        "reading": v.reading.id, "of": v.reading.of, "at": v.reading.at, "effect": v.effect or "stands",
        "why": list(v.why), "things": list(v.things),
    }  # fmt: skip
