"""Residual current: which type covers which, and the greatest electrode."""

import pytest

from relet.electrical.residual import ELECTRODE, covers
from relet.tables.protection import rcd_types
from relet.working import fact

ORDER = ("AC", "A", "F", "B")


@pytest.mark.parametrize("idn, ra", [(30, 1666.67), (100, 500), (300, 166.67), (500, 100)])
def test_electrode_limits(idn, ra):
    # electricians' forum list of electrode limits (prints 1667 and 167, rounded up to the favourable side)
    limit = ELECTRODE(fact("test.u", 50.0, "V", "chosen"), fact("test.idn", float(idn), "mA", "chosen"))
    assert limit == pytest.approx(ra, abs=0.005)


def test_types():
    assert [[covers(a, b, ORDER) for b in ORDER] for a in ORDER] == [
        [True, False, False, False], [True, True, False, False], [True, True, True, False], [True] * 4,
    ]  # fmt: skip
    assert set(rcd_types()) == set(ORDER)
    with pytest.raises(ValueError, match="'X'"):
        covers("X", "A", ORDER)
