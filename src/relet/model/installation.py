"""What is, or would be, on the walls: one type for what stands, what is planned and what stood last year.

A circuit is not stored. It is everything behind one protective device and its id is that device's seat;
numbers and names are labels, so renumbering a board voids nothing.
"""

from __future__ import annotations

from datetime import datetime
from typing import TypeAlias

from relet.model.facts import Facts
from relet.model.unit import Point
from relet.model.values import Map, Seat, Value


class Stamp(Value, frozen=True, kw_only=True):
    """By which step of which job a piece or a joint was made."""

    job: str
    step: int
    at: datetime | None = None


class Joint(Value, frozen=True, kw_only=True):
    """A conductor made off at a terminal of a seat: "A4/rail/2" "out"."""

    seat: Seat
    terminal: str

    def __str__(self) -> str:
        return f"{self.seat}:{self.terminal}"


class Piece(Value, frozen=True, kw_only=True):
    """Something held at a seat.

    part   part number in the catalogue, or a generic kind ("mcb")
    facts  what is held about it, by field name; these go before the data of the part
    stays  belongs to the backbone: stays with the building
    id     the physical piece, None while it is only planned
    """

    part: str
    facts: Facts = Map()
    stays: bool = False
    id: str | None = None
    label: str = ""


class Board(Piece, frozen=True, kw_only=True):
    """A distribution board. `ways` counts ways across all phases; a single-phase device sits at way.phase.
    Its incomer is the device at "<seat>/incomer". fed_by: run that feeds it, or "origin"; None: a run says so,
    or it is the only board that nothing is said to feed, and stands at the origin."""

    at_m: Point
    height_m: float
    ways: int
    fed_by: Seat | None = None


class Assembly(Piece, frozen=True, kw_only=True):
    """An outlet assembly. Devices sit at "<seat>/incomer" and "<seat>/rail/<n>", outlets at "<seat>/face/<n>".

    place     id of the candidate place, or ""
    at_m      point on the wall or post
    height_m  to its centre
    """

    at_m: Point
    height_m: float
    place: str = ""


class Device(Piece, frozen=True, kw_only=True):
    """A protective or switching device: mcb, rcbo, rccb, gG fuse-switch, switch-disconnector, contactor.

    facts  curve, in_a, poles, idn_ma, rcd_type, rcd_delay, icn_ka, phase ("L1", "L2", "L3"), category,
           standard, restart_inhibit ...
    behind another device of the same board or assembly (a residual-current device over several breakers);
           None: straight on the busbar
    """

    behind: Seat | None = None


class Outlet(Piece, frozen=True, kw_only=True):
    """A socket-outlet or a fixed connection point.

    behind    the device in its assembly that feeds it; None for an outlet on the wall fed by a run
    at_m, height_m   for an outlet on the wall; inside an assembly those of the assembly count
    facts     ip, phase, condition, accepted ...
    """

    behind: Seat | None = None
    at_m: Point | None = None
    height_m: float | None = None


class Tap(Piece, frozen=True, kw_only=True):
    """A tap-off unit of a tapped run, at "<run>/tap/<n>". A device at the same seat protects its drop.

    facts  along_m (distance from the start of the run), declarations ...
    """


class Run(Piece, frozen=True, kw_only=True):
    """A cable or a tapped run.

    from_    seat of the device that feeds it ("DB1/3"), or of a tap ("R7/tap/1")
    to       seat of what it feeds: assembly, outlet, board, load, or "end" for the far end of a tapped run
    cable    cable kind of the code pack ("singles-70-in-trunking"), or "tapped-run" with a part's declared data
    through  containment sections it lies in, in order
    route_m  its way in plan, for drawing and length
    facts    length_m, csa_mm2, cpc_mm2, method, ambient_c, cores ...
    """

    from_: Seat
    to: Seat
    cable: str
    through: tuple[str, ...] = ()
    route_m: tuple[Point, ...] = ()
    tapped: bool = False


class Containment(Piece, frozen=True, kw_only=True):
    """A stretch of trunking, tray or conduit. facts: kind, width_mm, depth_mm, ambient_c."""

    path_m: tuple[Point, ...]
    height_m: float


class FixedLoad(Value, frozen=True, kw_only=True):
    """A load of the building's own: lighting, heating, door drive."""

    id: str
    name: str
    serves: str
    at_m: Point | None = None
    facts: Facts = Map()


class OffGroup(Value, frozen=True, kw_only=True):
    """A button that switches off named outlets."""

    button: Seat
    outlets: tuple[Seat, ...]


class Installation(Value, frozen=True, kw_only=True):
    """Everything on the walls. `made` holds the stamps of pieces and joints (key: seat or "seat:terminal")."""

    boards: Map[Seat, Board] = Map()
    assemblies: Map[Seat, Assembly] = Map()
    devices: Map[Seat, Device] = Map()
    outlets: Map[Seat, Outlet] = Map()
    runs: Map[Seat, Run] = Map()
    taps: Map[Seat, Tap] = Map()
    containment: Map[Seat, Containment] = Map()
    loads: Map[Seat, FixedLoad] = Map()
    off_groups: Map[Seat, OffGroup] = Map()
    made: Map[str, Stamp] = Map()

    def pieces(self) -> dict[Seat, Piece]:
        """Every piece by seat. A tap's own device is found under "<tap>/device"."""
        out: dict[Seat, Piece] = {}
        for group in (self.boards, self.assemblies, self.outlets, self.runs, self.taps, self.containment):
            for s, p in group.items():
                out[s] = p
        for s, d in self.devices.items():
            out[Seat(f"{s}/device") if s in self.taps else s] = d
        return out


AnyPiece: TypeAlias = Board | Assembly | Device | Outlet | Tap | Run | Containment


def merge(*parts: Installation) -> Installation:
    """Several installations over one another; a seat held by two of them with different content is an error.

    raises  ValueError naming the seat: no tenancy may contradict the backbone
    """
    fields: dict[str, dict[str, object]] = {}
    for part in parts:
        for name in Installation.__struct_fields__:
            group = fields.setdefault(name, {})
            for seat, piece in getattr(part, name).items():
                if seat in group and group[seat] != piece:
                    raise ValueError(f"{seat} is held twice with different content")
                group[seat] = piece
    return Installation(**{name: Map(group) for name, group in fields.items()})  # type: ignore[arg-type]
