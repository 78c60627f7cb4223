"""Drawings: what is on them, where, and in which words; shapes are looked at before any ink."""

from __future__ import annotations

import math
import re
import xml.etree.ElementTree as ET
from itertools import combinations

import msgspec
import pytest
from drawing_sample import catalogue, installation, tenancy, unit, use

from relet.drawing import Drawing, TitleBlock, face, page_css, plan, single_line, single_line_sheets, svg
from relet.drawing.fonts import font_files, shortened, text_width, wrapped
from relet.drawing.ink import INKS
from relet.drawing.shapes import Box, Circle, Group, Line, Polygon, Polyline, Sheet, Text, bounds, flat, text_box
from relet.drawing.svg import Palette
from relet.errors import InputError
from relet.model import Map, Outlet, Seat, Space

C = catalogue()


def busy_plan(paper: str = "A3", **more: object) -> Drawing:
    """14 machines and 8 assemblies."""
    return plan(unit(), installation(True), use(True), tenancy(True), C, paper=paper, **more)  # type: ignore[arg-type]


def drawings() -> dict[str, Drawing]:
    i, u, t = installation(True), use(True), tenancy(True)
    out = {
        "plan A4": busy_plan("A4"),
        "plan A3": busy_plan("A3"),
        "plan fit": busy_plan("fit"),
        "marked": busy_plan("A3", verdicts={"A1": "fails", "R1": "depends", "A3": "meets"}, differs={"A6": "added"}),
        "single": single_line(i, u, unit(), C, t),
        **{f"A4 sheet {n}": d for n, d in enumerate(single_line_sheets(i, u, unit(), C, t, paper="A4"))},
        **{f"A3 sheet {n}": d for n, d in enumerate(single_line_sheets(i, u, unit(), C, t, paper="A3"))},
    }
    return out | {f"face {a}": face(a, i, C, u, t) for a in i.assemblies}


DRAWINGS = drawings()


def over(a: Box, b: Box, by: float = 0.05) -> bool:
    return a[0] < b[2] - by and a[2] > b[0] + by and a[1] < b[3] - by and a[3] > b[1] + by


@pytest.mark.parametrize("name", DRAWINGS)
def test_no_word_lies_on_another(name: str) -> None:
    texts = [t for t in DRAWINGS[name].texts() if t.text]
    clashes = [(a.text, b.text) for a, b in combinations(texts, 2) if over(text_box(a), text_box(b))]
    assert not clashes


@pytest.mark.parametrize("name", DRAWINGS)
def test_nothing_is_cut_off_by_the_sheet(name: str) -> None:
    d = DRAWINGS[name]
    left, bottom, right, top = bounds(*d.shapes)
    assert left >= 0 and bottom >= 0 and right <= d.sheet.width and top <= d.sheet.height


@pytest.mark.parametrize("name", DRAWINGS)
def test_every_role_has_an_ink_and_both_palettes_are_whole_xml(name: str) -> None:
    d = DRAWINGS[name]
    assert {s.role for s in d.flat()} <= set(INKS)
    palettes: tuple[Palette, ...] = ("paper", "page")
    for palette in palettes:
        root = ET.fromstring(svg(d, palette))
        ids = [e.get("id") for e in root.iter() if e.get("id")]
        assert len(ids) == len(set(ids))
        labelled = (root.get("aria-labelledby") or "").split()
        assert len(labelled) == 2 and set(labelled) <= set(ids)


def test_machine_labels_lie_on_no_machine_but_their_own() -> None:
    d = DRAWINGS["plan A3"]
    machines = {g.of: g for g in d.things().values() if g.role == "machine"}
    assert len(machines) == 14
    for of, g in machines.items():
        words = [text_box(s) for s in g.shapes if isinstance(s, Text)]
        assert words
        for other, h in machines.items():
            body = bounds(h.shapes[0])
            assert other == of or not any(over(w, body) for w in words), (of, other)


def test_the_plan_is_true_to_its_scale() -> None:
    """18 m at the scale of the sheet, between the inner faces of the walls and along the scale bar."""
    for name in ("plan A3", "plan A4", "plan fit"):
        d = DRAWINGS[name]
        s = d.sheet
        assert s.scale is not None
        a, b = s.on_paper((0, 0)), s.on_paper((18, 12))
        assert b[0] - a[0] == pytest.approx(18_000 / s.scale) and b[1] - a[1] == pytest.approx(12_000 / s.scale)
        bar = next(g for g in d.shapes if isinstance(g, Group) and g.role == "scale-bar")
        cells = [x for x in bar.shapes if isinstance(x, Polygon)]
        marks = [float(re.sub("[^0-9.]", "", x.text)) for x in bar.shapes if isinstance(x, Text)]
        left, _, right, _ = bounds(*cells)
        assert (right - left) * s.scale / 1000 == pytest.approx(max(marks))


def test_walls_leave_openings_free() -> None:
    d = DRAWINGS["plan A3"]
    walls = next(g for g in d.shapes if isinstance(g, Group) and g.role == "walls")
    door = d.sheet.on_paper((9.0, -0.1))  # in the middle of the roller door
    beside = d.sheet.on_paper((5.0, -0.1))
    assert not any(_holds(p, door) for p in walls.shapes if isinstance(p, Polygon))
    assert any(_holds(p, beside) for p in walls.shapes if isinstance(p, Polygon))


def _holds(p: Polygon, at: tuple[float, float]) -> bool:
    import shapely

    return bool(shapely.Polygon(p.points, p.holes).contains(shapely.Point(at)))


def test_everything_that_stands_is_on_the_plan_by_its_address() -> None:
    d, i = DRAWINGS["plan A3"], installation(True)
    on = set(d.things())
    for seat in (*i.boards, *i.assemblies, *i.taps, "X1", "X2", "supply", *i.containment):
        assert seat in on
    runs = {s for s, r in i.runs.items() if r.to != "lights"}
    assert runs <= on  # the lights have no place of their own, so their run has no way to draw
    assert {f"tenancies.harbour.machines.{m}" for m in tenancy(True).machines} <= on
    assert {"zones.wash", "openings.roller_door"} <= on


def test_a_lead_goes_from_its_machine_to_the_assembly_that_feeds_it() -> None:
    d = DRAWINGS["plan A3"]
    leads = {s.of: s for s in d.flat() if isinstance(s, Polyline) and s.role == "lead"}
    lead = leads["tenancies.harbour.machines.roaster"]
    assert lead.points[0] == d.sheet.on_paper((3.0, 9.4)) and lead.points[-1] == d.sheet.on_paper((5.0, 12.0))


def test_runs_beside_one_another_do_not_lie_on_one_another() -> None:
    d = DRAWINGS["plan A3"]
    runs = {s.of: s.points for s in d.flat() if isinstance(s, Polyline) and s.role in ("run", "tapped-run")}
    levels = sorted(round(max(y for _, y in runs[r]), 2) for r in ("R7",))
    along = {r: {round(p[1], 2) for p in points if p[0] > d.sheet.on_paper((3, 0))[0]} for r, points in runs.items()}
    assert levels[0] not in along["R2"]
    assert along["R2"].isdisjoint({y for y in along["R1"] if y < d.sheet.on_paper((0, 11.7))[1]})


def test_unknown_facts_are_shown_as_options_ranges_and_question_marks() -> None:
    words = " | ".join(t.text.replace("\u00a0", " ") for t in DRAWINGS["single"].texts())
    for expected in ("B or C 63 A 3P", "80 or 100 A", "8 to 11 m", "? m", "4 + ? mm²", "Ze ? Ω", "14 to 22 m"):
        assert expected in words
    doubts = {t.text.replace("\u00a0", " ") for t in DRAWINGS["single"].texts() if t.role == "unknown-text"}
    assert "B or C 63 A 3P" in doubts and "C 63 A 3P" not in doubts


def test_the_single_line_shows_every_device_run_outlet_and_tap_once() -> None:
    i = installation(True)
    for parts in ([DRAWINGS["single"]], [d for n, d in DRAWINGS.items() if n.startswith("A4 sheet")]):
        seen = [g.of for d in parts for g in _cells(d)]
        wanted = [*i.devices, *i.outlets, *(s for s, r in i.runs.items() if not r.tapped)]
        assert sorted(s for s in seen if s in set(wanted)) == sorted(wanted)


def _cells(d: Drawing) -> list[Group]:
    from relet.drawing.shapes import groups

    return [g for g in groups(d.shapes) if g.role in ("device", "run", "outlet", "tap")]


def test_ways_hang_on_the_conductor_that_feeds_them() -> None:
    """The end of every feeding cell is where a cell behind it starts: lines are drawn through, not beside."""
    d = DRAWINGS["single"]
    cells = {g.of: g for g in _cells(d)}
    starts = {of: min(_ends(g)) for of, g in cells.items()}
    for up, down in (("DB1/1", "R1"), ("R1", "A1/incomer"), ("R7/tap/1", "R11"), ("R11", "A3/incomer")):
        assert math.dist(max(_ends(cells[up])), starts[down]) < 1e-6


def _ends(g: Group) -> list[tuple[float, float]]:
    lines = [s for s in flat(g.shapes) if isinstance(s, Line) and s.role == "conductor"]
    return [p for s in lines for p in (s.a, s.b)]


def test_sheets_of_a4_are_a4_and_numbered() -> None:
    sheets = [d for n, d in DRAWINGS.items() if n.startswith("A4 sheet")]
    assert len(sheets) > 1
    for n, d in enumerate(sheets, 1):
        assert (d.sheet.width, d.sheet.height) == (297, 210)
        assert f"{n} of {len(sheets)}" in {t.text for t in d.texts()}


def test_spare_ways_and_unknown_feeds_are_said() -> None:
    i = installation()
    texts = {t.text for t in single_line(i, None, unit(), C).texts()}
    assert "DB1/5 to 8 spare" in texts
    lost = msgspec.structs.replace(i, runs=i.runs.drop(Seat("R2")))
    assert "feed not known" in {t.text for t in single_line(lost, None, unit(), C).texts()}
    assert "feed" not in texts


def test_verdicts_are_a_word_and_a_shape() -> None:
    d = DRAWINGS["marked"]
    a1 = d.things()["A1"]
    assert any(isinstance(s, Group) and s.name == "fails" for s in a1.shapes)
    assert any(isinstance(s, Text) and "fails" in s.text for s in a1.shapes)
    looks = {v: svg(_only(_mark(v)), "paper") for v in ("meets", "fails", "depends", "refer")}
    plain = {re.sub(r'(fill|stroke)="#[0-9a-f]+"|<title.*?</title>|<desc.*?</desc>', "", t) for t in looks.values()}
    assert len(plain) == 4  # told apart without colour


def _only(shape: Group) -> Drawing:
    return Drawing(Sheet(5, 5), (Group(shape.shapes),), "mark")


def _mark(verdict: str) -> Group:
    from relet.drawing.frame import mark

    return mark(verdict, (0, 0))


def test_differences_are_said_and_framed() -> None:
    a6 = DRAWINGS["marked"].things()["A6"]
    assert any(s.role == "added" for s in flat(a6.shapes))
    assert any(isinstance(s, Text) and "added" in s.text for s in a6.shapes)


def test_the_title_block_carries_what_is_handed_in() -> None:
    block = TitleBlock("Unit 7", "everything here is invented", (("state", "draft"), ("scale", "1:60")))
    texts = {t.text for t in busy_plan("A3", block=block).texts()}
    assert {"Unit 7", "everything here is invented", "draft", "state"} <= texts


def test_an_odd_outline_and_an_empty_unit_can_be_drawn() -> None:
    u = unit()
    space = Space(outline_m=((0, 0), (10, 0), (10, 4), (6, 4), (6, 9), (0, 9)), ceiling_m=3.0)
    odd = msgspec.structs.replace(u, space=space)
    d = plan(odd, msgspec.structs.replace(installation(), assemblies=Map(), outlets=Map(), runs=Map(), taps=Map(),
                                          devices=Map(), containment=Map()), None, None, C)  # fmt: skip
    texts = {t.text for t in d.texts()}
    assert {"6.00 m", "4.00 m", "10.00 m", "9.00 m", "5.00 m"} <= texts


# ---- faces ----


def test_a_face_is_to_scale_and_devices_take_their_ways() -> None:
    d = DRAWINGS["face A1"]
    s = d.sheet
    assert s.scale is not None
    case = d.things()["A1"].shapes[0]
    left, bottom, right, top = bounds(case)
    declared = C.parts["enclosure-6-18"].data
    assert (right - left) * s.scale == pytest.approx(declared["width_mm"])
    assert (top - bottom) * s.scale == pytest.approx(declared["height_mm"])
    one, four = (bounds(d.things()[f"A1/{x}"].shapes[0]) for x in ("rail/15", "incomer"))
    assert four[2] - four[0] == pytest.approx(4 * (one[2] - one[0]))


def test_the_earth_contact_stands_at_its_hour() -> None:
    """IEC 60309-2: 6 h for 230 V and 400 V outlets; the earth contact lies below the middle."""
    d = DRAWINGS["face A1"]
    outlet = d.things()["A1/face/1"]
    earth = next(s for s in outlet.shapes if isinstance(s, Circle) and s.role == "pin-earth")
    ring = next(s for s in outlet.shapes if isinstance(s, Circle) and s.role == "socket-red")
    assert earth.centre[0] == pytest.approx(ring.centre[0]) and earth.centre[1] < ring.centre[1]
    pins = [s for s in outlet.shapes if isinstance(s, Circle) and s.role == "pin"]
    assert len(pins) == 5  # four contacts and the middle of the earth contact
    assert any("red 400 V" in t.text for t in d.texts())


def test_what_does_not_fit_is_said() -> None:
    i = installation()
    twice = i.outlets.put(Seat("A1/face/6"), Outlet(part="outlet-1363-twin", behind=Seat("A1/rail/16")))
    d = face(Seat("A1"), msgspec.structs.replace(i, outlets=twice), C)
    assert d.notes == ("A1/face/6 runs past aperture 6",)
    assert any("runs past aperture 6" in t.text for t in d.texts())


def test_no_assembly_there_is_one_clear_error() -> None:
    with pytest.raises(InputError, match=r'"B9" is not an outlet assembly.*A1, A2'):
        face(Seat("B9"), installation(), C)


# ---- ink and font ----


def test_paper_writes_colours_out_and_page_leaves_them_to_variables() -> None:
    d = DRAWINGS["plan fit"]
    paper, page = svg(d, "paper"), svg(d, "page", style=False)
    assert "var(" not in paper and "class=" not in paper and "<style" not in paper
    assert 'stroke="#' not in page and 'class="d-wall"' in page
    assert "prefers-color-scheme:dark" in page_css() and page_css() in svg(d, "page")


def test_things_can_be_found_and_reached() -> None:
    text = svg(DRAWINGS["marked"], "page", id_prefix="p-")
    group = re.search(r'<g id="p-A1" data-of="A1" role="group"[^>]*>\s*<title>([^<]+)</title>', text)
    assert group and group[1].startswith("A1, outlet assembly")


def test_names_are_escaped() -> None:
    text = svg(DRAWINGS["plan A3"], "paper")
    assert "Harbour &amp; Husk" in text and "Harbour & Husk" not in text


def test_the_same_drawing_is_the_same_text() -> None:
    assert svg(busy_plan("A3"), "paper") == svg(busy_plan("A3"), "paper")


def test_text_is_measured_by_the_font_that_ships() -> None:
    assert text_width("00", 10) == pytest.approx(12.0)  # figures of one width, 600 of 1000
    assert text_width("A4", 3.0, 600) > text_width("A4", 3.0, 400)
    assert wrapped("green coffee elevator", 2.4, 12) == ["green", "coffee", "elevator"]
    assert text_width(shortened("a very long name indeed", 2.0, 15), 2.0) <= 15
    assert [f.name for f in font_files("screen")] == ["IBMPlexSans.woff2"]
    assert all(f.is_file() for use in ("paper", "screen", "licence") for f in font_files(use))
    assert "SIL OPEN FONT LICENSE" in font_files("licence")[0].read_text("utf-8")


def test_a_route_of_one_point_twice_is_drawn_along_the_walls() -> None:
    i = installation(True)
    run = msgspec.structs.replace(i.runs[Seat("R1")], route_m=((1.0, 1.0), (1.0, 1.0)))
    runs = Map({**i.runs, Seat("R1"): run})
    drawn = plan(unit(), msgspec.structs.replace(i, runs=runs), use(True), tenancy(True), C)
    assert any(t.text.startswith("R1") for t in drawn.texts())


def test_an_assembly_without_apertures_has_a_front() -> None:
    i = installation(True)
    seat, piece = next(iter(i.assemblies.items()))
    data = {**C.parts[piece.part].data, "apertures": 0}
    parts = Map({**C.parts, piece.part: msgspec.structs.replace(C.parts[piece.part], data=Map(data))})
    outlets = Map({s: o for s, o in i.outlets.items() if not s.startswith(f"{seat}/")})
    drawn = face(seat, msgspec.structs.replace(i, outlets=outlets), msgspec.structs.replace(C, parts=parts))
    assert "face/1" not in {t.text for t in drawn.texts()}


@pytest.mark.parametrize("room_mm", [(72.0, 76.0), (150.0, 172.0)])
def test_a_front_keeps_to_its_room_at_the_scale_it_states(room_mm: tuple[float, float]) -> None:
    i = installation(True)
    for seat in i.assemblies:
        d = face(seat, i, C, use(True), tenancy(True), room_mm=room_mm)
        (case,) = (s for s in flat(d.shapes) if isinstance(s, Polygon) and s.role == "case")
        left, bottom, right, top = bounds(case)
        assert right - left <= room_mm[0] and top - bottom <= room_mm[1]
        assert any(t.text.endswith(f"1:{d.sheet.scale:g}") for t in d.texts())
