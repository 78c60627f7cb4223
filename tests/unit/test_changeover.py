"""The changeover on one small board: what is work, where it is isolated, who loses supply, what falls."""

from __future__ import annotations

import json

import pytest
from msgspec.structs import replace

from relet.changeover import WORK, apply, as_json, difference, job, legal
from relet.errors import InputError
from relet.files.catalogue import read_catalogue
from relet.files.prices import read_prices
from relet.model import (
    Assembly,
    Between,
    Board,
    Claim,
    Containment,
    Device,
    Exactly,
    FixedLoad,
    Installation,
    Machine,
    Map,
    OffGroup,
    OneOf,
    Outlet,
    Path,
    Run,
    Seat,
    Tap,
    Tenancy,
    Use,
)  # fmt: skip
from relet.readings import Reading


def claim(value, how="chosen"):
    return Claim(about=Path("plan.x"), holds=Exactly(value), how=how)


def run(from_, to, length=10.0, mm2=4.0, how="chosen", **more):
    facts = Map({"length_m": claim(length, how), "csa_mm2": claim(mm2)})
    return Run(part="swa-90", cable="swa-90", from_=Seat(from_), to=Seat(to), facts=facts, stays=True, **more)


def inst(**groups):
    return Installation(**{k: Map({Seat(s): p for s, p in v.items()}) for k, v in groups.items()})


def standing(**more):
    base = {
        "boards": {"DB1": Board(part="board-8-3ph", at_m=(0.5, 0.2), height_m=1.6, ways=8, stays=True)},
        "assemblies": {"A1": Assembly(part="enclosure-6-18", at_m=(0.0, 5.0), height_m=1.2, stays=True)},
        "devices": {
            "DB1/incomer": Device(part="switch-disconnector-100-4p", stays=True),
            "DB1/1.L1": Device(part="mcb-b10-1p", stays=True),
            "DB1/3": Device(part="mcb-c63-4p", stays=True),
            "A1/incomer": Device(part="switch-63-4p", stays=True),
            "A1/rail/5": Device(part="rcbo-c16-2p-30a"),
            "A1/rail/7": Device(part="rcbo-c32-4p-30a"),
        },
        "outlets": {
            "A1/face/1": Outlet(part="outlet-60309-16a-2pe", behind=Seat("A1/rail/5")),
            "A1/face/2": Outlet(part="outlet-60309-32a-3pne", behind=Seat("A1/rail/7")),
        },
        "runs": {"R1": run("DB1/3", "A1", 18.0, 16.0), "R2": run("DB1/1.L1", "lights", 20.0, 1.5)},
        "loads": {"lights": FixedLoad(id="lights", name="lighting", serves="lighting")},
    }
    for group, pieces in more.items():
        base[group] = {k: v for k, v in {**base.get(group, {}), **pieces}.items() if v is not None}
    return inst(**base)


def plan(a, b, **more):
    return job(a, b, read_prices(), catalogue=read_catalogue(), **more)


def verbs(j):
    return [(s.verb, s.seat) for s in j.steps]


def kinds(a, b, **more):
    return {d.seat: d.kind for d in difference(a, b, **more)}


# ---- what is work


def test_the_same_fact_written_in_two_designs_is_no_difference():
    def design(name, phase):
        fact = Claim(about=Path(f"design.{name}.devices.A1/rail/5.phase"), holds=Exactly(phase), how="chosen")
        return standing(devices={"A1/rail/5": Device(part="rcbo-c16-2p-30a", facts=Map({"phase": fact}))})

    assert kinds(design("one", "L1"), design("other", "L1")) == {}
    assert plan(design("one", "L1"), design("other", "L1")).steps == ()
    assert kinds(design("one", "L1"), design("other", "L2")) == {"A1/rail/5": "rewired"}


def test_a_corrected_length_is_no_work():
    b = standing(runs={"R1": run("DB1/3", "A1", 23.0, 16.0, how="read")})
    assert kinds(standing(), b) == {"R1": "learned"}
    readings = [Reading(id="T1", of="zs", at=Seat("R1"), value=0.4)]
    j = plan(standing(), b, readings=readings)
    assert verbs(j) == [("record", "R1")]
    assert j.tests_void == () and [v.reading.id for v in j.tests_standing] == ["T1"]
    assert j.price.total == 0 and j.hours == 0 and j.certificate == ""
    assert apply(j.steps[0], standing()) == b


def test_a_chosen_size_is_a_new_cable():
    assert kinds(standing(), standing(runs={"R1": run("DB1/3", "A1", 18.0, 25.0)})) == {"R1": "replaced"}
    corrected = standing(runs={"R1": run("DB1/3", "A1", 18.0, 25.0)})
    assert kinds(standing(), corrected, corrected=["R1"]) == {"R1": "learned"}


@pytest.mark.parametrize(
    ("old", "new", "expected"),
    [
        (claim("C"), claim("B"), "replaced"),
        (replace(claim("C"), holds=OneOf(("B", "C"))), claim("B"), "replaced"),
        (replace(claim("C"), holds=OneOf(("B", "C"))), claim("B", "seen"), "learned"),
        (None, claim("B"), "replaced"),
        (claim("C"), None, "learned"),
    ],
)
def test_a_letter_chosen_is_work_and_a_letter_seen_is_knowledge(old, new, expected):
    def with_curve(c):
        return standing(devices={"DB1/3": Device(part="mcb", facts=Map({"curve": c} if c else {}))})

    assert kinds(with_curve(old), with_curve(new)) == {"DB1/3": expected}


def test_a_fact_seen_on_a_catalogue_part_is_no_work():
    b = standing(devices={"DB1/3": Device(part="mcb-c63-4p", stays=True, facts=Map({"curve": claim("C")}))})
    assert kinds(standing(), b) == {"DB1/3": "learned"}


def test_label_phase_feed_place_and_staying():
    assert kinds(standing(), standing(devices={"DB1/3": Device(part="mcb-c63-4p", stays=True, label="A1")})) == {
        "DB1/3": "relabelled"
    }
    assert kinds(standing(), standing(devices={"DB1/3": Device(part="mcb-c63-4p")})) == {"DB1/3": "learned"}
    moved = Assembly(part="enclosure-6-18", at_m=(4.0, 0.0), height_m=1.2, stays=True)
    assert kinds(standing(), standing(assemblies={"A1": moved})) == {"A1": "replaced"}
    fed = Outlet(part="outlet-60309-16a-2pe", behind=Seat("A1/rail/7"))
    assert kinds(standing(), standing(outlets={"A1/face/1": fed})) == {"A1/face/1": "rewired"}
    phase = Device(part="rcbo-c16-2p-30a", facts=Map({"phase": claim("L2")}))
    assert kinds(standing(), standing(devices={"A1/rail/5": phase})) == {"A1/rail/5": "rewired"}


def test_nothing_to_replace_is_one_clear_error():
    with pytest.raises(InputError, match=r'"A1/rail/9"'):
        difference(standing(), standing(), replace=["A1/rail/9"])


# ---- where it is isolated, and for whom


def test_work_in_an_assembly_is_isolated_at_its_way_and_not_at_its_own_incomer():
    b = standing(outlets={"A1/face/1": Outlet(part="outlet-1363-twin-ip55", behind=Seat("A1/rail/5"))})
    j = plan(standing(), b)
    assert [s.seat for s in j.steps if s.verb == "isolate"] == ["DB1/3"]
    (work,) = [s for s in j.steps if s.verb in WORK]
    assert (work.verb, work.seat, work.isolate_at, work.prove_dead_at) == (
        "replace", "A1/face/1", ("DB1/3",), ("A1/incomer",),
    )  # fmt: skip
    order = [s.verb for s in j.steps]
    assert order.index("isolate") < order.index("prove_dead") < order.index("replace") < order.index("test_dead")
    assert order.index("test_dead") < order.index("re_energise") < order.index("test_live")


def test_new_incomer_of_an_assembly_is_isolated_above_it_too():
    b = standing(devices={"A1/incomer": Device(part="rccb-63-4p-30a", stays=True)})
    assert [s.seat for s in plan(standing(), b).steps if s.verb == "isolate"] == ["DB1/3"]


def test_work_in_a_board_is_isolated_at_its_incomer_and_its_incomer_at_the_origin():
    b = standing(devices={"DB1/3": Device(part="mcb-c32-4p", stays=True)})
    assert [s.seat for s in plan(standing(), b).steps if s.verb == "isolate"] == ["DB1/incomer"]
    b = standing(devices={"DB1/incomer": Device(part="switch-disconnector-125-4p", stays=True)})
    assert [s.seat for s in plan(standing(), b).steps if s.verb == "isolate"] == ["origin"]


def test_a_contactor_is_no_isolation():
    a = standing(devices={"DB1/3": Device(part="contactor-63-4p", stays=True)})
    b = standing(
        devices={"DB1/3": Device(part="contactor-63-4p", stays=True), "A1/rail/5": Device(part="rcbo-b16-2p-30a")}
    )
    assert [s.seat for s in plan(a, b).steps if s.verb == "isolate"] == ["DB1/incomer"]


def test_who_loses_supply_is_named_by_tenant_and_service():
    tenant = Tenancy(
        id="h",
        name="Harbour",
        from_=None,
        to=None,
        machines=Map({"saw": Machine(id="saw", name="band saw", at_m=(1, 1))}),
    )
    use = Use(tenancy="h", plugged=Map({"saw": Seat("A1/face/1")}))
    b = standing(devices={"DB1/3": Device(part="mcb-c32-4p", stays=True)})
    j = plan(standing(), b, use=use, tenant=tenant, sources=["panels on the roof"])
    (isolate,) = [s for s in j.steps if s.verb == "isolate"]
    assert {(x.kind, x.name, x.tenancy, x.serves) for x in isolate.loses_supply if x.kind != "outlet"} == {
        ("load", "lighting", "", "lighting"), ("machine", "band saw", "Harbour", ""),
    }  # fmt: skip
    assert isolate.other_sources == ("panels on the roof",)
    assert "panels on the roof" in isolate.words
    assert j.outages[0].point == "DB1/incomer" and j.outages[0].hours > 0


def test_an_unknown_feed_heads_the_step():
    x = Outlet(part="outlet-1363-twin", at_m=(1.0, 0.0), height_m=0.4)
    a = standing(outlets={"X9": x}, runs={"R9": run("DB1/9", "X9")})
    j = plan(a, standing())
    out = {s.seat: s for s in j.steps if s.verb == "take_out"}
    assert "not known" in out["R9"].warning and "prove dead" in out["R9"].warning
    assert set(out["R9"].isolate_at) == {"DB1/incomer"}


def test_no_words_say_that_a_conductor_is_dead():
    b = standing(devices={"DB1/3": Device(part="mcb-c32-4p", stays=True)})
    for step in plan(standing(), b).steps:
        said = step.words.lower().replace("prove dead", "").replace("dead tests", "")
        assert "dead" not in said, step.words


# ---- order


def test_a_new_assembly_is_built_before_anything_is_opened_and_connected_last():
    b = standing(
        assemblies={"A2": Assembly(part="enclosure-4-12", at_m=(9.0, 0.0), height_m=1.2)},
        devices={
            "DB1/4": Device(part="mcb-c32-4p"), "A2/incomer": Device(part="switch-63-4p"),
            "A2/rail/5": Device(part="rcbo-c16-2p-30a"),
        },
        outlets={"A2/face/1": Outlet(part="outlet-60309-16a-2pe", behind=Seat("A2/rail/5"))},
        runs={"R3": run("DB1/4", "A2", 9.0)},
    )  # fmt: skip
    j = plan(standing(), b)
    work = [s for s in j.steps if s.verb in WORK]
    assert [s.seat for s in work] == ["A2", "A2/incomer", "A2/rail/5", "A2/face/1", "DB1/4", "R3"]
    assert j.steps.index(work[3]) < verbs(j).index(("isolate", "DB1/incomer")) < j.steps.index(work[4])
    assert all("Nothing feeds it yet" in s.words for s in work[:4])
    assert j.certificate == "electrical installation certificate"


def test_a_cable_is_drawn_in_before_the_board_opens_unless_live_cables_share_its_way():
    def steps(through):
        trunking = {
            "T1": Containment(part="trunking-100x50", path_m=((0.0, 0.0), (9.0, 0.0)), height_m=3.0, stays=True)
        }
        kept = {"R2": run("DB1/1.L1", "lights", 20.0, 1.5, through=("T1",))}
        a = standing(containment=trunking, runs=kept)
        x = {"X1": Outlet(part="outlet-60309-32a-3pne", at_m=(3.0, 0.0), height_m=1.2)}
        new = {**kept, "R3": run("DB1/4", "X1", 9.0, through=through)}
        b = standing(containment=trunking, runs=new, outlets=x, devices={"DB1/4": Device(part="mcb-c32-4p")})
        return plan(a, b)

    drawn_in, beside = steps(()), steps(("T1",))
    assert verbs(drawn_in).index(("draw", "R3")) < verbs(drawn_in).index(("isolate", "DB1/incomer"))
    assert ("draw", "R3") not in verbs(beside)
    assert drawn_in.hours == beside.hours and drawn_in.price.total == beside.price.total
    assert drawn_in.outages[0].hours < beside.outages[0].hours


def test_what_nothing_feeds_yet_is_labelled_and_dead_tested_before_the_board_opens():
    b = standing(
        assemblies={"A2": Assembly(part="enclosure-4-12", at_m=(9.0, 0.0), height_m=1.2)},
        devices={
            "DB1/4": Device(part="mcb-c32-4p"), "A2/incomer": Device(part="switch-63-4p"),
            "A2/rail/5": Device(part="rcbo-c16-2p-30a"),
        },
        outlets={"A2/face/1": Outlet(part="outlet-60309-16a-2pe", behind=Seat("A2/rail/5"))},
        runs={"R3": run("DB1/4", "A2", 9.0)},
    )  # fmt: skip
    order = verbs(plan(standing(), b))
    opened, closed = order.index(("isolate", "DB1/incomer")), order.index(("re_energise", "DB1/incomer"))
    assert order.index(("label", "A2")) < opened and order.index(("test_dead", "A2/rail/5")) < opened
    assert opened < order.index(("test_dead", "DB1/4")) < closed < order.index(("test_live", "A2/rail/5"))
    assert order.count(("test_dead", "A2/rail/5")) == order.count(("label", "A2")) == 1


def test_an_assembly_that_goes_is_cut_from_its_feed_first_and_the_way_is_blanked():
    gone = dict.fromkeys(("A1/incomer", "A1/rail/5", "A1/rail/7", "DB1/3"))
    b = standing(
        assemblies={"A1": None}, devices=gone, outlets=dict.fromkeys(("A1/face/1", "A1/face/2")), runs={"R1": None}
    )
    j = plan(standing(), b)
    work = [s.seat for s in j.steps if s.verb in WORK]
    assert work[0] == "R1" and work[-1] == "A1"
    assert ("blank", "DB1/3") in verbs(j)
    assert [s.seat for s in j.steps if s.verb == "isolate"] == ["DB1/incomer"]
    assert [m.place for m in j.parts_out if m.part.startswith("swa-90")] == ["scrap"]
    assert any(x.what == "taking waste away" and x.payer == "tenant" for x in j.price.lines)


def test_a_way_that_feeds_nothing_any_more_is_locked_off():
    gone = dict.fromkeys(("A1/incomer", "A1/rail/5", "A1/rail/7"))
    b = standing(
        assemblies={"A1": None}, devices=gone, outlets=dict.fromkeys(("A1/face/1", "A1/face/2")), runs={"R1": None}
    )
    j = plan(standing(), b)
    assert ("lock_off", "DB1/3") in verbs(j)
    assert verbs(j).index(("lock_off", "DB1/3")) < verbs(j).index(("re_energise", "DB1/incomer"))


def test_on_a_tapped_run_the_board_closes_again_while_the_rest_is_fitted_below_a_locked_way():
    b = standing(
        devices={"DB1/5": Device(part="mcb-c63-4p"), "R7/tap/1": Device(part="fuse-carrier-32-4p")},
        runs={
            "R7": Run(part="tapped-run-63", cable="tapped-run", from_=Seat("DB1/5"), to=Seat("end"), tapped=True,
                      facts=Map({"length_m": claim(20.0)})),
            "R8": run("R7/tap/1", "X1", 3.0),
        },
        taps={"R7/tap/1": Tap(part="tap-off-32-rail")},
        outlets={"X1": Outlet(part="outlet-60309-32a-3pne", at_m=(3.0, 0.0), height_m=1.2)},
    )  # fmt: skip
    order = verbs(plan(standing(), b))
    assert (
        order.index(("put_in", "R7")) < order.index(("lock_off", "DB1/5")) < order.index(("re_energise", "DB1/incomer"))
    )
    assert order.index(("re_energise", "DB1/incomer")) < order.index(("put_in", "R7/tap/1"))
    assert order.index(("put_in", "R8")) < order.index(("re_energise", "DB1/5"))


def test_a_button_that_switches_off_other_outlets_is_one_step():
    a = standing(off_groups={"A1/face/6": OffGroup(button=Seat("A1/face/6"), outlets=(Seat("A1/face/1"),))})
    both = OffGroup(button=Seat("A1/face/6"), outlets=(Seat("A1/face/1"), Seat("A1/face/2")))
    b = standing(off_groups={"A1/face/6": both})
    work = [s for s in plan(a, b).steps if s.verb in WORK]
    assert [(s.verb, s.seat, s.isolate_at) for s in work] == [("reconnect", "A1/face/6/off-group", ("DB1/3",))]


def test_two_devices_that_change_places_behind_one_another():
    a = standing(
        devices={
            "A1/rail/9": Device(part="rccb-63-4p-30a"),
            "A1/rail/13": Device(part="rccb-63-4p-100a", behind=Seat("A1/rail/9")),
        }
    )
    b = standing(
        devices={
            "A1/rail/9": Device(part="rccb-63-4p-100a", behind=Seat("A1/rail/13")),
            "A1/rail/13": Device(part="rccb-63-4p-30a"),
        }
    )
    now = a
    for step in plan(a, b).steps:
        now = apply(step, now)
    assert replace(now, made=Map()) == b


# ---- tests, stock, money


def test_like_for_like_fells_the_results_of_its_circuit_and_is_upkeep():
    readings = [
        Reading(id="zs", of="zs", at=Seat("A1/face/1"), value=0.5),
        Reading(id="ins", of="insulation", at=Seat("A1/face/1"), value=200.0),
        Reading(id="rcd", of="rcd_time", at=Seat("A1/rail/5"), value=22.0),
        Reading(id="other", of="zs", at=Seat("A1/face/2"), value=0.5),
        Reading(id="ze", of="ze", at=Seat("origin"), value=0.2),
    ]
    j = plan(standing(), standing(), replace=["A1/rail/5"], readings=readings)
    assert [s.seat for s in j.steps if s.verb in WORK] == ["A1/rail/5"]
    assert {v.reading.id for v in j.tests_void} == {"zs", "ins", "rcd"}
    assert {v.reading.id for v in j.tests_standing} == {"other", "ze"}
    assert [v.reading.id for v in j.repeat_advised] == ["other"], "its enclosure was opened"
    assert j.price.by_payer["tenant"] == 0 and j.price.by_payer["landlord"] > 0
    assert [(m.part, m.place) for m in j.parts_out] == [("rcbo-c16-2p-30a", "scrap")]
    assert j.certificate == "minor works certificate"


def test_a_way_changed_upstream_fells_the_loop_reading_below_and_not_the_insulation():
    readings = [
        Reading(id="zs", of="zs", at=Seat("A1/face/1"), value=0.5),
        Reading(id="ins", of="insulation", at=Seat("A1/face/1"), value=200.0),
        Reading(id="feed", of="r1r2", at=Seat("R1"), value=0.1),
    ]
    j = plan(standing(), standing(devices={"DB1/3": Device(part="mcb-b63-4p", stays=True)}), readings=readings)
    assert {v.reading.id for v in j.tests_void} == {"zs", "feed"}


def test_a_reconnected_outlet_keeps_its_piece_and_loses_its_results():
    a = standing(outlets={"A1/face/3": Outlet(part="outlet-60309-16a-2pe", behind=Seat("A1/rail/5"))})
    b = standing(
        outlets={"A1/face/3": Outlet(part="outlet-60309-16a-2pe", behind=Seat("A1/rail/5"), label="x")},
        devices={"A1/rail/5": Device(part="rcbo-c16-2p-30a", facts=Map({"phase": claim("L2")}))},
    )
    reading = Reading(id="zs", of="zs", at=Seat("A1/face/3"), value=0.5)
    j = plan(a, b, readings=[reading])
    (void,) = j.tests_void
    assert all(":" in thing for thing in void.things), "joints were made anew, no piece was"
    assert j.parts_in == () or all(m.part == "label" for m in j.parts_in)


def test_stock_first_then_what_the_job_sets_free():
    swap = standing(
        outlets={
            "A1/face/1": Outlet(part="outlet-1363-twin-ip55", behind=Seat("A1/rail/5")),
            "A1/face/2": None,
            "A1/face/3": Outlet(part="outlet-60309-16a-2pe", behind=Seat("A1/rail/5")),
            "A1/face/4": Outlet(part="outlet-60309-32a-3pne", behind=Seat("A1/rail/7")),
        }
    )
    j = plan(standing(), swap, stock={"outlet-60309-32a-3pne": 1})
    whence = {s.seat: s.from_ for s in j.steps if s.verb in ("put_in", "replace")}
    assert whence == {"A1/face/1": "supplier", "A1/face/3": "A1/face/1", "A1/face/4": "store"}
    assert {x.what: x.total for x in j.price.lines if x.what.startswith("outlet")} == {
        "outlet-1363-twin-ip55": read_prices().each("outlet-1363-twin-ip55"), "outlet-60309-32a-3pne": 0.0,
        "outlet-60309-16a-2pe": 0.0,
    }  # fmt: skip


def test_backbone_to_the_landlord_contents_to_the_tenant():
    b = standing(devices={"A1/rail/9": Device(part="mcb-b16-1p"), "DB1/5": Device(part="mcb-c32-3p", stays=True)})
    payers = {x.what: x.payer for x in plan(standing(), b).price.lines}
    assert payers["mcb-b16-1p"] == "tenant" and payers["mcb-c32-3p"] == "landlord"
    assert payers["testing"] == "tenant" and payers["standing time"] == "tenant"
    whole = standing(devices={"DB1/5": Device(part="mcb-c32-3p", stays=True)})
    assert plan(standing(), whole).price.by_payer["tenant"] == 0


def test_the_documented_form():
    b = standing(outlets={"A1/face/2": None})
    data = json.loads(
        json.dumps(as_json(plan(standing(), b, readings=[Reading(id="T", of="ze", at=Seat("origin"), value=1)])))
    )
    assert set(data) >= {
        "steps", "parts_in", "parts_out", "tests_void", "tests_standing", "hours", "price", "loses_supply",
    }  # fmt: skip
    assert data["format"] == "relet/change/1"
    assert data["price"]["total"] == pytest.approx(sum(x["total"] for x in data["price"]["lines"]))
    assert data["hours"] == pytest.approx(sum(s["minutes"] for s in data["steps"]) / 60, abs=0.01)


# ---- what may not be


def test_states_that_may_not_be():
    catalogue = read_catalogue()
    loose = standing(devices={"A1/rail/5": None})
    assert any("A1/rail/5" in p for p in legal(loose))
    assert legal(loose, ["DB1/3"]) == ()
    assert any(
        "overlaps" in p for p in legal(standing(devices={"A1/rail/6": Device(part="mcb-b16-1p")}), catalogue=catalogue)
    )
    assert any("nothing is there" in p for p in legal(standing(assemblies={"A1": None})))
    assert any("live end" in p for p in legal(standing(outlets={}, loads={"lights": None})))
    assert any("no run to tap" in p for p in legal(standing(taps={"R7/tap/1": Tap(part="tap-off-63")})))


def test_a_range_counts_at_its_dear_end():
    between = replace(claim(1.0), holds=Between(8.0, 14.0))
    r = replace(run("DB1/3", "A1", mm2=16.0), facts=Map({"length_m": between, "csa_mm2": claim(16.0)}))
    j = plan(standing(runs={"R1": None}, devices={}), standing(runs={"R1": r}))
    assert [m.quantity for m in j.parts_in if m.unit == "m"] == [14.0]
