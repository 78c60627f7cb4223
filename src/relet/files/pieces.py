"""The grammar of what is on the walls, one for what stands and for plans; and its way into the model."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from typing import Annotated, Final, TypeVar

from pydantic import Field as Key

from relet.files.claims import Said, claims
from relet.files.grammar import APoint, Flag, Moment, Plain, Points, Row, Text, Texts, Whole
from relet.files.grammar import Facts as FactsOf
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

TAPPED_RUN: Final = "tapped-run"
END: Final = "end"


class PieceRow(Row):
    """Something held at a seat."""

    part: Text = ""
    stays: Flag = False
    label: Text = ""
    id: Text | None = None


class DeviceRow(PieceRow):
    """A protective or switching device."""

    behind: Text | None = None
    facts: Annotated[dict[str, Said], FactsOf("device")]


class BoardRow(PieceRow):
    """A distribution board. `incomer` may stand here or as the device "<board>/incomer"."""

    at_m: APoint
    height_m: Annotated[float, Plain("board", "height_m")]
    ways: Annotated[int, Plain("board", "ways")]
    fed_by: Text | None = None
    incomer: DeviceRow | None = None
    facts: Annotated[dict[str, Said], FactsOf("board")]


class AssemblyRow(PieceRow):
    """An outlet assembly."""

    at_m: APoint
    height_m: Annotated[float, Plain("assembly", "height_m")]
    place: Text = ""
    facts: Annotated[dict[str, Said], FactsOf("assembly")]


class OutletRow(PieceRow):
    """A socket-outlet or a fixed connection point."""

    behind: Text | None = None
    at_m: APoint | None = None
    height_m: Annotated[float, Plain("outlet", "height_m")] | None = None
    facts: Annotated[dict[str, Said], FactsOf("outlet")]


class TapRow(PieceRow):
    """A tap-off unit of a tapped run."""

    facts: Annotated[dict[str, Said], FactsOf("tap")]


class RunRow(PieceRow):
    """A cable or a tapped run."""

    from_: Text = Key(alias="from")
    to: Text
    cable: Text
    through: Texts = ()
    route_m: Points = ()
    tapped: Flag = False
    facts: Annotated[dict[str, Said], FactsOf("run")]


class ContainmentRow(PieceRow):
    """A stretch of trunking, tray or conduit."""

    path_m: Points
    height_m: Annotated[float, Plain("containment", "height_m")]
    facts: Annotated[dict[str, Said], FactsOf("containment")]


class LoadRow(Row):
    """A load of the building's own."""

    name: Text | None = None
    serves: Text = ""
    at_m: APoint | None = None
    facts: Annotated[dict[str, Said], FactsOf("load")]


class OffGroupRow(Row):
    """A button that switches off named outlets."""

    button: Text
    outlets: Texts


class StampRow(Row):
    """By which step of which job a piece or a joint was made."""

    job: Text
    step: Whole
    at: Moment | None = None


class InstallationRow(Row):
    """Everything on the walls, by seat."""

    boards: dict[str, BoardRow] = {}
    assemblies: dict[str, AssemblyRow] = {}
    devices: dict[str, DeviceRow] = {}
    outlets: dict[str, OutletRow] = {}
    runs: dict[str, RunRow] = {}
    taps: dict[str, TapRow] = {}
    containment: dict[str, ContainmentRow] = {}
    loads: dict[str, LoadRow] = {}
    off_groups: dict[str, OffGroupRow] = {}
    made: dict[str, StampRow] = {}


NOTHING: Final = Installation()
T = TypeVar("T")
P = TypeVar("P", bound=Piece)


def installation(row: InstallationRow, about: str, how: How, beside: Installation = NOTHING) -> Installation:
    """The installation that a file's section holds.

    about  what fact addresses begin with: "standing", "plan", "design.<tenancy>"
    how    how a plain value of this file is known: "seen" for what stands, "chosen" for a plan
    beside what stands: a piece that repeats it at the same seat keeps its claims
    """
    devices = {
        Seat(s): _device(d, f"{about}.devices.{s}", how, _facts(beside.devices, s)) for s, d in row.devices.items()
    }
    for b, board in row.boards.items():
        if board.incomer is not None:
            seat = Seat(f"{b}/incomer")
            devices[seat] = _device(board.incomer, f"{about}.devices.{seat}", how, _facts(beside.devices, seat))

    def held(group: str, seat: str, r: PieceRow, facts: Mapping[str, Said]) -> dict[str, object]:
        return {
            "part": r.part, "stays": r.stays, "label": r.label, "id": r.id,
            "facts": claims(f"{about}.{group}.{seat}", facts, how, _facts(getattr(beside, group), seat)),
        }  # fmt: skip

    return Installation(
        boards=_map(
            (s, Board(at_m=r.at_m, height_m=r.height_m, ways=r.ways, fed_by=_seat(r.fed_by),
                      **held("boards", s, r, r.facts)))  # type: ignore[arg-type]
            for s, r in row.boards.items()
        ),
        assemblies=_map(
            (s, Assembly(at_m=r.at_m, height_m=r.height_m, place=r.place,
                         **held("assemblies", s, r, r.facts)))  # type: ignore[arg-type]
            for s, r in row.assemblies.items()
        ),
        devices=Map(devices),
        outlets=_map(
            (s, Outlet(behind=_seat(r.behind), at_m=r.at_m, height_m=r.height_m,
                       **held("outlets", s, r, r.facts)))  # type: ignore[arg-type]
            for s, r in row.outlets.items()
        ),
        runs=_map(
            (s, Run(from_=Seat(r.from_), to=Seat(r.to), cable=r.cable, through=r.through, route_m=r.route_m,
                    tapped=r.tapped, **held("runs", s, r, r.facts)))  # type: ignore[arg-type]
            for s, r in row.runs.items()
        ),
        taps=_map(
            (s, Tap(**held("taps", s, r, r.facts)))  # type: ignore[arg-type]
            for s, r in row.taps.items()
        ),
        containment=_map(
            (s, Containment(path_m=r.path_m, height_m=r.height_m,
                            **held("containment", s, r, r.facts)))  # type: ignore[arg-type]
            for s, r in row.containment.items()
        ),
        loads=_map(
            (s, FixedLoad(id=s, name=s if r.name is None else r.name, serves=r.serves, at_m=r.at_m,
                          facts=claims(f"{about}.loads.{s}", r.facts, how, _load_facts(beside, s))))
            for s, r in row.loads.items()
        ),
        off_groups=_map(
            (s, OffGroup(button=Seat(r.button), outlets=tuple(Seat(o) for o in r.outlets)))
            for s, r in row.off_groups.items()
        ),
        made=Map({s: Stamp(job=r.job, step=r.step, at=r.at) for s, r in row.made.items()}),
    )  # fmt: skip


def _facts(group: Map[Seat, P], seat: str) -> Facts | None:
    return group[Seat(seat)].facts if seat in group else None


def _load_facts(beside: Installation, id: str) -> Facts | None:
    return beside.loads[Seat(id)].facts if id in beside.loads else None


def _map(pairs: Iterable[tuple[str, T]]) -> Map[Seat, T]:
    return Map({Seat(s): v for s, v in pairs})


def _seat(text: str | None) -> Seat | None:
    return None if text is None else Seat(text)


def _device(r: DeviceRow, about: str, how: How, beside: Facts | None) -> Device:
    return Device(part=r.part, stays=r.stays, label=r.label, id=r.id, behind=_seat(r.behind),
                  facts=claims(about, r.facts, how, beside))  # fmt: skip


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
