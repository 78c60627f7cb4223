"""Bands of the devices that the trade fits, built from published gates (see bands).

Breakers to EN 60898-1 and the overcurrent part of RCBOs; gG fuses to IEC 60269; residual current devices to IEC 61008-1
and 61009-1.
"""

from __future__ import annotations

from collections.abc import Sequence

from relet.electrical.bands import (
    CURRENT_OF_ENERGY,
    DRAWN_BACK,
    OF_IDN,
    OF_RATED,
    SECONDS,
    Band,
    Gate,
    LetThrough,
)
from relet.electrical.constants import constant
from relet.errors import OutsideTable
from relet.tables.core import table
from relet.tables.protection import (
    Conventional,
    FuseEnergy,
    Gates,
    TimePoint,
    fuse_conventional,
    gg_gates,
    gg_i2t,
    mcb_let_through,
    mcb_points,
)
from relet.working import Figure, choose


def breaker(
    in_a: Figure, curve: str, *, icn_a: Figure | None = None, energy_class: int | None = None,
    points: Sequence[TimePoint] | None = None,
) -> Band:  # fmt: skip
    """A type B, C or D breaker (or the overcurrent part of an RCBO).

    icn_a, energy_class  rated capacity and class marked on it: then the class limit bounds its let-through up to Icn,
                         where such a limit exists (types B and C up to 40 A)
    points               gates by rising current, None: the standard's
    raises               OutsideTable: a type or rating that the standard does not hold
    source               EN 60898-1 Table 7 and Annex ZA
    """
    held = mcb_points(curve, in_a) if points is None else points
    gates = [(OF_RATED(p.multiple, in_a), p) for p in held]
    last = len(gates) - 1
    slow = tuple(Gate(i, p.t_max, at < last) for at, (i, p) in enumerate(gates) if p.t_max is not None)
    # the first point is held without tripping: its time limits nothing on the fast edge
    fast = tuple(Gate(i, p.t_min) for at, (i, p) in enumerate(gates) if at > 0 and p.t_min is not None)
    energies: tuple[LetThrough, ...] = ()
    if icn_a is not None and energy_class is not None:
        try:
            energies = (LetThrough(icn_a, mcb_let_through(in_a, icn_a, curve, energy_class)),)
        except OutsideTable:  # no class limit for this type and rating: the time bound alone holds
            energies = ()
    return Band(
        f"breaker {curve}", slow, fast, "held",
        holds_a=gates[0][0], trips_a=gates[1][0], instant_low_a=gates[-2][0], instant_high_a=gates[-1][0],
        energies=energies,
    )  # fmt: skip


def fuse_gg(
    in_a: Figure, conventional: Conventional | None = None, gates: Gates | None = None, energy: FuseEnergy | None = None
) -> Band:
    """A gG fuse-link. instant_low_a and instant_high_a are its gates at 0.1 s: it has no instantaneous release.

    conventional, gates, energy  None: the standard's; where it holds no I2t, that of the 0.1 s gate bounds it.
                                 A current printed for 0.4 s is a gate where it lies above the line beside it
    raises                       OutsideTable: a rating that is not listed
    source                       IEC 60269-1, IEC 60269-2
    """
    c = fuse_conventional(in_a) if conventional is None else conventional
    g = gg_gates(in_a) if gates is None else gates
    if c.time is None:
        raise OutsideTable("fuse_conventional", f"{float(in_a):g} A", "fuses with a conventional time")
    long_min, long_max, short, at_energy = (
        constant("iec60269", q, "s", "t")
        for q in ("gate time imin long", "gate time imax long", "gate time short", "time of the I2t limits")
    )
    trips = OF_RATED(c.trips, in_a)
    slow = [Gate(trips, SECONDS(c.time), True), Gate(g.imax_5s, long_max, True), Gate(g.imax_0p1s, short, True)]
    if g.printed_0p4s is not None:
        between = constant("iec60269", "time of the printed current", "s", "t")
        if g.printed_0p4s > DRAWN_BACK(between, g.imax_5s, long_max, g.imax_0p1s, short):
            slow.insert(2, Gate(g.printed_0p4s, between, True))
    fast = [Gate(g.imin_10s, long_min), Gate(g.imin_0p1s, short)]
    if (e := _fuse_energy(in_a) if energy is None else energy) is not None:
        most = [e.selective_operating_max, *([e.prearc_max] if e.prearc_max is not None else [])]
        least = [e.selective_prearc_min, *([e.prearc_min] if e.prearc_min is not None else [])]
        operating = choose(most, max, "the greater of pre-arcing and operating limit", name="I2t")
        melting = choose(least, min, "the smaller of the two pre-arcing limits", name="I2t")
        if (opens := CURRENT_OF_ENERGY(operating, at_energy)) > g.imax_0p1s:
            slow.append(Gate(opens, at_energy, True))
        if (melts := CURRENT_OF_ENERGY(melting, at_energy)) > g.imin_0p1s:
            fast.append(Gate(melts, at_energy))
    return Band(
        "fuse gG", tuple(slow), tuple(fast), "drawn",
        holds_a=None if c.holds is None else OF_RATED(c.holds, in_a), trips_a=trips,
        instant_low_a=g.imin_0p1s, instant_high_a=g.imax_0p1s,
    )  # fmt: skip


def _fuse_energy(in_a: Figure) -> FuseEnergy | None:
    try:
        return gg_i2t(in_a)
    except OutsideTable:
        return None


def residual(idn_ma: Figure, delay: str = "general") -> Band:
    """A residual current device: its currents are residual currents, in A.

    delay   "general" or "S"
    raises  OutsideTable
    source  IEC 61008-1 Table 1 (up to 30 mA its quickest time is asked at 0.25 A or more)
    """
    rows = [r for r in table("rcd_break_times").some(type=delay) if r.number("i_multiple_of_idn") is not None]
    slow: list[Gate] = []
    fast: list[Gate] = []
    for r in rows:
        current = OF_IDN(r.figure("i_multiple_of_idn", "", name="m"), idn_ma)
        hold = r.maybe("t_non_actuating_min_s", "s", name="thold")
        if hold is not None:
            fast.append(Gate(current, hold))
        if r is rows[-1] and idn_ma <= constant("rcd", "highest IdN of that test", "mA", "IdN"):
            least = constant("rcd", "current of the quickest test up to 30 mA", "A", "I")
            current = choose((current, least), max, "the quickest time is asked at the greater of the two", name="I")
        slow.append(Gate(current, r.figure("t_break_max_s", "s", name="tbreak")))
    share = constant("rcd", "share of IdN below which it must not operate", "", "m")
    holds = OF_IDN(share, idn_ma)
    return Band(
        f"residual current device {delay}",
        tuple(slow),
        tuple(fast),
        "held",
        holds,
        slow[0].current,
        holds,
        slow[-1].current,
    )
