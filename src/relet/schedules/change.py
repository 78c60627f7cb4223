"""The steps of a changeover as rows, with who loses supply, parts in and out, and what becomes of test results."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from typing import Final

from relet.changeover import Job, Loss, Moved, Outage, Step
from relet.model import Catalogue
from relet.model.values import Value
from relet.readings import Verdict
from relet.schedules.numbers import hours, number, quantity
from relet.schedules.shown import Shown

VERBS: Final[Mapping[str, str]] = {
    "record": "record", "draw": "draw in", "isolate": "isolate", "lock_off": "lock off", "prove_dead": "prove dead",
    "take_out": "take out", "put_in": "put in", "replace": "replace", "reconnect": "reconnect", "relabel": "relabel",
    "blank": "blank", "label": "label", "test_dead": "test dead", "re_energise": "re-energise",
    "test_live": "test live",
}  # fmt: skip
_HANDS_ON = frozenset({"draw", "take_out", "put_in", "replace", "reconnect", "relabel", "blank"})
_GRAVE = frozenset({"isolate", "lock_off", "prove_dead", "re_energise", "test_live"})


class StepRow(Value, frozen=True, kw_only=True):
    """One step. `grave` marks the steps on which somebody's safety hangs."""

    n: str
    verb: str
    grave: bool
    seat: str
    words: str
    out: str
    into: str
    isolate_at: str
    prove_dead_at: str
    loses: tuple[str, ...]
    joints: tuple[str, ...]
    after: str
    minutes: str
    warning: str


class MovedRow(Value, frozen=True, kw_only=True):
    """A part that goes in or comes out."""

    name: str
    quantity: str
    unit: str
    place: str
    seats: str


class OutageRow(Value, frozen=True, kw_only=True):
    """One time without supply."""

    point: str
    time: str
    who: str


class ResultRow(Value, frozen=True, kw_only=True):
    """What becomes of one result on record."""

    kind: str
    at: str
    result: Shown
    on: str
    state: str
    why: str


class ChangeSheet(Value, frozen=True, kw_only=True):
    """A whole job ready to print."""

    job: str
    steps: tuple[StepRow, ...]
    parts_in: tuple[MovedRow, ...]
    parts_out: tuple[MovedRow, ...]
    outages: tuple[OutageRow, ...]
    tests: tuple[ResultRow, ...]
    time: str
    certificate: str


def change_sheet(job: Job, catalogue: Catalogue | None = None) -> ChangeSheet:
    """A job as rows."""
    return ChangeSheet(
        job=job.id, steps=tuple(_step(s, catalogue) for s in job.steps), parts_in=_moved(job.parts_in, catalogue),
        parts_out=_moved(job.parts_out, catalogue), outages=tuple(_outage(o) for o in job.outages),
        tests=result_rows((*job.tests_void, *job.tests_standing)), time=hours(sum(s.minutes for s in job.steps)),
        certificate=job.certificate,
    )  # fmt: skip


def result_rows(results: Iterable[Verdict]) -> tuple[ResultRow, ...]:
    """What becomes of results on record: those that fall first."""
    return tuple(_test(v) for v in results)


def _name(part: str, catalogue: Catalogue | None) -> str:
    held = catalogue.parts.get(part) if catalogue is not None else None
    return held.name if held is not None else part


def _loss(x: Loss) -> str:
    return x.name + (f" ({x.serves})" if x.serves and x.serves != x.name else "")


def _part(part: str, catalogue: Catalogue | None, way: str, place: str, words: str) -> str:
    """A part and where it goes or comes from; its name is left out where the step's words say it already."""
    name = _name(part, catalogue)
    told = "" if name in words else name
    return ", ".join(filter(None, (told, f"{way} {place}" if place else ""))) if part else ""


def _step(s: Step, catalogue: Catalogue | None) -> StepRow:
    into = _part(s.after, catalogue, "from", s.from_, s.words)
    if s.parts and not s.after:
        into = ", ".join(f"{quantity(n, 'each')} {_name(p, catalogue)}" for p, n in s.parts)
    return StepRow(
        n=str(s.n), verb=VERBS[s.verb], grave=s.verb in _GRAVE, seat=s.seat, words=s.words[:1].upper() + s.words[1:],
        out=_part(s.before, catalogue, "to", s.to, s.words) if s.verb in ("take_out", "replace") else "",
        into=into if s.verb in ("put_in", "replace", "blank", "label") else "",
        isolate_at=", ".join([*s.isolate_at, *s.other_sources]), prove_dead_at=", ".join(s.prove_dead_at),
        loses=tuple(dict.fromkeys(_loss(x) for x in s.loses_supply)), joints=s.opens,
        after=", ".join(map(str, s.after_steps)), minutes=hours(s.minutes) if s.minutes else "", warning=s.warning,
    )  # fmt: skip


def _moved(several: Iterable[Moved], catalogue: Catalogue | None) -> tuple[MovedRow, ...]:
    return tuple(
        MovedRow(
            name=_name(m.part, catalogue), quantity=quantity(m.quantity, m.unit), unit=m.unit, place=m.place,
            seats=", ".join(m.seats),
        )
        for m in several
    )  # fmt: skip


def _outage(o: Outage) -> OutageRow:
    who = ", ".join(dict.fromkeys(_loss(x) for x in o.loses_supply)) or "nobody that the record knows"
    return OutageRow(point=o.point, time=hours(o.hours * 60), who=who)


_KINDS = {
    "ze": "Ze", "zs": "Zs", "ipf": "prospective fault current", "r1r2": "R1 + R2", "rcd_time": "RCD operating time",
    "phase_sequence": "phase sequence", "volt_drop": "volt drop", "functional": "functional test",
}  # fmt: skip


def _test(v: Verdict) -> ResultRow:
    r = v.reading
    yes_no = "as it should be" if r.value is True else "not as it should be"
    text = yes_no if isinstance(r.value, bool) else number(r.value, r.unit)
    state = {"void": "falls", "repeat advised": "stands, repeat advised"}.get(v.effect or "", "stands")
    on = f"{r.on.day} {r.on:%B %Y}" if r.on is not None else ""
    return ResultRow(
        kind=_KINDS.get(r.of, r.of), at=r.at, result=Shown(text=text), on=on, state=state, why="; ".join(v.why)
    )


def touched(job: Job) -> dict[str, str]:
    """What a plan frames: boards, assemblies and runs that a job adds, removes or changes."""
    out: dict[str, str] = {}
    for s in job.steps:
        if s.verb not in _HANDS_ON:
            continue
        whole = s.seat.partition("/")[0]
        kind = {"put_in": "added", "take_out": "removed"}.get(s.verb, "changed") if whole == s.seat else "changed"
        if out.get(whole, "changed") == "changed":
            out[whole] = kind
    return out
