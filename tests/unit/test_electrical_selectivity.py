"""Relations between two devices in series against published examples."""

import pytest

from relet.electrical import selectivity as s
from relet.electrical.devices import breaker
from relet.tables.protection import gg_i2t
from relet.working import fact


def q(value, unit=""):
    return fact("test.x", value, unit, "assumed")


@pytest.mark.parametrize(
    ("lower", "upper", "ratio"), [(16, 25, 1.5625), (20, 32, 1.6), (25, 40, 1.6), (32, 50, 1.5625), (63, 100, 1.587)]
)
def test_ratio_of_fuses(lower, upper, ratio):
    """worked_examples: selectivity, sel_gg_ratio (WE24, status V2)."""
    assert float(s.rating_ratio(q(upper, "A"), q(lower, "A"))) == pytest.approx(ratio, abs=0.0005)


@pytest.mark.parametrize(("lower", "upper", "selective"), [(16, 25, True), (20, 25, False)])
def test_fuses_by_energy(lower, upper, selective):
    """worked_examples: selectivity, sel_gg_i2t_16_25 (from memory, status M)."""
    operating, bears = gg_i2t(q(lower, "A")).selective_operating_max, gg_i2t(q(upper, "A")).selective_prearc_min
    assert (s.energy_share(operating, bears) <= 1) == selective


def test_an_upper_breaker_is_quiet_up_to_its_lower_bound():
    c63 = breaker(q(63, "A"), "C")
    assert float(s.magnetic_limit(c63, q(3000, "A"))) == 315
    assert float(s.magnetic_limit(c63, q(200, "A"))) == 200
