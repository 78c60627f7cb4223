"""The job from one installation to another."""

from __future__ import annotations

from collections.abc import Collection, Iterable, Mapping

from relet.changeover.cost import moved, new_circuits, placed, priced_job
from relet.changeover.difference import difference
from relet.changeover.step import WORK, Job, Outage, Step
from relet.changeover.walk import Walk, stamped
from relet.changeover.writing import Writer
from relet.model import Catalogue, Installation, Run, Seat, Tenancy, Use
from relet.pricing import PriceBook
from relet.readings import Disturbance, Reading, fallen


def job(
    a: Installation,
    b: Installation,
    book: PriceBook,
    *,
    id: str = "J1",
    catalogue: Catalogue | None = None,
    replace: Collection[Seat] = (),
    corrected: Collection[Seat] = (),
    readings: Iterable[Reading] = (),
    stock: Mapping[str, int] | None = None,
    use: Use | None = None,
    tenant: Tenancy | None = None,
    sources: Iterable[str] = (),
    access: bool = False,
) -> Job:
    """Plan the work that turns `a` into `b`.

    replace     seats whose piece is replaced by its equal; corrected: seats where `b` only tells better what stands
    readings    results on record: which fall and which stand
    stock       parts in the store, used first
    use, tenant who is plugged in while the work is done: who loses supply
    sources     other sources of the unit, to be isolated with every point
    access      equipment for work above reach is needed
    raises      InputError (a seat to be replaced holds nothing), UnknownPrice (a part without a price)
    """
    found = difference(a, b, replace=replace, corrected=corrected)
    walk = Walk(a, b, found, Writer(id, book, catalogue, tenant, sources), catalogue, use, stock or {})
    steps = placed(walk.run(), stock or {})
    after = stamped(steps, a)
    work = [d for d in found if d.is_work]
    tested = {s.seat for s in steps if s.verb == "test_dead"}
    verdicts = fallen(readings, a, after, disturbances(steps))
    certificate = ""
    if any(s.verb in WORK and s.verb != "relabel" for s in steps):
        certificate = "electrical installation certificate" if new_circuits(work) else "minor works certificate"
    return Job(
        id=id,
        steps=steps,
        parts_in=moved(steps, into=True),
        parts_out=moved(steps, into=False),
        tests_void=tuple(v for v in verdicts if v.effect == "void"),
        tests_standing=tuple(v for v in verdicts if v.effect != "void"),
        repeat_advised=tuple(v for v in verdicts if v.effect == "repeat advised"),
        hours=round(sum(s.minutes for s in steps) / 60, 2),
        outages=outages(steps),
        price=priced_job(steps, b, book, catalogue, access, len(tested) if certificate else 0),
        certificate=certificate,
    )


def disturbances(steps: Iterable[Step]) -> tuple[Disturbance, ...]:
    """Enclosures opened and cables drawn in beside others."""
    out: dict[tuple[str, Seat], Disturbance] = {}
    for step in steps:
        d = step.difference
        if d is None or not step.opens:
            continue
        for element in step.prove_dead_at:
            at = Seat(element.split("/")[0])
            out[("enclosure opened", at)] = Disturbance(kind="enclosure opened", at=at)
        run = d.after or d.before
        if isinstance(run, Run) and run.through:
            out[("drawn", d.seat)] = Disturbance(kind="cables drawn in beside it", at=d.seat)
    return tuple(out.values())


def outages(steps: Iterable[Step]) -> tuple[Outage, ...]:
    """How long each point is open, and who is without."""
    out: list[Outage] = []
    running: dict[Seat, tuple[Step, float]] = {}
    for step in steps:
        running = {p: (s, t + step.minutes) for p, (s, t) in running.items()}
        if step.verb == "isolate":
            running[step.seat] = (step, step.minutes)
        elif step.verb == "re_energise" and step.seat in running:
            start, time = running.pop(step.seat)
            out.append(Outage(point=step.seat, hours=round(time / 60, 2), loses_supply=start.loses_supply))
    out += [Outage(point=p, hours=round(t / 60, 2), loses_supply=s.loses_supply) for p, (s, t) in running.items()]
    return tuple(out)
