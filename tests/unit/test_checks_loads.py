"""What a machine may draw when nobody has read its plate, and what a double outlet carries."""

from __future__ import annotations

import msgspec
import pytest

from relet.checks import judge
from relet.checks.demand import demand, with_starts
from relet.checks.loads import everything
from relet.checks.study import Study
from relet.electrical.topology import ORIGIN
from relet.model import Claim, Map, Open, Scalar
from relet.working import walk
from rule_examples import case_of, finding_in, knowing

PRESS = "tenancies.quoin.machines.press"


@pytest.mark.parametrize(
    ("plug", "phases", "most"),
    [("13 A", 1, 3000), ("16 A 1ph", 1, 3680), ("32 A 3ph", 3, 22000), ("63 A 3ph", 3, 43600), ("fixed", 3, 22000)],
)
def test_a_plug_bounds_what_an_unknown_machine_draws(plug: str, phases: int, most: float) -> None:
    """The upper end of the plausible range is what the plug can carry."""
    case = knowing(case_of("conductor.starting_volt_drop", "meets"), {f"{PRESS}.plug": plug, f"{PRESS}.phases": phases})
    unknown = {**case.learned, f"{PRESS}.power_w": Claim(about=f"{PRESS}.power_w", holds=Open(), how="seen")}
    study = Study(msgspec.structs.replace(case, learned=Map(unknown)))
    everything(study)
    assert study.open[f"{PRESS}.power_w"].high == most


@pytest.mark.parametrize(("total", "limit"), [(None, 16.0), (20.0, 20.0)])
def test_a_double_outlet_carries_what_its_pair_may(total: float | None, limit: float) -> None:
    """Behind a 20 A device and tested at 20 A: what the outlet carries in all decides, where it says so."""
    at = "standing.outlets.A1/face/1"
    facts: dict[str, Scalar] = {"standing.devices.A1/rail/5.in_a": 20.0, f"{at}.inc_a": 20.0}
    if total is not None:
        facts[f"{at}.total_a"] = total
    held = knowing(case_of("assembly.circuit_rating", "meets"), facts)
    finding = finding_in(judge(held, rules=["assembly.circuit_rating"]), "assembly.circuit_rating", "A1/face/1")
    assert finding.worst is not None
    assert float(finding.worst.limit) == limit


def test_starts_are_shown_beside_the_demand() -> None:
    """A press alone: the largest start last, and the restart, are its own start."""
    case = knowing(case_of("conductor.starting_volt_drop", "meets"), {f"{PRESS}.start": "dol"})
    study = Study(case)
    press = next(d for d in everything(study) if d.id == "press")
    (last, most), (back, restarted) = with_starts(study, ORIGIN)
    assert "largest start last" in last and "restart" in back
    assert float(most) == pytest.approx(float(press.current_a) * float(press.start_multiple))
    assert float(restarted) == pytest.approx(float(most))
    assert "press (starting)" in next(f for f in walk(most) if "largest start" in str(f.origin)).origin.method
    assert demand(study, ORIGIN).worst < most
    finding = finding_in(judge(case, rules=["load.supply_capacity"]), "load.supply_capacity", "supply")
    assert float(most) in [float(f) for f in finding.beside()]


def test_a_machine_that_is_held_off_does_not_restart() -> None:
    case = knowing(case_of("conductor.starting_volt_drop", "meets"), {f"{PRESS}.restart_inhibit": True})
    (_, most), (_, restarted) = with_starts(Study(case), ORIGIN)
    assert most > restarted
