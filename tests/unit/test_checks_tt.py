"""A unit with its own electrode (TT): what its earth loop says, and what it says nothing of."""

from __future__ import annotations

import pytest

from relet.checks import Finding, judge
from relet.model import Case, Scalar
from rule_examples import case_of, finding_in, knowing

TT: dict[str, Scalar] = {"supply.earthing": "TT", "supply.ze_ohm": 21.0}


def tt(rule: str, name: str = "meets", **more: Scalar) -> Case:
    return knowing(case_of(rule, name), {**TT, **more})


def the(case: Case, rule: str, subject: str) -> Finding:
    return finding_in(judge(case, rules=[rule]), rule, subject)


def test_a_socket_is_disconnected_by_its_residual_current_device() -> None:
    """30 mA, 21 ohm: 10.4 A of fault current is far above twice the rated residual current, which opens it in 0.15 s
    (IEC 61008-1 table 1) where 0.2 s are allowed; the limit is 50 V / 30 mA."""
    finding = the(tt("protection.residual_current_required"), "fault.disconnection", "R1")
    assert finding.verdict == "meets"
    assert finding.worst is not None
    assert float(finding.worst.limit) == pytest.approx(50 / 0.030)
    assert "residual-current device within 0.2 s" in finding.sentence


def test_a_breaker_alone_cannot() -> None:
    finding = the(tt("fault.disconnection"), "fault.disconnection", "R1")
    assert finding.verdict == "fails"


def test_a_loop_too_large_for_the_touch_voltage_fails() -> None:
    case = knowing(tt("protection.residual_current_required"), {"supply.ze_ohm": 1700.0})
    assert the(case, "fault.disconnection", "R1").verdict == "fails"


def test_a_delayed_device_is_quick_enough_for_a_distribution_circuit_at_its_rated_current() -> None:
    finding = the(tt("protection.selectivity_residual"), "fault.disconnection", "R1")
    assert finding.verdict == "meets"
    assert finding.worst is not None
    assert float(finding.worst.limit) == pytest.approx(50 / 0.100)
    assert "within 1 s" in finding.sentence


def test_the_electrode_says_nothing_of_a_short_circuit_between_line_and_neutral() -> None:
    finding = the(tt("protection.residual_current_required"), "fault.conductor_heating", "R1")
    assert finding.verdict == "meets"
    least = [s for s in finding.working() if s.symbol == "Ipf"]
    assert least, "the prospective current decides"


def test_nor_of_the_dip_while_a_motor_starts() -> None:
    """3 kA between line and neutral, twice that for three lines (published safe estimate): the same dip as in TN with
    253 V / 6 kA = 42 mohm a phase."""
    finding = the(tt("conductor.starting_volt_drop"), "conductor.starting_volt_drop", "tenancies.quoin.machines.press")
    assert finding.worst is not None
    assert finding.verdict == "meets"
    dip = finding.beside()[0] if finding.worst.sense == "at_most" else finding.worst.value
    assert float(dip) > 90


def test_a_three_phase_current_is_halved_between_line_and_neutral() -> None:
    """Line and neutral alike: 6 kA of three lines are 3 kA of one line and neutral. Judged the same."""
    one = the(tt("conductor.starting_volt_drop"), "conductor.starting_volt_drop", "tenancies.quoin.machines.press")
    three = the(
        tt("conductor.starting_volt_drop", **{"supply.ipf_ka": 6.0, "supply.ipf_of": "three-phase"}),
        "conductor.starting_volt_drop", "tenancies.quoin.machines.press",
    )  # fmt: skip
    assert one.margin == pytest.approx(three.margin, rel=1e-6)


def test_the_incomer_of_an_assembly_opens_the_neutral_too() -> None:
    case = tt("assembly.isolation")
    assert the(case, "assembly.isolation", "A1").verdict == "meets"
    three = knowing(case, {"standing.devices.A1/incomer.poles": 3})
    assert the(three, "assembly.isolation", "A1").verdict == "fails"
    tn = {"supply.earthing": "TN-S", "supply.ze_ohm": 0.3}
    assert the(knowing(three, tn), "assembly.isolation", "A1").verdict == "meets"
