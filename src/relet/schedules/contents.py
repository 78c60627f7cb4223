"""What is in each outlet assembly: outlets on its face, devices on its rail, room to spare, and its feed."""

from __future__ import annotations

from collections.abc import Mapping

from relet.checks.findings import Finding, Findings, Verdict
from relet.electrical.topology import Topology, topology
from relet.model import Assembly, Case, Piece, Run, Seat, natural
from relet.model.values import Value
from relet.schedules.circuits import device_words, join, outlet_words, rating, residual
from relet.schedules.facts import address, held, name_of
from relet.schedules.findings import findings_at, worst_verdict
from relet.schedules.numbers import number
from relet.schedules.shown import Shown


class OutletRow(Value, frozen=True, kw_only=True):
    """One outlet on the face."""

    seat: str
    what: Shown
    name: str
    phase: Shown
    behind: str
    machine: str


class DeviceRow(Value, frozen=True, kw_only=True):
    """One device on the rail or at the incomer."""

    seat: str
    what: str
    rating: Shown
    residual: Shown
    phase: Shown
    behind: str


class AssemblyRow(Value, frozen=True, kw_only=True):
    """One assembly with its contents.

    fed_by    the device that feeds it and the run, in words; run and its length
    spare_apertures, spare_ways   "2 of 6"; empty where the enclosure's room is not declared
    why       why it hangs here, as the planner says
    """

    seat: str
    name: str
    place: str
    height: Shown
    fed_by: Shown
    run: str
    length: Shown
    outlets: tuple[OutletRow, ...]
    devices: tuple[DeviceRow, ...]
    spare_apertures: Shown
    spare_ways: Shown
    stays: bool
    why: str
    verdict: Verdict


def assembly_rows(
    case: Case, found: Findings | None = None, why: Mapping[str, str] | None = None
) -> tuple[AssemblyRow, ...]:
    """Assemblies in the order of their seats. why: seat -> why it hangs there."""
    tree = topology(case.installation, case.use)
    seats = sorted(case.installation.assemblies, key=natural)
    reasons = why or {}
    return tuple(_row(case, tree, s, case.installation.assemblies[s], found, reasons.get(s, "")) for s in seats)


def about_assembly(case: Case, found: Findings, seat: str) -> tuple[Finding, ...]:
    """Findings about an assembly, its contents, its feed and the machines plugged into it, worst first."""
    tree = topology(case.installation, case.use)
    return findings_at(found, (seat, *_feed_seats(tree, Seat(seat)), *_machines(case, seat)))


def _machines(case: Case, seat: str) -> tuple[str, ...]:
    if case.use is None:
        return ()
    t = case.use.tenancy
    return tuple(f"tenancies.{t}.machines.{m}" for m, s in case.use.plugged.items() if s.startswith(f"{seat}/"))


def _feed_seats(tree: Topology, seat: Seat) -> tuple[Seat, ...]:
    """The runs right above an assembly and the device (or tap) that feeds them, nearest first."""
    out: list[Seat] = []
    for s in reversed(tree.path(seat)[:-1]):
        if s == f"{seat}/incomer":
            continue
        out.append(s)
        if s in tree.installation.devices:
            break
    return tuple(out)


def _row(case: Case, tree: Topology, seat: Seat, a: Assembly, found: Findings | None, why: str) -> AssemblyRow:
    i = case.installation
    inside = f"{seat}/"
    outlets = sorted((s for s in i.outlets if s.startswith(inside)), key=natural)
    devices = sorted((s for s in i.devices if s.startswith(inside)), key=natural)
    feed = _feed_seats(tree, seat)
    run = next((s for s in feed if s in i.runs), None)
    return AssemblyRow(
        seat=seat, name=name_of(case, seat), place=_place(a),
        height=Shown(text=number(a.height_m, "m"), at=f"fact:{address(case, 'assemblies', seat)}.height_m"),
        fed_by=_fed_by(case, feed), run=run or "", length=_length(case, run, i.runs.get(run) if run else None),
        outlets=tuple(_outlet(case, s) for s in outlets), devices=tuple(_device(case, s) for s in devices),
        spare_apertures=_spare(case, a, "apertures", [i.outlets[s] for s in outlets]),
        spare_ways=_spare(case, a, "ways", [i.devices[s] for s in devices]), stays=a.stays,
        why=why, verdict=worst_verdict(about_assembly(case, found, seat)) if found is not None else "not applicable",
    )  # fmt: skip


def _place(a: Assembly) -> str:
    x, y = a.at_m
    where = f"{number(x)} m east, {number(y)} m north"
    return f"{a.place.replace('_', ' ')}: {where}" if a.place else where


def _length(case: Case, seat: str | None, run: Run | None) -> Shown:
    return held(run, address(case, "runs", seat), "length_m", case.catalogue) if run and seat else Shown(text="")


def _fed_by(case: Case, feed: tuple[Seat, ...]) -> Shown:
    if not feed:
        return Shown(text="feed not known", doubt=True)
    device = case.installation.devices.get(feed[-1])
    ways = " and ".join(s for s in feed[:-1])
    what = rating(case, feed[-1], device) if device is not None else Shown(text="")
    return join(Shown(text=feed[-1]), what, Shown(text=f"by {ways}" if ways else ""))


def _outlet(case: Case, seat: Seat) -> OutletRow:
    o = case.installation.outlets[seat]
    at = address(case, "outlets", seat)
    plugged = [m for m, s in case.use.plugged.items() if s == seat] if case.use is not None else []
    machines = case.tenancy.machines if case.tenancy is not None else {}
    names = ", ".join(machines[m].name if m in machines else m for m in plugged)
    phase = held(o, at, "phase", case.catalogue)
    if not phase.text and o.behind is not None and o.behind in case.installation.devices:
        d = case.installation.devices[o.behind]
        phase = held(d, address(case, "devices", o.behind), "phase", case.catalogue)
    return OutletRow(
        seat=seat, what=outlet_words(case, seat, o), name=name_of(case, seat), phase=phase, behind=o.behind or "",
        machine=names,
    )  # fmt: skip


def _device(case: Case, seat: Seat) -> DeviceRow:
    d = case.installation.devices[seat]
    at = address(case, "devices", seat)
    return DeviceRow(
        seat=seat, what=device_words(case, d), rating=rating(case, seat, d), residual=residual(case, seat, d),
        phase=held(d, at, "phase", case.catalogue), behind=d.behind or "",
    )  # fmt: skip


def _spare(case: Case, a: Assembly, field: str, pieces: list[Piece]) -> Shown:
    """Room left of one kind: declared room less what the contents take; a content that declares nothing takes one."""
    room = _declared(case, a, field)
    if room is None:
        return Shown(text="")
    taken = sum(n if (n := _declared(case, p, field)) is not None else 1 for p in pieces)
    return Shown(text=f"{room - taken} of {room}", at=f"fact:catalogue.{a.part}.{field}")


def _declared(case: Case, piece: Piece, field: str) -> int | None:
    part = case.catalogue.parts.get(piece.part)
    value = part.data.get(field) if part is not None else None
    return int(value) if isinstance(value, int | float) else None
