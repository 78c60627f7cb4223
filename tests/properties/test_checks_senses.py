"""The senses of the method, as whole verdicts on a small unit: what can only make things worse never helps.

One supply, one board, a three-phase fixed connection (R1), a socket-outlet (R2) and lighting-sized neighbours in one
trunking. Facts are put in as if they had been seen on site, so nothing but the value differs.
"""

from __future__ import annotations

from collections.abc import Mapping
from functools import cache
from pathlib import Path
from tempfile import TemporaryDirectory

import msgspec
from hypothesis import given, settings
from hypothesis import strategies as st

from relet.checks import Finding, judge
from relet.checks.findings import Verdict
from relet.files.opened import open_unit
from relet.model import Between, Case, Claim, Held, Map, OneOf, Scalar
from relet.model import Path as FactPath
from rule_examples import knowing

UNIT = Path(__file__).parents[1] / "senses_unit.toml"
R1, R2 = "standing.runs.R1", "standing.runs.R2"
DB1 = "standing.devices.DB1/1"
PRESS = "tenancies.quoin.machines.press"
RANK: dict[Verdict, int] = {
    "not applicable": 0, "meets": 0, "refer": 1, "depends": 1, "advice": 2, "fails": 2,
}  # fmt: skip
few = settings(max_examples=25, deadline=None)


@cache
def unit(more: int = 0) -> Case:
    """The unit, with so many more circuits in its trunking."""
    ways = range(4, 4 + more)
    devices = [f'"DB1/{n}.L2" = {{ part = "mcb-b16-1p" }}' for n in ways]
    runs = [
        f'S{n} = {{ from = "DB1/{n}.L2", to = "end", cable = "singles-70-in-trunking", csa_mm2 = 2.5, cpc_mm2 = 2.5, '
        'length_m = 8, through = ["T1"] }'
        for n in ways
    ]
    text = UNIT.read_text(encoding="utf-8")
    text = text.replace("# more devices", "\n".join(devices)).replace("# more runs", "\n".join(runs))
    with TemporaryDirectory() as folder:
        file = Path(folder) / "unit.toml"
        file.write_text(text, encoding="utf-8")
        (case,) = open_unit(file).cases()
    return case


def found(rule: str, subject: str, facts: Mapping[str, Scalar], more: int = 0) -> Finding:
    every = judge(knowing(unit(more), facts), rules=[rule], thresholds=False, rank=False)
    (one,) = [f for f in every.findings if f.subject == subject]
    return one


def never_better(rule: str, subject: str, easy: Mapping[str, Scalar], hard: Mapping[str, Scalar]) -> None:
    """With `hard` the verdict is no better than with `easy`, and where both rest on the same sentence, no roomier."""
    a, b = found(rule, subject, easy), found(rule, subject, hard)
    assert RANK[b.verdict] >= RANK[a.verdict], f"{a.verdict} {a.value_text} / {b.verdict} {b.value_text}"
    if a.sentence == b.sentence and a.worst and b.worst:
        assert b.margin <= a.margin + 1e-9


lengths = st.floats(2, 150)
grow = st.floats(1.01, 4)
sizes = st.sampled_from([(4.0, 6.0), (6.0, 10.0), (10.0, 16.0), (16.0, 25.0), (4.0, 25.0)])


@few
@given(lengths, grow)
def test_longer_never_improves_disconnection(length: float, more: float) -> None:
    for rule, subject, path in (("fault.disconnection", "R1", R1), ("fault.disconnection", "R2", R2)):
        never_better(rule, subject, {f"{path}.length_m": length}, {f"{path}.length_m": length * more})


@few
@given(lengths, grow)
def test_longer_never_improves_volt_drop_or_a_start(length: float, more: float) -> None:
    easy, hard = {f"{R1}.length_m": length}, {f"{R1}.length_m": length * more}
    never_better("conductor.volt_drop", "X1", easy, hard)
    never_better("conductor.starting_volt_drop", PRESS, easy, hard)


@few
@given(lengths, grow)
def test_shorter_never_improves_breaking_capacity_downstream(length: float, more: float) -> None:
    path = "standing.runs.R3.length_m"
    facts = {"standing.devices.A1/rail/5.icn_ka": 1.0, "supply.ipf_ka": 6.0}
    never_better("fault.breaking_capacity", "A1/rail/5", {**facts, path: length * more}, {**facts, path: length})


@few
@given(sizes, st.floats(15, 55))
def test_a_bigger_conductor_never_worsens_overload_drop_or_loop(size: tuple[float, float], ambient: float) -> None:
    small, big = ({f"{R1}.csa_mm2": s, f"{R1}.ambient_c": ambient} for s in size)
    never_better("conductor.overload", "R1", big, small)
    never_better("conductor.volt_drop", "X1", big, small)
    never_better("fault.disconnection", "R1", big, small)


@few
@given(st.sampled_from([20.0, 25.0, 30.0, 35.0, 40.0, 45.0, 50.0]), st.sampled_from([5.0, 10.0]))
def test_hotter_never_improves_overload(ambient: float, more: float) -> None:
    never_better("conductor.overload", "R1", {f"{R1}.ambient_c": ambient}, {f"{R1}.ambient_c": ambient + more})


@few
@given(st.floats(0, 50), st.floats(0.1, 20))
def test_hotter_never_cools_an_enclosure(ambient: float, more: float) -> None:
    path = "standing.assemblies.A1.ambient_c"
    never_better("assembly.heat", "A1", {path: ambient}, {path: ambient + more})


@few
@given(st.floats(500, 30000), st.floats(1.01, 3))
def test_more_load_never_adds_headroom(power: float, more: float) -> None:
    path = f"{PRESS}.power_w"
    for rule, subject in (
        ("load.supply_capacity", "supply"), ("conductor.volt_drop", "X1"), ("conductor.starting_volt_drop", PRESS),
        ("protection.inrush", "DB1/1"),
    ):  # fmt: skip
        never_better(rule, subject, {path: power}, {path: power * more})


@few
@given(st.integers(0, 4), st.integers(1, 3))
def test_another_circuit_in_the_trunking_never_improves_the_others(there: int, more: int) -> None:
    for rule, subject in (("conductor.overload", "R1"), ("conductor.overload", "R2"), ("conductor.containment", "T1")):
        a, b = found(rule, subject, {}, there), found(rule, subject, {}, there + more)
        assert RANK[b.verdict] >= RANK[a.verdict]
        if a.sentence == b.sentence:
            assert b.margin <= a.margin + 1e-9


def test_enough_circuits_overload_one_that_nobody_touched() -> None:
    assert found("conductor.overload", "R1", {}, 0).verdict == "meets"
    assert found("conductor.overload", "R1", {}, 5).verdict == "fails"


@few
@given(st.floats(0.3, 15), grow)
def test_a_stiffer_source_never_improves_breaking_capacity(ipf: float, more: float) -> None:
    never_better("fault.breaking_capacity", "DB1/1", {"supply.ipf_ka": ipf}, {"supply.ipf_ka": min(16.0, ipf * more)})


@few
@given(st.floats(0.02, 2), grow)
def test_a_weaker_source_never_improves_disconnection(ze: float, more: float) -> None:
    never_better("fault.disconnection", "R1", {"supply.ze_ohm": ze}, {"supply.ze_ohm": ze * more})


@few
@given(st.floats(0.05, 1.0), st.sampled_from(["B", "C", "D"]), st.sampled_from([16.0, 20.0, 32.0]))
def test_a_tighter_limit_never_turns_fails_into_meets(ze: float, curve: str, rated: float) -> None:
    """The letter and the rating of the device set the limit of the loop: B is the easiest, D the tightest."""
    facts: dict[str, Scalar] = {"supply.ze_ohm": ze, f"{DB1}.in_a": rated}
    for easy, hard in (("B", "C"), ("C", "D")):
        never_better("fault.disconnection", "R1", {**facts, f"{DB1}.curve": easy}, {**facts, f"{DB1}.curve": hard})
    never_better(
        "fault.disconnection", "R1", {**facts, f"{DB1}.curve": curve},
        {**facts, f"{DB1}.curve": curve, f"{DB1}.in_a": 40.0},
    )  # fmt: skip


@few
@given(st.floats(0.1, 30), grow)
def test_more_standing_current_never_helps(leak: float, more: float) -> None:
    path = "tenancies.quoin.machines.oven.leak_ma"
    never_better("protection.standing_leakage", "DB1/2.L1", {path: leak}, {path: leak * more})


# ---------- ranges ----------

OPEN: dict[str, st.SearchStrategy[Held]] = {
    f"{R1}.length_m": st.tuples(st.floats(5, 80), grow).map(lambda t: Between(t[0], t[0] * t[1])),
    f"{R1}.csa_mm2": st.sampled_from([OneOf((6.0, 10.0)), OneOf((4.0, 6.0)), OneOf((10.0, 16.0))]),
    f"{R1}.ambient_c": st.just(Between(20.0, 40.0)),
    f"{DB1}.curve": st.sampled_from([OneOf(("B", "C")), OneOf(("C", "D")), OneOf(("B", "C", "D"))]),
    "supply.ze_ohm": st.tuples(st.floats(0.05, 0.5), grow).map(lambda t: Between(t[0], t[0] * t[1])),
    "supply.ipf_ka": st.tuples(st.floats(0.5, 3), grow).map(lambda t: Between(t[0], t[0] * t[1])),
    f"{PRESS}.start_multiple": st.just(Between(4.0, 8.0)),
    f"{PRESS}.power_w": st.just(Between(3000.0, 12000.0)),
}
JUDGED = (
    ("conductor.overload", "R1"), ("conductor.volt_drop", "X1"), ("conductor.starting_volt_drop", PRESS),
    ("fault.breaking_capacity", "DB1/1"), ("fault.disconnection", "R1"), ("fault.conductor_heating", "R1"),
    ("protection.inrush", "DB1/1"), ("load.supply_capacity", "supply"), ("load.unbalance", "supply"),
)  # fmt: skip


def open_to(facts: Mapping[str, Held]) -> Case:
    learned = {p: Claim(about=FactPath(p), holds=h, how="seen") for p, h in facts.items()}
    return msgspec.structs.replace(unit(), learned=Map(learned))


def one_of(data: st.DataObject, held: Held) -> Scalar:
    if isinstance(held, OneOf):
        return data.draw(st.sampled_from(held.options))
    assert isinstance(held, Between)
    return data.draw(st.floats(held.low, held.high))


@settings(max_examples=8, deadline=None)
@given(st.data())
def test_a_verdict_over_ranges_is_never_better_than_any_certain_unit_within_them(data: st.DataObject) -> None:
    paths = data.draw(st.lists(st.sampled_from(sorted(OPEN)), min_size=1, max_size=4, unique=True))
    held = {p: data.draw(OPEN[p]) for p in paths}
    rules = sorted({r for r, _ in JUDGED})
    whole = judge(open_to(held), rules=rules, thresholds=False, rank=False)
    over = {(f.rule, f.subject): f.verdict for f in whole.findings}
    for _ in range(30):
        facts = {p: one_of(data, h) for p, h in held.items()}
        certain = judge(knowing(unit(), facts), rules=rules, thresholds=False, rank=False)
        by_key = {(f.rule, f.subject): f.verdict for f in certain.findings}
        for key in JUDGED:
            assert RANK[over[key]] >= min(RANK[by_key[key]], 1), f"{key}: {over[key]} over, {by_key[key]} at {facts}"
            if over[key] in ("fails", "advice"):
                assert RANK[by_key[key]] == 2, f"{key}: {over[key]} over the range, {by_key[key]} at {facts}"
