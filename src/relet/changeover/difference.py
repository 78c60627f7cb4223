"""What differs between two installations, seat by seat: what is work, and what is only better known.

Learning touches nothing. A fact that differs is work only if somebody chose the new value; read, seen or told it is
knowledge. Two designs write the same fact at two addresses; that is no difference. A piece replaced by its equal shows
in no comparison and is asked for.
"""

from __future__ import annotations

from collections.abc import Collection
from typing import Any, Final, Literal, TypeAlias, get_args

from relet.errors import InputError
from relet.model import (
    Assembly,
    Board,
    Claim,
    Containment,
    Device,
    Exactly,
    FixedLoad,
    Installation,
    OffGroup,
    Outlet,
    PartKind,
    Piece,
    Run,
    Seat,
    Tap,
)
from relet.model.values import Value

Content: TypeAlias = Board | Assembly | Device | Outlet | Tap | Run | Containment | FixedLoad | OffGroup
DifferenceKind: TypeAlias = Literal["added", "removed", "replaced", "rewired", "relabelled", "learned"]

GROUPS: Final = (
    "boards", "assemblies", "devices", "outlets", "runs", "taps", "containment", "loads", "off_groups",
)  # fmt: skip
GENERIC: Final[frozenset[str]] = frozenset(get_args(PartKind))
# Facts that say something about a piece or its surroundings and are no property of the piece that was fitted.
_KNOWLEDGE: Final = frozenset(
    {"condition", "accepted", "ambient_c", "grouped_with", "serves", "method", "note", "declarations", "history"}
)
_MOVED: Final[dict[type[Any], tuple[str, ...]]] = {
    Board: ("at_m", "height_m", "ways"),
    Assembly: ("at_m", "height_m"),
    Outlet: ("at_m", "height_m"),
    Run: ("cable", "tapped", "through"),
    Containment: ("path_m", "height_m"),
}
_WIRED: Final[dict[type[Any], tuple[str, ...]]] = {
    Device: ("behind",), Outlet: ("behind",), Run: ("from_", "to"), OffGroup: ("button", "outlets"),
}  # fmt: skip
_WIRED_FACTS: Final = frozenset({"phase"})


class Difference(Value, frozen=True, kw_only=True):
    """One seat that differs.

    seat    where ("R7/tap/1/device" for the device in a tap, "A1/face/6/off-group" for what a button switches off)
    group   field of the installation that holds it, `key` its key there
    kind    added, removed, replaced: a piece is touched; rewired: only its conductors; relabelled: only its label;
            learned: nothing is touched
    fields  names of what differs, for a seat that both hold
    like_for_like  replaced by its equal, asked for
    """

    seat: Seat
    group: str
    key: Seat
    kind: DifferenceKind
    before: Content | None
    after: Content | None
    fields: tuple[str, ...] = ()
    like_for_like: bool = False

    @property
    def is_work(self) -> bool:
        """True if somebody has to touch something."""
        return self.kind != "learned"


def difference(
    a: Installation, b: Installation, *, replace: Collection[Seat] = (), corrected: Collection[Seat] = ()
) -> tuple[Difference, ...]:
    """One difference per seat that differs, by seat.

    replace    seats whose piece is replaced by its equal
    corrected  seats where `b` only tells better what stands: nothing is touched there
    raises     InputError if a seat to be replaced holds nothing in both
    """
    out: dict[Seat, Difference] = {}
    replace, corrected = frozenset(replace), frozenset(corrected)
    for group in GROUPS:
        before, after = getattr(a, group), getattr(b, group)
        for key in sorted({*before, *after}):
            seat = seat_of(group, Seat(key), key in a.taps or key in b.taps)
            one = _one(seat, group, Seat(key), before.get(key), after.get(key), seat in replace, seat in corrected)
            if one is not None:
                out[seat] = one
    for seat in sorted(replace):
        if seat not in out or not out[seat].is_work:
            raise InputError(f'nothing stands at "{seat}" before and after, so nothing can be replaced there.')
    return tuple(out[s] for s in sorted(out))


def seat_of(group: str, key: Seat, tap: bool = False) -> Seat:
    """The name of a seat across all groups."""
    if group == "off_groups":
        return Seat(f"{key}/off-group")
    return Seat(f"{key}/device") if group == "devices" and tap else key


def _one(
    seat: Seat, group: str, key: Seat, x: Content | None, y: Content | None, replace: bool, corrected: bool
) -> Difference | None:
    if x is None or y is None:
        kind: DifferenceKind = "added" if x is None else "removed"
        if group == "loads":
            kind = "learned"
        return Difference(seat=seat, group=group, key=key, kind=kind, before=x, after=y)
    if replace:
        fields = _fields(x, y)
        same = not fields or _kind(x, y, fields) == "learned"
        return Difference(
            seat=seat, group=group, key=key, kind="replaced", before=x, after=y, fields=fields, like_for_like=same
        )
    fields = _fields(x, y)
    if not fields:
        return None
    kind = "learned" if corrected else _kind(x, y, fields)
    return Difference(seat=seat, group=group, key=key, kind=kind, before=x, after=y, fields=fields)


def _fields(x: Content, y: Content) -> tuple[str, ...]:
    names = [n for n in x.__struct_fields__ if n != "facts" and getattr(x, n) != getattr(y, n)]
    if not isinstance(x, OffGroup) and not isinstance(y, OffGroup) and x.facts != y.facts:
        every = sorted({*x.facts, *y.facts})
        names += [f"facts.{n}" for n in every if _says(x.facts.get(n)) != _says(y.facts.get(n))]
    return tuple(names)


def _says(claim: Claim | None) -> tuple[object, ...] | None:
    """What a claim says, wherever it is written."""
    return (claim.holds, claim.how, claim.on, claim.note) if claim is not None else None


def _kind(x: Content, y: Content, fields: tuple[str, ...]) -> DifferenceKind:
    """The heaviest of what the differing fields ask for."""
    if isinstance(x, FixedLoad):
        return "learned"
    names = {n for n in fields if not n.startswith("facts.")}
    wired = bool(names & set(_WIRED.get(type(x), ())))
    replaced = "part" in names or bool(names & set(_MOVED.get(type(x), ())))
    if isinstance(x, Piece) and isinstance(y, Piece):
        for name in (n.removeprefix("facts.") for n in fields if n.startswith("facts.")):
            if not _touched(x, x.facts.get(name), y.facts.get(name), name):
                continue
            if name in _WIRED_FACTS:
                wired = True
            else:
                replaced = True
    if replaced:
        return "replaced"
    if wired:
        return "rewired"
    return "relabelled" if "label" in names else "learned"


def _touched(piece: Piece, old: Claim | None, new: Claim | None, name: str) -> bool:
    """True if a fact that differs can only have come about by work."""
    if name in _KNOWLEDGE or new is None or new.how != "chosen":
        return False
    if old is None:
        # a catalogue part brings its own data along; a generic kind is only what its facts say
        return piece.part in GENERIC or name in _WIRED_FACTS
    return not (isinstance(new.holds, Exactly) and old.holds == new.holds)
