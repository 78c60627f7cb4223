"""Walls, places on them, and what is said of points and polygons that cannot be."""

import math
import re

import pytest

from relet.errors import InputError
from relet.model import Map, Opening, Post, Space, Zone
from relet.space import (
    area_mistake,
    governing_zone,
    inside,
    nearest_wall,
    on_wall,
    outside,
    space_mistakes,
    walls,
    zones_at,
)

HALL = Space(outline_m=((0, 0), (12, 0), (12, 8), (0, 8)), ceiling_m=4.2)
L_SHAPE = Space(outline_m=((0, 0), (10, 0), (10, 4), (4, 4), (4, 9), (0, 9)), ceiling_m=4.0)


def test_a_rectangle_has_four_walls_measured_from_west_and_south():
    w = walls(HALL)
    assert set(w) == {"north", "east", "south", "west"}
    assert (w["north"].start, w["north"].end, w["north"].length_m) == ((0, 8), (12, 8), 12)
    assert (w["east"].start, w["east"].end) == ((12, 0), (12, 8))
    assert w["north"].inward == (0, -1)
    assert w["west"].inward == (1, 0)


@pytest.mark.parametrize("outline", [HALL.outline_m, HALL.outline_m[::-1], (*HALL.outline_m, (0, 0))])
def test_the_sense_in_which_the_outline_is_written_does_not_matter(outline):
    assert walls(Space(outline_m=outline, ceiling_m=4)) == walls(HALL)


def test_walls_that_face_one_way_are_numbered_along_the_outline():
    w = walls(L_SHAPE)
    assert set(w) == {"north", "north2", "east", "east2", "south", "west"}
    assert w["north"].start == (4, 4)  # met first when the outline is read
    assert w["north2"].start == (0, 9)
    assert w["east"].start == (10, 0)
    assert (w["east2"].start, w["east2"].inward) == ((4, 4), (-1, 0))


def test_a_point_in_the_middle_of_a_wall_makes_no_new_wall():
    split = Space(outline_m=((6, 0), (12, 0), (12, 8), (7, 8), (0, 8), (0, 0)), ceiling_m=4)
    assert walls(split) == walls(HALL)


def test_a_slanted_wall_is_named_by_the_way_it_mostly_faces():
    w = walls(Space(outline_m=((0, 0), (10, 0), (10, 6), (0, 9)), ceiling_m=4))
    assert w["north"].length_m == pytest.approx(math.hypot(10, 3))
    assert w["north"].start == (0, 9)
    assert w["north"].off((5, 7.5)) == pytest.approx(0)
    assert w["north"].off((5, 0)) > 0


def test_on_wall_and_its_errors():
    assert on_wall(HALL, "east", 2.5) == (12, 2.5)
    with pytest.raises(InputError, match=r'no wall "nroth".*Nearest: north'):
        on_wall(HALL, "nroth", 1)
    with pytest.raises(InputError, match=r"12.5 m along the north wall is past its end\. It is 0 to 12 m long"):
        on_wall(HALL, "north", 12.5)
    with pytest.raises(InputError):
        on_wall(HALL, "north", -0.1)


def test_nearest_wall():
    spot = nearest_wall(HALL, (0.3, 5))
    assert (spot.wall, spot.along_m, spot.at_m) == ("west", 5, (0, 5))
    assert spot.distance_m == pytest.approx(0.3)
    assert nearest_wall(L_SHAPE, (3.9, 6)).wall == "east2"


@pytest.mark.parametrize(
    ("point", "says"),
    [
        ((13.1, 0.7), "lies 1.1 m outside the east wall"),
        ((5, -0.25), "lies 0.2 m outside the south wall"),
        ((13.1, 8.5), "lies 1.2 m outside the east wall"),
        ((-0.04, 3), "lies 0.04 m outside the west wall"),
    ],
)
def test_a_point_outside_says_how_far_and_past_which_wall(point, says):
    assert str(outside(HALL, point)) == says


def test_a_point_in_the_notch_of_an_l_is_outside():
    assert str(outside(L_SHAPE, (5, 7))) == "lies 1.0 m outside the east2 wall"
    assert inside(L_SHAPE, (4, 7))
    assert outside(HALL, (12, 8)) is None


@pytest.mark.parametrize(
    ("area", "says"),
    [
        (((0, 0), (1, 1)), "at least 3"),
        (((0, 0), (4, 4), (4, 0), (0, 4)), r"crosses or touches itself at \[2, 2\]"),
        (((0, 0), (1, 1), (2, 2)), "one line"),
        (((0, 0), (math.inf, 0), (1, 1)), "finite"),
    ],
)
def test_polygons_that_cannot_be(area, says):
    assert re.search(says, area_mistake(area) or "")


def test_every_mistake_of_a_space_is_listed_with_its_place():
    space = Space(
        outline_m=HALL.outline_m,
        ceiling_m=3.0,
        openings=Map(
            {
                "a": Opening(id="a", wall="nord", from_m=0, to_m=1, height_m=2),
                "b": Opening(id="b", wall="east", from_m=7, to_m=9, height_m=3.5),
                "c": Opening(id="c", wall="south", from_m=3, to_m=3, height_m=2),
            }
        ),
        zones=Map({"z": Zone(id="z", kind="paint", area_m=((20, 0), (21, 0), (21, 1)))}),
        posts=Map({"p": Post(id="p", at_m=(6, 9))}),
    )
    assert [m.place for m in space_mistakes(space)] == [
        "openings.a.wall", "openings.b.to_m", "openings.b.height_m", "openings.c.to_m", "zones.z.area_m",
        "posts.p.at_m",
    ]  # fmt: skip
    assert "lies 1.0 m outside the north wall" in space_mistakes(space)[-1].what
    assert space_mistakes(HALL) == ()
    crossed = Space(outline_m=((0, 0), (4, 4), (4, 0), (0, 4)), ceiling_m=3)
    assert [m.place for m in space_mistakes(crossed)] == ["unit.outline_m"]


def test_the_worst_of_overlapping_zones_governs_and_an_unranked_kind_is_worst():
    square = ((0, 0), (4, 0), (4, 4), (0, 4))
    space = Space(
        outline_m=HALL.outline_m,
        ceiling_m=4,
        zones=Map(
            {
                "aisle": Zone(id="aisle", kind="", area_m=square, keep_clear=True),
                "dust": Zone(id="dust", kind="dry_dust", area_m=square),
                "wash": Zone(id="wash", kind="hosed", area_m=((2, 2), (6, 2), (6, 6), (2, 6))),
            }
        ),
    )
    rank = {"dry_dust": 1.0, "hosed": 5.0}
    assert zones_at(space, (3, 3)) == ("dust", "wash")
    assert governing_zone(space, (3, 3), rank) == "wash"
    assert governing_zone(space, (1, 1), rank) == "dust"
    assert governing_zone(space, (3, 3), {"hosed": 5.0}) == "dust"
    assert governing_zone(space, (10, 7), rank) is None
