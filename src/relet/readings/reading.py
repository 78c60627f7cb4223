"""Measured values, and what each of them rests on.

A result stands while every stamp behind it is what it was at its moment. Learning something (a corrected length)
touches no stamp; replacing a breaker by its equal does. The method is our own, see docs of the model.
"""

from __future__ import annotations

from datetime import date
from typing import Literal, TypeAlias

from relet.electrical.topology import ORIGIN, Topology, topology
from relet.model import Installation, Seat, Stamp
from relet.model.values import Value
from relet.readings.joints import joints_of, pieces_of

TestKind: TypeAlias = Literal[
    "ze", "zs", "ipf", "r1r2", "r2", "r1", "rn", "insulation", "polarity", "rcd_time", "phase_sequence", "functional",
    "volt_drop",
]  # fmt: skip
"""The tests of initial and periodic verification, by the trade's own names."""

Rests: TypeAlias = frozenset[tuple[str, Stamp | None]]

_PATH: frozenset[str] = frozenset({"zs", "ipf", "phase_sequence", "volt_drop"})
_DEVICE: frozenset[str] = frozenset({"rcd_time", "functional"})


class Reading(Value, frozen=True, kw_only=True):
    """One measured value.

    of          kind of test
    at          where: a run, an outlet, a device (its circuit), or "origin"
    value       in `unit`; True or False for polarity and functional tests
    instrument  name under which its calibration is kept
    """

    id: str
    of: TestKind
    at: Seat
    value: float | bool
    unit: str = ""
    on: date | None = None
    by: str = ""
    instrument: str = ""


def circuit_of(at: Seat, tree: Topology) -> Seat | None:
    """The protective device whose circuit a point belongs to: the device itself, or the nearest one above."""
    return at if at in tree.installation.devices else tree.device_above(at)


def circuit(device: Seat, tree: Topology) -> tuple[Seat, ...]:
    """Elements of the circuit behind a device: the device and all below it, up to the next devices (left out)."""
    out, stack = [device], list(tree.children.get(device, ()))
    while stack:
        element = stack.pop()
        if element in tree.installation.devices or element.startswith("machine:") or element in out:
            continue
        out.append(element)
        stack.extend(tree.children.get(element, ()))
    return tuple(sorted(out))


def rests_on(reading: Reading, installation: Installation, tree: Topology | None = None) -> Rests:
    """Seats and joints that a result rests on, each with the stamp it has in this installation.

    loop impedance and fault current: the whole path from the origin, joints included; continuity, insulation and
    polarity: the circuit; operating time: the device; at the origin: the origin alone. A subject that is not there
    gives an empty set.
    """
    tree = tree or topology(installation, None)
    names: set[str] = set()
    for element in _elements(reading, tree):
        if element == ORIGIN:
            names.add(ORIGIN)
            continue
        names.update(pieces_of(element, installation))
        names.update(joints_of(element, tree))
    return frozenset((n, installation.made.get(n)) for n in names)


def _elements(reading: Reading, tree: Topology) -> tuple[Seat, ...]:
    i, at = tree.installation, reading.at
    if at in ("supply", ORIGIN) or reading.of == "ze":
        return (ORIGIN,)
    known = at in i.pieces() or at in i.loads
    if not known:
        return ()
    if reading.of in _DEVICE and at in i.devices:
        return (at,)
    if reading.of in _DEVICE:
        device = circuit_of(at, tree)
        return (at,) if device is None else (device,)
    if reading.of in _PATH:
        return _way(at, tree)
    device = circuit_of(at, tree)
    return (at,) if device is None else circuit(device, tree)


def _way(at: Seat, tree: Topology) -> tuple[Seat, ...]:
    """The path to a point; a run is measured at its far end, a device at the ends of its circuit."""
    i = tree.installation
    path = tree.path(at)
    if at in i.runs and i.runs[at].to in tree.children.get(at, ()):
        return (*path, i.runs[at].to)
    if at in i.devices:
        return (*path, *(e for e in circuit(at, tree) if e != at))
    return path
