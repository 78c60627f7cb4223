"""Which board stands at the origin, and which has no known feed."""

from __future__ import annotations

from pathlib import Path

import pytest

from relet.checks import judge
from relet.checks.findings import Finding
from relet.checks.study import Study
from relet.electrical.topology import ORIGIN, topology
from relet.files.opened import open_unit
from relet.model import Board, Installation, Map, Run, Seat
from rule_examples import path_of


def boards(*names: str, **fed_by: str) -> Map[Seat, Board]:
    return Map(
        {Seat(n): Board(part="board-8-3ph", at_m=(0.0, 0.0), height_m=1.6, ways=8, fed_by=fed_by.get(n)) for n in names}
    )


def fed(installation: Installation) -> set[str]:
    tree = topology(installation, None)
    return {s for s in installation.boards if tree.fed(s)}


def run(from_: str, to: str) -> Run:
    return Run(part="cable", from_=Seat(from_), to=Seat(to), cable="singles-70-in-trunking")


def test_a_lone_board_stands_at_the_origin() -> None:
    assert topology(Installation(boards=boards("DB1")), None).path(Seat("DB1")) == (ORIGIN, "DB1")


def test_of_two_boards_that_nothing_feeds_neither_is_taken_for_the_one_at_the_origin() -> None:
    held = Installation(boards=boards("DB1", "DB2"))
    assert fed(held) == set() and topology(held, None).orphans == ("DB1", "DB2")


@pytest.mark.parametrize(
    ("fed_by", "runs", "known"),
    [
        ({"DB1": "origin"}, {}, {"DB1"}),
        ({}, {"R0": run("origin", "DB1")}, {"DB1"}),
        ({}, {"R0": run("DB1", "DB2")}, {"DB1", "DB2"}),
        ({"DB2": "R9"}, {}, {"DB1"}),  # its run is not there (yet): it hangs on nothing, and DB1 is alone
    ],
)
def test_what_is_said_of_one_tells_of_the_other(fed_by: dict[str, str], runs: dict[str, Run], known: set[str]) -> None:
    held = Installation(boards=boards("DB1", "DB2", **fed_by), runs=Map({Seat(k): v for k, v in runs.items()}))
    assert fed(held) == known


SECOND = """[standing.boards.DB2]
part     = "board-8-3ph"
at_m     = [7.0, 0.0]
height_m = 1.6
ways     = 8

[standing.devices]
"DB2/1" = { part = "rcbo-c32-4p-30a" }"""
RUN = (
    'R2 = { from = "DB2/1", to = "X2", cable = "singles-70-in-trunking", csa_mm2 = 6, cpc_mm2 = 6, length_m = 14 }\n\n'
    '[standing.outlets]\nX2 = { part = "outlet-60309-32a-3pne", at_m = [4.0, 6.0], height_m = 1.2 }'
)


def findings_at(tmp_path: Path, first: str) -> dict[str, Finding]:
    """Findings at X2 of a unit whose second board has no run; `first` is said of the first."""
    text = path_of("conductor.overload", "meets").read_text(encoding="utf-8")
    text = text.replace("[standing.boards.DB1]", f"[standing.boards.DB1]\n{first}")
    file = tmp_path / "unit.toml"
    file.write_text(text.replace("[standing.devices]", SECOND).replace("[standing.outlets]", RUN), encoding="utf-8")
    case = open_unit(file).cases()[0]
    assert not Study(case).feeds.fed(Seat("X2"))
    found = judge(case, thresholds=False, rank=False).findings
    assert not [f for f in found if f.rule == "fault.disconnection" and f.subject == "R2"]
    assert [f.verdict for f in found if f.rule == "fault.disconnection" and f.subject == "R1"] == (
        ["meets"] if first else []
    )
    return {f.rule: f for f in found if f.subject == "X2"}


@pytest.mark.parametrize("first", ["", 'fed_by = "origin"'])
def test_an_outlet_behind_a_board_without_a_feed_asks_for_its_run(tmp_path: Path, first: str) -> None:
    found = findings_at(tmp_path, first)
    asked = found["protection.residual_current_required"]
    assert asked.verdict == "depends" and "the run that feeds DB2" in asked.sentence
    assert found["conductor.volt_drop"].verdict == "not applicable"
