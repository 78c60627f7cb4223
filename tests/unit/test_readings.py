"""What each kind of test rests on, and what makes it fall."""

from __future__ import annotations

from datetime import date

import pytest
from msgspec.structs import replace

from relet.model import Assembly, Board, Device, Installation, Map, Outlet, Run, Seat, Stamp, Tap
from relet.readings import Calibration, Disturbance, Reading, fallen, in_time, rests_on


def inst(**groups):
    return Installation(**{k: Map({Seat(s): p for s, p in v.items()}) for k, v in groups.items()})


RUN = Run(part="tapped-run-63", cable="tapped-run", from_=Seat("DB1/3"), to=Seat("end"), tapped=True, through=("T1",))
DROP = Run(part="flex-rubber-60", cable="flex-rubber-60", from_=Seat("R7/tap/1"), to=Seat("A4"))
UNIT = inst(
    boards={"DB1": Board(part="board-8-3ph", at_m=(0.0, 0.0), height_m=1.6, ways=8)},
    assemblies={"A4": Assembly(part="enclosure-6-18", at_m=(0.0, 5.0), height_m=1.2)},
    devices={
        "DB1/incomer": Device(part="switch-disconnector-100-4p"), "DB1/3": Device(part="mcb-c63-4p"),
        "DB1/4": Device(part="mcb-c32-4p"), "R7/tap/1": Device(part="fuse-carrier-32-4p"),
        "A4/incomer": Device(part="switch-63-4p"), "A4/rail/5": Device(part="rcbo-c16-2p-30a"),
    },
    outlets={
        "A4/face/1": Outlet(part="outlet-60309-16a-2pe", behind=Seat("A4/rail/5")),
        "X2": Outlet(part="outlet-60309-32a-3pne", at_m=(1.0, 0.0), height_m=1.2),
    },
    taps={"R7/tap/1": Tap(part="tap-off-32-rail")},
    runs={
        "R7": RUN, "R8": DROP,
        "R9": Run(part="swa-90", cable="swa-90", from_=Seat("DB1/4"), to=Seat("X2"), through=("T1",)),
    },
)  # fmt: skip


def names(of, at):
    return {n for n, _ in rests_on(Reading(id="r", of=of, at=Seat(at), value=1.0), UNIT)}


def test_loop_impedance_rests_on_the_whole_path_joints_included():
    assert names("zs", "A4/face/1") == {
        "origin", "DB1", "DB1/incomer", "DB1/incomer:in", "DB1:in", "DB1/3", "DB1/3:in", "R7", "R7:from", "R7/tap/1",
        "R7/tap/1:in", "R7/tap/1/device", "R7/tap/1/device:in", "R8", "R8:from", "R8:to", "A4/incomer", "A4", "A4:in",
        "A4/rail/5", "A4/rail/5:in", "A4/face/1", "A4/face/1:in",
    }  # fmt: skip


def test_insulation_and_continuity_rest_on_the_circuit():
    assert names("insulation", "A4/face/1") == {"A4/rail/5", "A4/rail/5:in", "A4/face/1", "A4/face/1:in"}
    assert names("r1r2", "R9") == names("polarity", "X2") == {"DB1/4", "DB1/4:in", "R9", "R9:from", "R9:to", "X2"}
    assert "R8" not in names("insulation", "DB1/3"), "the tap's own device begins another circuit"


def test_operating_time_rests_on_the_device_and_the_origin_on_itself():
    assert names("rcd_time", "A4/rail/5") == {"A4/rail/5", "A4/rail/5:in"}
    assert names("rcd_time", "A4/face/1") == {"A4/rail/5", "A4/rail/5:in"}
    assert names("ze", "origin") == names("ipf", "supply") == {"origin"}
    assert names("zs", "Z1") == set()


@pytest.mark.parametrize("thing", ["DB1/3", "R8:to", "R7/tap/1/device"])
def test_a_new_stamp_anywhere_in_the_path_fells_it(thing):
    after = replace(UNIT, made=Map({thing: Stamp(job="J2", step=1)}))
    (v,) = fallen([Reading(id="r", of="zs", at=Seat("A4/face/1"), value=0.5)], UNIT, after)
    assert v.effect == "void" and v.things == (thing,) and v.why == (f"made anew: {thing}",)
    (w,) = fallen([Reading(id="r", of="zs", at=Seat("X2"), value=0.5)], UNIT, after)
    assert w.effect is None


def test_a_subject_that_is_gone():
    after = replace(UNIT, outlets=UNIT.outlets.drop(Seat("X2")))
    (v,) = fallen([Reading(id="r", of="polarity", at=Seat("X2"), value=True)], UNIT, after)
    assert v.effect == "void" and "no longer there" in v.why[0]


def test_disturbances():
    ins = Reading(id="r", of="insulation", at=Seat("X2"), value=100.0, on=date(2026, 1, 1))
    rcd = Reading(id="t", of="rcd_time", at=Seat("A4/rail/5"), value=20.0)

    def effect(r, **d):
        return fallen([r], UNIT, UNIT, [Disturbance(**d)])[0].effect

    assert effect(ins, kind="cables drawn in beside it", at=Seat("R7")) == "repeat advised"
    assert effect(ins, kind="cables drawn in beside it", at=Seat("R8")) is None, "another way"
    assert effect(ins, kind="flood", at=Seat("X2")) == "void"
    assert effect(ins, kind="flood", at=Seat("X2"), on=date(2025, 6, 1)) is None, "it was before the reading"
    assert effect(rcd, kind="fault cleared", at=Seat("A4/rail/5")) == "void"
    assert effect(rcd, kind="enclosure opened", at=Seat("A4")) is None


def test_interval_and_calibration():
    r = Reading(id="r", of="zs", at=Seat("X2"), value=0.5, on=date(2025, 1, 31), instrument="loop tester 1")
    good = [Calibration(instrument="loop tester 1", from_=date(2024, 6, 1), until=date(2025, 6, 1))]
    assert in_time(r, date(2025, 2, 28), Map({"": 1}), good) == ()
    assert "interval" in in_time(r, date(2025, 3, 1), Map({"": 1}), good)[0]
    assert in_time(r, date(2035, 1, 1), Map(), good) == (), "no interval is assumed"
    late = [Calibration(instrument="loop tester 1", from_=date(2025, 2, 1))]
    assert "not in calibration" in in_time(r, date(2025, 2, 1), Map(), late)[0]
    assert "no calibration on record" in in_time(r, date(2025, 2, 1), Map())[0]
    assert "day" in in_time(replace(r, on=None), date(2025, 2, 1), Map(), good)[0]
