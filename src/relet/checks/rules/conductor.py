"""Conductors: overload, volt drop running and starting, containment."""

from __future__ import annotations

from collections.abc import Callable, Iterable
from dataclasses import dataclass

from relet.checks import things
from relet.checks.counting import NONE, count
from relet.checks.demand import demand
from relet.checks.drops import drop_percent
from relet.checks.findings import Judged, NotApplicable, at_least, at_most, worst
from relet.checks.loads import Drawn, machine
from relet.checks.loops import band
from relet.checks.network import phasor_drop_percent
from relet.checks.ratings import Rating, account, lying_in, rating, section_room, takes
from relet.checks.register import family, rule
from relet.checks.starts import Start, start
from relet.checks.study import Study
from relet.codes import Code
from relet.electrical.conductors import OVERLOAD_LIMIT
from relet.electrical.containment import Ledger
from relet.electrical.impedance import total
from relet.model import Seat
from relet.working import Figure

# ---------- overload ----------


@dataclass(frozen=True, slots=True)
class Loaded:
    """A run, its device against overload, its rating and its load.

    operates  conventional operating current of the device, None where the code takes the device as it is
    at_end    overload protection at the far end of a run that has no device of its own at its start
    """

    seat: str
    device: str
    ib: Figure | None
    rated: Figure
    rating: Rating
    operates: Figure | None
    at_end: bool
    rests: tuple[Figure, ...]


def _runs(study: Study) -> Iterable[str]:
    return tuple(s for s in study.case.installation.runs if study.feeds.fed(s))


@family("loaded run", subjects=_runs, none="no run is fed from the origin")
def loaded_run(study: Study, subject: str) -> Loaded | NotApplicable:
    """A run with the device that protects it against overload, at its start or at its far end."""
    seat = Seat(subject)
    above = things.device_above(study, seat)
    i, r = study.case.installation, things.get_run(study, seat)
    own_start = study.feeds.parent[seat] in i.devices
    incomer = Seat(f"{r.to}/incomer")
    at_end = not own_start and things.is_overcurrent(study, incomer)
    guard = incomer if at_end else above
    if guard is None:
        return NotApplicable("fed straight from the origin: the cut-out is the network operator's")
    ib = demand(study, seat).worst
    fuse = things.device_kind(study, guard) == "fuse-switch"
    operates = None if fuse and study.code.gg_accepted else band(study, guard).trips_a
    rests = () if fuse else (things.in_a(study, guard),)
    return Loaded(
        subject, guard, ib if ib > 0 else None, things.in_a(study, guard), rating(study, seat), operates, at_end, rests
    )


@rule("conductor.overload")
def overload(c: Loaded, code: Code) -> Judged:
    """Ib within In, In within Iz, and the device operates within the conductor's overload limit."""
    judged = [at_most(c.rated, c.rating.iz, f"Rated current of {c.device} against the installed rating of the run.")]
    if c.ib is not None:
        judged.append(at_most(c.ib, c.rated, f"Design current of the run against the rated current of {c.device}."))
    if c.operates is not None and c.operates > code.limit("overload_factor") * c.rated * (1 + 1e-9):
        limit = OVERLOAD_LIMIT(code.limit("overload_factor"), c.rating.iz)
        judged.append(at_most(c.operates, limit, f"Current that surely opens {c.device} against the overload limit."))
    return worst(*judged)


# ---------- volt drop ----------


@dataclass(frozen=True, slots=True)
class PointOfUse:
    """An outlet or fixed load with the drop to it."""

    seat: str
    lighting: bool
    drop: Figure
    phasor: Callable[[], Figure | None]


def _points(study: Study) -> Iterable[str]:
    return study.feeds.ends


@family("point of use", subjects=_points, none="there is no outlet and no load")
def point_of_use(study: Study, subject: str) -> PointOfUse | NotApplicable:
    """An outlet or fixed load with the drop from the origin to it."""
    seat = Seat(subject)
    if not study.feeds.fed(seat):
        return NotApplicable("no run leads to it from the origin: what feeds it is not known")
    drop = drop_percent(study, seat)
    if drop is None:
        return NotApplicable("no run lies between it and the origin")
    light = things.serves_lighting(study, seat)
    return PointOfUse(subject, light, drop, lambda: phasor_drop_percent(study, seat))


@rule("conductor.volt_drop")
def volt_drop(c: PointOfUse, code: Code) -> Judged:
    """The drop from the origin of the installation stays within the share for lighting or for other uses."""
    limit = code.limit("volt_drop_percent", "lighting" if c.lighting else "other")
    return at_most(c.drop, limit, "Volt drop from the origin, by tabulated figures along the path.", c.phasor)


@dataclass(frozen=True, slots=True)
class Starting:
    """A machine that starts: voltage left at its terminals and dip at the origin."""

    machine: Drawn
    start: Start
    needs: Figure | None


def _machines(study: Study) -> Iterable[str]:
    return tuple(things.machine_address(study, m) for m in things.machines(study))


@family("starting machine", subjects=_machines, none="no machine")
def starting_machine(study: Study, subject: str) -> Starting | NotApplicable:
    """A machine with the network behind it while it starts."""
    id = subject.rsplit(".", 1)[-1]
    if things.plugged(study, id) is None:
        return NotApplicable("not plugged in yet")
    d = machine(study, id)
    if not d.is_motor or d.start_multiple <= 1:
        return NotApplicable("no motor that draws more while it starts")
    needs = study.facts.maybe(things.machine(study, id), "supply_min_percent", "%", name="Umin")
    return Starting(d, start(study, id), needs)


@rule("conductor.starting_volt_drop")
def starting_volt_drop(c: Starting, code: Code) -> Judged:
    """While the machine starts enough voltage is left at its terminals, and the origin does not dip too far."""
    least = c.needs if c.needs is not None else code.limit("start_volt_percent")
    terminals = at_least(c.start.left_percent, least, "Voltage left at the terminals while the machine starts.")
    origin = at_most(
        c.start.origin_percent, code.limit("origin_dip_percent"), "Dip at the origin while the machine starts.",
        c.start.left_percent,
    )  # fmt: skip
    return worst(terminals, origin)


# ---------- containment ----------


@dataclass(frozen=True, slots=True)
class Stretch:
    """A stretch of containment with its ledger."""

    seat: str
    taken: Figure
    room: Figure
    ledger: Ledger


def _sections(study: Study) -> Iterable[str]:
    return tuple(study.case.installation.containment)


@family("containment", subjects=_sections, none="no containment is drawn")
def containment(study: Study, subject: str) -> Stretch | NotApplicable:
    """What lies in a stretch of containment."""
    seat = Seat(subject)
    laid = lying_in(study, seat)
    if not laid:
        return NotApplicable("nothing lies in it")
    taken = total([takes(study, s) for s in laid], "A", "sum of the cables' areas")
    return Stretch(subject, taken, section_room(study, seat), account(study, seat))


@rule("conductor.containment")
def containment_rule(c: Stretch, code: Code) -> Judged:
    """Cables take no more than their share of the containment, and none is overloaded by the others in it."""
    fill = at_most(c.taken, c.room, "Area of the cables against what the containment may take.", c.ledger.more)
    crowded = count(len(c.ledger.failing), "circuits whose rating in this group is below their device")
    group = at_most(crowded, NONE, "Circuits in the containment that its grouping overloads.", c.ledger.more)
    return worst(fill, group)
