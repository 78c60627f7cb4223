"""Code packs as data: dates, forces, marks, and the same units judged under each of them."""

from __future__ import annotations

import shutil
from datetime import date
from pathlib import Path

import pytest

from relet.checks import judge
from relet.codes import DEFAULT, FORCES_THAT_FAIL, MARKS, PACKS, UNCONFIRMED, code_ids, load_code, weakest_mark
from relet.errors import InputError, OutsideTable
from relet.files.opened import open_unit
from rule_examples import ALL, RULES, judged, knowing, path_of, shown, subject_of
from rule_examples import case_of as example

OLD, IEC = "bs7671-2018-a2-a3", "iec60364"


def test_three_packs_are_shipped_and_the_edition_in_force_comes_first() -> None:
    assert code_ids() == (DEFAULT, OLD, IEC)
    assert DEFAULT == "bs7671-2018-a4"


def test_dates_as_trade_publications_print_them() -> None:
    """A4 published 15 April 2026, the edition before withdrawn 15 October 2026, A2 of 28 March 2022."""
    new, old = load_code(DEFAULT), load_code(OLD)
    assert new.head["published"] == date(2026, 4, 15)
    assert "withdrawn" not in new.head
    assert (old.head["published"], old.head["withdrawn"]) == (date(2022, 3, 28), date(2026, 10, 15))


def test_the_edition_is_shown_with_every_result() -> None:
    found = judged("conductor.overload", "meets")
    assert found.basis.code == "BS 7671:2018+A4:2026 (published 2026-04-15)"
    assert found.basis.code_id == DEFAULT
    assert "withdrawn 2026-10-15" in judged("conductor.overload", "meets", OLD).basis.code
    assert "IEC 60364" in judged("conductor.overload", "meets", IEC).basis.code


def test_an_unknown_pack_names_those_there_are() -> None:
    with pytest.raises(InputError, match="bs7671-2018-a2-a3"):
        load_code("bs1")


def test_an_unknown_limit_names_pack_and_key() -> None:
    with pytest.raises(OutsideTable, match="no_such_limit"):
        load_code().limit("no_such_limit")


@pytest.mark.parametrize("id", code_ids())
def test_forces(id: str) -> None:
    code = load_code(id)
    force = {r: code.rule(r).force for r in RULES}
    assert {"law", "code", "product", "operator"} == FORCES_THAT_FAIL
    assert force["place.explosive"] == "law"
    assert force["load.supply_capacity"] == "operator"
    assert {force[r] for r in RULES if r.startswith("assembly.") and r not in _BY_CODE} == {"product"}
    assert {force[r] for r in ("place.reach", "place.clearance", "place.height")} == {"policy"}
    assert force["conductor.volt_drop"] == "guidance"
    assert force["fault.disconnection"] == "code"


_BY_CODE = frozenset({"assembly.ingress", "assembly.isolation", "assembly.interlock"})


def test_rows_of_the_edition_before_carry_their_mark() -> None:
    new, old = load_code(DEFAULT), load_code(OLD)
    for rule in RULES:
        assert new.rule(rule).mark in MARKS
        assert old.rule(rule).mark == ""
        assert load_code(IEC).rule(rule).mark == ""
    assert new.rule("protection.residual_current_required").mark == UNCONFIRMED
    assert UNCONFIRMED in new.limit("socket_rcd_idn_ma").origin.edition  # type: ignore[union-attr]
    assert "unconfirmed" not in old.limit("socket_rcd_idn_ma").origin.edition  # type: ignore[union-attr]


@pytest.mark.parametrize("mark", MARKS)
def test_only_confirmed_lifts_the_mark(tmp_path: Path, mark: str) -> None:
    root = tmp_path / "packs"
    shutil.copytree(PACKS, root)
    file = root / DEFAULT / "editions.csv"
    text = file.read_text(encoding="utf-8")
    row = next(line for line in text.splitlines() if line.startswith("fault.breaking_capacity,"))
    file.write_text(text.replace(row, f"fault.breaking_capacity,{mark},tried,M"), encoding="utf-8")
    code = load_code(DEFAULT, root)
    assert code.rule("fault.breaking_capacity").mark == ("" if mark == "confirmed" else mark)
    found = judge(example("fault.breaking_capacity", "meets"), code=code, rules=["fault.breaking_capacity"])
    marks = {f.mark for f in found.findings}
    assert (UNCONFIRMED in marks) == (mark == UNCONFIRMED)
    assert ("unchanged as far as public sources tell" in marks) == (mark == MARKS[2])


def test_a_rule_that_no_row_names_is_unconfirmed(tmp_path: Path) -> None:
    root = tmp_path / "packs"
    shutil.copytree(PACKS, root)
    file = root / DEFAULT / "editions.csv"
    kept = [
        line for line in file.read_text(encoding="utf-8").splitlines() if not line.startswith("conductor.overload,")
    ]
    file.write_text("\n".join(kept) + "\n", encoding="utf-8")
    assert load_code(DEFAULT, root).rule("conductor.overload").mark == UNCONFIRMED


def test_the_weakest_mark_among_what_decides_counts() -> None:
    assert weakest_mark("", []) == ""
    assert weakest_mark("not an edition matter", ["2018", "IEC 60228:2004"]) == "not an edition matter"
    assert weakest_mark("not an edition matter", [f"2018; {UNCONFIRMED}"]) == UNCONFIRMED
    overload = shown("conductor.overload", "meets")
    assert load_code().rule("conductor.overload").mark != UNCONFIRMED
    assert overload.mark == UNCONFIRMED, "the kinds of cable are not confirmed, and they decide it"
    assert shown("conductor.overload", "meets", OLD).mark == ""


def test_what_is_unconfirmed_is_counted_in_the_basis() -> None:
    found = judged("conductor.overload", "meets")
    said = [f for f in found.findings if f.mark == UNCONFIRMED and f.worst is not None]
    assert found.basis.unconfirmed == len(said) > 0
    assert judged("conductor.overload", "meets", OLD).basis.unconfirmed == 0


@pytest.mark.parametrize("id", [OLD, IEC])
@pytest.mark.parametrize(("rule", "name"), ALL)
def test_other_packs_judge_the_same_examples(rule: str, name: str, id: str) -> None:
    found = judged(rule, name, id)
    assert [c.rule for c in found.coverage] == list(RULES)
    finding = shown(rule, name, id)
    assert finding.verdict in ("meets", "fails", "advice", "depends", "refer", "not applicable")
    if id == OLD:
        assert finding.verdict == shown(rule, name).verdict, "the edition before holds the same figures"


def test_the_plain_pack_knows_no_voltage_factor_in_the_loop() -> None:
    """Cmin 0.95 in BS 7671 and none in IEC 60364-4-41: greatest Zs of B 32 is 1.366 ohm against 1.4375 ohm.

    By hand: 0.95 * 230 / 160 and 230 / 160.
    """
    british, plain = (shown("fault.disconnection", "meets", id) for id in (DEFAULT, IEC))
    assert british.worst is not None
    assert plain.worst is not None
    assert float(british.worst.limit) == pytest.approx(0.95 * 230 / 160)
    assert float(plain.worst.limit) == pytest.approx(230 / 160)


def test_ambient_factor_at_25_degrees() -> None:
    """70 C insulation at 25 C: 1.03 in BS 7671 table 4B1, 1.06 in IEC 60364-5-52 table B.52.14 (both from memory of
    print; see the status of the rows)."""
    factors = {}
    for id in (DEFAULT, IEC):
        case = knowing(example("conductor.overload", "meets", id), {"standing.runs.R1.ambient_c": 25.0})
        (finding,) = judge(case, rules=["conductor.overload"]).findings
        factors[id] = [s.value for s in finding.working() if s.kind == "lookup" and "ambient" in s.text]
    assert factors == {DEFAULT: [1.03], IEC: [1.06]}


def test_the_plain_pack_takes_its_own_rating_tables() -> None:
    texts = {
        id: {s.text.split(":")[0] for s in shown("conductor.overload", "meets", id).working()} for id in code_ids()
    }
    assert any("4D1A" in t for t in texts[DEFAULT])
    assert any("IEC_PVC" in t for t in texts[IEC])


def test_the_plain_pack_does_not_take_a_fuse_as_it_is(tmp_path: Path) -> None:
    """gG fuses: BS 7671 takes In <= Iz as enough (32 A against 36 A times 0.94 at 35 C); IEC asks I2 <= 1.45 Iz, and
    I2 of a gG link is 1.6 In (51.2 A against 49.1 A)."""
    text = path_of("conductor.overload", "meets").read_text(encoding="utf-8").replace("rcbo-c32-4p-30a", _FUSE)
    file = tmp_path / "unit.toml"
    file.write_text(text.replace("csa_mm2 = 6,", "csa_mm2 = 6, ambient_c = 35,"), encoding="utf-8")
    verdicts = {}
    for id in (DEFAULT, IEC):
        (case,) = open_unit(file).cases(code=id)
        (finding,) = judge(case, rules=["conductor.overload"]).findings
        verdicts[id] = finding.verdict
    assert verdicts == {DEFAULT: "meets", IEC: "fails"}


_FUSE = "fuse-switch-32-3p"


def test_the_unit_file_chooses_its_pack(tmp_path: Path) -> None:
    text = path_of("conductor.overload", "meets").read_text(encoding="utf-8")
    file = tmp_path / "unit.toml"
    file.write_text(text.replace("\n[supply]", f'\n[policy]\ncode = "{IEC}"\n\n[supply]', 1), encoding="utf-8")
    (case,) = open_unit(file).cases()
    assert judge(case).basis.code_id == IEC
    assert subject_of("conductor.overload", "meets") == "R1"


@pytest.mark.parametrize("id", code_ids())
def test_defaults_say_why(id: str) -> None:
    for d in load_code(id).defaults():
        assert d.why
        assert d.status in ("A", "P", "M", "M+", "V1", "V2")
        if d.low is not None and d.high is not None:
            assert d.low <= float(d.value) <= d.high
