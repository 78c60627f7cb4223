"""What a machine may draw when nobody has read its plate, and what a double outlet carries."""

from __future__ import annotations

import msgspec
import pytest

from relet.checks import judge
from relet.checks.loads import everything
from relet.checks.study import Study
from relet.model import Claim, Map, Open, Scalar
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
