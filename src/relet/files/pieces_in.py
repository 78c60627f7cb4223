"""From the rows of a section to the installation that they hold."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any, Final, TypeVar

from relet.files.claims import Said, claims, nominal
from relet.files.pieces import END, DeviceRow, InstallationRow, LoadRow, PieceRow
from relet.model import (
    Assembly,
    Board,
    Claim,
    Containment,
    Device,
    Facts,
    FixedLoad,
    How,
    Installation,
    Map,
    OffGroup,
    Open,
    Outlet,
    Path,
    Piece,
    Run,
    Seat,
    Stamp,
    Tap,
)
from relet.model.facts import Exactly

NOTHING: Final = Installation()
HEIGHT_NOT_KNOWN_M: Final = 1.2
"""Where something is drawn and measured from while its height is not known; the fact itself stays open."""
P = TypeVar("P", bound=Piece)


def installation(row: InstallationRow, about: str, how: How, beside: Installation = NOTHING) -> Installation:
    """The installation that a file's section holds.

    about  what fact addresses begin with: "standing", "plan", "design.<tenancy>"
    how    how a plain value of this file is known: "seen" for what stands, "chosen" for a plan
    beside what stands: a piece that repeats it at the same seat keeps its claims
    """

    def pieces(kind: type[P], group: str, rows: Mapping[str, PieceRow]) -> Map[Seat, P]:
        there: Mapping[Seat, Piece] = getattr(beside, group)
        return Map({Seat(s): _piece(kind, r, f"{about}.{group}.{s}", how, _facts(there, s)) for s, r in rows.items()})

    incomers: dict[str, DeviceRow] = {
        f"{seat}/incomer": board.incomer for seat, board in row.boards.items() if board.incomer is not None
    }
    return Installation(
        boards=pieces(Board, "boards", row.boards),
        assemblies=pieces(Assembly, "assemblies", row.assemblies),
        devices=pieces(Device, "devices", {**row.devices, **incomers}),
        outlets=pieces(Outlet, "outlets", row.outlets),
        runs=pieces(Run, "runs", row.runs),
        taps=pieces(Tap, "taps", row.taps),
        containment=pieces(Containment, "containment", row.containment),
        loads=Map(
            {Seat(s): _load(s, r, f"{about}.loads.{s}", how, _facts(beside.loads, s)) for s, r in row.loads.items()}
        ),
        off_groups=Map(
            {
                Seat(s): OffGroup(button=Seat(r.button), outlets=tuple(Seat(o) for o in r.outlets))
                for s, r in row.off_groups.items()
            }
        ),
        made=Map({s: Stamp(job=r.job, step=r.step, at=r.at) for s, r in row.made.items()}),
    )


def _piece(kind: type[P], row: PieceRow, about: str, how: How, beside: Facts | None) -> P:
    """A piece: the row's fields have the names of the model's."""
    own: dict[str, Any] = {f: getattr(row, f) for f in kind.__struct_fields__}
    facts: dict[str, Said] = own["facts"]
    height = own.get("height_m")
    if isinstance(height, Said):
        if not height.bare:
            facts = {**facts, "height_m": height}
        value = nominal(height.holds)
        own["height_m"] = value if value is not None or kind is Outlet else HEIGHT_NOT_KNOWN_M
    own["facts"] = claims(about, facts, how, beside)
    return kind(**own)


def _load(id: str, row: LoadRow, about: str, how: How, beside: Facts | None) -> FixedLoad:
    name = id if row.name is None else row.name
    facts = claims(about, row.facts, how, beside)
    return FixedLoad(id=id, name=name, serves=row.serves, at_m=row.at_m, facts=facts)


def _facts(there: Mapping[Seat, Piece | FixedLoad], seat: str) -> Facts | None:
    return there[Seat(seat)].facts if seat in there else None


def known_seats(*parts: Installation) -> set[str]:
    """Every seat that one of these installations holds, and the ids of its loads."""
    return {
        s
        for i in parts
        for group in (i.boards, i.assemblies, i.devices, i.outlets, i.runs, i.taps, i.containment, i.loads)
        for s in group
    }


def with_implied_loads(i: Installation, about: str, known: set[str]) -> Installation:
    """The same with a load, its power unknown, for every run that goes to a name that is nothing else.

    known  names that are something already, in this installation or in what it is laid over
    """
    loads: dict[Seat, FixedLoad] = dict(i.loads)
    for run in i.runs.values():
        if run.to == END or run.to in known or run.to in loads or "/" in run.to:
            continue
        serves = run.facts.get("serves")
        said = str(serves.holds.value) if serves is not None and isinstance(serves.holds, Exactly) else ""
        power = Claim(about=Path(f"{about}.loads.{run.to}.power_w"), holds=Open(), how="default")
        loads[run.to] = FixedLoad(id=run.to, name=run.to, serves=said, facts=Map({"power_w": power}))
    if len(loads) == len(i.loads):
        return i
    fields = {f: getattr(i, f) for f in Installation.__struct_fields__}
    return Installation(**(fields | {"loads": Map(loads)}))
