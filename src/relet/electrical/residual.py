"""Residual current: standing protective-conductor currents, types, grading, and the electrode of a TT installation.

Currents in mA. The share of IdN, the ratio and the limits come in as figures of a table or a code pack; so does the
order of the types (least first), because a pack says which types it knows.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from typing import Final, Literal, NamedTuple

from relet.electrical.impedance import total
from relet.working import Figure, Formula, choose, solved

STANDING: Final = "sum of standing protective-conductor currents (r.m.s. sum of magnitudes: never low)"
ALLOWED = Formula("Imax = s * IdN", "mA", s="", IdN="mA", source="BS 7671 531.3.2 (from memory)")
TAKEN = Formula(
    "share = 100 * I / IdN", "%", I="mA", IdN="mA", source="standing current, of the rated residual current"
)
LEFT = Formula("left = Imax - I", "mA", Imax="mA", I="mA", source="standing current that may still be added")
COUNTED = Formula("I = n * I1", "mA", n="", I1="mA", source="n equal machines")
RATIO = Formula("ratio = IdNup / IdNdown", "", IdNup="mA", IdNdown="mA", source="BS 7671 536.4.1.4 (from memory)")
TOUCH = Formula("U = RA * IdN / 1000", "V", RA="ohm", IdN="mA", source="BS 7671 411.5.3, IEC 60364-4-41 411.5.3")
ELECTRODE = Formula(
    "RAmax = 1000 * UL / IdN", "ohm", UL="V", IdN="mA", source="BS 7671 411.5.3, IEC 60364-4-41 411.5.3"
)

HighCurrent = Literal["none", "machine", "circuit"]


def standing(currents_ma: Sequence[Figure]) -> Figure:
    """Sum of the standing currents below one residual-current device, mA; nothing below it: 0.

    Magnitudes are added though currents of different lines partly cancel: never low.
    """
    return (
        total(currents_ma, "I", STANDING) if currents_ma else solved(0.0, "mA", "nothing below it", 0.0, (), name="I")
    )


def times(number: Figure, one_ma: Figure) -> Figure:
    """Standing current of n equal machines, mA."""
    return COUNTED(number, one_ma)


def allowed_standing(idn_ma: Figure, share: Figure) -> Figure:
    """Standing current that a device may see: its share (0.3 in the code packs) of IdN, mA."""
    return ALLOWED(share, idn_ma)


def taken_percent(standing_ma: Figure, idn_ma: Figure) -> Figure:
    """Standing current in % of IdN."""
    return TAKEN(standing_ma, idn_ma)


def left(allowed_ma: Figure, standing_ma: Figure) -> Figure:
    """Standing current that may still come below a device, mA; negative when there is too much."""
    return LEFT(allowed_ma, standing_ma)


def high_protective_current(
    machines_ma: Sequence[Figure], circuit_ma: Figure, machine_limit_ma: Figure, circuit_limit_ma: Figure
) -> HighCurrent:
    """Which part of the rule on high protective-conductor currents begins to hold (BS 7671 543.7, from memory).

    "circuit"  the sum of a circuit passes its limit (10 mA in the code packs), or one machine does
    "machine"  one machine passes the limit for a plain plug (3.5 mA)
    """
    if circuit_ma > circuit_limit_ma or any(m > circuit_limit_ma for m in machines_ma):
        return "circuit"
    return "machine" if any(m > machine_limit_ma for m in machines_ma) else "none"


# ---------- types ----------


def covers(fitted: str, needed: str, order: Sequence[str]) -> bool:
    """True if a device of type `fitted` may stand above a load that needs `needed`.

    order   types, least first, for example ("AC", "A", "F", "B")
    raises  ValueError for a type that is not in it
    """
    for t in (fitted, needed):
        if t not in order:
            raise ValueError(f"residual-current type {t!r}; {', '.join(order)} are known")
    return order.index(fitted) >= order.index(needed)


def least_type(needed: Iterable[str], order: Sequence[str]) -> str:
    """The least type that covers every load; the first of `order` for no load. Raises ValueError as covers()."""
    least = order[0]
    for t in needed:
        if not covers(least, t, order):
            least = t
    return least


class Blinded(NamedTuple):
    """A device that a load below it would blind: seat and type of the device, load, type the load needs."""

    device: str
    fitted: str
    load: str
    needed: str


def blinded(path: Mapping[str, str], loads: Mapping[str, str], order: Sequence[str]) -> list[Blinded]:
    """Every device of a path that does not cover a load below all of it, whatever stands between: smooth direct
    current passes a type B device and blinds a type A above it.

    path, loads  seat -> type fitted; load -> type needed
    """
    return [
        Blinded(seat, fitted, load, needed)
        for seat, fitted in path.items()
        for load, needed in loads.items()
        if not covers(fitted, needed, order)
    ]


# ---------- two in series, rated current, electrode ----------


def grading_ratio(upper_idn_ma: Figure, lower_idn_ma: Figure) -> Figure:
    """Ratio of the rated residual currents of two devices in series."""
    return RATIO(upper_idn_ma, lower_idn_ma)


def graded(ratio: Figure, least_ratio: Figure, *, upper_delayed: bool) -> bool:
    """True if two devices in series are selective: the upper one delayed (type S) *and* the ratio great enough."""
    return upper_delayed and ratio >= least_ratio


def least_rated(upstream_in_a: Figure, outgoing_in_a: Sequence[Figure] | None) -> Figure:
    """Rated current that a residual-current device without overload protection needs, A.

    outgoing_in_a  ratings of what it feeds, where its maker allows their sum to count; None: he does not say
    source         BS 7671 536.4.3.2, 536.4.202 (from memory)
    """
    if not outgoing_in_a:
        return upstream_in_a
    outgoing = total(outgoing_in_a, "In", "sum of the outgoing ratings")
    return choose([upstream_in_a, outgoing], min, "lesser of the device upstream and the sum of the outgoing ratings")


def touch_voltage(ra_ohm: Figure, idn_ma: Figure) -> Figure:
    """Touch voltage RA IdN of a TT installation, V: to be held against the limit of 50 V in the code packs."""
    return TOUCH(ra_ohm, idn_ma)


def greatest_electrode(limit_v: Figure, idn_ma: Figure) -> Figure:
    """Greatest RA, ohm (electrode and protective conductor), for a residual-current device. Compare unrounded."""
    return ELECTRODE(limit_v, idn_ma)
