"""The plan of a unit to scale: room, zones, machines, what is on the walls, ways of runs and leads, labels."""

from __future__ import annotations

from collections.abc import Collection, Mapping
from typing import get_args

from relet.drawing.fonts import wrapped
from relet.drawing.frame import BLOCK_MM, CHANGES, MARK_MM, Paper, TitleBlock, change_outline, mark
from relet.drawing.labels import Labels, Row, block_size, leader, set_rows
from relet.drawing.plan_lines import label_spot
from relet.drawing.plan_room import (
    is_overhead,
    is_window,
    opening_shapes,
    post_shapes,
    wall_shapes,
    zone_shapes,
    zone_words,
)
from relet.drawing.plan_sheet import fitted, furniture
from relet.drawing.plan_things import (
    Letters,
    Thing,
    assembly_thing,
    board_thing,
    label_rows,
    machine_thing,
    outlet_thing,
    outward_sides,
    supply_thing,
    tap_thing,
)
from relet.drawing.plan_wires import containment_groups, lead_groups, wires
from relet.drawing.shapes import Drawing, Group, Polyline, Shape, around, bounds, box_polygon
from relet.drawing.sizes import size
from relet.drawing.wording import assumed, power_words, run_words, say
from relet.electrical.topology import holder
from relet.model import Catalogue, Installation, Tenancy, Unit, Use
from relet.space import wall_named


def plan(
    unit: Unit,
    installation: Installation,
    use: Use | None,
    tenancy: Tenancy | None,
    catalogue: Catalogue,
    *,
    paper: Paper = "fit",
    block: TitleBlock | None = None,
    verdicts: Mapping[str, str] | None = None,
    differs: Mapping[str, str] | Collection[str] = (),
) -> Drawing:
    """A plan to scale.

    paper     "A3" or "A4" landscape with frame and title block; "fit" cut close to the plan, for a page
    block     title block, with a paper; left out, the names of unit and tenancy stand there
    verdicts  seat or address -> verdict to mark beside it (a shape and the word)
    differs   what differs between two installations: seat -> "added", "removed" or "changed", or a set of seats
    """
    return _Plan(unit, installation, use, tenancy, catalogue, paper, block, verdicts or {}, differs).drawn()


class _Plan:
    def __init__(
        self, unit: Unit, i: Installation, use: Use | None, tenancy: Tenancy | None, catalogue: Catalogue, paper: Paper,
        block: TitleBlock | None, verdicts: Mapping[str, str], differs: Mapping[str, str] | Collection[str],
    ) -> None:  # fmt: skip
        assert paper in get_args(Paper)
        self.unit, self.i, self.use, self.tenancy, self.catalogue = unit, i, use, tenancy, catalogue
        self.paper, self.block, self.verdicts = paper, block, verdicts
        self.differs = dict(differs) if isinstance(differs, Mapping) else dict.fromkeys(differs, "changed")
        self.sheet = fitted(unit, paper)
        # letters in mm: a bigger sheet is read from further away
        self.letters = Letters(2.5, 3.0, 3.7) if paper == "A3" else Letters(2.1, 2.5, 3.1)
        left, bottom, right, top = self.sheet.inner
        self.labels = Labels((left + 1, bottom + (0 if paper == "fit" else BLOCK_MM) + 1, right - 1, top - 1))
        self.things: dict[str, Thing] = {}
        self.wires = wires(unit, i, use, tenancy, catalogue, self.sheet)

    def drawn(self) -> Drawing:
        room = self._room()
        self._stand()
        foot = self._furniture()
        machines = [t for t in self.things.values() if t.of.startswith("tenancies.")]
        fixed = [t for t in self.things.values() if not t.of.startswith("tenancies.")]
        for points in (*self.wires.runs.values(), *self.wires.leads.values()):
            self.labels.prefer_off(points)
        for t in fixed:
            self._label(t, label_rows(t, self.unit, self.i, self.catalogue, self.letters))
        for t in machines:
            self._machine_label(t)
        runs = self._run_groups()
        zones = self._zones()
        self._opening_labels(room)
        things = [
            *(self._group(t, "machine") for t in machines),
            *(self._group(t, "piece") for t in fixed),
        ]
        shapes = [
            *zones,
            *room,
            *containment_groups(self.i, self.sheet),
            *runs,
            *lead_groups(self.wires, self.tenancy),
            *things,
            *foot,
        ]
        name = self.unit.name + (f", {self.tenancy.name}" if self.tenancy else "")
        desc = (
            f"Plan of {name}, scale 1:{self.sheet.scale:g}, north up. "
            f"{len(self.i.assemblies)} outlet assemblies, {len(self.i.boards)} boards, {len(machines)} machines."
        )
        return Drawing(self.sheet, tuple(shapes), f"Plan of {name}", desc, "plan")

    # ---- room ----

    def _room(self) -> list[Shape]:
        s, space = self.sheet, self.unit.space
        walls = wall_shapes(space, s)
        for shape in walls:
            self._keep_off_wall(shape)
        out: list[Shape] = [Group(tuple(walls), role="walls", name="walls")]
        for id, opening in space.openings.items():
            shapes = opening_shapes(space, opening, s)
            self.labels.keep_off(bounds(*shapes))
            name = id.replace("_", " ") + (", escape" if opening.escape else "")
            out.append(Group(tuple(shapes), f"openings.{id}", "opening", name))
        for id, post in space.posts.items():
            shapes = post_shapes(post, s)
            self.labels.keep_off(bounds(*shapes))
            out.append(Group(tuple(shapes), f"posts.{id}", "post", f"{post.kind} {id}"))
        return out

    def _keep_off_wall(self, shape: Shape) -> None:
        """Walls as boxes, stretch by stretch."""
        thick = self.sheet.length(size("wall_m"))
        points = [self.sheet.on_paper(p) for p in self.unit.space.outline_m]
        for a, b in zip(points, [*points[1:], points[0]]):
            left, bottom, right, top = around((a, b))
            self.labels.keep_off((left - thick, bottom - thick, right + thick, top + thick))
            if abs(a[0] - b[0]) > thick and abs(a[1] - b[1]) > thick:
                self.labels.taken.pop()  # a slanting wall: no box of its own

    def _furniture(self) -> list[Shape]:
        s, i = self.sheet, self.i
        name = self.tenancy.name if self.tenancy else "as it stands"
        block = self.block or TitleBlock(f"{self.unit.name}, plan", name, (("scale", f"1:{s.scale:g}"),))
        held = {
            "assembly": i.assemblies, "board": i.boards, "outlet": any(o.at_m for o in i.outlets.values()),
            "run": any(not r.tapped for r in i.runs.values()), "tapped-run": any(r.tapped for r in i.runs.values()),
            "tap": i.taps, "lead": self.wires.leads, "containment": i.containment,
        }  # fmt: skip
        out = furniture(self.unit, s, self.paper, block, tuple(k for k, some in held.items() if some))
        for shape in out:
            if not (isinstance(shape, Group) and shape.role == "frame"):
                for one in shape.shapes if isinstance(shape, Group) and shape.role == "dimensions" else (shape,):
                    if not isinstance(one, Group) or one.shapes:
                        self.labels.keep_off(bounds(one))
        return out

    def _zones(self) -> list[Shape]:
        out: list[Shape] = []
        for id, zone in self.unit.space.zones.items():
            shapes = zone_shapes(self.unit.space, zone, self.sheet)
            if not shapes:
                continue
            words, refer = zone_words(zone)
            box = bounds(shapes[-1])
            rows = [
                Row(t, self.letters.name, "zone-name", 500)
                for t in wrapped(words, self.letters.name, max(24.0, min(box[2] - box[0] - 5, 46.0)), 500)
            ]
            if refer:
                rows.append(Row("refer to a specialist", self.letters.small, "warning-text", 500))
            place = self.labels.place_in(*block_size(rows), box)
            shapes += set_rows(rows, place, "start", f"zones.{id}")
            out.append(Group(tuple(shapes), f"zones.{id}", "zone", f"zone {id.replace('_', ' ')}: {words}"))
        return out

    def _opening_labels(self, room: list[Shape]) -> None:
        for n, shape in enumerate(room):
            if not (isinstance(shape, Group) and shape.role == "opening"):
                continue
            o = self.unit.space.openings[shape.of.removeprefix("openings.")]
            kind = "window" if is_window(o) else "roller door" if is_overhead(o) and "roller" in o.id else ""
            rows = [Row(kind or o.id.replace("_", " "), self.letters.small, "caption")]
            if o.escape:
                rows[0] = Row(rows[0].text + ", escape", self.letters.small, "caption", 500)
            sides = outward_sides(wall_named(self.unit.space, o.wall).inward, False)
            box, align = self.labels.place(*block_size(rows), bounds(shape), sides)
            texts = set_rows(rows, box, align, shape.of)
            room[n] = Group((*shape.shapes, *texts), shape.of, shape.role, shape.name)

    # ---- things ----

    def _stand(self) -> None:
        space, s, i, c = self.unit.space, self.sheet, self.i, self.catalogue
        if self.tenancy is not None:
            for m in self.tenancy.machines.values():
                self._add(machine_thing(m, self.tenancy.id, space, s))
        self._add(supply_thing(self.unit.supply, space, s))
        for seat, b in i.boards.items():
            self._add(board_thing(seat, b, space, s, c))
        for seat, a in i.assemblies.items():
            self._add(assembly_thing(seat, a, space, s, c))
        for seat, o in i.outlets.items():
            if o.at_m is not None and holder(seat) not in i.assemblies:
                self._add(outlet_thing(seat, o, o.at_m, space, s, c))
        for tap, at in self.wires.taps.items():
            self._add(tap_thing(tap, at))

    def _add(self, thing: Thing) -> None:
        self.things[thing.of] = thing
        left, bottom, right, top = thing.box
        rim = 1.6 if thing.of in self.differs else 0.0
        self.labels.keep_off((left - rim, bottom - rim, right + rim, top + rim))

    def _label(self, t: Thing, rows: list[Row], sides: str = "") -> None:
        """Label of a thing, with the mark of its verdict before it and the word of its change behind."""
        verdict, change = self.verdicts.get(t.of, ""), self.differs.get(t.of, "")
        indent = MARK_MM + 0.9 if verdict else 0.0
        tail = "  ".join(w for w in (verdict, change) if w)
        if tail:
            first = rows[0]
            rows = [Row(f"{first.text}  {tail}", first.size, first.role, first.weight, first.italic), *rows[1:]]
        box, align = self.labels.place(*block_size(rows, indent), t.box, sides or t.sides)
        texts = set_rows(rows, box, align, t.of, indent)
        t.extra += texts
        t.extra += leader(box, t.box, t.of)
        if verdict:
            first_left = bounds(texts[0])[0]
            t.extra.append(mark(verdict, (first_left - indent, texts[0].at[1] - 0.2), t.of))

    def _machine_label(self, t: Thing) -> None:
        assert self.tenancy is not None
        m = self.tenancy.machines[t.of.rsplit(".", 1)[1]]
        power = power_words(m)
        phases = m.facts.get("phases")
        count = say(phases.holds, "ph").text if phases else ""
        small = Row(
            f"{power.text} {count}".strip(), self.letters.small, "unknown-text" if power.doubt else "caption",
            italic=assumed(m, "power_w", "shaft_kw"),
        )  # fmt: skip
        left, bottom, right, top = t.box
        for letters in (self.letters.name, self.letters.name * 0.87):
            lines = wrapped(m.name, letters, max(right - left - 1.6, 9.0), 500)
            rows = [*(Row(line, letters, "label", 500) for line in lines), small]
            w, h = block_size(rows)
            marked = t.of in self.verdicts or t.of in self.differs
            if not marked and w <= right - left - 1.0 and h <= top - bottom - 0.6:
                middle = ((bottom + top) + h) / 2
                t.extra += set_rows(rows, (left, middle - h, right, middle), "middle", t.of)
                return
        rows = [
            *(Row(line, self.letters.name, "label", 500) for line in wrapped(m.name, self.letters.name, 26, 500)),
            small,
        ]
        self._label(t, rows, "nsew")

    def _group(self, t: Thing, role: str) -> Group:
        shapes = list(t.shapes)
        if t.of in self.differs:
            shapes += change_outline(t.box, self.differs[t.of], t.of)
        left, bottom, right, top = t.box
        shapes.append(box_polygon((left - 0.8, bottom - 0.8, right + 0.8, top + 0.8), "target", t.of))
        desc = ". ".join(w for w in (t.desc, self.verdicts.get(t.of, ""), self.differs.get(t.of, "")) if w)
        return Group((*shapes, *t.extra), t.of, role, t.name, desc)

    # ---- runs and leads ----

    def _run_groups(self) -> list[Group]:
        groups: list[Group] = []
        for seat in sorted(self.wires.runs, key=lambda s: self.i.runs[s].tapped):
            run, points = self.i.runs[seat], self.wires.runs[seat]
            conductors, length = run_words(run, self.catalogue)
            role = "tapped-run" if run.tapped else "drop" if run.from_ in self.i.taps else "run"
            shapes: list[Shape] = [Polyline(points, role, seat, round_mm=1.6)]
            verdict, change = self.verdicts.get(seat, ""), self.differs.get(seat, "")
            if verdict or change or role != "drop":
                near, flat = label_spot(points)
                thing = Thing(seat, seat, [], near, "sn" if flat else "ew")
                role_of = "unknown-text" if length.doubt else "caption"
                self._label(thing, [Row(f"{seat}  {length.text}", self.letters.small, role_of, 500)])
                shapes += thing.extra
            if change:
                shapes.insert(1, Polyline(points, change if change in CHANGES else "changed", seat, round_mm=1.6))
            words = f"run {seat} from {run.from_} to {run.to}, {conductors.text}, {length.text}"
            groups.append(Group(tuple(shapes), seat, "run", words, ". ".join(w for w in (verdict, change) if w)))
        return groups
