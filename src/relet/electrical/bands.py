"""When a protective device opens: a band between a fast and a slow edge, from what product standards allow.

A gate is a current with a time. On the slow edge the device has surely opened by that time; on the fast edge it has
surely not opened before. Between gates little is published, so each band says how it is closed:

held     the time of the last gate passed (slow) or of the next gate ahead (fast). Needs only that more current never
         opens later. Breakers and residual current devices.
drawn    slow: a straight line in log-log from gate to gate, a construction that no publication bounds. Where a current
         is printed for a time between two gates and lies above their line (gG fuses at 0.4 s: up to 7 %), it is a gate
         itself. Fast: the energy of the next gate, I2t = constant back from it, since I2t is not less at the smaller
         current. gG fuses.

Energy is let-through I2t. Where a thermal release or a fuse acts, I2t does not rise with the current (less heat is lost
in a shorter time), so the energy of the last gate passed bounds it. Above the instantaneous bound it is I2 x the
instantaneous time, or less where a class limit or the maker's curve says so.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass, replace
from typing import Final, Literal, NamedTuple

from relet.working import Choice, Figure, Formula, choose, fact

BAND = "time-current band, construction between published gates"

OF_RATED = Formula("I = m * In", "A", m="", In="A", source="multiple of the rated or set current")
OF_IDN = Formula("I = m * IdN / 1000", "A", m="", IdN="mA", source="multiple of the rated residual current")
SECONDS = Formula("t = th * 3600", "s", th="h", source="turn of unit")
DRAWN = Formula(
    "t = t1 * (I / I1) ** (ln(t2 / t1) / ln(I2 / I1))", "s", I="A", I1="A", t1="s", I2="A", t2="s",
    source=f"{BAND}: straight in log-log",
)  # fmt: skip
DRAWN_BACK = Formula(
    "I = I1 * (t / t1) ** (ln(I2 / I1) / ln(t2 / t1))", "A", t="s", I1="A", t1="s", I2="A", t2="s",
    source=f"{BAND}: straight in log-log",
)  # fmt: skip
NOT_BEFORE = Formula("t = t2 * (I2 / I) ** 2", "s", I="A", I2="A", t2="s", source=f"{BAND}: I2t of the gate ahead")
NOT_AFTER = Formula("t = t1 * (I1 / I) ** 2", "s", I="A", I1="A", t1="s", source=f"{BAND}: I2t of the last gate")
CURRENT_OF_ENERGY = Formula("I = sqrt(E / t)", "A", E="A2s", t="s", source="current out of an energy and its time")
CURRENT_WITHIN = Formula("I = I1 * sqrt(t1 / t)", "A", t="s", I1="A", t1="s", source=f"{BAND}: I2t of the last gate")
ENERGY = Formula("E = I ** 2 * t", "A2s", I="A", t="s", source="energy of a current over a time")

NEVER: Final = fact("method.never", math.inf, "s", "chosen", "no published gate makes the device open here", name="t")
AT_ONCE: Final = fact("method.at_once", 0.0, "s", "chosen", "nothing published keeps the device closed here", name="t")
NO_CURRENT: Final = fact(
    "method.no_current", math.inf, "A", "chosen", "no current makes it surely open in time", name="I"
)


class Gate(NamedTuple):
    """A current with the time that holds there.

    thermal  the time comes from heating, so I2t beyond this gate does not exceed that of the gate
    """

    current: Figure
    time: Figure
    thermal: bool = False


class LetThrough(NamedTuple):
    """Let-through I2t up to a prospective current: a class limit at Icn, or a point of the maker's curve."""

    up_to_a: Figure
    energy: Figure


@dataclass(frozen=True, slots=True)
class Band:
    """When one device opens.

    kind            in words, for messages: "breaker C", "fuse gG"
    slow, fast      gates by rising current
    law             how the band is closed between gates (see the module)
    holds_a         conventional current at which it does not open, None if not published
    trips_a         conventional current that surely opens it (I2 of the overload rule)
    instant_low_a   below this it does not open at once (inrush, selectivity)
    instant_high_a  from this on it surely opens at once
    energies        limits of let-through by prospective current, ascending
    """

    kind: str
    slow: tuple[Gate, ...]
    fast: tuple[Gate, ...]
    law: Literal["held", "drawn"]
    holds_a: Figure | None
    trips_a: Figure
    instant_low_a: Figure
    instant_high_a: Figure
    energies: tuple[LetThrough, ...] = ()

    def slowest_s(self, fault_a: Figure) -> Figure:
        """Longest time the device may take at this current, s; infinite where it need not open."""
        at = self._passed(fault_a)
        if self.law == "held" or at < 0:
            return _picked(
                (NEVER, *(g.time for g in self.slow)), at + 1, "time of the last gate passed", fault_a, self.slow
            )
        g = self.slow[at]
        if at == len(self.slow) - 1:
            return NOT_AFTER(fault_a, g.current, g.time)
        return DRAWN(fault_a, g.current, g.time, self.slow[at + 1].current, self.slow[at + 1].time)

    def fastest_s(self, fault_a: Figure) -> Figure:
        """Shortest time the device may take at this current, s; infinite at or below its non-tripping current."""
        if self.holds_a is not None and fault_a <= self.holds_a:
            return _picked(
                (NEVER, *(g.time for g in self.fast)), 0, "not above the non-tripping current", fault_a, self.fast
            )
        at = next((i for i, g in enumerate(self.fast) if fault_a <= g.current), len(self.fast))
        if self.law == "held" or at == len(self.fast):
            times = (*(g.time for g in self.fast), AT_ONCE)
            return _picked(times, at, "time of the gate ahead", fault_a, self.fast)
        return NOT_BEFORE(fault_a, self.fast[at].current, self.fast[at].time)

    def trips_within(self, time_s: Figure) -> Figure:
        """Least current, A, that surely opens the device within `time_s`; infinite if none is published."""
        at = next((i for i, g in enumerate(self.slow) if g.time <= time_s), None)
        if at is not None and (self.law == "held" or at == 0 or self.slow[at].time == time_s):
            return _picked_current(self.slow, at, time_s)
        if self.law == "held":
            return _picked_current(self.slow, len(self.slow), time_s)
        if at is None:
            return CURRENT_WITHIN(time_s, self.slow[-1].current, self.slow[-1].time)
        a, b = self.slow[at - 1], self.slow[at]
        return DRAWN_BACK(time_s, a.current, a.time, b.current, b.time)

    def let_through_a2s(self, fault_a: Figure) -> Figure:
        """Greatest I2t let through at this prospective current, A2s; infinite where the device need not open."""
        t = self.slowest_s(fault_a)
        bounds = [ENERGY(fault_a, t)]
        at = self._passed(fault_a)
        if at >= 0 and self.slow[at].thermal:
            bounds.append(ENERGY(self.slow[at].current, self.slow[at].time))
        if fault_a >= self.instant_high_a:
            bounds.extend(e.energy for e in self.energies if fault_a <= e.up_to_a)
        return choose(bounds, min, "the tightest of the bounds that hold at this current", name="E")

    def breaks(self) -> tuple[Figure, ...]:
        """Currents at which a law changes: between two of them time and energy are powers of the current."""
        limited = (CURRENT_OF_ENERGY(e.energy, self.slow[-1].time) for e in self.energies)
        return (*(g.current for g in self.slow), *(e.up_to_a for e in self.energies), *limited)

    def with_energies(self, points: Sequence[LetThrough]) -> Band:
        """The same band with let-through limits: a class limit, or points of a maker's curve."""
        return replace(self, energies=tuple(sorted(points)))

    def _passed(self, fault_a: float) -> int:
        return sum(1 for g in self.slow if g.current <= fault_a) - 1


def _picked(times: tuple[Figure, ...], at: int, why: str, fault_a: Figure, gates: tuple[Gate, ...]) -> Figure:
    """One of several times, with the currents that decided which behind it."""
    because = (fault_a, *(g.current for g in gates))
    return Figure(float(times[at]), "s", Choice(why, len(times), at), (*times, *because), "t")


def _picked_current(gates: tuple[Gate, ...], at: int, time_s: Figure) -> Figure:
    currents = (*(g.current for g in gates), NO_CURRENT)
    given = (*currents, time_s, *(g.time for g in gates))
    return Figure(float(currents[at]), "A", Choice("first gate that is quick enough", len(currents), at), given, "Ia")
