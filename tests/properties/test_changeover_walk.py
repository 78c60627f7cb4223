"""A changeover list turns A into exactly B, never works where it has not isolated; every state on the way is legal."""

from __future__ import annotations

from collections import Counter
from functools import cache

from hypothesis import HealthCheck, given, note, settings
from hypothesis import strategies as st
from msgspec.structs import replace

from relet.changeover import WORK, Job, apply, difference, job, legal
from relet.electrical.topology import ORIGIN, topology
from relet.files.catalogue import read_catalogue
from relet.files.prices import read_prices
from relet.model import Installation, Map, Seat
from relet.readings import Reading
from strategies import installations, pairs

CALM = settings(
    max_examples=60, deadline=None, suppress_health_check=[HealthCheck.too_slow, HealthCheck.data_too_large]
)


@cache
def _books():
    return read_prices(), read_catalogue()


def plan(a: Installation, b: Installation, **more) -> Job:
    book, catalogue = _books()
    return job(a, b, book, catalogue=catalogue, **more)


def bare(i: Installation) -> Installation:
    return replace(i, made=Map())


@given(installations(unknown=True))
@CALM
def test_generator_is_legal(i):
    assert legal(i, catalogue=_books()[1], unknown=topology(i, None).orphans) == ()


@given(pairs(unknown=True))
@CALM
def test_all_steps_applied_to_a_give_exactly_b(pair):
    a, b = pair
    for step in plan(a, b).steps:
        a = apply(step, a)
    assert bare(a) == b


@given(pairs(unknown=True))
@CALM
def test_one_step_of_work_per_seat_that_differs_and_none_for_the_others(pair):
    a, b = pair
    steps = plan(a, b).steps
    worked = Counter(s.seat for s in steps if s.verb in WORK)
    assert worked == Counter(d.seat for d in difference(a, b) if d.is_work)
    assert {d.seat for d in difference(a, b)} >= {
        s for s in {*a.pieces(), *b.pieces()} if a.pieces().get(s) != b.pieces().get(s)
    }


@given(installations(unknown=True))
@CALM
def test_nothing_differs_from_itself(i):
    assert plan(i, i).steps == ()
    assert plan(i, i).price.total == 0


def entry_points(step, i: Installation) -> set[Seat]:
    """Where a hand goes in, found here anew from the seat and the run's ends, not from the code under test."""
    d = step.difference
    seats = {d.key}
    for one in (d.before, d.after):
        if d.group == "runs" and one is not None:
            seats |= {one.from_} | ({one.to} if one.to != "end" else set())
        if d.group == "off_groups" and one is not None:
            seats |= {one.button, *one.outlets}
    out: set[Seat] = set()
    for s in seats:
        top = Seat(s.split("/")[0])
        if "/tap/" in s:
            out |= {top} & set(i.runs)
        elif top in i.boards:
            out.add(Seat(f"{top}/incomer") if s in (top, f"{top}/incomer") and f"{top}/incomer" in i.devices else top)
        elif top in i.assemblies:
            out.add(Seat(f"{top}/incomer") if f"{top}/incomer" in i.devices else top)
        elif top in i.outlets or top in i.runs or top in i.loads:
            out.add(top)
    return out


def fed_view(i: Installation, a: Installation, b: Installation) -> Installation:
    """Sub-boards hang on their run, whether it is there at the moment or not."""
    feeding = {r.to: s for x in (a, b) for s, r in x.runs.items() if r.to in x.boards}
    boards = {s: replace(p, fed_by=p.fed_by or feeding.get(s)) for s, p in i.boards.items()}
    return replace(i, boards=Map(boards))


@given(pairs(unknown=True))
@CALM
def test_no_step_works_on_what_the_list_has_not_isolated(pair):
    a, b = pair
    unknown = set(topology(a, None).orphans)
    locked: set[Seat] = set()
    proven: set[Seat] = set()
    now = a
    for step in plan(a, b).steps:
        if step.verb in ("isolate", "lock_off"):
            locked.add(step.seat)
        elif step.verb == "re_energise":
            assert step.seat in locked
            locked.discard(step.seat)
            proven.clear()
        elif step.verb == "prove_dead":
            proven |= set(step.prove_dead_at)
        elif step.verb in WORK and step.verb != "relabel":
            tree = topology(fed_view(now, a, b), None)
            for e in entry_points(step, now):
                path = tree.path(e)
                note(f"{step.n} {step.verb} {step.seat}: {e} by {path}, locked {locked}")
                if unknown & set(path):
                    assert step.warning, "an unknown feed heads the step"
                    assert locked
                elif path[0] == ORIGIN:
                    assert locked & set(path[:-1]), "worked on live"
                    assert set(step.isolate_at) & set(path[:-1]), "the step names its isolation"
                if path[0] == ORIGIN or e in {*a.devices, *a.boards, *a.assemblies, *a.outlets, *a.runs}:
                    assert e in proven, "not proved dead at the place of work"
        now = apply(step, now)
        locked = {p for p in locked if p == ORIGIN or p in now.devices}
    assert not {p for p in locked if topology(now, None).children.get(p)}, "left locked off with something behind it"


@given(pairs(unknown=True))
@CALM
def test_every_prefix_is_legal_and_nothing_loose_is_energised(pair):
    a, b = pair
    unknown = topology(a, None).orphans
    locked: set[Seat] = set()
    now = a
    for step in plan(a, b).steps:
        if step.verb in ("isolate", "lock_off"):
            locked.add(step.seat)
        elif step.verb == "re_energise":
            locked.discard(step.seat)
        now = apply(step, now)
        problems = legal(now, locked, catalogue=_books()[1], unknown=unknown)
        note(f"{step.n} {step.verb} {step.seat} {problems}")
        assert problems == ()


@given(pairs())
@CALM
def test_an_open_point_is_closed_only_when_all_below_it_is_as_it_will_be(pair):
    a, b = pair
    locked: set[Seat] = set()
    now = a
    for step in plan(a, b).steps:
        if step.verb in ("isolate", "lock_off"):
            locked.add(step.seat)
        now = apply(step, now)
        if step.verb == "re_energise":
            locked.discard(step.seat)
            tree = topology(fed_view(now, a, b), None)
            off = {e for p in locked for e in (p, *tree.below(p))}
            fed = tree.below(step.seat) if step.seat != ORIGIN else tuple(e for e in tree.parent if tree.fed(e))
            fed = tuple(e for e in fed if tree.fed(e))
            for e in set(fed) - off:
                for group in ("devices", "outlets", "assemblies", "runs", "taps"):
                    if e in getattr(now, group):
                        assert e in getattr(b, group), f"{e} is energised and will be taken out"
            parts = set(fed) - off
            assert all(now.devices[e].part == b.devices[e].part for e in parts if e in now.devices)


@given(pairs(), st.data())
@CALM
def test_replacing_like_for_like_is_one_step_and_fells_the_results_of_its_circuit(pair, data):
    a, _ = pair
    fed = [o for o in a.outlets if topology(a, None).fed(o)]
    if not fed:
        return
    outlet = data.draw(st.sampled_from(sorted(fed)))
    tree = topology(a, None)
    device = tree.device_above(outlet)
    readings = [
        Reading(id="Z", of="zs", at=outlet, value=0.5),
        Reading(id="I", of="insulation", at=outlet, value=200.0),
    ]
    j = plan(a, a, replace=[seat_name(device, a)], readings=readings)
    assert [s.seat for s in j.steps if s.verb in WORK] == [seat_name(device, a)]
    assert {v.reading.id for v in j.tests_void} == {"Z", "I"}
    elsewhere = [o for o in fed if device not in tree.path(o)]
    if elsewhere:
        other = [Reading(id="E", of="zs", at=elsewhere[0], value=0.5)]
        assert plan(a, a, replace=[seat_name(device, a)], readings=other).tests_void == ()


def seat_name(device: Seat, i: Installation) -> Seat:
    return Seat(f"{device}/device") if device in i.taps else device


@given(pairs(unknown=True))
@CALM
def test_steps_follow_what_they_wait_for_and_the_price_adds_up(pair):
    j = plan(*pair)
    assert [s.n for s in j.steps] == list(range(1, len(j.steps) + 1))
    assert all(n < s.n for s in j.steps for n in s.after_steps)
    assert abs(j.price.total - sum(x.total for x in j.price.lines)) < 0.005
    assert abs(sum(j.price.by_payer.values()) - j.price.total) < 0.005
    own_lines = {"certificates and schedules", "access equipment", "taking waste away", "standing time"}
    priced = sum(x.quantity for x in j.price.lines if x.unit == "h" and x.what not in own_lines)
    assert abs(priced - j.hours) < 0.03, "every minute of the list is priced once"
    came, went = Counter(), Counter()
    for s in j.steps:
        d = s.difference
        if d is not None and d.is_work and s.from_ not in ("", s.seat) and s.from_ not in ("store", "supplier"):
            came[s.from_] += 1
        if s.to not in ("", "store", "scrap", s.seat):
            went[s.seat] += 1
    assert came == went, "what moves leaves one seat and reaches one"
