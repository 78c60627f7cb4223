"""Outlet assemblies: fit, current of each circuit there, heat, ingress, isolation, interlock."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from typing import Final

from relet.checks import things
from relet.checks.counting import NONE, count
from relet.checks.facts import YES, Missing
from relet.checks.findings import Judged, NotApplicable, at_least, at_most, worst
from relet.checks.interiors import Room, Zone, devices_in, losses, may_lose, outlets_in, rooms, zone_needs
from relet.checks.loads import Drawn, below
from relet.checks.places import at, influences
from relet.checks.register import family, rule
from relet.checks.study import Study
from relet.codes import Code
from relet.electrical.heat import loaded_limit, rated_there
from relet.electrical.impedance import total
from relet.model import Seat
from relet.tables.assemblies import rated_diversity_factor
from relet.working import Figure, Formula, Word, choose, fact

_ORDER: Final = ("AC-20", "AC-21", "AC-22", "AC-23")
FIRST_NUMERAL = Formula("first = (ip - second) / 10", "", ip="", second="", source="ingress code, IEC 60529")
JETS: Final = frozenset({5.0, 6.0})


def _assemblies(study: Study) -> Iterable[str]:
    return tuple(study.case.installation.assemblies)


_NO_ASSEMBLY: Final = "no outlet assembly"

# ---------- fit and heat ----------


@dataclass(frozen=True, slots=True)
class Inside:
    """The inside of an assembly."""

    seat: str
    rooms: tuple[Room, ...]


@family("inside", subjects=_assemblies, none=_NO_ASSEMBLY)
def inside(study: Study, subject: str) -> Inside | NotApplicable:
    """Room on face and rail."""
    if not outlets_in(study, Seat(subject)) and not devices_in(study, Seat(subject)):
        return NotApplicable("an empty enclosure: nothing sits in it")
    return Inside(subject, rooms(study, Seat(subject)))


@rule("assembly.fit")
def fit(c: Inside, code: Code) -> Judged:
    """What is in the assembly has room on its face and rail, and depth behind them."""
    judged = [at_most(r.used, r.available, f"Room for {r.what}.") for r in c.rooms]
    return worst(*judged)


@dataclass(frozen=True, slots=True)
class Warm:
    """Losses inside an assembly and what its enclosure carries off."""

    seat: str
    losses: Figure
    allowed: Figure


@family("warm", subjects=_assemblies, none=_NO_ASSEMBLY)
def warm(study: Study, subject: str) -> Warm | NotApplicable:
    """Heat balance of an assembly at the currents it carries."""
    seat = Seat(subject)
    if not any(below(study, s) for s in (seat, *devices_in(study, seat))):
        return NotApplicable("nothing draws from it")
    return Warm(subject, losses(study, seat), may_lose(study, seat))


@rule("assembly.heat")
def heat(c: Warm, code: Code) -> Judged:
    """Losses at the loaded current stay within what the enclosure carries off at its limit inside."""
    return at_most(
        c.losses, c.allowed, "Losses inside at the currents carried, against what the enclosure carries off."
    )


# ---------- current of each circuit there ----------


@dataclass(frozen=True, slots=True)
class There:
    """An outlet circuit of an assembly: what it carries, and its rated current there.

    inc  rated current of the circuit there; rdf diversity factor of the loaded circuits, None for one alone
    """

    seat: str
    ib: Figure
    inc: Figure
    rdf: Figure | None


def _circuits(study: Study) -> Iterable[str]:
    return tuple(s for s, o in study.case.installation.outlets.items() if o.behind is not None)


@family("circuit there", subjects=_circuits, none=_NO_ASSEMBLY)
def circuit_there(study: Study, subject: str) -> There | NotApplicable:
    """The circuit of an outlet inside its assembly."""
    seat = Seat(subject)
    drawn = below(study, seat)
    if not drawn:
        return NotApplicable("nothing is plugged in")
    owner, f = things.outlet(study, seat), study.facts
    behind = study.case.installation.outlets[seat].behind
    assert behind is not None
    device = next((s for s in reversed(study.feeds.path(seat)) if things.is_overcurrent(study, s)), behind)
    carries = f.maybe(owner, "total_a", "A", name="In")
    if carries is None:
        carries = f.number(owner, "in_a", "A", name="In")
    rated = choose([things.in_a(study, device), carries], min, "the smaller of device and outlet", name="In")
    declared = f.maybe(owner, "inc_a", "A", name="Inc")
    if declared is not None:
        declared = choose([declared, rated], min, "declared for the outlet, not above its device", name="Inc")
    inc = rated_there(rated, study.code.limit("rt_share_of_free_air"), declared)
    ib = total([d.heats_a for d in drawn], "Ib", "everything plugged in there")
    held = things.holder(seat)
    loaded = [s for s in outlets_in(study, held) if below(study, s)]
    rdf = None
    if len(loaded) > 1:
        rdf = f.maybe(things.assembly(study, held), "rdf", "", name="RDF")
        if rdf is None:
            n = fact(f"assembly.{held}.loaded_circuits", len(loaded), "", "chosen", "outlets in use", name="n")
            rdf = rated_diversity_factor(n)
    return There(subject, ib, inc, rdf)


@rule("assembly.circuit_rating")
def circuit_rating(c: There, code: Code) -> Judged:
    """What is plugged in stays within the rated current of its circuit there, times the diversity of those in use."""
    limit = loaded_limit(c.inc, c.rdf) if c.rdf is not None else c.inc
    return at_most(c.ib, limit, "Design current against the rated current of the circuit inside the assembly.")


# ---------- ingress ----------


@dataclass(frozen=True, slots=True)
class Exposed:
    """An assembly or wall outlet with its place.

    parts  ingress codes of enclosure and outlets, each with a second code that holds too, or None
    """

    seat: str
    zone: Zone
    parts: tuple[tuple[str, Figure, Figure | None], ...]


def _exposed(study: Study) -> Iterable[str]:
    i = study.case.installation
    return (*i.assemblies, *(s for s, o in i.outlets.items() if o.behind is None))


@family("exposed", subjects=_exposed, none="no assembly and no outlet")
def exposed(study: Study, subject: str) -> Exposed | NotApplicable:
    """Ingress codes of everything at a place against what the place and the machines there ask for."""
    seat, i, f = Seat(subject), study.case.installation, study.facts
    if at(study, seat) is None:
        raise Missing(f"{things.outlet(study, seat).at}.at_m", "at_m (where the outlet is)")
    names, codes = influences(study, seat)
    zone = zone_needs(study, codes, names)
    parts: list[tuple[str, Figure, Figure | None]] = []
    owners = []
    if seat in i.assemblies:
        owners.append((subject, things.assembly(study, seat)))
        owners.extend((s, things.outlet(study, s)) for s in outlets_in(study, seat))
    else:
        owners.append((subject, things.outlet(study, seat)))
    if not zone.solid and not zone.water:
        return NotApplicable("the place asks for no protection against ingress")
    for name, owner in owners:
        ip = f.number(owner, "ip", "", name="IP")
        parts.append((name, ip, f.maybe(owner, "ip_also", "", name="IP")))
    return Exposed(subject, zone, tuple(parts))


SECOND = Formula("second = ip - 10 * first", "", ip="", first="", source="ingress code, IEC 60529")


@rule("assembly.ingress")
def ingress(c: Exposed, code: Code) -> Judged:
    """The weakest part at a place has the numerals that its influences ask for."""
    judged: list[Judged] = []
    for name, ip, also in c.parts:
        first = fact(
            "code.first_numeral", float(int(ip) // 10), "", "chosen", "first numeral of the code", name="first"
        )
        if c.zone.solid:
            got = SECOND_OR_FIRST(ip, first)
            judged.append(at_least(got, c.zone.solid, f"First numeral of the ingress code of {name}.", rests=(ip,)))
        if c.zone.water:
            second = SECOND(ip, first)
            jets_only = c.zone.water in JETS and second > 6
            if jets_only and also is not None:
                second = SECOND(also, first)
            elif jets_only:
                second = fact("code.jets", 0.0, "", "chosen", "a code of immersion says nothing of jets", name="second")
            judged.append(at_least(second, c.zone.water, f"Second numeral of the ingress code of {name}.", rests=(ip,)))
    return worst(*judged)


SECOND_OR_FIRST = Formula("got = first + 0 * ip", "", ip="", first="", source="first numeral, IEC 60529")

# ---------- isolation ----------


@dataclass(frozen=True, slots=True)
class Incomer:
    """The incomer of an assembly and what it can do."""

    seat: str
    device: str | None
    can: tuple[tuple[str, Word], ...]
    poles: int
    needs_poles: int
    earthing: Figure


@family("incomer", subjects=_assemblies, none=_NO_ASSEMBLY)
def incomer(study: Study, subject: str) -> Incomer | NotApplicable:
    """The incomer of an assembly that feeds anything."""
    seat, i = Seat(f"{subject}/incomer"), study.case.installation
    if not outlets_in(study, Seat(subject)) and not any(s in i.runs for s in study.feeds.below(Seat(subject))):
        return NotApplicable("it feeds nothing: no outlet in it and no run from it")
    earthing = study.facts.word(things.supply(study), "earthing")
    if seat not in i.devices:
        return Incomer(subject, None, (), 0, 0, earthing.figure)
    owner, f = things.device(study, seat), study.facts
    can = tuple(
        (words, f.word(owner, field))
        for field, words in (
            ("isolates", "isolates"), ("locks_off", "locks off"), ("shows_position", "shows its position"),
        )
    )  # fmt: skip
    lines = len(things.lines(study, seat))
    needs = lines + 1 if earthing == "TT" else max(lines, 2 if lines == 1 else lines)
    return Incomer(subject, seat, can, things.poles(study, seat), needs, earthing.figure)


@rule("assembly.isolation")
def isolation(c: Incomer, code: Code) -> Judged:
    """The assembly has an incomer that isolates all lines (in TT the neutral too), shows its position and locks off."""
    if c.device is None:
        lacking = count(1, "assembly without an incomer", (c.earthing,))
        return at_most(lacking, NONE, "The assembly has no incomer that isolates it.")
    lacks = [words for words, able in c.can if able.lower() not in YES]
    if c.poles < c.needs_poles:
        lacks.append(f"{c.needs_poles} poles")
    given = (c.earthing, *(able.figure for _, able in c.can))
    words = f"What the incomer {c.device} lacks" + (f": {', '.join(lacks)}." if lacks else ".")
    return at_most(count(len(lacks), "lacking properties", given), NONE, words)


# ---------- interlock ----------


@dataclass(frozen=True, slots=True)
class Plugged:
    """A large socket-outlet, its interlock and the duty of its switch."""

    seat: str
    rated: Figure
    interlocked: Word
    category: Word
    motors: tuple[Drawn, ...]
    powers: tuple[Figure, ...]


def _sockets(study: Study) -> Iterable[str]:
    return tuple(study.case.installation.outlets)


@family("large socket", subjects=_sockets, none="there is no outlet")
def large_socket(study: Study, subject: str) -> Plugged | NotApplicable:
    """A socket-outlet above the rating at which a plug must not be the switch."""
    seat = Seat(subject)
    owner, f = things.outlet(study, seat), study.facts
    if things.is_fixed(study, seat):
        return NotApplicable("a fixed connection, no socket-outlet")
    rated = f.number(owner, "in_a", "A", name="In")
    if rated <= study.code.limit("interlock_over_a"):
        return NotApplicable(f"a {float(rated):g} A plug may be drawn under load")
    motors = tuple(d for d in below(study, seat) if d.is_motor)
    powers = tuple(
        p for d in motors if (p := f.maybe(things.machine(study, d.id), "power_w", "W", name="P")) is not None
    )
    return Plugged(
        subject, rated, f.word(owner, "interlocked"), f.word(owner, "category"), motors, powers,
    )  # fmt: skip


@rule("assembly.interlock")
def interlock(c: Plugged, code: Code) -> Judged:
    """Above the rating of the code the outlet is interlocked, and its switch has the duty of its worst load."""
    rests = (c.rated, code.limit("interlock_over_a"), c.interlocked.figure)
    is_locked = c.interlocked.lower() in YES
    lacking = count(int(not is_locked), "outlets without interlock or adjacent switch", rests)
    locked = at_most(lacking, NONE, f"Interlock of a {float(c.rated):g} A socket-outlet.", rests=rests)
    if not is_locked:
        return locked
    over = code.limit("ac23_motor_over_w")
    needed = "AC-23" if any(p > over for p in c.powers) else "AC-22"
    have = _ORDER.index(str(c.category)[:5]) if str(c.category)[:5] in _ORDER else 0
    short = count(int(have < _ORDER.index(needed)), f"switches below {needed}A", (c.category.figure, *c.powers))
    return worst(locked, at_most(short, NONE, f"Utilization category {c.category} against {needed}A.", rests=rests))
