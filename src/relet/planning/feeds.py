"""Ways to feed a place: a radial from the board by rating, or a tap on a run around the walls, each sized and priced.

A *radial* takes one way of the board for one assembly. A *tapped run* takes one way for all assemblies on it; it may
go either way round the walls and is built as far as its last tap.
"""

from __future__ import annotations

from collections.abc import Callable, Sequence
from contextlib import suppress
from dataclasses import dataclass
from typing import TypeVar

from relet.errors import ReletError
from relet.model import Part, Point
from relet.planning import pieces
from relet.planning.costs import Costs
from relet.planning.parts import Frame, datum, of_kind, phases_of, same_range, whole
from relet.planning.problem import Problem
from relet.planning.sites import Site
from relet.planning.trial import Trials, run_feed, smallest_drop, smallest_radial
from relet.space import RouteRules, Spot, route, route_rules, tapped_run_route
from relet.space.walls import polygon

T = TypeVar("T")


@dataclass(frozen=True)
class RadialFeed:
    """A radial to one site. cost: device at the board, cable with its ends, one circuit tested."""

    site: str
    in_a: float
    device: Part
    csa_mm2: float
    length_m: float
    points: tuple[Point, ...]
    cost: float
    sure: bool

    @property
    def id(self) -> str:
        """Name in the programme: "north-3.5:63"."""
        return f"{self.site}:{self.in_a:g}"


@dataclass(frozen=True)
class TapFeed:
    """A tap-off on a run with its own device and a flexible drop."""

    run: str
    site: str
    step: int
    in_a: float
    tap: Part
    device: Part
    csa_mm2: float
    along_m: float
    drop_m: float
    cost: float

    @property
    def id(self) -> str:
        """Name in the programme."""
        return f"{self.run}:{self.site}:{self.in_a:g}"


@dataclass(frozen=True)
class TappedRun:
    """A run that may be built, one way round from the board.

    steps      sites it passes, in order, with the price of building it that far from the step before
    start      price of its device at the board, its ends and the test of its circuit
    """

    id: str
    part: Part
    device: Part
    in_a: float
    way_round: str
    sites: tuple[str, ...]
    along_m: tuple[float, ...]
    step_cost: tuple[float, ...]
    start: float


def board_devices(problem: Problem, phases: int, poles: int, rating_a: float) -> list[Part]:
    """Devices of one rating that may sit in a way of the board, one of each curve and breaking capacity."""
    best: dict[tuple[object, ...], Part] = {}
    board = next(iter(problem.standing.boards.values()))
    enclosure = problem.catalogue.parts.get(board.part)
    for p in of_kind(problem.catalogue, "mcb", "fuse-switch"):
        if datum(p, "in_a") != rating_a or whole(p, "poles") != poles or not p.data.get("isolates"):
            continue
        if enclosure is not None and not same_range(enclosure, p):
            continue
        if p.kind == "fuse-switch" and whole(p, "ways") > 2 * poles:
            continue
        best.setdefault((p.kind, p.data.get("curve"), p.data.get("icn_ka")), p)
    return list(best.values())


def radial_feeds(
    problem: Problem, sites: Sequence[Site], frames: Sequence[Frame], trials: Trials, costs: Costs, way: str,
    poles: int, ambient_c: dict[str, float | None],
) -> list[RadialFeed]:  # fmt: skip
    """Every rating for every site that can be fed, shortest routes first (what fails short fails long)."""
    rules, board_seat = route_rules(problem.unit.space), way.split("/")[0]
    board = problem.standing.boards[next(s for s in problem.standing.boards if s == board_seat)]
    start = Spot(path=f"standing.boards.{board_seat}", at_m=board.at_m, height_m=board.height_m)
    cores = 5 if poles >= 3 else 3
    routed = []
    for s in sites:
        end = Spot(path=f"plan.places.{s.id}", at_m=s.at_m, height_m=s.height_m, ground="chosen")
        try:
            r = route(problem.unit.space, start, end, rules)
        except ReletError:
            continue
        routed.append((float(r.length_m), s, r.points))
    cable: dict[float, tuple[float, float]] = {}
    for csa in problem.choices.cable_sizes_mm2:
        with suppress(ReletError):
            cable[csa] = _linear(
                lambda m, c=csa: costs.put_in(  # type: ignore[misc]
                    pieces.run("R", way, "A", problem.choices.cable, c, m), cores
                )
            )
    out = []
    most = max((f.in_a for f in frames), default=0.0)
    for rating in problem.choices.radial_a:
        if rating > most:
            continue
        frame = next(f for f in frames if f.in_a >= rating)
        found = board_devices(problem, 3 if poles >= 3 else 1, poles, rating)
        devices = [(costs.put_in(pieces.device("plan", way, d)), d) for d in found if costs.known(d.id)]
        for length, s, points in by_halves(sorted(routed, key=lambda e: e[0])):
            options = [
                (p + ends + per_m * length + costs.test, d, c) for p, d in devices for c, (per_m, ends) in cable.items()
            ]
            options.sort(key=lambda o: (o[0], o[1].id))
            ambient = ambient_c.get(s.id)
            got = smallest_radial(trials, way, options, length, frame.part, frame.incomer, ambient)
            if got is not None:
                cost = next(o[0] for o in options if (o[1], o[2]) == (got.device, got.csa_mm2))
                out.append(RadialFeed(s.id, rating, got.device, got.csa_mm2, length, points, cost, got.grade == 2))
    return out


def by_halves(several: Sequence[T]) -> list[T]:
    """The last, the first, then the middle of every gap that is left: what passes or fails settles its neighbours."""
    if not several:
        return []
    out, gaps = [several[-1]] + ([several[0]] if len(several) > 1 else []), [(0, len(several) - 1)]
    while gaps:
        a, b = gaps.pop(0)
        if b - a > 1:
            out.append(several[(a + b) // 2])
            gaps += [(a, (a + b) // 2), ((a + b) // 2, b)]
    return out


def around(problem: Problem, sites: Sequence[Site], start: Point) -> dict[str, list[Site]]:
    """Sites on walls in the order in which a run passes them, clockwise and anticlockwise from the board."""
    ring = polygon(problem.unit.space.outline_m).exterior
    from shapely.geometry import Point as Dot

    at = ring.project(Dot(start))
    ahead = sorted((s for s in sites), key=lambda s: (ring.project(Dot(s.at_m)) - at) % ring.length)
    names = ("clockwise", "anticlockwise") if not ring.is_ccw else ("anticlockwise", "clockwise")
    return {names[0]: ahead, names[1]: ahead[::-1]}


def tapped_runs(
    problem: Problem, sites: Sequence[Site], frames: Sequence[Frame], trials: Trials, costs: Costs, way: str, poles: int
) -> tuple[list[TappedRun], list[TapFeed]]:
    """Runs both ways round in every rating of the catalogue, and every tap on them."""
    space, rules, board_seat = problem.unit.space, route_rules(problem.unit.space), way.split("/")[0]
    board = problem.standing.boards[next(s for s in problem.standing.boards if s == board_seat)]
    start = Spot(path=f"standing.boards.{board_seat}", at_m=board.at_m, height_m=board.height_m)
    runs: list[TappedRun] = []
    taps: list[TapFeed] = []
    parts = [p for p in of_kind(problem.catalogue, "tapped-run") if phases_of(p.data.get("poles")) == 3]
    for turn, ordered in around(problem, sites, board.at_m).items():
        routed = _routed(space, start, ordered, rules)
        if not routed:
            continue
        for part in parts:
            got = _run_of(problem, part, turn, routed, trials, costs, way, poles)
            if got is None:
                continue
            runs.append(got)
            taps += _taps_of(problem, got, routed, frames, trials, costs, way)
    return runs, taps


def _routed(space: object, start: Spot, ordered: Sequence[Site], rules: RouteRules) -> list[tuple[Site, float, float]]:
    """(site, distance along the run m, length of the drop m) in order, as far as a way leads."""
    spots = [Spot(path=f"plan.places.{s.id}", at_m=s.at_m, height_m=s.height_m, ground="chosen") for s in ordered]
    try:
        r = tapped_run_route(space, start, spots, rules)  # type: ignore[arg-type]
    except ReletError:
        return []
    return [(s, float(t.along_m), float(t.drop_m)) for s, t in zip(ordered, r.taps)]


def _run_of(
    problem: Problem, part: Part, turn: str, routed: Sequence[tuple[Site, float, float]], trials: Trials, costs: Costs,
    way: str, poles: int,
) -> TappedRun | None:  # fmt: skip
    in_a = datum(part, "in_a")
    devices = [
        (costs.put_in(pieces.device("plan", way, d)), d)
        for d in board_devices(problem, 3, poles, in_a) if costs.known(d.id)
    ]  # fmt: skip
    devices.sort(key=lambda e: (e[0], e[1].id))
    device, reached = None, list(routed)
    while reached and device is None:
        device = run_feed(trials, way, devices, part, reached[-1][1])
        reached = reached if device is not None else reached[: -max(1, len(reached) // 8)]
    if device is None:
        return None

    try:
        per_m, ends = _linear(lambda m: costs.put_in(pieces.tapped_run("R", way, part, m)))
    except ReletError:
        return None
    rules = route_rules(problem.unit.space)
    stretch, slack = 1.0 + float(rules.slack_share), run_length_m(0.0, rules)
    along = [a for _, a, _ in reached]
    step = [per_m * stretch * (a - b) for a, b in zip(along, [0.0, *along])]
    start = costs.put_in(pieces.device("plan", way, device)) + ends + per_m * slack + costs.test
    sites = tuple(s.id for s, _, _ in reached)
    return TappedRun(f"{turn}:{in_a:g}", part, device, in_a, turn, sites, tuple(along), tuple(step), start)


def run_length_m(along_m: float, rules: RouteRules) -> float:
    """Length to order of a tapped run whose last tap lies this far along it, slack and ends included."""
    return along_m * (1.0 + float(rules.slack_share)) + 2 * float(rules.end_m)


def run_on_walls(problem: Problem, way: str, sites: Sequence[Site]) -> tuple[float, tuple[Point, ...]]:
    """Length to order of a tapped run by these sites, the last one its end, and its way in plan."""
    seat = way.split("/")[0]
    board = problem.standing.boards[next(s for s in problem.standing.boards if s == seat)]
    start = Spot(path=f"standing.boards.{seat}", at_m=board.at_m, height_m=board.height_m)
    spots = [Spot(path=f"plan.places.{s.id}", at_m=s.at_m, height_m=s.height_m, ground="chosen") for s in sites]
    r = tapped_run_route(problem.unit.space, start, spots, route_rules(problem.unit.space))
    return float(r.length_m), r.points


def _linear(price: Callable[[float], float]) -> tuple[float, float]:
    """(price a metre, price of no metres) of something priced by length; pennies spread over a kilometre."""
    none = price(0.0)
    return (price(1000.0) - none) / 1000.0, none


def tap_options(problem: Problem, costs: Costs, run_a: float, in_a: float) -> list[tuple[float, Part, Part, float]]:
    """(price, tap-off, its device, size of the drop) of one rating, cheapest first; the drop's length left out."""
    out = []
    for t in of_kind(problem.catalogue, "tap-off"):
        holds = str(t.data.get("holds", ""))
        if phases_of(t.data.get("poles")) != 3 or not (in_a <= datum(t, "in_a") <= max(run_a, in_a)) or holds == "none":
            continue
        for d in of_kind(problem.catalogue, "mcb", "fuse-switch"):
            if datum(d, "in_a") != in_a or whole(d, "poles") < 4:
                continue
            fuse_fits = holds.startswith("fuse") and d.data.get("size") == holds.removeprefix("fuse ").strip()
            rail_fits = holds == "rail" and whole(d, "ways") <= whole(t, "ways") and "size" not in d.data
            if not (fuse_fits or rail_fits) or not (costs.known(t.id) and costs.known(d.id)):
                continue
            base = costs.put_in(pieces.tap("R/tap/1", t, 0.0)) + costs.put_in(pieces.device("plan", "R/tap/1", d))
            out += [(base, t, d, c) for c in problem.choices.cable_sizes_mm2]
    return sorted(out, key=lambda o: (o[0], o[3], o[2].id))


def _taps_of(
    problem: Problem, run: TappedRun, routed: Sequence[tuple[Site, float, float]], frames: Sequence[Frame],
    trials: Trials, costs: Costs, way: str,
) -> list[TapFeed]:  # fmt: skip
    cable: dict[float, tuple[float, float]] = {}
    for csa in problem.choices.cable_sizes_mm2:
        with suppress(ReletError):
            cable[csa] = _linear(
                lambda m, c=csa: costs.put_in(  # type: ignore[misc]
                    pieces.run("R", "R/tap/1", "A", problem.choices.flexible, c, m), 5
                )
            )
    out = []
    for rating in problem.choices.radial_a:
        if rating > run.in_a:
            continue
        frame = next((f for f in frames if f.in_a >= rating), None)
        options = tap_options(problem, costs, run.in_a, rating)
        if frame is None or not options:
            continue
        for n, (s, along, drop) in by_halves(list(enumerate(routed[: len(run.sites)]))):
            priced = [
                (base + ends + per_m * drop + costs.test, t, d, c)
                for base, t, d, c in options if c in cable for per_m, ends in (cable[c],)
            ]  # fmt: skip
            priced.sort(key=lambda o: (o[0], o[2].id))
            got = smallest_drop(
                trials, way, run.device, run.part, priced, along, routed[0][1], drop, frame.part, frame.incomer
            )
            if got is not None:
                p = next(o[0] for o in priced if (o[1], o[2], o[3]) == (got.tap, got.device, got.csa_mm2))
                out.append(TapFeed(run.id, s.id, n, rating, got.tap, got.device, got.csa_mm2, along, drop, p))
    return out
