"""Schedules: what is printed is what was found, its numbers never on the favourable side, each with its address."""

from __future__ import annotations

from dataclasses import replace
from datetime import date

import pytest
from limekiln_sample import case, dossiers, findings, harbour_findings

from relet.checks.findings import Findings
from relet.model import natural
from relet.model.values import plain
from relet.schedules import (
    CAUTIONS,
    about_assembly,
    assembly_rows,
    basis_row,
    case_json,
    change_sheet,
    circuit_rows,
    coverage_rows,
    facts,
    figure_rows,
    finding_rows,
    machine_rows,
    next_rows,
    order_rows,
    paper_state,
    price_rows,
    price_sheet,
    price_steps,
)
from relet.schedules.numbers import hours, margin, money, number, quantity, said, stay
from rule_examples import judged


@pytest.fixture
def harbour():
    return dossiers()[1]


@pytest.mark.parametrize(
    "share, text",
    [
        (0.0768, "+7.6\u00a0%"),
        (-0.0271, "−2.8\u00a0%"),
        (0.0, "0\u00a0%"),
        (float("inf"), "no limit"),
        (-1.4, "−140\u00a0%"),
        (21.79, "+2100\u00a0%"),
    ],
)
def test_a_margin_is_rounded_against_the_design(share, text):
    assert margin(share) == text


def test_numbers_carry_their_sign_and_stay_on_one_line():
    assert number(6.0, "mm2") == "6\u00a0mm²"
    assert said("0.18 to 1.00 ohm", "ohm") == "0.18 to 1.00\u00a0Ω"
    assert money(1234.5) == "1,234.50" and money(-3) == "−3.00"
    assert quantity(12.341, "m") == "12.341" and quantity(3, "each") == "3"
    assert quantity(2.333, "h") == "2:20" and quantity(0.667, "h") == "0:40" and quantity(0.123, "h") == "0.123"
    assert hours(124.2) == "2\u00a0h\u00a005" and hours(18) == "18\u00a0min" and hours(60) == "1\u00a0h\u00a000"
    assert stay(date(2027, 1, 4), None) == "January 2027 on, end open" and stay(None, None) == ""


def test_findings_come_worst_first_with_value_limit_and_margin(harbour):
    rows = finding_rows(harbour.found, harbour.case)
    assert [r.verdict for r in rows] == ["fails"] * 2 + ["depends", "refer", "advice"] + ["meets"] * 5 + [
        "not applicable"
    ]
    worst = rows[0]
    assert (worst.value.text, worst.limit.text, worst.margin) == ("44", "55", "−20\u00a0%")
    assert worst.value.at == worst.limit.at == f"finding:{worst.key}"
    depends = rows[2]
    assert depends.value.text == "0.0719 to 0.822\u00a0Ω" and depends.value.doubt
    assert depends.needs == ("meets if Ze is 0.32 ohm or less",)
    assert depends.mark == "edition unconfirmed" and depends.grounds == "unknown"
    assert rows[3].margin == "" and "specialist" in rows[3].sentence


def test_a_need_that_others_can_spoil_says_so(harbour):
    f = next(f for f in harbour.found.findings if f.needs)
    loose = replace(f, needs=tuple(replace(n, surely=False) for n in f.needs))
    assert finding_rows(findings(loose), harbour.case)[0].needs[0].endswith("if the rest is at its best")


def test_circuits_show_device_run_and_worst_verdict(harbour):
    rows = {r.device: r for r in circuit_rows(harbour.case, harbour.found)}
    assert list(rows) == sorted(rows, key=natural)
    feed = rows["DB1/3"]
    assert (feed.rating.text, feed.run, feed.csa.text, feed.length.text) == (
        "C 63\u00a0A 4P",
        "R7",
        "16\u00a0mm²",
        "9.5\u00a0m",
    )
    assert (
        [f.text for f in feed.feeds] == ["A1"]
        and feed.verdict == "depends"
        and feed.length.at == "fact:design.harbour.runs.R7.length_m"
    )
    assert feed.arrangement == "overcurrent only; residual current nearer to the outlets"
    assert rows["A1/rail/5"].residual.text == "30\u00a0mA type A" and "drum roaster" in [
        f.text for f in rows["A1/rail/5"].feeds
    ]
    assert rows["A3/rail/5"].verdict == "fails"


def test_what_is_not_certain_is_in_doubt():
    d = dossiers()[0]
    feed = {r.device: r for r in circuit_rows(d.case, d.found)}["DB1/1"]
    assert feed.rating.text == "B or C 32\u00a0A 3P" and feed.rating.doubt
    assert feed.csa.text == "4 or 6\u00a0mm²" and feed.csa.doubt
    assert feed.length.text == "14 to 20\u00a0m" and feed.length.doubt
    assert not feed.cpc.doubt


def test_machines_name_what_is_assumed(harbour):
    rows = {r.id: r for r in machine_rows(harbour.case, harbour.found)}
    assert rows["roaster"].load.text == "3000\u00a0W" and rows["roaster"].assumed == ("pf", "start")
    assert rows["afterburner"].load.text == "2200 to 2600\u00a0W" and rows["afterburner"].load.doubt
    assert rows["espresso"].load.text == "not known" and "power" in rows["espresso"].assumed
    assert rows["roaster"].outlet == "A1/face/1" and rows["roaster"].outlet_words.text == "16\u00a0A 3P+N+E 6\u00a0h"
    assert machine_rows(case("standing")) == ()


def test_assemblies_list_contents_spare_and_feed(harbour):
    a1, a2, _ = assembly_rows(harbour.case, harbour.found, harbour.why)
    assert [o.seat for o in a1.outlets] == ["A1/face/1", "A1/face/2", "A1/face/3"]
    assert a1.outlets[0].machine == "drum roaster" and a1.outlets[2].phase.text == "L3"
    assert a1.devices[0].seat == "A1/incomer"
    assert (a1.spare_apertures.text, a1.spare_ways.text) == ("3 of 6", "4 of 18")
    assert a1.fed_by.text == "DB1/3 C 63\u00a0A 4P by R7" and a1.length.text == "9.5\u00a0m"
    assert a1.why.startswith("reaches roaster") and a2.why == ""


def test_an_assembly_gathers_findings_of_its_feed_and_contents(harbour):
    assert {f.subject for f in about_assembly(harbour.case, harbour.found, "A1")} == {"A1", "R7"}
    assert {f.subject for f in about_assembly(harbour.case, harbour.found, "A3")} == {"A3", "A3/face/1", "R9"}


def test_price_lines_add_up_and_tell_how_they_came_about(harbour):
    sheet = price_sheet(harbour.job.price, "change", harbour.case.catalogue)

    def amount(text: str) -> float:
        return float(text.replace(",", ""))

    for rows, total in ((sheet.landlord, sheet.landlord_total), (sheet.tenant, sheet.tenant_total)):
        assert sum(amount(r.total.text) for r in rows) == pytest.approx(amount(total), abs=0.005)
    assert amount(sheet.landlord_total) + amount(sheet.tenant_total) == pytest.approx(amount(sheet.total), abs=0.005)
    assert [r.n for r in price_rows(harbour.job.price, "change")] == [
        str(n) for n in range(1, len(harbour.job.price.lines) + 1)
    ]
    for line in harbour.job.price.lines:
        *_, last = price_steps(line, harbour.job.price)
        assert last.kind == "formula" and last.value == pytest.approx(line.total, abs=0.0051)


def test_the_order_list_takes_stock_first_and_adds_waste(harbour):
    rows = order_rows(harbour.job.price, "change", harbour.case.catalogue)
    stock = {r.what: r.quantity.text for r in rows if r.source == "from stock"}
    assert stock == {"outlet-60309-16a-2pe": "2", "outlet-1363-twin": "1"}
    cable = [r for r in rows if r.unit == "m"]
    assert [r.quantity.text for r in cable] == ["43.05"]  # 9.5 + 7.0 + 24.5 m and 5 % to waste, by hand


def test_change_rows_keep_every_step_and_its_isolation(harbour):
    sheet = change_sheet(harbour.job, harbour.case.catalogue)
    assert [s.n for s in sheet.steps] == [str(s.n) for s in harbour.job.steps]
    isolated = [s for s in sheet.steps if s.verb == "isolate"]
    assert isolated and all(s.grave and s.isolate_at for s in isolated)
    assert any(s.loses for s in isolated)
    assert {t.state for t in sheet.tests} <= {"falls", "stands", "stands, repeat advised"}
    assert sheet.tests[0].state == "falls" and sheet.tests[0].why
    assert sheet.certificate == "electrical installation certificate"


def test_facts_are_found_by_address_with_how_they_are_known(harbour):
    held = facts(harbour.case)
    length = held["design.harbour.runs.R7.length_m"]
    assert (length.value.text, length.how, length.field) == ("9.5\u00a0m", "chosen by us", "length")
    assert held["supply.ze_ohm"].value.text == "not known" and held["supply.ze_ohm"].value.doubt
    assert held["catalogue.enclosure-6-18.apertures"].how == "declared by the maker"
    assert held["tenancies.harbour.machines.roaster.pf"].how == "assumed from the table of machine kinds"


def test_every_address_on_a_row_can_be_followed(harbour):
    held = set(facts(harbour.case))
    rows = [*circuit_rows(harbour.case, harbour.found), *machine_rows(harbour.case), *assembly_rows(harbour.case)]
    keys = {f.key for f in harbour.found.findings}
    seen = 0
    stack: list[object] = list(plain(rows))
    while stack:
        one = stack.pop()
        if isinstance(one, dict):
            if one.get("is") == "Shown" and one["at"]:
                kind, _, at = one["at"].partition(":")
                assert at in (held if kind == "fact" else keys), one
                seen += 1
            stack.extend(one.values())
        elif isinstance(one, list):
            stack.extend(one)
    assert seen > 40


def test_figures_come_weakest_first_and_name_what_they_decide(harbour):
    rows = figure_rows(harbour.found)
    statuses = [r.status for r in rows]
    assert statuses[0] == "M" and statuses[-1] == "V2"
    rating = rows[0]
    assert (rating.table, rating.decides, rating.value.text) == ("ccc_4D4A", "3", "85\u00a0A")
    assert len(rating.keys) == 3 and len({r.id for r in rows}) == len(rows)
    loop = next(r for r in rows if r.table == "r1_r2_copper")
    assert loop.publications and "Wiring Regulations" in loop.publications[0]


def test_a_paper_stays_a_draft_and_says_why(harbour):
    state = paper_state(harbour.found)
    assert state.draft and state.name == "draft"
    assert state.in_the_way[0] == "2\u00a0findings fail" and any("from memory" in w for w in state.in_the_way)
    sound = [f for f in harbour_findings() if f.rule in ("assembly.interlock", "load.supply_capacity")]
    asked = paper_state(judged("place.explosive", "refer"))
    assert asked.draft and asked.in_the_way[0] == "1\u00a0question waits for a specialist"
    clear = paper_state(findings(*sound))
    assert not clear.draft and clear.name == "for construction"


def test_coverage_basis_and_next_are_words(harbour):
    assert {r.state for r in coverage_rows(harbour.found.coverage)} == {"judged", "not judged", "not applicable"}
    first, second = next_rows(harbour.found.next)
    assert (first.rank, first.words, first.minutes, first.settles) == ("1", "Ze at the origin", "5\u00a0min", "1 of 1")
    assert second.way == "ask"
    assert "figures from memory that decide:\u00a04" in basis_row(harbour.found.basis).line
    assert len(CAUTIONS) >= 6


def test_the_form_of_a_case_is_complete_and_finite(harbour):
    form = case_json(harbour)
    assert set(form) == {
        "format", "unit", "case", "installation", "use", "why", "prices", "solved", "findings",
    }  # fmt: skip
    assert form["format"] == "relet/case/1" and form["solved"]["gap"] == pytest.approx(0.0069)
    assert form["prices"] == {kind: price.total for kind, price in harbour.prices}
    assert case_json(dossiers()[2])["solved"] is None


def test_an_empty_case_gives_empty_rows():
    none = Findings(dossiers()[0].found.basis, (), ())
    assert finding_rows(none, case("standing")) == () and figure_rows(none) == ()
    assert paper_state(none).in_the_way
