"""Where ways and apertures of an assembly lie, and what sits in them. Millimetres of the real enclosure, y up.

Apertures are numbered there and back (left to right, then right to left), so that two that follow one another always
touch, and an outlet that takes several is one area.
"""

from __future__ import annotations

import math
from dataclasses import dataclass

from relet.drawing.shapes import Box
from relet.drawing.sizes import size
from relet.drawing.wording import number
from relet.model import Assembly, Catalogue, Device, Installation, Outlet, Seat, natural

_RIM_MM = 24.0
_GAP_MM = 10.0


@dataclass(frozen=True, slots=True)
class OnRail:
    """A device and its place: ways from `first`, and on which rail; placed False where it was given none."""

    seat: Seat
    device: Device
    first: int
    ways: int


@dataclass(frozen=True, slots=True)
class OnFace:
    """An outlet (or another part of the face) and the apertures it takes."""

    seat: Seat
    outlet: Outlet
    cells: tuple[Box, ...]


@dataclass(frozen=True)
class Layout:
    """All of one assembly.

    rails     boxes of the rails, from the top; per_rail ways on each
    cells     boxes of the apertures by number - 1
    misfits   what does not fit, in words
    """

    width: float
    height: float
    rails: tuple[Box, ...]
    per_rail: int
    ways: int
    cells: tuple[Box, ...]
    devices: tuple[OnRail, ...]
    outlets: tuple[OnFace, ...]
    spare_cells: tuple[tuple[int, Box], ...]
    misfits: tuple[str, ...]

    def way_box(self, first: int, count: int) -> Box:
        """The box of some ways from `first` (1-based) on their rail."""
        row, column = divmod(first - 1, self.per_rail)
        left, bottom, _, top = self.rails[min(row, len(self.rails) - 1)]
        pitch = size("rail_way_mm")
        return (left + column * pitch, bottom, left + (column + count) * pitch, top)

    def free_ways(self) -> list[int]:
        """Ways that nothing sits in."""
        taken = {n for d in self.devices for n in range(d.first, d.first + d.ways)}
        return [n for n in range(1, self.ways + 1) if n not in taken]


def layout(seat: Seat, assembly: Assembly, i: Installation, catalogue: Catalogue) -> Layout:
    """The layout of an assembly from the declared data of its enclosure and what sits in it."""
    width = number(assembly, "width_mm", catalogue, size("assembly_width_mm"))
    height = number(assembly, "height_mm", catalogue, size("assembly_height_mm"))
    ways = int(number(assembly, "ways", catalogue, 12))
    apertures = int(number(assembly, "apertures", catalogue, 4))
    misfits: list[str] = []
    most = max(1, int((width - 2 * _RIM_MM) // size("rail_way_mm")))
    count = max(1, math.ceil(ways / most))
    per_rail = math.ceil(ways / count)
    rails, floor = _rails(width, height, count, per_rail)
    cells = _cells(width, floor, apertures)
    devices = _devices(seat, i, catalogue, ways, misfits)
    outlets, used = _outlets(seat, i, catalogue, cells, misfits)
    spare = tuple((n, box) for n, box in enumerate(cells, 1) if n not in used)
    return Layout(width, height, rails, per_rail, ways, cells, devices, outlets, spare, tuple(misfits))


def _rails(width: float, height: float, count: int, per_rail: int) -> tuple[tuple[Box, ...], float]:
    long = per_rail * size("rail_way_mm")
    left = (width - long) / 2
    top = height - _RIM_MM
    out = []
    for _ in range(count):
        out.append((left, top - size("device_height_mm"), left + long, top))
        top -= size("device_height_mm") + _GAP_MM
    return tuple(out), top - _GAP_MM


def _cells(width: float, top: float, apertures: int) -> tuple[Box, ...]:
    if apertures < 1:
        return ()
    rows = 1 if apertures <= 2 else 2
    columns = math.ceil(apertures / rows)
    pitch_x = (width - 2 * _RIM_MM) / columns
    pitch_y = (top - _RIM_MM) / rows
    out: list[Box] = []
    for n in range(apertures):
        row, along = divmod(n, columns)
        column = along if row % 2 == 0 else columns - 1 - along
        left, upper = _RIM_MM + column * pitch_x, top - row * pitch_y
        out.append((left + 3, upper - pitch_y + 3, left + pitch_x - 3, upper - 3))
    return tuple(out)


def _number(seat: Seat) -> int | None:
    last = seat.rsplit("/", 1)[-1]
    return int(last) if last.isdigit() else None


def _devices(seat: Seat, i: Installation, c: Catalogue, ways: int, misfits: list[str]) -> tuple[OnRail, ...]:
    out: list[OnRail] = []
    taken: dict[int, Seat] = {}
    loose: list[tuple[Seat, Device, int]] = []
    for s in sorted((s for s in i.devices if s.startswith(f"{seat}/")), key=natural):
        device = i.devices[s]
        need = int(number(device, "ways", c, number(device, "poles", c, 1)))
        first = _number(s)
        if first is None:
            loose.append((s, device, need))
            continue
        clash = next((taken[n] for n in range(first, first + need) if n in taken), None)
        if clash is not None:
            misfits.append(f"{s} takes ways of {clash}")
        if first + need - 1 > ways:
            misfits.append(f"{s} runs past way {ways}")
            continue
        taken |= dict.fromkeys(range(first, first + need), s)
        out.append(OnRail(s, device, first, need))
    for s, device, need in loose:
        starts = (n for n in range(1, ways - need + 2) if not any(m in taken for m in range(n, n + need)))
        start = next(starts, None)
        if start is None:
            misfits.append(f"{s} finds no {need} free ways beside one another")
            continue
        taken |= dict.fromkeys(range(start, start + need), s)
        out.append(OnRail(s, device, start, need))
    return tuple(sorted(out, key=lambda d: d.first))


def _outlets(
    seat: Seat, i: Installation, c: Catalogue, cells: tuple[Box, ...], misfits: list[str]
) -> tuple[tuple[OnFace, ...], set[int]]:
    out: list[OnFace] = []
    used: dict[int, Seat] = {}
    for s in sorted((s for s in i.outlets if s.startswith(f"{seat}/face/")), key=natural):
        outlet = i.outlets[s]
        first, need = _number(s), int(number(outlet, "apertures", c, 1))
        if first is None or first < 1 or first + need - 1 > len(cells):
            misfits.append(f"{s} runs past aperture {len(cells)}")
            continue
        clash = next((used[n] for n in range(first, first + need) if n in used), None)
        if clash is not None:
            misfits.append(f"{s} takes an aperture of {clash}")
        used |= dict.fromkeys(range(first, first + need), s)
        out.append(OnFace(s, outlet, cells[first - 1 : first - 1 + need]))
    return tuple(out), set(used)
