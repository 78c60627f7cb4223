"""Residual current: share that may stand, ratio of two in series, types, and the electrode of a TT installation.

Currents in mA. The share of IdN, the ratio and the limits come in as figures of a table or a code pack; so does the
order of the types (least first), because a pack says which types it knows.
"""

from __future__ import annotations

from collections.abc import Sequence

from relet.working import Formula

ALLOWED = Formula("Imax = s * IdN", "mA", s="", IdN="mA", source="BS 7671 531.3.2 (from memory)")
RATIO = Formula("ratio = IdNup / IdNdown", "", IdNup="mA", IdNdown="mA", source="BS 7671 536.4.1.4 (from memory)")
ELECTRODE = Formula(
    "RAmax = 1000 * UL / IdN", "ohm", UL="V", IdN="mA", source="BS 7671 411.5.3, IEC 60364-4-41 411.5.3"
)


def covers(fitted: str, needed: str, order: Sequence[str]) -> bool:
    """True if a device of type `fitted` may stand above a load that needs `needed`.

    order   types, least first, for example ("AC", "A", "F", "B")
    raises  ValueError for a type that is not in it
    """
    for t in (fitted, needed):
        if t not in order:
            raise ValueError(f"residual-current type {t!r}; {', '.join(order)} are known")
    return order.index(fitted) >= order.index(needed)
