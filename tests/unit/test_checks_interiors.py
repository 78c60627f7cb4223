"""What an enclosure of known dimensions carries off: the small and the large curves of IEC TR 60890."""

from __future__ import annotations

import math
from pathlib import Path

import pytest

from relet.checks.interiors import may_lose
from relet.checks.study import Study
from relet.errors import OutsideTable
from relet.files.opened import open_unit
from relet.model import Seat
from relet.working import Figure, walk
from rule_examples import knowing, path_of


def allowed(tmp_path: Path, width: int, height: int, depth: int, **knowns: float) -> Figure:
    """Losses that A1 of the heat example may have with these dimensions and no declared dissipation."""
    text = path_of("assembly.heat", "meets").read_text(encoding="utf-8")
    text = text.replace('"enclosure-4-12"', '"enclosure-4-12-ip66"')
    size = f"width_mm = {width}, height_mm = {height}, depth_mm = {depth}"
    file = tmp_path / "unit.toml"
    file.write_text(text.replace("ambient_c = 25 }", f"ambient_c = 25, {size} }}"), encoding="utf-8")
    case = knowing(open_unit(file).cases()[0], {f"standing.assemblies.A1.{k}": v for k, v in knowns.items()})
    return may_lose(Study(case), Seat("A1"))


def test_a_large_enclosure_is_read_at_height_over_floor(tmp_path: Path) -> None:
    """800 x 1200 x 300 mm on a wall, 25 to 55 C, by hand from the remembered curves: Ae 2.33 m2 and k 0.301,
    f = 1.2^1.35 / (0.8 x 0.3) = 5.33 and c 1.393, d 1: (30 / (1.393 x 0.301))^(1 / 0.804) = 203 W."""
    most = allowed(tmp_path, 800, 1200, 300)
    ae = 0.8 * 0.3 * 1.4 + 0.8 * 1.2 * (0.9 + 0.5) + 1.2 * 0.3 * 1.8
    k = 0.35 + (0.275 - 0.35) * (ae - 2) / 0.5
    c = 1.38 + (1.4 - 1.38) * (1.2**1.35 / 0.24 - 5) / 0.5
    assert float(most) == pytest.approx((30 / (c * k)) ** (1 / 0.804))
    assert float(most) == pytest.approx(203, abs=0.5)
    behind = {f.name: f for f in walk(most)}
    assert behind["f"].unit == "m^e/m2" and float(behind["d"]) == 1.0
    assert "g" not in behind


def test_a_small_enclosure_is_read_at_height_over_width(tmp_path: Path) -> None:
    behind = {f.name: f for f in walk(allowed(tmp_path, 600, 640, 220))}
    assert float(behind["g"]) == pytest.approx(640 / 600) and "d" not in behind and "f" not in behind


def test_beyond_the_large_curve_nothing_is_invented(tmp_path: Path) -> None:
    """400 x 1600 x 300 mm: f = 15.7, and the curve ends at 8."""
    with pytest.raises(OutsideTable, match=r"iec60890_c: x 15\.7"):
        allowed(tmp_path, 400, 1600, 300)


def test_horizontal_partitions_of_a_large_enclosure_leave_less(tmp_path: Path) -> None:
    none, two = (float(allowed(tmp_path, 800, 1200, 300, partitions=n)) for n in (0, 2))
    assert two == pytest.approx(none / math.pow(1.15, 1 / 0.804))
    assert none == pytest.approx(float(allowed(tmp_path, 800, 1200, 300)))
