"""The grammar of what is on the walls, one for what stands and for plans."""

from __future__ import annotations

from typing import Annotated, Final

from pydantic import Field as Key

from relet.files.claims import Said
from relet.files.grammar import APoint, Claimed, Flag, Moment, Plain, Points, Row, Text, Texts, Whole
from relet.files.grammar import Facts as FactsOf

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
    height_m: Annotated[Said, Claimed("board", "height_m")]
    ways: Annotated[int, Plain("board", "ways")]
    fed_by: Text | None = None
    incomer: DeviceRow | None = None
    facts: Annotated[dict[str, Said], FactsOf("board")]


class AssemblyRow(PieceRow):
    """An outlet assembly."""

    at_m: APoint
    height_m: Annotated[Said, Claimed("assembly", "height_m")]
    place: Text = ""
    facts: Annotated[dict[str, Said], FactsOf("assembly")]


class OutletRow(PieceRow):
    """A socket-outlet or a fixed connection point."""

    behind: Text | None = None
    at_m: APoint | None = None
    height_m: Annotated[Said, Claimed("outlet", "height_m")] | None = None
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
    height_m: Annotated[Said, Claimed("containment", "height_m")]
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
