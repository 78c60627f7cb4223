"""One step of a job, the job, and what a step does to an installation."""

from __future__ import annotations

from datetime import datetime
from typing import Any, Literal, TypeAlias

from msgspec.structs import replace

from relet.changeover.difference import Content, Difference
from relet.electrical.topology import topology
from relet.model import FixedLoad, Installation, Piece, Seat, Stamp
from relet.model.values import Map, Value
from relet.pricing import Price
from relet.readings import Verdict, all_joints

Verb: TypeAlias = Literal[
    "record", "draw", "isolate", "lock_off", "prove_dead", "take_out", "put_in", "replace", "reconnect", "relabel",
    "blank", "label", "test_dead", "re_energise", "test_live",
]  # fmt: skip
WORK: frozenset[str] = frozenset({"take_out", "put_in", "replace", "reconnect", "relabel"})
"""Verbs that change a seat: one such step for each seat that differs by work, none for the others."""


class Loss(Value, frozen=True, kw_only=True):
    """Somebody or something that loses supply while a point is open.

    kind     outlet, load or machine
    tenancy  whose it is, "" for the building's own
    serves   the service (lighting, fire alarm, refrigeration ...), "" if not known
    """

    seat: Seat
    kind: Literal["outlet", "load", "machine"]
    name: str
    tenancy: str = ""
    serves: str = ""


class Step(Value, frozen=True, kw_only=True):
    """One step.

    n             place in the list, from 1; `job` is the job's name: together the stamp that the step leaves
    before, after part at the seat before and after ("" for none)
    opens         joints that are opened or made
    isolate_at    every point that has to be open and locked off meanwhile; other_sources: those the tree does not hold
    prove_dead_at where absence of voltage is proved before a hand goes in
    loses_supply  what loses supply when this step is done (isolate, lock_off)
    from_, to     where the part comes from and where the old one goes: "store", "supplier", "scrap" or a seat
    after_steps   steps that have to be done before
    warning       heads the step, for example an unknown feed
    difference    what the step does to the installation, None for steps that change nothing
    """

    n: int
    job: str
    verb: Verb
    seat: Seat
    words: str
    before: str = ""
    after: str = ""
    opens: tuple[str, ...] = ()
    isolate_at: tuple[Seat, ...] = ()
    other_sources: tuple[str, ...] = ()
    prove_dead_at: tuple[Seat, ...] = ()
    loses_supply: tuple[Loss, ...] = ()
    from_: str = ""
    to: str = ""
    parts: tuple[tuple[str, int], ...] = ()
    minutes: float = 0.0
    after_steps: tuple[int, ...] = ()
    warning: str = ""
    difference: Difference | None = None


class Moved(Value, frozen=True, kw_only=True):
    """A part that goes in or comes out. quantity in `unit` ("each" or "m"); place: where from or where to."""

    part: str
    quantity: float
    unit: str
    place: str
    seats: tuple[Seat, ...]


class Outage(Value, frozen=True, kw_only=True):
    """One time without supply: the point that is open, how long, and who is without."""

    point: Seat
    hours: float
    loses_supply: tuple[Loss, ...]


class Job(Value, frozen=True, kw_only=True):
    """Work planned: ordered steps from one installation to another.

    tests_void      results that no longer count when the job is done, with the reason; repeat_advised: disturbed
    certificate     "electrical installation certificate" for a new circuit, else "minor works certificate"; "" for none
    """

    id: str
    steps: tuple[Step, ...]
    parts_in: tuple[Moved, ...]
    parts_out: tuple[Moved, ...]
    tests_void: tuple[Verdict, ...]
    tests_standing: tuple[Verdict, ...]
    repeat_advised: tuple[Verdict, ...]
    hours: float
    outages: tuple[Outage, ...]
    price: Price
    certificate: str


def apply(step: Step, installation: Installation, at: datetime | None = None) -> Installation:
    """The installation after a step. Steps that change nothing give it back as it is.

    A piece that is put in carries the step's stamp, and so does every joint that the step makes. What is only learned
    or relabelled leaves all stamps as they are.
    """
    d = step.difference
    if d is None:
        return installation
    changed = put(d, installation)
    if step.verb in ("record", "relabel"):
        return changed
    stamp = Stamp(job=step.job, step=step.n, at=at)
    made = installation.made.drop(*step.opens, *((str(d.seat),) if d.kind in ("removed", "replaced") else ()))
    there = all_joints(topology(changed, None))
    new = {j: stamp for j in step.opens if j in there}
    if d.kind in ("added", "replaced"):
        new[d.seat] = stamp
    return replace(changed, made=made.merged(new))


def put(d: Difference, installation: Installation) -> Installation:
    """The installation with one seat as it is after; stamps untouched."""
    group: Map[Seat, Any] = getattr(installation, d.group)
    after: Content | None = d.after
    return replace(installation, **{d.group: group.drop(d.key) if after is None else group.put(d.key, after)})


def part_of(content: Content | None) -> str:
    """Part number of what stands at a seat, "" for none."""
    if content is None:
        return ""
    if isinstance(content, Piece):
        return content.part
    return content.name if isinstance(content, FixedLoad) else "emergency switching off"
