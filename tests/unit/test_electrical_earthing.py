"""Sizes of protective and bonding conductors and the relations of TT systems."""

import pytest

from relet.electrical import earthing as e
from relet.errors import OutsideTable
from relet.working import fact, steps

K = "A s^0.5/mm2"


def q(value, unit=""):
    return fact("test.x", value, unit, "assumed")


@pytest.mark.parametrize(
    ("line", "expected"), [(1.5, 1.5), (16, 16), (25, 16), (35, 16), (50, 25), (70, 35)]
)  # BS 7671 Table 54.7, from memory; limits 16 and 35 mm2 also in the tables (installation rules G15, M)
def test_protective_conductor_by_the_table(line, expected):
    same = q(143, K)
    got = e.protective_csa(q(line, "mm2"), q(16, "mm2"), q(35, "mm2"), same, same)
    assert float(got) == pytest.approx(expected)


def test_another_metal_is_scaled_by_k():
    """Armour of a 90 C cable: k 143 over 46 is 3.1 (reference note on armour)."""
    got = e.protective_csa(q(16, "mm2"), q(16, "mm2"), q(35, "mm2"), q(143, K), q(46, K))
    assert float(got) == pytest.approx(16 * 3.1, rel=0.01)


@pytest.mark.parametrize(("earthing", "expected"), [(6, 6), (16, 8), (70, 25)])
def test_main_bonding_is_half_within_bounds(earthing, expected):
    assert float(e.main_bonding_csa(q(earthing, "mm2"), q(6, "mm2"), q(25, "mm2"))) == expected


def test_supplementary_bonding():
    assert float(e.supplementary_csa(q(4, "mm2"), q(2.5, "mm2"))) == 2.5
    assert float(e.supplementary_csa(q(4, "mm2"), None)) == 2


def test_next_made_size():
    """worked_examples: adiabatic, adi_fuses_5s_k143 (WE09, status V2): next sizes 10, 16, 16, 25 mm2."""
    made = [q(x, "mm2") for x in (4, 6, 10, 16, 25)]
    got = [e.next_size(q(x, "mm2"), made) for x in (7.82, 10.17, 13.29, 17.2)]
    assert [float(x) for x in got] == [10, 16, 16, 25]
    assert steps(got[0])[-1].text == "next made size: number 4 of 6"
    with pytest.raises(OutsideTable, match="26 mm2"):
        e.next_size(q(26, "mm2"), made)


@pytest.mark.parametrize(("idn", "printed"), [(30, 1667), (100, 500), (300, 167), (500, 100)])
def test_electrode_limit(idn, printed):
    """worked_examples: rcd_tt (WE22, status V1); printed rounded up, so within half an ohm."""
    assert float(e.electrode_limit(q(50, "V"), q(idn, "mA"))) == pytest.approx(printed, abs=0.5)


def test_touch_voltage_and_fault_through_the_electrode():
    assert float(e.touch_voltage(q(200, "ohm"), q(30, "mA"))) == pytest.approx(6)
    assert float(e.electrode_fault_a(q(230, "V"), q(200, "ohm"))) == pytest.approx(1.15)
