"""Made sizes of protective conductors, and the greatest electrode."""

import pytest

from relet.electrical import earthing as e
from relet.errors import OutsideTable
from relet.working import fact, steps


def q(value, unit=""):
    return fact("test.x", value, unit, "assumed")


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
