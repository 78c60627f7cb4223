"""The inside of an outlet assembly: what sits on face and rail, what is lost there, what may be lost."""

from __future__ import annotations

from typing import NamedTuple

from relet.checks import things
from relet.checks.demand import demand
from relet.checks.facts import Missing
from relet.checks.study import Study, kept
from relet.electrical.heat import (
    Faces,
    all_losses,
    allowed_losses,
    declared_allowed_losses,
    effective_surface,
    height_over_floor,
    height_over_width,
    metres,
    pole_losses,
    wiring_share,
)
from relet.electrical.impedance import total
from relet.model import Seat
from relet.tables import assemblies as tables
from relet.tables.core import table
from relet.tables.protection import mcb_loss_limit
from relet.working import Figure, fact


class Room(NamedTuple):
    """Used and available of one kind of room: apertures, rail ways, depth behind the face or over the rail."""

    what: str
    used: Figure
    available: Figure


def devices_in(study: Study, seat: Seat) -> tuple[Seat, ...]:
    """Devices of an assembly, incomer first."""
    return tuple(s for s in study.case.installation.devices if s.startswith(f"{seat}/"))


def outlets_in(study: Study, seat: Seat) -> tuple[Seat, ...]:
    """Outlets on the face of an assembly."""
    return tuple(s for s in study.case.installation.outlets if s.startswith(f"{seat}/"))


@kept
def rooms(study: Study, seat: Seat) -> tuple[Room, ...]:
    """Every kind of room of an assembly that its maker declares."""
    f, owner = study.facts, things.assembly(study, seat)
    out: list[Room] = []
    faces, rails = outlets_in(study, seat), devices_in(study, seat)
    one = fact("method.one_each", 1.0, "", "chosen", "one where the part says nothing", name="each")
    apertures = [f.maybe(things.outlet(study, s), "apertures", "") or one for s in faces]
    available = f.number(owner, "apertures", "", name="apertures")
    out.append(Room("apertures on the face", _sum(apertures, one, "apertures taken"), available))
    ways = [f.number(things.device(study, s), "ways", "", name="ways") for s in rails]
    out.append(Room("ways on the rail", _sum(ways, one, "ways taken"), f.number(owner, "ways", "", name="ways")))
    for what, field, seats, make in (
        ("depth behind the face", "face_depth_mm", faces, things.outlet),
        ("depth over the rail", "rail_depth_mm", rails, things.device),
    ):
        room = f.maybe(owner, field, "mm", name=field)
        deep = [d for s in seats if (d := f.maybe(make(study, s), "depth_mm", "mm", name="depth")) is not None]
        if room is not None and deep:
            out.append(Room(what, max(deep), room))
    return tuple(out)


def _sum(parts: list[Figure], one: Figure, what: str) -> Figure:
    if not parts:
        return fact("method.nothing_there", 0.0, one.unit, "chosen", "nothing there", name="n")
    return total(parts, "n", what)


@kept
def losses(study: Study, seat: Seat) -> Figure:
    """Losses inside at the loaded currents, W: devices by the square of their current, and wiring as a share."""
    parts: list[Figure] = []
    for s in devices_in(study, seat):
        owner = things.device(study, s)
        kind = things.device_kind(study, s)
        rated = things.in_a(study, s)
        current = demand(study, s).worst
        if current <= 0:
            continue
        per_pole = study.facts.maybe(owner, "loss_w_per_pole", "W", name="P1")
        if per_pole is None and kind in ("mcb", "rcbo"):
            per_pole = mcb_loss_limit(rated)
        if per_pole is None:
            raise Missing(f"{owner.at}.loss_w_per_pole", "loss_w_per_pole")
        n = 3.0 if not things.single(study, s) else float(min(2, things.poles(study, s)))
        poles = fact(f"{owner.at}.loaded_poles", n, "", "chosen", "poles that carry the current", name="n")
        parts.append(pole_losses(poles, per_pole, current, rated))
    if not parts:
        return fact("method.no_losses", 0.0, "W", "chosen", "nothing draws there", name="P")
    devices = all_losses(parts)
    share = study.facts.number(things.assembly(study, seat), "wiring_share", "", name="s")
    return all_losses([devices, wiring_share(devices, share)])


@kept
def may_lose(study: Study, seat: Seat) -> Figure:
    """Losses that the enclosure carries off at its limit inside, W: declared, or by IEC TR 60890 from dimensions."""
    f, owner = study.facts, things.assembly(study, seat)
    ambient = f.number(owner, "ambient_c", "degC", name="ta")
    most = f.number(owner, "max_inside_c", "degC", name="tmax")
    declared = f.maybe(owner, "dissipation_w_per_k", "W/K", name="G")
    if declared is not None:
        return declared_allowed_losses(most, ambient, declared)
    w, h, d = (metres(f.number(owner, n, "mm", name=n)) for n in ("width_mm", "height_mm", "depth_mm"))
    side = tables.surface_factor("exposed side faces incl. front and free rear")
    faces = Faces(
        tables.surface_factor("exposed top surface"), side,
        tables.surface_factor("covered rear side of wall-mounted enclosure"), side, side,
        tables.surface_factor("floor surface"),
    )  # fmt: skip
    ae = effective_surface(w, h, d, faces)
    if ae <= tables.small_surface_limit():
        shape = height_over_width(h, w)
    else:
        shape = height_over_floor(h, tables.height_exponent(), w, d)
    partitions = f.maybe(owner, "partitions", "", name="n")
    if partitions is None:
        partitions = fact("method.partitions", 0.0, "", "assumed", "no horizontal partition is declared", name="n")
    return allowed_losses(
        most, ambient, tables.enclosure_constant(ae), tables.height_factor(shape, ae), tables.heat_exponent(),
        tables.partition_factor(partitions, ae),
    )  # fmt: skip


class Zone(NamedTuple):
    """What a place asks of an enclosure: zones that govern there, and the least numerals."""

    names: tuple[str, ...]
    solid: Figure | None
    water: Figure | None


@kept
def zone_needs(study: Study, codes: tuple[str, ...], names: tuple[str, ...]) -> Zone:
    """Least ingress numerals for a set of external influence codes."""
    solid: Figure | None = None
    water: Figure | None = None
    for code in codes:
        if not code or not table("external_influences").where(code=code):
            continue
        need = tables.ingress_needed(code)
        if need.solid is not None and (solid is None or need.solid > solid):
            solid = need.solid
        if need.water is not None and (water is None or need.water > water):
            water = need.water
    return Zone(names, solid, water)
