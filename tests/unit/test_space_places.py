"""Candidate places, why one is blocked, clearances and heights."""

import pytest

from relet.model import Map, Opening, Post, Space, Zone
from relet.space import (
    Item,
    PlaceRules,
    Spot,
    candidate_places,
    clearance_m,
    clearances,
    heights,
    nearest,
    place_at,
    why_blocked,
)
from relet.working import fact

ROOM = Space(
    outline_m=((0, 0), (18, 0), (18, 12), (0, 12)),
    ceiling_m=5,
    openings=Map(
        {
            "roller": Opening(id="roller", wall="south", from_m=6, to_m=10, height_m=3.5),
            "door": Opening(id="door", wall="east", from_m=1, to_m=2, height_m=2.1, escape=True),
        }
    ),
    zones=Map(
        {
            "aisle": Zone(id="aisle", kind="", keep_clear=True, area_m=((6, 0), (10, 0), (10, 12), (6, 12))),
            "booth": Zone(id="booth", kind="paint", area_m=((14, 8), (18, 8), (18, 12), (14, 12))),
            "wash": Zone(id="wash", kind="hosed", area_m=((0, 3), (4, 3), (4, 6), (0, 6))),
        }
    ),
    posts=Map({"c1": Post(id="c1", at_m=(4.5, 6)), "hook": Post(id="hook", at_m=(8, 6), kind="pendant")}),
)
BOARDS = {"DB1": (0.1, 11.0)}
RULES = PlaceRules(unresolved=("paint",), forbid=(("south", "let for racking"), ("west-1.5", "pipe")))


def mm(value: float, name: str = "d"):
    return fact(f"t.{name}", value, "mm", "declared", name=name)


def m(value: float, name: str = "h"):
    return fact(f"t.{name}", value, "m", "declared", name=name)


def item(path: str, at, width: float = 0.5, depth: float = 0.25) -> Item:
    return Item(Spot(path=path, at_m=at, height_m=1.2), m(width, "width"), m(depth, "depth"))


def test_every_wall_is_offered_at_the_pitch_and_every_post():
    places = candidate_places(ROOM, BOARDS, RULES)
    assert len(places) == 18 + 12 + 18 + 12 + 2
    by = {p.id: p for p in places}
    assert by["north-3.5"].at_m == (3.5, 12)
    assert (by["east-0.5"].on, by["east-0.5"].along_m, by["c1"].kind, by["hook"].kind) == (
        "east",
        0.5,
        "column",
        "pendant",
    )
    assert len(candidate_places(ROOM, {}, PlaceRules(pitch_m=0.5))) == 120 + 2


@pytest.mark.parametrize(
    ("id", "why"),
    [
        ("east-3.5", ""),
        ("east-2.5", "too near the opening door: 0.25 m, 0.3 m asked"),  # edge at 2.25, jamb at 2.0
        ("east-1.5", "too near the opening door: 0 m, 0.3 m asked"),
        ("north-7.5", "stands in aisle, which is kept clear"),
        ("hook", "stands in aisle, which is kept clear"),
        ("c1", ""),
        ("north-15.5", "in or beside booth (paint): nothing is placed there until a specialist has answered"),
        ("north-14.5", "in or beside booth (paint): nothing is placed there until a specialist has answered"),
        ("north-13.5", ""),
        ("west-11.5", "in the working space before DB1"),
        ("west-10.5", "in the working space before DB1"),  # 10.25..10.75 meets 10.5..11.5
        ("west-9.5", ""),
        ("west-4.5", ""),  # a wet zone bars no place: its enclosure is chosen for it
        ("west-1.5", "pipe"),
        ("south-2.5", "let for racking"),
    ],
)
def test_why_a_place_is_blocked(id, why):
    assert {p.id: p.blocked for p in candidate_places(ROOM, BOARDS, RULES)}[id] == why


def test_beside_an_opening_escape_asks_more():
    plain = PlaceRules(opening_clear_m=0.2)
    assert why_blocked(ROOM, (5.5, 0), {}, plain) == ""  # edge at 5.75, jamb at 6
    assert "roller" in why_blocked(ROOM, (5.5, 0), {}, PlaceRules(opening_clear_m=0.3))


def test_a_place_of_ones_own_is_judged_alike():
    assert place_at(ROOM, "A1", (0.0, 8.0), BOARDS, RULES).blocked == ""
    assert place_at(ROOM, "A1", (4.5, 6.0), BOARDS, RULES).on == "c1"
    assert "off the west wall" in place_at(ROOM, "A1", (2.0, 8.0), BOARDS, RULES).blocked
    assert "too near the end" in place_at(ROOM, "A1", (0.0, 0.2), BOARDS, RULES).blocked


def test_a_short_wall_gets_its_middle():
    notch = Space(outline_m=((0, 0), (9, 0), (9, 5), (8.2, 5), (8.2, 6), (0, 6)), ceiling_m=4)
    assert "north-0.4" in {p.id for p in candidate_places(notch, {})}


def test_clearances_are_measured_edge_to_edge():
    one = item("design.t.assemblies.A1", (18.0, 4.0))  # covers 3.75..4.25 on the east wall
    other = item("design.t.assemblies.A2", (18.0, 5.5))
    board = item("standing.boards.DB1", (18.0, 6.5), width=0.6)
    found = clearances(
        ROOM, one, boards=[board], board_working_m=m(1.0, "working"), wet=("hosed",), water={"tap": (18.0, 4.5)},
        others=[one, other],
    )  # fmt: skip
    gaps = {(c.kind, c.to): float(c.gap_m) for c in found}
    assert gaps["opening", "door"] == pytest.approx(1.75)
    assert gaps["assembly", "A2"] == pytest.approx(1.0)
    assert gaps["board", "DB1"] == pytest.approx(6.2 - 4.25)
    assert gaps["water", "tap"] == pytest.approx(0.25)
    assert gaps["wet", "wash"] == pytest.approx(17.75 - 4)
    assert gaps["edge", "south end of the east wall"] == pytest.approx(3.75)
    assert ("assembly", "A1") not in gaps
    assert [float(c.gap_m) for c in found] == sorted(float(c.gap_m) for c in found)
    least = nearest(found)
    assert least is not None
    assert least.to == "tap"
    near = clearance_m(ROOM, one, "opening")
    assert near is not None
    assert near.to == "door"
    assert near.gap_m.unit == "m"
    assert clearance_m(ROOM, one, "assembly") is None


def test_inside_a_wet_zone_the_gap_is_nothing():
    near = clearance_m(ROOM, item("x.A1", (0.0, 4.0)), "wet", wet=("hosed",))
    assert near is not None
    assert float(near.gap_m) == 0.0


def test_the_working_space_is_deep_as_well_as_wide():
    # a column 0.9 m before the board is in its working space; 1.7 m before it is 0.2 m past the edge of it
    board = item("standing.boards.DB1", (0.0, 6.0), width=0.6, depth=0.25)
    room = Space(outline_m=ROOM.outline_m, ceiling_m=5)
    for x, gap in ((0.9, 0.0), (1.7, 1.7 - 0.25 - 1.25)):
        got = clearance_m(room, item("x.A1", (x, 6.0)), "board", boards=[board], board_working_m=m(1.0))
        assert got is not None
        assert float(got.gap_m) == pytest.approx(gap)


def test_heights():
    h = heights(m(1.2), mm(600), mm(-200), [mm(150), mm(-150)])
    assert float(h.low_m) == pytest.approx(0.9)
    assert float(h.high_m) == pytest.approx(1.5)
    assert h.handle_m is not None
    assert float(h.handle_m) == pytest.approx(1.0)
    assert [float(o) for o in h.outlets_m] == pytest.approx([1.35, 1.05])
    assert heights(m(1.2), mm(600)).handle_m is None
    with pytest.raises(TypeError):
        heights(m(1.2), m(0.6))
