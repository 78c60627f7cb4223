"""The schedule of circuits: one row per protective device that feeds something."""

from __future__ import annotations

from collections.abc import Iterable

from relet.checks.findings import Finding, Findings, Verdict
from relet.checks.things import OVERCURRENT, RESIDUAL
from relet.electrical.topology import Topology, topology
from relet.model import Case, Device, Outlet, Piece, Run, Seat, natural
from relet.model.values import Value
from relet.readings import circuit
from relet.schedules.facts import address, held, name_of, short
from relet.schedules.findings import findings_at, worst_verdict
from relet.schedules.shown import Shown

KINDS = {
    "mcb": "circuit-breaker", "rcbo": "combined breaker (RCBO)", "rccb": "residual-current switch (RCCB)",
    "fuse-switch": "fuse-switch", "switch": "switch-disconnector", "mccb": "adjustable breaker",
    "contactor": "contactor",
}  # fmt: skip


class CircuitRow(Value, frozen=True, kw_only=True):
    """One circuit.

    device   seat; what it is, rating ("C 32 A 3P"), residual current ("30 mA type A")
    feeds    what hangs on it, in words
    run      seat of its first run, with size, protective conductor, length and kind of cable
    arrangement  how it is protected, in words
    """

    device: str
    what: str
    rating: Shown
    residual: Shown
    feeds: tuple[Shown, ...]
    run: str
    cable: str
    csa: Shown
    cpc: Shown
    length: Shown
    arrangement: str
    stays: bool
    verdict: Verdict
    worst: str


def kind(case: Case, piece: Piece) -> str:
    """Kind of a piece: that of its catalogue part, or the generic kind that its part names."""
    part = case.catalogue.parts.get(piece.part)
    if part is not None:
        return part.kind
    return next((k for k in KINDS if piece.part.startswith(k)), piece.part)


def join(*several: Shown, by: str = " ") -> Shown:
    """Several texts as one; its address is that of the first which has one."""
    some = [s for s in several if s.text]
    at = next((s.at for s in some if s.at), "")
    return Shown(text=by.join(s.text for s in some), at=at, doubt=any(s.doubt for s in some))


def rating(case: Case, seat: str, d: Device) -> Shown:
    """Characteristic, rated current and poles of a device: "C 32 A 3P"."""
    at = address(case, "devices", seat)
    curve, current = held(d, at, "curve", case.catalogue), held(d, at, "in_a", case.catalogue)
    poles = held(d, at, "poles", case.catalogue)
    several = Shown(text=f"{poles.text}P" if poles.text.isdigit() else poles.text, at=poles.at, doubt=poles.doubt)
    if kind(case, d) not in OVERCURRENT:
        curve = Shown(text="")
    merged = join(curve, current, several)
    return Shown(text=merged.text, at=current.at or merged.at, doubt=merged.doubt)


def residual(case: Case, seat: str, d: Device) -> Shown:
    """Rated residual current and type: "30 mA type A"; empty for a device that has none."""
    if kind(case, d) not in RESIDUAL:
        return Shown(text="")
    at = address(case, "devices", seat)
    idn, type_ = held(d, at, "idn_ma", case.catalogue), held(d, at, "rcd_type", case.catalogue)
    delay = held(d, at, "rcd_delay", case.catalogue)
    typed = Shown(text=f"type {type_.text}" if type_.text else "", at=type_.at, doubt=type_.doubt)
    late = Shown(text="") if delay.text in ("", "general", "none", "no") else delay
    return join(idn, typed, late)


def device_words(case: Case, d: Device) -> str:
    """What a device is."""
    return KINDS.get(kind(case, d), kind(case, d))


def circuit_rows(case: Case, found: Findings | None = None) -> tuple[CircuitRow, ...]:
    """Circuits in the order of their devices' seats."""
    tree = topology(case.installation, case.use)
    devices = case.installation.devices
    seats = [s for s, d in devices.items() if kind(case, d) in OVERCURRENT and tree.children.get(s)]
    return tuple(_row(case, tree, s, devices[s], found) for s in sorted(seats, key=natural))


def members(case: Case, tree: Topology, seat: Seat) -> tuple[str, ...]:
    """Seats that belong to the circuit of a device, itself included, and the machines on it."""
    inside = circuit(seat, tree)
    fed = [c for s in inside for c in tree.children.get(s, ()) if c.startswith("machine:")]
    tenancy = case.tenancy.id if case.tenancy is not None else ""
    return (*inside, *(f"tenancies.{tenancy}.machines.{m.removeprefix('machine:')}" for m in fed))


def _row(case: Case, tree: Topology, seat: Seat, d: Device, found: Findings | None) -> CircuitRow:
    inside = members(case, tree, seat)
    about: tuple[Finding, ...] = findings_at(found, inside) if found is not None else ()
    run_seat = next((s for s in inside if s in case.installation.runs), "")
    run = case.installation.runs[Seat(run_seat)] if run_seat else None
    return CircuitRow(
        device=seat, what=device_words(case, d), rating=rating(case, seat, d), residual=residual(case, seat, d),
        feeds=_feeds(case, tree, seat, inside), run=run_seat, cable=_cable(run), stays=d.stays,
        csa=_of_run(case, run_seat, run, "csa_mm2"), cpc=_of_run(case, run_seat, run, "cpc_mm2"),
        length=_of_run(case, run_seat, run, "length_m"), arrangement=arrangement(case, tree, seat),
        verdict=worst_verdict(about), worst=f"finding:{about[0].key}" if about else "",
    )  # fmt: skip


def _cable(run: Run | None) -> str:
    return "" if run is None else run.part if run.tapped else run.cable.replace("-", " ")


def _of_run(case: Case, seat: str, run: Run | None, field: str) -> Shown:
    if run is None or (run.tapped and field != "length_m"):
        return Shown(text="")
    return held(run, address(case, "runs", seat), field, case.catalogue)


def _feeds(case: Case, tree: Topology, seat: Seat, inside: Iterable[str]) -> tuple[Shown, ...]:
    i = case.installation
    out: list[Shown] = []
    for s in inside:
        if s in i.outlets:
            out.append(join(Shown(text=s), outlet_words(case, s, i.outlets[Seat(s)])))
        elif s in i.assemblies or s in i.boards:
            out.append(Shown(text=s))
        elif s in i.loads or s.startswith("tenancies."):
            out.append(Shown(text=name_of(case, s)))
        out += [Shown(text=n) for n in _next(case, tree, Seat(s), seat)]
    return tuple(dict.fromkeys(out))


def _next(case: Case, tree: Topology, seat: Seat, own: Seat) -> list[str]:
    """What follows behind further devices: the assembly or board of an incomer, else the device itself."""
    i = case.installation
    if seat in i.assemblies or seat in i.boards:
        return []
    after = [c for c in tree.children.get(seat, ()) if c in i.devices and c != own]
    return [
        c.removesuffix("/incomer") if c.endswith("/incomer") else f"{c} ({device_words(case, i.devices[c])})"
        for c in after
    ]


def outlet_words(case: Case, seat: str, outlet: Outlet) -> Shown:
    """An outlet in few words: "16 A 2P+E 6 h", "13 A twin", "fixed 32 A 3P+N+E"."""
    at = address(case, "outlets", seat)
    kind_, current = held(outlet, at, "outlet", case.catalogue), held(outlet, at, "in_a", case.catalogue)
    gangs, poles = held(outlet, at, "gangs", case.catalogue), held(outlet, at, "poles", case.catalogue)
    if kind_.text == "1363":
        return join(current, Shown(text="twin" if gangs.text == "2" else "single"))
    words = join(current, poles)
    if not words.text:
        return Shown(text=name_of(case, seat))
    hour = held(outlet, at, "clock_h", case.catalogue) if kind_.text == "60309" else Shown(text="")
    locked = held(outlet, at, "interlocked", case.catalogue).text == "yes"
    return join(
        Shown(text="fixed" if kind_.text == "fixed" else ""), words, hour, Shown(text="interlocked" if locked else "")
    )


def arrangement(case: Case, tree: Topology, seat: Seat) -> str:
    """How a circuit is protected against overcurrent and residual current, in words."""
    d = case.installation.devices[seat]
    if kind(case, d) in RESIDUAL:
        return "breaker and residual current in one device"
    own_above = [s for s in tree.path(seat)[:-1] if s in case.installation.devices]
    above = [s for s in reversed(own_above) if kind(case, case.installation.devices[s]) in RESIDUAL]
    if above:
        return f"breaker; residual current by {short(above[0])}"
    below = [
        s for s in tree.children.get(seat, ()) for s in (s, *tree.below(s))
        if s in case.installation.devices and kind(case, case.installation.devices[s]) in RESIDUAL
    ]  # fmt: skip
    if below:
        return "overcurrent only; residual current nearer to the outlets"
    return "overcurrent only"
