"""The way of a lead, by hand-computed cases."""

import math

import numpy as np
import pytest

from relet.model import Map, Opening, Space, Zone
from relet.space import Bar, Spot, bars, lead_way, lead_way_m, lead_ways_m, vertical_m
from relet.working import fact, leaves, steps

HALL = Space(outline_m=((0, 0), (12, 0), (12, 8), (0, 8)), ceiling_m=4)
L_SHAPE = Space(outline_m=((0, 0), (10, 0), (10, 4), (4, 4), (4, 9), (0, 9)), ceiling_m=4)


def bar(id: str, x1: float, y1: float, x2: float, y2: float) -> Bar:
    return Bar(id=id, area_m=((x1, y1), (x2, y1), (x2, y2), (x1, y2)))


def test_nothing_in_the_way():
    assert lead_way(HALL, (1, 1), (4, 5), ()).length_m == pytest.approx(5)


def test_round_the_inner_corner_of_an_l():
    way = lead_way(L_SHAPE, (8, 2), (2, 8), ())
    assert way.points == ((8, 2), (4, 4), (2, 8))
    assert way.length_m == pytest.approx(math.hypot(4, 2) + math.hypot(2, 4))


def test_round_an_aisle_that_ends_short_of_the_wall():
    # aisle from the south wall up to y = 3: from (3, 1) to (9, 1) by its two upper corners
    way = lead_way(HALL, (3, 1), (9, 1), [bar("aisle", 4, 0, 8, 3)])
    assert way.points == ((3, 1), (4, 3), (8, 3), (9, 1))
    assert way.length_m == pytest.approx(2 * math.hypot(1, 2) + 4)


def test_no_way_across_an_aisle_from_wall_to_wall_not_even_along_the_wall():
    aisle = [bar("aisle", 4, 0, 8, 8)]
    assert lead_way(HALL, (3, 0), (9, 0), aisle).length_m == math.inf
    assert lead_way(HALL, (3, 0), (9, 0), aisle).points == ()


def test_no_way_through_the_seam_of_two_barred_areas():
    assert lead_way(HALL, (3, 4), (9, 4), [bar("a", 4, 0, 8, 4), bar("b", 4, 4, 8, 8)]).length_m == math.inf


def test_no_way_through_the_point_where_two_barred_areas_touch():
    barred = [bar("a", 4, 0, 6, 4), bar("b", 6, 4, 8, 8)]
    assert lead_way(HALL, (3, 1), (9, 7), barred).length_m == math.inf


def test_no_way_between_a_wall_and_the_tip_of_a_barred_area_that_touches_it():
    tip = [Bar(id="tip", area_m=((6, 0), (7, 3), (5, 3)))]
    round_it = math.hypot(0.5, 3) + 2 + math.hypot(0.5, 3)  # by (5, 3) and (7, 3)
    for y in (0.0, 0.001):
        way = lead_way(HALL, (4.5, y), (7.5, 0), tip)
        assert way.length_m == pytest.approx(round_it, rel=1e-3)
    near = [bar("a", 4, 1, 6, 4), Bar(id="b", area_m=((6, 4), (9, 2), (9, 6)))]  # touching in (6, 4)
    assert lead_way(HALL, (5.9, 4.1), (6.2, 3.6), near).length_m > 3


def test_an_area_in_which_the_machine_stands_does_not_bar_its_lead():
    wet = [bar("wet", 4, 0, 8, 8)]
    assert lead_way(HALL, (5, 4), (9, 4), wet).length_m == pytest.approx(4)
    assert lead_way(HALL, (9, 4), (5, 4), wet).length_m == math.inf  # the place stands in it, the machine does not


def test_a_place_outside_the_outline_is_not_reached():
    assert lead_way(HALL, (5, 4), (13, 4), ()).length_m == math.inf
    assert lead_way(L_SHAPE, (5, 2), (7, 8), ()).length_m == math.inf


def test_what_bars():
    space = Space(
        outline_m=HALL.outline_m,
        ceiling_m=4,
        openings=Map(
            {
                "door": Opening(id="door", wall="south", from_m=2, to_m=3, height_m=2.1),
                "window": Opening(id="window", wall="south", from_m=6, to_m=8, height_m=1.2),
            }
        ),
        zones=Map(
            {
                "aisle": Zone(id="aisle", kind="", keep_clear=True, area_m=((4, 0), (5, 0), (5, 2))),
                "dust": Zone(id="dust", kind="dry_dust", area_m=((8, 0), (9, 0), (9, 2))),
                "wash": Zone(id="wash", kind="hosed", area_m=((10, 0), (12, 0), (12, 2))),
            }
        ),
    )
    assert [b.id for b in bars(space, {"hosed"})] == ["aisle", "wash", "door"]
    assert [b.id for b in bars(space, doorway_depth_m=0)] == ["aisle"]
    # past the doorway, 1 m deep: from (1.5, 0) to (3.5, 0) over (2, 1) and (3, 1)
    way = lead_way(space, (1.5, 0), (3.5, 0), bars(space))
    assert way.length_m == pytest.approx(1 + 2 * math.hypot(0.5, 1))


def test_the_figure_rests_on_both_points_and_says_how_it_goes():
    machine = Spot(path="tenancies.t.machines.kiln", at_m=(8, 2))
    place = Spot(path="design.t.assemblies.A4", at_m=(2, 8), ground="chosen")
    way = lead_way_m(L_SHAPE, machine, place, ())
    assert way.unit == "m"
    assert [f.origin.path for f in leaves(way)] == [
        "tenancies.t.machines.kiln.at_m[0]", "tenancies.t.machines.kiln.at_m[1]",
        "design.t.assemblies.A4.at_m[0]", "design.t.assemblies.A4.at_m[1]",
    ]  # fmt: skip
    assert "round (4, 4)" in steps(way)[-1].text
    none = lead_way_m(HALL, machine, place, [bar("aisle", 4, 0, 6, 8)])
    assert none == math.inf
    assert "aisle" in steps(none)[-1].text


def test_many_at_once_agree_with_one_at_a_time():
    barred = [bar("aisle", 4, 0, 6, 6), bar("wet", 8, 5, 10, 8)]
    rng = np.random.default_rng(7)
    machines = [(float(x), float(y)) for x, y in rng.uniform((0, 0), (12, 8), (20, 2))]
    places = [(x + 0.5, 0.0) for x in range(12)] + [(12.0, y + 0.5) for y in range(8)]
    ways = lead_ways_m(HALL, machines, places, barred)
    assert ways.shape == (20, 20)
    one = [[lead_way(HALL, a, b, barred).length_m for b in places] for a in machines]
    np.testing.assert_allclose(ways, one, rtol=1e-12)
    assert np.isinf(ways).any()
    assert lead_ways_m(HALL, [], places, barred).shape == (0, 20)


def test_vertical_part():
    h1, h2 = fact("a.height_m", 1.2, "m", "chosen"), fact("m.height_m", 0.0, "m", "declared")
    assert vertical_m(h1, h2) == pytest.approx(1.2)
    assert vertical_m(h2, h1) == pytest.approx(1.2)
