"""What is held about a case, fact by fact: the value in words, how it is known, and where it stands."""

from __future__ import annotations

from collections.abc import Iterator
from typing import TypeAlias

from relet.model import (
    Between,
    Case,
    Catalogue,
    Claim,
    Exactly,
    FixedLoad,
    Held,
    Machine,
    OneOf,
    Open,
    Piece,
    Policy,
    Run,
    Scalar,
    Seat,
    Supply,
)
from relet.model.values import Value
from relet.schedules.numbers import number, with_unit
from relet.schedules.shown import HOW_WORDS, Shown
from relet.working import unit_of, without_unit

Holder: TypeAlias = Piece | Machine | FixedLoad | Supply | Policy
GROUPS: tuple[str, ...] = ("boards", "assemblies", "devices", "outlets", "runs", "taps", "containment", "loads")


GIVEN = "given with the piece, in the unit file or the plan"


class FactRow(Value, frozen=True, kw_only=True):
    """One fact that is held.

    about   its address
    thing   what it is a fact of, in words; field: its name there
    value   in words; doubt where it is not certain or only assumed
    how     how it is known, on which day, and the note with it
    """

    about: str
    thing: str
    field: str
    value: Shown
    how: str
    on: str
    note: str


def scalar(value: Scalar, unit: str = "") -> str:
    """One value in words."""
    if isinstance(value, bool):
        return "yes" if value else "no"
    return number(value, unit) if isinstance(value, float | int) else str(value)


def held_words(held: Held, unit: str = "") -> str:
    """What is held, in words: "32 A", "14 to 20 m", "B or C", "not known"."""
    match held:
        case Exactly(value=v):
            return scalar(v, unit)
        case Between(low=low, high=high):
            return with_unit(f"{scalar(low)} to {scalar(high)}", unit)
        case OneOf(options=options):
            return with_unit(" or ".join(scalar(o) for o in options), unit)
        case Open():
            return "not known"


def doubtful(claim: Claim) -> bool:
    """True for what is not certain, or certain only by assumption."""
    return not claim.certain or claim.how in ("kind", "default")


def held(thing: Holder, at: str, field: str, catalogue: Catalogue | None = None) -> Shown:
    """One fact of a thing as text with its address: its own claim, else the declared data of its part, else empty.

    at  address of the thing ("design.harbour.runs.R7")
    """
    claim = thing.facts.get(field)
    if claim is not None:
        text = held_words(claim.holds, unit_of(field))
        return Shown(text=text, at=f"fact:{claim.about}", doubt=doubtful(claim))
    if isinstance(thing, Piece) and catalogue is not None and thing.part in catalogue.parts:
        value = catalogue.parts[thing.part].data.get(field)
        if value is not None:
            return Shown(text=scalar(value, unit_of(field)), at=f"fact:catalogue.{thing.part}.{field}")
    return Shown(text="")


def address(case: Case, group: str, seat: str) -> str:
    """Address of a piece of this case's installation."""
    return f"{case.where}.{group}.{seat}"


def name_of(case: Case, seat: str) -> str:
    """A thing in a reader's words: a label, a part's name, a machine's name; else the seat itself."""
    tenancy = f"tenancies.{case.tenancy.id}.machines." if case.tenancy is not None else "\0"
    if seat.startswith(tenancy) and case.tenancy is not None:
        machine = case.tenancy.machines.get(seat.removeprefix(tenancy))
        return machine.name if machine is not None else seat
    i = case.installation
    here = Seat(seat)
    if here in i.loads:
        return i.loads[here].name
    piece = i.pieces().get(here)
    if piece is None:
        return seat.replace("_", " ")
    if piece.label:
        return str(piece.label)
    if isinstance(piece, Run):
        return f"run from {piece.from_} to {'its far end' if piece.to == 'end' else piece.to}"
    part = case.catalogue.parts.get(piece.part)
    return part.name if part is not None else str(piece.part)


def short(seat: str) -> str:
    """A seat or address as it is printed: machines by their own id, seats as they are."""
    return seat.rsplit(".", 1)[-1].replace("_", " ") if seat.startswith("tenancies.") else seat


def holders(case: Case) -> Iterator[tuple[str, str, Holder]]:
    """Everything that facts are held about: address, words, thing."""
    unit = case.unit
    yield "supply", "the supply", unit.supply
    yield "policy", "our own rules", unit.policy
    for group in GROUPS:
        for seat, piece in getattr(case.installation, group).items():
            yield address(case, group, seat), f"{seat}, {name_of(case, seat)}", piece
    if case.tenancy is not None:
        for id_, machine in case.tenancy.machines.items():
            yield f"tenancies.{case.tenancy.id}.machines.{id_}", machine.name, machine


def facts(case: Case) -> dict[str, FactRow]:
    """Every fact that is held, by address: claims of things, and declared data of the parts that are used."""
    out: dict[str, FactRow] = {}
    parts: set[str] = set()
    for at, thing, holder in holders(case):
        out.update(_given(at, thing, holder))
        for field, claim in holder.facts.items():
            learned = case.learned.get(claim.about)
            out[claim.about] = _row(claim.about, thing, field, learned or claim)
        if isinstance(holder, Piece):
            parts.add(holder.part)
    for id_ in sorted(parts & set(case.catalogue.parts)):
        part = case.catalogue.parts[id_]
        for field, value in part.data.items():
            about = f"catalogue.{id_}.{field}"
            claim = Claim(about=about, holds=Exactly(value), how="maker", note=part.note)  # type: ignore[arg-type]
            out[about] = _row(about, part.name, field, claim, edition=case.catalogue.edition)
    return out


def _given(at: str, thing: str, holder: Holder) -> Iterator[tuple[str, FactRow]]:
    """What a piece holds about itself beside its claims: heights and counts of ways."""
    for field in ("height_m", "ways"):
        value = getattr(holder, field, None)
        if value is not None:
            about = f"{at}.{field}"
            shown = Shown(text=number(value, unit_of(field)), at=f"fact:{about}")
            yield (
                about,
                FactRow(about=about, thing=thing, field=without_unit(field), value=shown, how=GIVEN, on="", note=""),
            )


def _row(about: str, thing: str, field: str, claim: Claim, edition: str = "") -> FactRow:
    text = held_words(claim.holds, unit_of(field))
    note = "; ".join(filter(None, (claim.note, f"catalogue {edition}" if edition else "")))
    on = f"{claim.on.day} {claim.on:%B %Y}" if claim.on is not None else ""
    value = Shown(text=text, at=f"fact:{about}", doubt=doubtful(claim))
    return FactRow(
        about=about, thing=thing, field=without_unit(field), value=value, how=HOW_WORDS[claim.how], on=on, note=note
    )
