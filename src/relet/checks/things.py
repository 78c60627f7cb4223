"""The things of a case as owners of facts, and the plain questions that every view asks about them."""

from __future__ import annotations

from typing import Final, Literal

from relet.checks.facts import Missing, Owner
from relet.checks.study import Study, kept
from relet.electrical.topology import holder, machine_seat
from relet.model import Device, Machine, Map, Part, Piece, Run, Seat
from relet.working import Figure, Word

Line = Literal[0, 1, 2]
LINES: Final = ("L1", "L2", "L3")
OVERCURRENT: Final = frozenset({"mcb", "rcbo", "fuse-switch", "mccb"})
RESIDUAL: Final = frozenset({"rcbo", "rccb"})


__all__ = ["holder"]


def prefix(study: Study) -> str:
    """Where the installation's facts are addressed when no claim says so itself."""
    return study.case.where


def part_of(study: Study, piece: Piece) -> Part | None:
    """The catalogue part of a piece."""
    return study.case.catalogue.parts.get(piece.part)


def _owner(study: Study, of: str, group: str, seat: str, piece: Piece, case: str = "") -> Owner:
    return Owner(_address(study, group, seat, piece), of, piece.facts, part_of(study, piece), case)


def _address(study: Study, group: str, seat: str, piece: Piece) -> str:
    """Where facts about a piece are addressed: where those that are held say so (a kept piece stays "standing")."""
    for field, claim in piece.facts.items():
        tail = f".{seat}.{field}"
        if claim.about.endswith(tail):
            return claim.about.removesuffix(f".{field}")
    return f"{prefix(study)}.{group}.{seat}"


def supply(study: Study) -> Owner:
    """The supply. Its plausible ranges go by the earthing arrangement."""
    held = study.case.unit.supply.facts
    base = Owner("supply", "supply", held)
    earthing = study.facts.maybe_word(base, "earthing")
    return Owner("supply", "supply", held, None, str(earthing or ""))


def policy(study: Study) -> Owner:
    """The person's own rules."""
    return Owner("policy", "policy", study.case.unit.policy.facts)


def run(study: Study, seat: Seat) -> Owner:
    """A run."""
    return _owner(study, "run", "runs", seat, study.case.installation.runs[seat])


def device(study: Study, seat: Seat) -> Owner:
    """A device."""
    d = study.case.installation.devices[seat]
    return _owner(study, "device", "devices", seat, d, kind(study, d))


def outlet(study: Study, seat: Seat) -> Owner:
    """An outlet."""
    return _owner(study, "outlet", "outlets", seat, study.case.installation.outlets[seat])


def assembly(study: Study, seat: Seat) -> Owner:
    """An outlet assembly."""
    return _owner(study, "assembly", "assemblies", seat, study.case.installation.assemblies[seat])


def board(study: Study, seat: Seat) -> Owner:
    """A distribution board."""
    return _owner(study, "board", "boards", seat, study.case.installation.boards[seat])


def tap(study: Study, seat: Seat) -> Owner:
    """A tap-off unit."""
    return _owner(study, "tap", "taps", seat, study.case.installation.taps[seat])


def containment(study: Study, seat: Seat) -> Owner:
    """A stretch of containment."""
    return _owner(study, "containment", "containment", seat, study.case.installation.containment[seat])


def load(study: Study, seat: Seat) -> Owner:
    """A load of the building's own."""
    held = study.case.installation.loads[seat]
    return Owner(f"{prefix(study)}.loads.{seat}", "load", held.facts, None, held.serves)


def machine(study: Study, id: str) -> Owner:
    """A machine of the tenancy."""
    m = machines(study)[id]
    assert study.case.tenancy is not None
    at = f"tenancies.{study.case.tenancy.id}.machines.{id}"
    return Owner(at, "machine", m.facts, None, m.kind or "")


def zone(study: Study, id: str) -> Owner:
    """A zone of the floor."""
    return Owner(f"zones.{id}", "zone", study.case.unit.space.zones[id].facts)


_NOBODY: Final[Map[str, Machine]] = Map()


def machines(study: Study) -> Map[str, Machine]:
    """Machines of the tenancy by id."""
    return study.case.tenancy.machines if study.case.tenancy is not None else _NOBODY


def machine_address(study: Study, id: str) -> str:
    """Address of a machine, as findings name it."""
    assert study.case.tenancy is not None
    return f"tenancies.{study.case.tenancy.id}.machines.{id}"


def plugged(study: Study, id: str) -> Seat | None:
    """The outlet a machine is plugged into."""
    return study.case.use.plugged.get(id) if study.case.use is not None else None


def kind(study: Study, d: Device) -> str:
    """Kind of a device: that of its part, or the generic kind that the part names."""
    p = study.case.catalogue.parts.get(d.part)
    if p is not None:
        return p.kind
    for known in ("fuse-switch", "switch", "mcb", "rcbo", "rccb", "mccb", "contactor"):
        if d.part.startswith(known):
            return known
    return d.part


def device_kind(study: Study, seat: Seat) -> str:
    """Kind of the device at a seat."""
    return kind(study, study.case.installation.devices[seat])


def is_overcurrent(study: Study, seat: Seat) -> bool:
    """True if the device opens on overcurrent."""
    return seat in study.case.installation.devices and device_kind(study, seat) in OVERCURRENT


def is_residual(study: Study, seat: Seat) -> bool:
    """True if the device opens on residual current."""
    return seat in study.case.installation.devices and device_kind(study, seat) in RESIDUAL


@kept
def in_a(study: Study, seat: Seat) -> Figure:
    """Rated current of a device, A."""
    return study.facts.number(device(study, seat), "in_a", "A", name="In")


@kept
def curve(study: Study, seat: Seat) -> Word:
    """Characteristic of a device: B, C, D or gG."""
    if device_kind(study, seat) == "fuse-switch":
        found = study.facts.maybe_word(device(study, seat), "curve")
        return found if found is not None else Word("gG", f"{prefix(study)}.devices.{seat}.curve", "chosen", "a fuse")
    return study.facts.word(device(study, seat), "curve")


@kept
def poles(study: Study, seat: Seat) -> int:
    """Poles of a device; a seat that names a phase has one."""
    found = study.facts.maybe(device(study, seat), "poles", "")
    if found is not None:
        return int(found)
    return 1 if seat.rsplit(".", 1)[-1] in LINES else 3


@kept
def device_above(study: Study, seat: Seat) -> Seat | None:
    """The overcurrent device that protects what is at `seat`: the nearest in its path, not itself."""
    for s in reversed(study.feeds.path(seat)[:-1]):
        if is_overcurrent(study, s):
            return s
    return None


@kept
def residual_above(study: Study, seat: Seat) -> tuple[Seat, ...]:
    """Residual-current devices in the path to `seat` (not itself), nearest first."""
    return tuple(s for s in reversed(study.feeds.path(seat)[:-1]) if is_residual(study, s))


@kept
def lines(study: Study, seat: Seat) -> tuple[Line, ...]:
    """Lines that reach an element: all three, or the one that the nearest single-phase device above puts it on."""
    for s in reversed(study.feeds.path(seat)):
        if s in study.case.installation.devices:
            if poles(study, s) >= 3:
                return (0, 1, 2) if three_phase(study) else (0,)
            return (_phase_of(study, s),)
        if s in study.case.installation.loads:
            held = study.facts.maybe_word(load(study, s), "phase")
            if held in LINES:
                return (_line(held),)
    return (0, 1, 2) if three_phase(study) else (0,)


def three_phase(study: Study) -> bool:
    """True for a three-phase supply."""
    return study.facts.number(supply(study), "phases", "") >= 3


def _phase_of(study: Study, seat: Seat) -> Line:
    tail = seat.rsplit(".", 1)[-1]
    if tail in LINES:
        return _line(tail)
    held = study.facts.maybe_word(device(study, seat), "phase")
    if held is not None and held in LINES:
        return _line(held)
    for s in reversed(study.feeds.path(seat)[:-1]):
        if s in study.case.installation.devices and poles(study, s) <= 2:
            return _phase_of(study, s)
    return 0


def _line(word: str) -> Line:
    return LINES.index(word)  # type: ignore[return-value]


def single(study: Study, seat: Seat) -> bool:
    """True if one line only reaches the element."""
    return len(lines(study, seat)) == 1


def has_socket(study: Study, seat: Seat) -> bool:
    """True if an element is, or feeds, a socket-outlet (not a fixed connection)."""
    i = study.case.installation
    return any(s in i.outlets and not is_fixed(study, s) for s in (seat, *study.feeds.below(seat)))


def is_fixed(study: Study, seat: Seat) -> bool:
    """True for a fixed connection point."""
    p = part_of(study, study.case.installation.outlets[seat])
    return (p is not None and p.kind == "fixed-connection") or (
        p is None and "fixed" in study.case.installation.outlets[seat].part
    )


def machines_below(study: Study, seat: Seat) -> tuple[str, ...]:
    """Machines that lose supply when `seat` opens."""
    below = {seat, *study.feeds.below(seat)}
    return tuple(m for m in machines(study) if machine_seat(m) in below)


def loads_below(study: Study, seat: Seat) -> tuple[Seat, ...]:
    """Fixed loads that lose supply when `seat` opens."""
    below = {seat, *study.feeds.below(seat)}
    return tuple(s for s in study.case.installation.loads if s in below)


def serves_lighting(study: Study, seat: Seat) -> bool:
    """True if a run or load serves lighting."""
    i = study.case.installation
    if seat in i.loads:
        return "light" in i.loads[seat].serves
    if seat in i.runs:
        held = study.facts.maybe_word(run(study, seat), "serves")
        if held is not None:
            return "light" in held
        return i.runs[seat].to in i.loads and "light" in i.loads[i.runs[seat].to].serves
    return False


def get_run(study: Study, seat: Seat) -> Run:
    """A run by seat."""
    return study.case.installation.runs[seat]


def need(found: Figure | None, path: str, what: str) -> Figure:
    """A figure, or Missing."""
    if found is None:
        raise Missing(path, what)
    return found
