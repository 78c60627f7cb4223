"""What nobody has said is named; it is never passed over and never guessed in favour."""

from __future__ import annotations

from pathlib import Path

import pytest

from relet.checks import Finding, judge
from relet.files.opened import open_unit
from rule_examples import case_of, finding_in, knowing, path_of


def altered(tmp_path: Path, rule: str, before: str, after: str, name: str = "meets") -> list[Finding]:
    """Findings of an example with one piece of text put in place of another."""
    text = path_of(rule, name).read_text(encoding="utf-8")
    assert text.count(before) == 1, before
    file = tmp_path / "unit.toml"
    file.write_text(text.replace(before, after), encoding="utf-8")
    (case,) = open_unit(file).cases()
    return list(judge(case).findings)


def the(findings: list[Finding], rule: str, subject: str) -> Finding:
    (one,) = [f for f in findings if f.rule == rule and f.subject == subject]
    return one


MISSING = [
    # example, text put out, text put in, rule, subject, address of the datum
    ("protection.residual_current_rating", ', inc_ka = 10', "", "fault.breaking_capacity", "DB1/2",
     "standing.devices.DB1/2.inc_ka"),
    ("assembly.fit", 'part = "enclosure-6-18"', 'part = "enclosure"', "assembly.fit", "A1",
     "standing.assemblies.A1.apertures"),
    ("assembly.heat", 'part = "enclosure-4-12"', 'part = "enclosure"', "assembly.heat", "A1",
     "standing.assemblies.A1.width_mm"),
    ("conductor.containment", 'width_mm = 38, ', "", "conductor.containment", "T1", "standing.containment.T1.width_mm"),
    ("protection.selectivity_residual", ", i2t_a2s = 60000", "", "fault.conductor_heating", "R1",
     "standing.devices.DB1/1.i2t_a2s"),
    ("conductor.overload", "at_m = [4.0, 6.0], ", "", "place.clearance", "X1", "standing.outlets.X1.at_m"),
    ("place.reach", "at_m = [4.0, 6.0], ", "", "place.reach", "tenancies.quoin.machines.press",
     "standing.outlets.X1.at_m"),
    ("protection.standing_leakage", "power_w = 2200, ", "", "protection.standing_leakage", "DB1/1",
     "tenancies.quoin.machines.cutter.power_w"),
]  # fmt: skip


@pytest.mark.parametrize(("example", "out", "into", "rule", "subject", "about"), MISSING)
def test_a_datum_that_is_nowhere_held_is_named(
    tmp_path: Path, example: str, out: str, into: str, rule: str, subject: str, about: str
) -> None:
    finding = the(altered(tmp_path, example, out, into), rule, subject)
    assert finding.verdict == "depends"
    assert [n.about for n in finding.needs] == [about]
    assert about.rsplit(".", 1)[-1] in finding.sentence


def test_a_socket_that_nobody_feeds_asks_for_its_run() -> None:
    case = case_of("conductor.volt_drop", "not_applicable")
    finding = finding_in(judge(case), "protection.residual_current_required", "X1")
    assert finding.verdict == "depends"
    assert "the run that feeds X1" in finding.sentence


def test_a_height_that_nobody_measured_depends_with_both_ends() -> None:
    finding = finding_in(judge(case_of("place.height", "depends")), "place.height", "X1")
    (need,) = finding.needs
    assert (need.meets_on[0].low, need.meets_on[0].high) == (1.0, 1.4)
    assert need.words == "meets if height of X1 is 1 to 1.4 m"


def test_a_narrow_window_inside_a_wide_range_is_found(tmp_path: Path) -> None:
    case = knowing(case_of("place.height", "depends"), {"policy.outlet_low_m": 1.15, "policy.outlet_high_m": 1.3})
    assert finding_in(judge(case), "place.height", "X1").verdict == "depends"


def test_a_fixed_connection_is_judged_by_the_height_of_its_handle(tmp_path: Path) -> None:
    x = 'X1 = { part = "outlet-60309-32a-3pne", at_m = [4.0, 6.0], height_m = 1.2 }'
    fixed = x.replace("outlet-60309", "fixed-connection").replace("1.2", "1.6")
    assert the(altered(tmp_path, "place.height", x, fixed), "place.height", "X1").verdict == "meets"
    assert the(altered(tmp_path, "place.height", x, x.replace("1.2", "1.6")), "place.height", "X1").verdict == "advice"


def test_whether_a_machine_brings_an_explosive_atmosphere_may_be_unknown(tmp_path: Path) -> None:
    out = "leak_ma = 1.0 }\n\n[wishes]"
    found = altered(tmp_path, "protection.inrush", out, 'leak_ma = 1.0, explosive = "unknown" }\n\n[wishes]')
    finding = the(found, "place.explosive", "tenancies.quoin.machines.press")
    assert finding.verdict == "depends"
    assert finding.needs[0].words == "meets if explosive of press is no, refer if yes"
    assert "specialist" in finding.sentence


def test_a_piece_in_an_area_that_a_specialist_has_not_answered_fails(tmp_path: Path) -> None:
    zone = '\n[zones]\nspray_bay = { kind = "paint", area_m = [[3, 4], [5, 4], [5, 6], [3, 6]] }\n\n[supply]'
    finding = the(altered(tmp_path, "conductor.overload", "\n[supply]", zone), "place.explosive", "spray_bay")
    assert finding.verdict == "fails"
    assert "X1" in finding.sentence


def test_an_ordinary_place_asks_for_no_protection_against_ingress(tmp_path: Path) -> None:
    finding = the(altered(tmp_path, "conductor.overload", "csa_mm2 = 6", "csa_mm2 = 10"), "assembly.ingress", "X1")
    assert finding.verdict == "not applicable"


def test_every_unknown_property_of_an_incomer_is_told(tmp_path: Path) -> None:
    part = '"A1/incomer"  = { part = "switch-disconnector-63-4p" }'
    bare = '"A1/incomer"  = { part = "switch", in_a = 63, poles = 4, ways = 4, icc_ka = 10 }'
    finding = the(altered(tmp_path, "assembly.isolation", part, bare), "assembly.isolation", "A1")
    assert finding.verdict == "depends"
    assert {n.about.rsplit(".", 1)[-1] for n in finding.needs} == {"isolates", "locks_off", "shows_position"}
    assert all(not n.surely for n in finding.needs)
    assert all("if everything else not known is at its best" in n.words for n in finding.needs)


def test_a_residual_current_device_behind_its_makers_sum(tmp_path: Path) -> None:
    """Where its maker allows, the sum of the outgoing devices counts in place of the device upstream."""
    rccb = '"DB1/2"       = { part = "rccb", in_a = 63,'
    small = '"DB1/3" = { part = "mcb-b20-3p", behind = "DB1/2" }\n"DB1/2"       = { part = "rccb", in_a = 40,'
    rule = "protection.residual_current_rating"
    assert the(altered(tmp_path, rule, rccb, small), rule, "DB1/2").verdict == "fails"
    summed = small.replace("in_a = 40,", "in_a = 40, sum_rated = true,")
    assert the(altered(tmp_path, rule, rccb, summed), rule, "DB1/2").verdict == "meets"


def test_an_outlet_straight_behind_the_incomer_is_in_the_assembly_too(tmp_path: Path) -> None:
    """Its feed does not pass the busbar, yet the assembly is isolated and warmed by it."""
    found = altered(tmp_path, "assembly.heat", 'inc_a = 32, behind = "A1/rail/5"', 'inc_a = 32, behind = "A1/incomer"')
    assert the(found, "assembly.isolation", "A1").verdict == "meets"
    assert the(found, "assembly.heat", "A1").verdict == "meets"


@pytest.mark.parametrize(
    ("far", "ip", "verdict"), [(4.6, 44, "advice"), (5.6, 44, "meets"), (4.6, 55, "meets"), (4.6, 67, "advice")]
)
def test_clear_of_a_hosed_zone_unless_its_ingress_code_suits(tmp_path: Path, far: float, ip: int, verdict: str) -> None:
    """1 m (policy) from what is hosed down; 67 alone speaks of immersion and not of jets."""
    zone = f'\n[zones]\nwash = {{ kind = "hosed", area_m = [[{far}, 4], [8, 4], [8, 6], [{far}, 6]] }}\n\n[supply]'
    text = path_of("conductor.overload", "meets").read_text(encoding="utf-8").replace("\n[supply]", zone, 1)
    file = tmp_path / "unit.toml"
    file.write_text(text.replace("height_m = 1.2 }", f"height_m = 1.2, ip = {ip} }}"), encoding="utf-8")
    (case,) = open_unit(file).cases()
    assert finding_in(judge(case), "place.clearance", "X1").verdict == verdict
