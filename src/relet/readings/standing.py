"""Which results fell, which still stand, and why."""

from __future__ import annotations

from calendar import monthrange
from collections.abc import Iterable, Sequence
from datetime import date
from typing import Literal, TypeAlias

from relet.electrical.topology import Topology, topology
from relet.model import Installation, Seat
from relet.model.values import Map, Value
from relet.readings.reading import Reading, circuit, circuit_of, rests_on

Effect: TypeAlias = Literal["void", "repeat advised"]
DisturbanceKind: TypeAlias = Literal[
    "enclosure opened", "cables drawn in beside it", "fault cleared", "flood", "heat", "welding tenancy ended"
]


class Verdict(Value, frozen=True, kw_only=True):
    """What became of one result.

    effect   "void": it no longer counts; "repeat advised": it counts, but its subject was disturbed; None: it stands
    why      one sentence each
    things   seats and joints whose stamp changed
    """

    reading: Reading
    effect: Effect | None
    why: tuple[str, ...] = ()
    things: tuple[str, ...] = ()


class Disturbance(Value, frozen=True, kw_only=True):
    """Something recorded that may have changed what was measured, without a piece being replaced.

    at   enclosure opened, run drawn beside, or the piece that was wet, hot or cleared a fault
    """

    kind: DisturbanceKind
    at: Seat
    on: date | None = None
    words: str = ""


class Calibration(Value, frozen=True, kw_only=True):
    """When an instrument was in calibration. None: open at that end."""

    instrument: str
    from_: date | None = None
    until: date | None = None


_CONTINUITY = ("r1r2", "r2", "r1", "rn", "zs", "ipf", "polarity", "phase_sequence")
# What each disturbance does to each kind of test; a kind that is left out is not affected. Common practice, no source.
EFFECTS: dict[DisturbanceKind, dict[str, Effect]] = {
    "enclosure opened": {"insulation": "repeat advised", **dict.fromkeys(("r1r2", "zs", "polarity"), "repeat advised")},
    "cables drawn in beside it": {"insulation": "repeat advised"},
    "fault cleared": {**dict.fromkeys(_CONTINUITY, "repeat advised"), "insulation": "void", "rcd_time": "void"},
    "flood": {**dict.fromkeys(_CONTINUITY, "repeat advised"), "insulation": "void", "rcd_time": "void"},
    "heat": {**dict.fromkeys(_CONTINUITY, "repeat advised"), "insulation": "void", "rcd_time": "repeat advised"},
    "welding tenancy ended": {"r1r2": "repeat advised", "r2": "repeat advised", "zs": "repeat advised"},
}


def fallen(
    readings: Iterable[Reading], before: Installation, after: Installation, disturbances: Sequence[Disturbance] = ()
) -> tuple[Verdict, ...]:
    """What becomes of each result when `before` has turned into `after`.

    `before` is what stood when the results were taken, with its stamps; `after` carries the stamps of the steps done.
    """
    old, new = topology(before, None), topology(after, None)
    return tuple(_one(r, old, new, disturbances) for r in readings)


def _one(reading: Reading, old: Topology, new: Topology, disturbances: Sequence[Disturbance]) -> Verdict:
    was, now = rests_on(reading, old.installation, old), rests_on(reading, new.installation, new)
    if not now:
        return Verdict(reading=reading, effect="void", why=(f"{reading.at} is no longer there",), things=(reading.at,))
    if was != now:
        changed = tuple(sorted({name for name, _ in was ^ now}))
        gone = {n for n, _ in was} - {n for n, _ in now}
        fresh = {n for n, _ in now} - {n for n, _ in was}
        redone = set(changed) - gone - fresh
        why = [
            f"{verb}: {', '.join(sorted(names))}"
            for verb, names in (("made anew", redone), ("taken away", gone), ("new in its way", fresh))
            if names
        ]
        return Verdict(reading=reading, effect="void", why=tuple(why), things=changed)
    worst: Effect | None = None
    whys: list[str] = []
    for d in disturbances:
        if reading.on is not None and d.on is not None and d.on < reading.on:
            continue
        effect = EFFECTS[d.kind].get(reading.of)
        if effect is not None and _reaches(d, reading, new):
            worst = "void" if "void" in (worst, effect) else effect
            whys.append(f"{d.kind}: {d.at}" + (f" ({d.words})" if d.words else ""))
    return Verdict(reading=reading, effect=worst, why=tuple(whys))


def _reaches(d: Disturbance, reading: Reading, tree: Topology) -> bool:
    device = circuit_of(reading.at, tree)
    mine = set(circuit(device, tree)) if device is not None else {reading.at}
    if reading.of in ("zs", "ipf"):
        mine |= set(tree.path(reading.at))
    if d.kind == "cables drawn in beside it":
        runs = tree.installation.runs
        drawn = set(runs[d.at].through) if d.at in runs else {str(d.at)}
        return any(drawn & set(runs[r].through) for r in mine if r in runs and r != d.at)
    return any(e == d.at or e.startswith(f"{d.at}/") for e in mine)


def in_time(
    reading: Reading, today: date, interval_months: Map[str, int], calibrations: Iterable[Calibration] = ()
) -> tuple[str, ...]:
    """Why a result no longer counts by the calendar; empty while it does.

    interval_months  by kind of test, "" for all others; nothing is assumed where no row is given
    calibrations     periods by instrument; an instrument without a row is said to be without calibration on record
    """
    why: list[str] = []
    months = interval_months.get(reading.of, interval_months.get(""))
    if reading.on is None:
        why.append("its day is not recorded")
    elif months is not None and _months_after(reading.on, months) < today:
        why.append(f"taken {reading.on}, interval {months} months is over")
    rows = [c for c in calibrations if c.instrument == reading.instrument]
    if reading.instrument and reading.on is not None and rows:
        on = reading.on
        if not any((c.from_ is None or c.from_ <= on) and (c.until is None or on <= c.until) for c in rows):
            why.append(f"{reading.instrument} was not in calibration on {on}")
    elif reading.instrument and not rows:
        why.append(f"no calibration on record for {reading.instrument}")
    return tuple(why)


def _months_after(day: date, months: int) -> date:
    y, m = divmod(day.year * 12 + day.month - 1 + months, 12)
    return date(y, m + 1, min(day.day, monthrange(y, m + 1)[1]))
