"""Earthing: sizes of protective and bonding conductors, and the relations of TT systems.

Which of them a code asks for, and with which limits, is the code's; the limits come in as figures.
"""

from __future__ import annotations

from collections.abc import Sequence

from relet.errors import OutsideTable
from relet.working import Figure, Formula, choose

TABLE_54_7 = "IEC 60364-5-54 Table 54.2 (BS 7671 Table 54.7), from memory"

AS_LINE = Formula("Sp = S * k1 / k2", "mm2", S="mm2", k1="A s^0.5/mm2", k2="A s^0.5/mm2", source=TABLE_54_7)
AS_BOUND = Formula("Sp = Sa * k1 / k2", "mm2", Sa="mm2", k1="A s^0.5/mm2", k2="A s^0.5/mm2", source=TABLE_54_7)
AS_HALF = Formula("Sp = S / 2 * k1 / k2", "mm2", S="mm2", k1="A s^0.5/mm2", k2="A s^0.5/mm2", source=TABLE_54_7)
BONDING = Formula(
    "Sb = min(max(Se / 2, Smin), Smax)", "mm2", Se="mm2", Smin="mm2", Smax="mm2",
    source="IEC 60364-5-54 544.1.1 (from memory)",
)  # fmt: skip
SUPPLEMENTARY_TWO = Formula("Sb = min(Sa, Sc)", "mm2", Sa="mm2", Sc="mm2", source="IEC 60364-5-54 544.2 (from memory)")
SUPPLEMENTARY_ONE = Formula("Sb = Sa / 2", "mm2", Sa="mm2", source="IEC 60364-5-54 544.2 (from memory)")
ELECTRODE_LIMIT = Formula(
    "RAmax = UL / (IdN / 1000)", "ohm", UL="V", IdN="mA", source="IEC 60364-4-41 411.5.3: RA IdN <= UL"
)
TOUCH = Formula("UT = RA * IdN / 1000", "V", RA="ohm", IdN="mA", source="IEC 60364-4-41 411.5.3")
RESIDUAL_FAULT = Formula("Ia = U0 / RA", "A", U0="V", RA="ohm", source="earth fault through the electrode, TT")


def protective_csa(
    line_mm2: Figure, small_mm2: Figure, large_mm2: Figure, k_line: Figure, k_protective: Figure
) -> Figure:
    """Protective conductor by the table of the wiring rules, mm2, without a fault calculation.

    line_mm2             up to small_mm2: as the line; up to large_mm2: small_mm2; above: half the line
    k_line, k_protective k of line (as a live conductor) and of the protective conductor; the same figure twice for one
                         metal and insulation
    """
    if line_mm2 <= small_mm2:
        return AS_LINE(line_mm2, k_line, k_protective)
    if line_mm2 <= large_mm2:
        return AS_BOUND(small_mm2, k_line, k_protective)
    return AS_HALF(line_mm2, k_line, k_protective)


def main_bonding_csa(earthing_mm2: Figure, least_mm2: Figure, most_mm2: Figure) -> Figure:
    """Main bonding conductor, copper, mm2, where no PME conditions apply: half the earthing conductor within bounds.

    earthing_mm2  the earthing conductor that is required, not one fitted larger
    """
    return BONDING(earthing_mm2, least_mm2, most_mm2)


def supplementary_csa(first_mm2: Figure, second_mm2: Figure | None) -> Figure:
    """Supplementary bonding with mechanical protection, mm2.

    Between two exposed parts: as the smaller of their protective conductors; to an extraneous part (second None): half
    of that of the exposed part.
    """
    return SUPPLEMENTARY_ONE(first_mm2) if second_mm2 is None else SUPPLEMENTARY_TWO(first_mm2, second_mm2)


def next_size(needed_mm2: Figure, made_mm2: Sequence[Figure]) -> Figure:
    """The smallest made size that is not below the needed one.

    raises  OutsideTable: larger than every made size
    """
    fit = [s for s in made_mm2 if s >= needed_mm2]
    if not fit:
        raise OutsideTable("made sizes", f"{float(needed_mm2):.4g} mm2", f"up to {max(made_mm2, default=0.0):g} mm2")
    one = min(fit)
    return choose([needed_mm2, *made_mm2], lambda _: one, "next made size", name="S")


def electrode_limit(touch_v: Figure, idn_ma: Figure) -> Figure:
    """Greatest resistance of electrode and protective conductor in TT behind an RCD, ohm: UL / IdN."""
    return ELECTRODE_LIMIT(touch_v, idn_ma)


def touch_voltage(ra_ohm: Figure, idn_ma: Figure) -> Figure:
    """Voltage of exposed parts at the rated residual current, V: RA IdN."""
    return TOUCH(ra_ohm, idn_ma)


def electrode_fault_a(u0_v: Figure, ra_ohm: Figure) -> Figure:
    """Earth fault current through the electrode, A: the RCD must open at this in time."""
    return RESIDUAL_FAULT(u0_v, ra_ohm)
