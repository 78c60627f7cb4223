"""The inside of one assembly from tenant to tenant: which circuit sits where on face and rail.

What the next tenant can use stays at its seat; what he cannot is taken out, and what is new takes the first room that
is free. An outlet may stay while the device behind it changes.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Sequence
from dataclasses import dataclass, replace

from relet.planning.circuits import Circuit


@dataclass(frozen=True)
class Fitted:
    """A circuit at its place: first aperture, first way."""

    circuit: Circuit
    face: int
    rail: int


@dataclass(frozen=True)
class Room:
    """What an assembly offers: apertures and ways from a first number on (what stands before is not ours)."""

    first_face: int
    faces: int
    first_rail: int
    rails: int


def refit(before: Sequence[Fitted], wanted: Sequence[Circuit], room: Room) -> tuple[Fitted, ...]:
    """The contents for the next tenant, by the least work; laid anew from the left where pieces block one another."""
    left = Counter(c.id for c in wanted)
    by_id = {c.id: c for c in wanted}
    kept: list[Fitted] = []
    loose: list[Fitted] = []
    for f in before:
        if left[f.circuit.id] > 0:
            left[f.circuit.id] -= 1
            kept.append(f)
        else:
            loose.append(f)
    todo = [by_id[c] for c, n in sorted(left.items()) for _ in range(n)]
    out = list(kept)
    rest: list[Circuit] = []
    for c in todo:
        same = next((f for f in loose if f.circuit.outlet.id == c.outlet.id and f.circuit.ways >= c.ways), None)
        if same is not None:
            loose.remove(same)
            out.append(replace(same, circuit=c))
        else:
            rest.append(c)
    for c in sorted(rest, key=lambda c: (-c.apertures, -c.ways, c.id)):
        face = _free([(f.face, f.circuit.apertures) for f in out], c.apertures, room.first_face, room.faces)
        rail = _free([(f.rail, f.circuit.ways) for f in out], c.ways, room.first_rail, room.rails)
        if face is None or rail is None:
            return _anew(wanted, room)
        out.append(Fitted(c, face, rail))
    return tuple(sorted(out, key=lambda f: f.rail))


def _anew(wanted: Sequence[Circuit], room: Room) -> tuple[Fitted, ...]:
    out, face, rail = [], room.first_face, room.first_rail
    for c in sorted(wanted, key=lambda c: (-c.apertures, -c.ways, c.id)):
        out.append(Fitted(c, face, rail))
        face, rail = face + c.apertures, rail + c.ways
    return tuple(out)


def _free(taken: Sequence[tuple[int, int]], size: int, first: int, many: int) -> int | None:
    """First number from which `size` places in a row are free."""
    used = {n + k for n, wide in taken for k in range(wide)}
    return next((n for n in range(first, first + many - size + 1) if not used & set(range(n, n + size))), None)
