"""Routes along walls and drawn containment, by hand-computed cases."""

import pytest

from relet.errors import ReletError
from relet.model import Containment, Map, Opening, Space
from relet.space import (
    Crossing,
    Section,
    Spot,
    crossings,
    grouped,
    order_around,
    route,
    route_lengths_m,
    route_rules,
    tapped_run_route,
)
from relet.working import fact, leaves, steps

HALL = Space(outline_m=((0, 0), (12, 0), (12, 8), (0, 8)), ceiling_m=4.2)
L_SHAPE = Space(outline_m=((0, 0), (10, 0), (10, 4), (4, 4), (4, 9), (0, 9)), ceiling_m=4)


def figure(value: float, unit: str = "m", name: str = "p"):
    return fact(f"policy.{name}", value, unit, "chosen", name=name)


def rules(space: Space, height: float = 3.0, slack: float = 0.0, end: float = 0.0, over: float = 0.1):
    return route_rules(
        space,
        height_m=figure(height, name="H"),
        slack_share=figure(slack, "", "share"),
        end_m=figure(end, name="end"),
        over_m=figure(over, name="above"),
    )


def spot(name: str, x: float, y: float, height: float = 1.2) -> Spot:
    return Spot(path=f"design.t.assemblies.{name}", at_m=(x, y), height_m=height)


BOARD = Spot(path="standing.boards.DB1", at_m=(0.0, 6.0), height_m=1.6)


def test_along_one_wall_with_rise_drop_slack_and_ends():
    r = route(HALL, BOARD, spot("A1", 0, 1), rules(HALL, slack=0.1, end=0.3))
    # 5 m along, 3 - 1.6 up, 3 - 1.2 down; a tenth more, and 0.3 m at each end
    assert float(r.along_m) == pytest.approx(5)
    assert float(r.length_m) == pytest.approx((5 + 1.4 + 1.8) * 1.1 + 0.6)
    assert r.points == ((0, 6), (0, 1))
    assert r.sections == (Section("west", 1, 6),)
    assert steps(r.length_m)[-1].text == "L = along + over + rise + drop + slack"
    assert steps(r.length_m)[-1].put_text.startswith("5 + 0 + 1.4 + 1.8 + ")


def test_the_shorter_way_round():
    r = route(HALL, BOARD, spot("A1", 12, 7), rules(HALL))
    assert r.points == ((0, 6), (0, 8), (12, 8), (12, 7))
    assert float(r.along_m) == pytest.approx(2 + 12 + 1)
    assert [s.name for s in r.sections] == ["west", "north", "east"]


def test_round_the_notch_of_an_l():
    r = route(L_SHAPE, spot("A1", 10, 2), spot("A2", 4, 8), rules(L_SHAPE))
    assert r.points == ((10, 2), (10, 4), (4, 4), (4, 8))
    assert float(r.along_m) == pytest.approx(2 + 6 + 4)
    assert r.sections == (Section("east", 2, 4), Section("north", 0, 6), Section("east2", 0, 4))


def with_door(height: float, ceiling: float = 4.2) -> Space:
    door = Opening(id="roller", wall="south", from_m=4, to_m=8, height_m=height)
    return Space(outline_m=HALL.outline_m, ceiling_m=ceiling, openings=Map({"roller": door}))


def test_containment_is_led_over_an_opening_that_reaches_above_it():
    low, high = with_door(2.1), with_door(3.5)
    a, b = spot("A1", 3, 0), spot("A2", 9, 0)
    assert float(route(low, a, b, rules(low)).length_m) == pytest.approx(6 + 1.8 + 1.8)
    over = route(high, a, b, rules(high))
    assert float(over.along_m) == pytest.approx(6)
    assert float(over.length_m) == pytest.approx(6 + 2 * 0.6 + 1.8 + 1.8)  # to 3.6 and back to 3.0
    assert over.over == ("roller",)
    # at the jambs one is still low, and only what lies between counts
    assert float(route(high, a, spot("A2", 4, 0), rules(high)).length_m) == pytest.approx(1 + 3.6)


def test_a_tap_at_the_very_jamb_rises_after_it():
    high = with_door(3.5)
    start = spot("S", 3, 0)
    r = tapped_run_route(high, start, [spot("A1", 4, 0), spot("A2", 8, 0), spot("A3", 9, 0)], rules(high))
    assert [float(t.along_m) for t in r.taps] == pytest.approx([1.8 + 1, 1.8 + 5 + 1.2, 1.8 + 6 + 1.2])


def test_an_opening_up_to_the_ceiling_sends_the_route_round_the_other_way():
    shut = with_door(4.15)  # 4.25 would be above the ceiling at 4.2
    r = route(shut, spot("A1", 3, 0), spot("A2", 9, 0), rules(shut))
    assert float(r.along_m) == pytest.approx(3 + 8 + 12 + 8 + 3)
    both = Space(
        outline_m=HALL.outline_m,
        ceiling_m=4.2,
        openings=Map({**shut.openings, "n": Opening(id="n", wall="north", from_m=1, to_m=2, height_m=4.2)}),
    )
    with pytest.raises(ReletError, match="no route"):
        route(both, spot("A1", 3, 0), spot("A2", 9, 0), rules(both))


def test_two_openings_side_by_side_are_passed_at_one_level():
    two = Space(
        outline_m=HALL.outline_m,
        ceiling_m=4.2,
        openings=Map(
            {
                "p": Opening(id="p", wall="south", from_m=4, to_m=6, height_m=3.5),
                "q": Opening(id="q", wall="south", from_m=6, to_m=8, height_m=3.3),
            }
        ),
    )
    r = route(two, spot("A1", 3, 0), spot("A2", 9, 0), rules(two))
    # up 0.6, down 0.2, down 0.4
    assert float(r.length_m) == pytest.approx(6 + 1.2 + 3.6)


def test_a_column_is_reached_straight_across_from_a_wall():
    r = route(HALL, BOARD, spot("C", 3, 5), rules(HALL))
    assert float(r.along_m) == pytest.approx(1 + 3)  # down the west wall to y = 5 and across
    assert r.sections == (Section("west", 5, 6), Section("west to C", 0, 3))


def test_a_board_a_little_off_the_wall_belongs_to_it():
    r = route(HALL, Spot(path="b.DB1", at_m=(0.6, 0.2), height_m=1.6), spot("A", 6, 8), rules(HALL))
    # not straight across to the north wall: 0.2 to the wall, 0.6, 8, 6
    assert float(r.along_m) == pytest.approx(0.2 + 0.6 + 8 + 6)


def trunking(*path, height: float = 3.0) -> Containment:
    return Containment(part="trunking", path_m=tuple(path), height_m=height)


def test_containment_along_a_wall_lends_its_name():
    drawn = {"T1": trunking((0, 8), (0, 3))}
    r = route(HALL, BOARD, spot("A1", 0, 1), rules(HALL), containment=drawn)
    assert r.sections == (Section("T1", 2, 5), Section("west", 1, 3))
    assert float(r.along_m) == pytest.approx(5)


def test_containment_across_the_room_is_a_further_way():
    drawn = {"T1": trunking((0, 4), (12, 4), height=3.4)}
    a, b = spot("A1", 0, 4), spot("A2", 12, 4)
    r = route(HALL, a, b, rules(HALL), containment=drawn)
    assert r.sections == (Section("T1", 0, 12),)
    assert float(r.length_m) == pytest.approx(12 + 2 * 0.4 + 3.6)
    assert float(route(HALL, a, b, rules(HALL)).along_m) == pytest.approx(20)
    # a little further along it is still worth the way to it
    assert float(route(HALL, spot("A1", 0, 6), spot("A2", 12, 5), rules(HALL), containment=drawn).along_m) == (
        pytest.approx(2 + 12 + 1)
    )


def test_compartment_lines_are_crossed_once_each():
    lines = {"wall": ((6.0, 0.0), (6.0, 8.0)), "store": ((9.0, 8.0), (9.0, 6.0), (12.0, 6.0))}
    r = route(HALL, BOARD, spot("A1", 12, 7), rules(HALL), lines=lines)
    assert r.crossings == (Crossing("wall", (6.0, 8.0)), Crossing("store", (9.0, 8.0)))
    # the same unit the other way round leaves the store by its other side
    back = route(HALL, spot("A1", 12, 7), spot("A2", 12, 1), rules(HALL), lines=lines)
    assert back.crossings == (Crossing("store", (12.0, 6.0)),)


def test_to_come_up_to_a_line_is_not_to_cross_it():
    line = {"w": ((5.0, 0.0), (5.0, 8.0))}
    assert crossings([(0, 0), (5, 0)], line) == ()
    assert crossings([(0, 0), (5, 0), (5, 4), (0, 4)], line) == ()
    assert crossings([(0, 0), (5, 0), (5, 4), (9, 4)], line) == (Crossing("w", (5, 0)),)
    assert len(crossings([(0, 1), (9, 1), (0, 1)], line)) == 2
    assert crossings([(0, 1), (9, 1)], {"w": ((5.0, 2.0), (5.0, 8.0))}) == ()


def test_a_tapped_run_by_hand():
    places = [spot("A1", 3, 8), spot("A2", 9, 8, 1.0), spot("A3", 11.8, 4)]
    r = tapped_run_route(HALL, BOARD, places, rules(HALL, slack=0.1, end=0.5))
    # up 1.4, 2 to the corner, 3 to A1; 6 on; 3 and 4 down the east wall
    assert [float(t.along_m) for t in r.taps] == pytest.approx([6.4, 12.4, 19.4])
    assert float(r.length_m) == pytest.approx(19.4 * 1.1 + 1.0)
    # drops: from 3.0, the last also 0.2 m off the wall
    assert [float(t.drop_m) for t in r.taps] == pytest.approx([1.8 * 1.1 + 1, 2.0 * 1.1 + 1, 2.0 * 1.1 + 1])
    assert r.taps[2].at_m == (12, 4)
    assert r.sections == (Section("west", 6, 8), Section("north", 0, 12), Section("east", 4, 8))
    assert "design.t.assemblies.A1.at_m[0]" in {f.origin.path for f in leaves(r.taps[2].along_m)}
    with pytest.raises(ReletError, match="at least one place"):
        tapped_run_route(HALL, BOARD, [], rules(HALL))


def test_the_order_of_a_tapped_run_is_the_shorter_way_round():
    at = {"a": (3.0, 8.0), "b": (12.0, 4.0), "c": (9.0, 8.0), "d": (6.0, 0.0)}
    assert order_around(HALL, (0.0, 7.0), at, rules(HALL)) == ("a", "c", "b", "d")
    assert order_around(HALL, (0.0, 1.0), at, rules(HALL)) == ("d", "b", "c", "a")
    # the near ones first, across the corner where the outline begins, then the far one
    near_corner = {"a": (1.0, 0.0), "b": (0.0, 2.0), "c": (12.0, 4.0)}
    assert order_around(HALL, (0.0, 4.0), near_corner, rules(HALL)) == ("b", "a", "c")


def test_grouping_counts_what_shares_a_stretch():
    r = {
        "R1": route(HALL, BOARD, spot("A1", 6, 8), rules(HALL)),
        "R2": route(HALL, BOARD, spot("A2", 3, 8), rules(HALL)),
        "R3": route(HALL, BOARD, spot("A3", 0, 1), rules(HALL)),
        "R4": route(HALL, spot("A2", 3, 8), spot("A1", 6, 8), rules(HALL)),
    }
    assert grouped(r) == {"R1": 2, "R2": 2, "R3": 1, "R4": 2}


def test_many_lengths_at_once_agree_with_one_at_a_time():
    space = with_door(3.5)
    at = [(0.0, 6.0), (3.0, 0.0), (9.0, 0.0), (12.0, 7.0), (6.0, 4.0)]
    got = route_lengths_m(space, at, at, rules(space))
    for i, p in enumerate(at):
        for j, q in enumerate(at):
            one = route(space, spot("A", *p), spot("B", *q), rules(space)).length_m
            assert got[i, j] == pytest.approx(float(one) - 3.6)


def test_house_defaults_stay_below_a_low_ceiling_and_say_that_they_are_assumed():
    low = Space(outline_m=HALL.outline_m, ceiling_m=2.6)
    r = route_rules(low)
    assert float(r.height_m) == pytest.approx(2.3)
    assert {f.origin.ground for f in (r.height_m, r.slack_share, r.end_m, r.over_m)} == {"assumed"}
    assert float(route_rules(HALL).height_m) == 3.0
