"""What must hold of every way and route, on drawn units."""

import math
from itertools import pairwise

import networkx as nx
import numpy as np
import pytest
from hypothesis import assume, given, settings
from hypothesis import strategies as st
from scipy.sparse import csr_matrix
from scipy.sparse.csgraph import dijkstra as peer_dijkstra
from scipy.sparse.csgraph import floyd_warshall
from shapely.geometry import LineString, Point, Polygon

from relet.model import Containment, Map, Opening, Space
from relet.space import (
    Bar,
    Spot,
    inside,
    lead_way,
    lead_ways_m,
    order_around,
    route,
    route_lengths_m,
    route_rules,
    tapped_run_route,
)
from relet.space.shortest import closure, dijkstra, way_back

quarter = st.integers(0, 48).map(lambda k: k / 4)
points = st.tuples(quarter, quarter)


@st.composite
def l_shapes(draw):
    w, d = draw(st.integers(8, 12)), draw(st.integers(8, 12))
    x, y = draw(st.integers(2, w - 2)), draw(st.integers(2, d - 2))
    return Space(outline_m=((0, 0), (w, 0), (w, y), (x, y), (x, d), (0, d)), ceiling_m=4.5)


@st.composite
def some_bars(draw, least=0):
    out = []
    for i in range(draw(st.integers(least, 3))):
        x, y = draw(points)
        out.append((i, x, y, x + draw(st.integers(1, 5)), y + draw(st.integers(1, 5))))
    return [Bar(id=f"b{i}", area_m=((a, b), (c, b), (c, d), (a, d))) for i, a, b, c, d in out]


@settings(max_examples=60, deadline=None)
@given(l_shapes(), some_bars(), points, points)
def test_a_way_is_no_shorter_than_straight_lies_on_free_floor_and_is_the_same_both_ways(space, barred, a, b):
    assume(inside(space, a) and inside(space, b))
    way = lead_way(space, a, b, barred)
    assert way.length_m >= math.dist(a, b) - 1e-9
    stands = [x for x in barred if Polygon(x.area_m).distance(Point(a)) == 0]
    if way.points and a != b:
        line = LineString(way.points)
        assert way.length_m == pytest.approx(line.length)
        assert Polygon(space.outline_m).buffer(1e-3).covers(line)
        assert all(line.intersection(Polygon(x.area_m).buffer(-1e-3)).length < 1e-6 for x in barred if x not in stands)
    if not stands and not any(Polygon(x.area_m).distance(Point(b)) == 0 for x in barred):
        assert lead_way(space, b, a, barred).length_m == pytest.approx(way.length_m)


@settings(max_examples=60, deadline=None)
@given(l_shapes(), some_bars(), some_bars(1), points, points)
def test_one_more_barred_area_never_makes_a_way_shorter(space, barred, more, a, b):
    assume(inside(space, a) and inside(space, b))
    before = lead_ways_m(space, [a], [b], barred)[0, 0]
    after = lead_ways_m(space, [a], [b], [*barred, more[0]])[0, 0]
    assert after >= before - 1e-6


@pytest.mark.parametrize("seed", range(3))
def test_a_way_against_a_fine_grid_walked_by_scipy(seed):
    """The same floor as a grid of 0.2 m with steps in 16 directions: never shorter than ours, and by 3 % at most.

    (A path bound to those directions is at most 1/cos(13.3 deg) = 2.8 % too long, and misses an end by no cell.)
    """
    rng = np.random.default_rng(seed)
    space = Space(outline_m=((0, 0), (12, 0), (12, 5), (5, 5), (5, 10), (0, 10)), ceiling_m=4)
    x, y = (float(v) for v in rng.integers(1, 4, 2))
    barred = [Bar(id="a", area_m=((x, y), (x + 1, y), (x + 1, y + 3), (x, y + 3)))]
    barred.append(Bar(id="b", area_m=((7, 0), (8, 0), (8, 3), (7, 3))))
    free = Polygon(space.outline_m)
    for b in barred:
        free = free.difference(Polygon(b.area_m))
    free = free.buffer(1e-6)
    step = 0.2
    nodes = [(i, j) for i in range(61) for j in range(51) if free.intersects(LineString([(i * step, j * step)] * 2))]
    number = {n: k for k, n in enumerate(nodes)}
    moves = [(1, 0), (0, 1), (1, 1), (1, -1), (2, 1), (1, 2), (2, -1), (1, -2)]
    rows, cols, data = [], [], []
    for (i, j), k in number.items():
        for di, dj in moves:
            other = number.get((i + di, j + dj))
            if other is not None:
                line = LineString([(i * step, j * step), ((i + di) * step, (j + dj) * step)])
                if free.covers(line):
                    rows, cols, data = [*rows, k], [*cols, other], [*data, line.length]
    graph = csr_matrix((data, (rows, cols)), shape=(len(nodes), len(nodes)))
    start = (0, 0)
    far = peer_dijkstra(graph, directed=False, indices=number[start])
    ends = [n for n in [(60, 0), (60, 20), (20, 49), (0, 30), (34, 24)] if n in number]
    ours = lead_ways_m(space, [(0.0, 0.0)], [(i * step, j * step) for i, j in ends], barred)[0]
    for n, own in zip(ends, ours):
        assert own <= far[number[n]] + 1e-6
        assert far[number[n]] <= own * 1.03 + 1e-6


@settings(max_examples=60, deadline=None)
@given(st.integers(2, 9), st.data())
def test_shortest_ways_agree_with_the_libraries(n, data):
    pairs = [(i, j) for i in range(n) for j in range(i)]
    weights = {p: data.draw(st.one_of(st.none(), st.integers(1, 20))) for p in pairs}
    g = nx.Graph()
    g.add_nodes_from(range(n))
    dense = np.full((n, n), np.inf)
    edges: dict[int, list[tuple[int, float]]] = {}
    for (i, j), w in weights.items():
        if w is not None:
            g.add_edge(i, j, weight=w)
            dense[i, j] = dense[j, i] = w
            edges.setdefault(i, []).append((j, float(w)))
            edges.setdefault(j, []).append((i, float(w)))
    found, before = dijkstra(edges, 0)
    assert found == nx.single_source_dijkstra_path_length(g, 0)
    for node in found:
        way = way_back(before, 0, node)
        assert sum(dense[u, v] for u, v in pairwise(way)) == found[node]
    np.testing.assert_array_equal(closure(dense), floyd_warshall(np.where(np.isinf(dense), 0, dense)))


def wall_point(space: Space, share: float):
    p = Polygon(space.outline_m).exterior.interpolate(share, normalized=True)
    return (round(p.x, 3), round(p.y, 3))  # a millimetre is no distance on a wall


shares = st.floats(0, 1, exclude_max=True)


@settings(max_examples=60, deadline=None)
@given(l_shapes(), shares, shares, st.floats(0.3, 2.5), st.floats(0.3, 2.5), st.booleans())
def test_a_route_is_no_shorter_than_its_parts_and_the_same_both_ways(space, s, t, ha, hb, door):
    if door:
        opening = Opening(id="d", wall="south", from_m=2.0, to_m=5.0, height_m=3.6)
        space = Space(outline_m=space.outline_m, ceiling_m=4.5, openings=Map({"d": opening}))
    a = Spot(path="a.A1", at_m=wall_point(space, s), height_m=ha)
    b = Spot(path="a.A2", at_m=wall_point(space, t), height_m=hb)
    rules = route_rules(space)
    r = route(space, a, b, rules)
    (x1, y1), (x2, y2) = a.at_m, b.at_m
    assert float(r.along_m) >= abs(x1 - x2) + abs(y1 - y2) - 2.1e-3
    assert float(r.length_m) >= float(r.along_m) + abs(3 - ha) + abs(3 - hb) - 1e-6
    back = route(space, b, a, rules)
    assert float(back.length_m) == pytest.approx(float(r.length_m))
    half_round = Polygon(space.outline_m).length / 2
    assert float(r.along_m) <= half_round + 2 * 0.75 + 2.1e-3  # the other way round is at most two rises longer
    covered = sum(x.to_m - x.from_m for x in r.sections)
    assert covered == pytest.approx(float(r.along_m), abs=2e-3)


@settings(max_examples=40, deadline=None)
@given(l_shapes(), shares, shares, st.floats(0.5, 7.5))
def test_more_containment_never_makes_a_route_longer_and_a_higher_door_never_shorter(space, s, t, y):
    a, b = wall_point(space, s), wall_point(space, t)
    rules = route_rules(space)
    plain = route_lengths_m(space, [a], [b], rules)[0, 0]
    tray = Containment(part="tray", path_m=((0.0, y), (2.0, y), (2.0, 0.0)), height_m=3.2)
    assert route_lengths_m(space, [a], [b], rules, containment={"T": tray})[0, 0] <= plain + 1e-6
    last = plain
    for height in (2.0, 3.2, 4.0, 4.5):
        door = Opening(id="d", wall="west", from_m=1.0, to_m=3.0, height_m=height)
        doored = Space(outline_m=space.outline_m, ceiling_m=4.5, openings=Map({"d": door}))
        now = route_lengths_m(doored, [a], [b], rules)[0, 0]
        assert now >= last - 1e-6
        last = now


@settings(max_examples=40, deadline=None)
@given(l_shapes(), shares, st.lists(shares, min_size=1, max_size=5, unique=True))
def test_a_tapped_run_is_no_shorter_to_any_tap_than_the_straight_route(space, s, at):
    rules = route_rules(space)
    start = Spot(path="b.DB1", at_m=wall_point(space, s), height_m=1.6)
    places = {f"A{i}": wall_point(space, x) for i, x in enumerate(at)}
    order = order_around(space, start.at_m, places, rules)
    assert sorted(order) == sorted(places)
    spots = [Spot(path=f"a.{n}", at_m=places[n], height_m=1.2) for n in order]
    run = tapped_run_route(space, start, spots, rules)
    along = [float(t.along_m) for t in run.taps]
    assert along == sorted(along)
    straight = route_lengths_m(space, [start.at_m], [x.at_m for x in spots], rules)[0]
    assert all(x >= d + 1.4 - 1e-3 for x, d in zip(along, straight))
    assert float(run.length_m) >= along[-1]
    given_order = [Spot(path=f"a.{n}", at_m=p, height_m=1.2) for n, p in places.items()]
    if len(places) == 2:  # with two there are two orders, and ours is the better
        other = tapped_run_route(space, start, given_order, rules)
        assert along[-1] <= float(other.taps[-1].along_m) + 1e-3
