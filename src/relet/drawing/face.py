"""The front of an outlet assembly to scale: devices on its rail, outlets on its face, and what is spare."""

from __future__ import annotations

import shapely

from relet.drawing.face_layout import Layout, OnFace, OnRail, layout
from relet.drawing.face_outlets import colour_word, made_size, outlet_face
from relet.drawing.fonts import CAP_EM, shortened, text_width, wrapped
from relet.drawing.shapes import XY, Box, Drawing, Group, Line, Polygon, Shape, Sheet, Text, bounds, box_polygon
from relet.drawing.sizes import size
from relet.drawing.wording import device_words, exact, held, holder_words, kind_of, outlet_words
from relet.errors import InputError
from relet.model import Catalogue, Installation, Seat, Tenancy, Use

SCALES = (2, 2.5, 3, 4, 5, 6, 8, 10)
_ROOM_MM = (150.0, 172.0)
_LINE_MM = 3.4
_LEAST, _SMALL, _WORD, _SEAT = 1.6, 1.9, 2.1, 2.2


def face(
    assembly: Seat, installation: Installation, catalogue: Catalogue, use: Use | None = None,
    tenancy: Tenancy | None = None, *, room_mm: XY = _ROOM_MM,
) -> Drawing:  # fmt: skip
    """The front of one assembly with its cover off; machines where `use` is given.

    room_mm  width and height on paper that the enclosure may take; it sets the scale
    raises   InputError: no assembly at that seat
    """
    if assembly not in installation.assemblies:
        allowed = ", ".join(installation.assemblies) or "none"
        raise InputError(f'"{assembly}" is not an outlet assembly of this installation. There are: {allowed}.')
    return _Face(assembly, installation, catalogue, use, tenancy, room_mm).drawn()


class _Face:
    def __init__(
        self, seat: Seat, i: Installation, c: Catalogue, use: Use | None, tenancy: Tenancy | None,
        room_mm: XY,
    ) -> None:  # fmt: skip
        self.seat, self.i, self.c = seat, i, c
        self.piece = i.assemblies[seat]
        self.lay: Layout = layout(seat, self.piece, i, c)
        names = {m.id: m.name for m in tenancy.machines.values()} if tenancy else {}
        self.machines: dict[str, str] = {}
        for id, outlet in use.plugged.items() if use else ():
            before = self.machines.get(outlet)
            self.machines[outlet] = f"{before}, {names.get(id, id)}" if before else names.get(id, id)
        w, h = self.lay.width, self.lay.height
        fits = (s for s in SCALES if w / s <= room_mm[0] and h / s <= room_mm[1])
        self.scale = float(next(fits, SCALES[-1]))
        wide = w / self.scale + 26.0
        self.misfits = [line for m in self.lay.misfits for line in wrapped(f"does not fit: {m}", _SEAT, wide - 6.0)]
        high = h / self.scale + 26.0 + _LINE_MM * len(self.misfits)
        self.sheet = Sheet(wide, high, self.scale, (14.0, high - 12.0 - h / self.scale), 3.0, 1.0)

    def box(self, b: Box) -> Box:
        """A box of the enclosure on paper."""
        (left, bottom), (right, top) = self.sheet.on_paper((b[0], b[1])), self.sheet.on_paper((b[2], b[3]))
        return (left, bottom, right, top)

    def drawn(self) -> Drawing:
        words = holder_words(self.piece, self.c).text
        case = self.box((0, 0, self.lay.width, self.lay.height))
        inner = self.box((8, 8, self.lay.width - 8, self.lay.height - 8))
        shapes: list[Shape] = [
            Group(
                (box_polygon(case, "case", self.seat), box_polygon(inner, "case-inner", self.seat)),
                self.seat, "assembly", f"{self.seat}, {words}",
            )
        ]  # fmt: skip
        shapes += [box_polygon(self.box(r), "rail") for r in self.lay.rails]
        shapes += self._spare_ways()
        shapes += [self._device(d) for d in self.lay.devices]
        shapes += [self._spare_aperture(n, b) for n, b in self.lay.spare_cells]
        shapes += [self._outlet(o) for o in self.lay.outlets]
        shapes += self._dimensions(case)
        for n, line in enumerate(reversed(self.misfits)):
            shapes.append(Text((3.0, 2.0 + n * _LINE_MM), line, _SEAT, "warning-text"))
        title = f"Front of {self.seat}, {words}"
        desc = f"{len(self.lay.devices)} devices and {len(self.lay.outlets)} outlets, scale 1:{self.scale:g}."
        return Drawing(self.sheet, tuple(shapes), title, desc, "face", self.lay.misfits)

    def _group(self, shapes: list[Shape], of: str, role: str, name: str) -> Group:
        left, bottom, right, top = bounds(*shapes)
        rim = box_polygon((left, bottom, right, top), "target", of)
        return Group((*shapes, rim), of, role, name)

    # ---- rail ----

    def _device(self, d: OnRail) -> Group:
        left, bottom, right, top = self.box(self.lay.way_box(d.first, d.ways))
        mid = (bottom + top) / 2
        half = self.sheet.length(size("device_nose_mm")) / 2
        rating, residual = device_words(d.device, self.c)
        shapes: list[Shape] = [
            box_polygon((left, bottom, right, top), "module", d.seat),
            box_polygon((left, mid - half, right, mid + half), "module-nose", d.seat),
        ]
        seat = d.seat.removeprefix(f"{self.seat}/")
        lines = [(seat, 600), (rating.text, 400), (residual.text.replace("type ", ""), 400)]
        room = top - bottom - 1.4
        wide = right - left
        letters = min(_WORD, (wide - 0.9) / 1.9)
        fit = 1 if letters < _LEAST else max(1, int((wide - 0.9 - letters * CAP_EM) / (letters * 1.15)) + 1)
        letters = max(letters, _LEAST)
        if wide > 15.0:
            for n, (text, weight) in enumerate(lines):
                at = ((left + right) / 2, mid + 2.2 - n * 2.9)
                shapes.append(
                    Text(at, shortened(text, _WORD, wide - 1, weight), _WORD, "face-label", d.seat, "middle", weight)
                )
        else:
            if fit < 3:
                lines = [lines[0], (" ".join(t for t, _ in lines[1:] if t), 400)]
            lines = lines[:fit]
            pitch = letters * 1.15
            x = (left + right) / 2 - ((len(lines) - 1) * pitch + letters * CAP_EM) / 2 + letters * CAP_EM
            for n, (text, weight) in enumerate(lines):
                at = (x + n * pitch, mid)
                short = shortened(text, letters, room, weight)
                shapes.append(Text(at, short, letters, "face-label", d.seat, "middle", weight, 90))
        return self._group(shapes, d.seat, "device", f"{d.seat}, {kind_of(d.device, self.c)}, {rating.text}")

    def _spare_ways(self) -> list[Shape]:
        shapes: list[Shape] = []
        free = self.lay.free_ways()
        half = size("device_nose_mm") / 2
        for n in free:
            left, bottom, right, top = self.lay.way_box(n, 1)
            mid = (bottom + top) / 2
            shapes.append(box_polygon(self.box((left + 0.6, mid - half, right - 0.6, mid + half)), "module-spare"))
            x, y = self.sheet.on_paper(((left + right) / 2, mid))
            shapes.append(Text((x, y - 0.7), str(n), _SMALL, "caption", anchor="middle"))
        if not free:
            return []
        return [Group(tuple(shapes), role="spare", name=f"{len(free)} spare ways")]

    # ---- face ----

    def _outlet(self, o: OnFace) -> Group:
        cells = [shapely.box(*c).buffer(4, join_style="mitre") for c in o.cells]
        area = shapely.union_all(cells).buffer(-4, join_style="mitre")
        corners = tuple(self.sheet.on_paper((x, y)) for x, y in area.exterior.coords[:-1])
        head = o.cells[:2]
        # three that go round a corner: the outlet sits in the first two
        whole = abs(area.area - shapely.box(*area.bounds).area) < 1.0
        head = o.cells if whole else o.cells[:2]
        left, bottom, right, top = self.box(
            (min(c[0] for c in head), min(c[1] for c in head), max(c[2] for c in head), max(c[3] for c in head))
        )
        seat = o.seat.removeprefix(f"{self.seat}/")
        machine = self.machines.get(o.seat, "")
        words = [*wrapped(outlet_words(o.outlet, self.c).text.replace("\u00a0", " "), _WORD, right - left - 1)]
        under = [(w, "face-caption", 400) for w in (*words, self._colour(o)) if w]
        if machine:
            under.append((shortened(machine, _WORD, right - left - 1, 500), "face-label", 500))
        foot = len(under) * _WORD * 1.2 + 1.0
        room = (left + 1.5, bottom + foot + 0.8, right - 1.5, top - 4.0)
        x, y = (room[0] + room[2]) / 2, (room[1] + room[3]) / 2
        w, h = map(self.sheet.length, made_size(o.outlet, self.c))
        if room[2] - room[0] > room[3] - room[1]:
            w, h = h, w
        shrink = min(1.0, (room[2] - room[0]) / w, (room[3] - room[1]) / h)
        w, h = w * shrink, h * shrink
        shapes: list[Shape] = [Polygon(corners, "aperture", o.seat)]
        shapes.append(Text((x, top - 2.9), seat, _SEAT, "face-label", o.seat, "middle", 600))
        shapes += outlet_face(o.outlet, (x - w / 2, y - h / 2, x + w / 2, y + h / 2), o.seat, self.c)
        for n, (text, role, weight) in enumerate(reversed(under)):
            shapes.append(Text((x, bottom + 1.0 + n * _WORD * 1.2), text, _WORD, role, o.seat, "middle", weight))
        return self._group(shapes, o.seat, "outlet", f"{o.seat}, {outlet_words(o.outlet, self.c).text}")

    def _colour(self, o: OnFace) -> str:
        volts = exact(held(o.outlet, "voltage_v", self.c))
        if exact(held(o.outlet, "outlet", self.c)) != "60309":
            return ""
        return f"{colour_word(o.outlet, self.c)} {volts:g} V" if isinstance(volts, int | float) else "? V"

    def _spare_aperture(self, n: int, cell: Box) -> Group:
        box = self.box(cell)
        x, y = (box[0] + box[2]) / 2, (box[1] + box[3]) / 2
        return Group(
            (
                box_polygon(box, "aperture-spare"),
                Text((x, box[3] - 2.9), f"face/{n}", _SEAT, "caption", "", "middle", 500),
                Text((x, y - 0.7), "spare", _WORD, "caption", "", "middle"),
            ),
            f"{self.seat}/face/{n}", "spare", f"aperture {n}, spare",
        )  # fmt: skip

    # ---- beside it ----

    def _dimensions(self, case: Box) -> list[Shape]:
        left, bottom, right, top = case
        low, out = bottom - 5.5, left - 5.5
        shapes: list[Shape] = [
            Line((left, low), (right, low), "dimension"),
            Line((out, bottom), (out, top), "dimension"),
        ]
        for x, y in ((left, low), (right, low), (out, bottom), (out, top)):
            shapes.append(Line((x - 0.8, y - 0.8), (x + 0.8, y + 0.8), "opening"))
        for x in (left, right):
            shapes.append(Line((x, low - 1.2), (x, bottom - 1.0), "dimension"))
        for y in (bottom, top):
            shapes.append(Line((out - 1.2, y), (left - 1.0, y), "dimension"))
        depth = exact(held(self.piece, "depth_mm", self.c))
        deep = f", {depth:g} mm deep" if isinstance(depth, int | float) else ""
        middle: XY = ((left + right) / 2, low - 3.4)
        shapes += [
            Text(middle, f"{self.lay.width:g} mm{deep}", _SEAT, "caption", anchor="middle"),
            Text((out - 1.0, (bottom + top) / 2), f"{self.lay.height:g} mm", _SEAT, "caption", anchor="middle",
                 turn_deg=90),
            Text((left, top + 2.2), f"{self.seat}", 3.2, "title", weight=600),
        ]  # fmt: skip
        name = text_width(self.seat, 3.2, 600)
        shapes.append(Text((left + name + 2.2, top + 2.2), f"front, cover off   1:{self.scale:g}", _SEAT, "note"))
        return [Group(tuple(shapes), role="dimensions", name="outer dimensions")]
