"""Reading a unit file of 10,000 machines, beside the standard reader on the same text in the same run.

The budget is a second on an idle machine for all that is read, checked and turned into values; the standard reader
alone takes about a quarter of it, so the ratio to that is what is held to here.
"""

from __future__ import annotations

import statistics
import time
import tomllib
from pathlib import Path
from typing import Any

import pytest

from relet.errors import InputErrors
from relet.files import read_unit
from relet.files.lines import Lines

MACHINES = 10_000
MOST_TIMES_THE_STANDARD_READER = 4.0
HEAD = """format = "relet/unit/1"
unit   = { id = "many", outline_m = [[0, 0], [40, 0], [40, 30], [0, 30]], ceiling_m = 6 }
supply = { at_m = [0, 0], phases = 3, earthing = "TN-S", ze_ohm = "unknown" }

[tenancies.many.machines]
"""
KINDS = (
    '{ kind = "print_guillotine", at_m = [7.5, 6.5], power_w = { told = 1500 }, off_by = "cutter_stop" }',
    '{ name = "press", at_m = [3.0, 5.5], phases = 3, power_w = { low = 1800, high = 3000 }, pf = 0.8, start = "dol" }',
    '{ name = "oven", at_m = [1.5, 4.2], phases = 1, power_w = "2.2 kW", plug = "13 A", continuous = true }',
)


def text(change: tuple[str, str] = ("", "")) -> str:
    return HEAD + "".join(f"m{i} = {KINDS[i % 3].replace(*change)}\n" for i in range(MACHINES))


@pytest.fixture(scope="module")
def many(tmp_path_factory: pytest.TempPathFactory) -> Path:
    path = tmp_path_factory.mktemp("files") / "many.toml"
    path.write_text(text(), encoding="utf-8")
    return path


def test_standard_reader_alone(benchmark: Any, many: Path) -> None:
    benchmark(lambda: tomllib.loads(many.read_text(encoding="utf-8")))


def test_read_unit(benchmark: Any, many: Path) -> None:
    unit = benchmark(lambda: read_unit(many))
    assert len(unit.tenancies["many"].machines) == MACHINES
    alone = []
    for _ in range(5):
        began = time.perf_counter()
        tomllib.loads(many.read_text(encoding="utf-8"))
        alone.append(time.perf_counter() - began)
    ratio = benchmark.stats["median"] / statistics.median(alone)
    benchmark.extra_info["times_the_standard_reader"] = round(ratio, 2)
    assert ratio < MOST_TIMES_THE_STANDARD_READER


def test_line_map(benchmark: Any, many: Path) -> None:
    lines = benchmark(lambda: Lines(many.read_text(encoding="utf-8")))
    assert lines["tenancies.many.machines.m9999.power_w"] == MACHINES + 5


def test_every_machine_wrong(benchmark: Any, tmp_path: Path) -> None:
    path = tmp_path / "wrong.toml"
    path.write_text(text(("at_m = [", "at_m = [100")), encoding="utf-8")

    def told() -> str:
        with pytest.raises(InputErrors) as caught:
            read_unit(path)
        return str(caught.value)

    assert benchmark(told).endswith("10000 mistakes, the first 100 are listed, nothing was changed")
