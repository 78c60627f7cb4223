"""Loads on three lines and a neutral: phasor sums, triplen harmonics, unbalance, shift of the star point.

Sums over many loads are `solved` figures: their working names what was counted, their givens are the loads' own
currents and power factors. Fundamental currents add as phasors. Third harmonics of the three lines are in phase in
the neutral and add arithmetically there (IEC 60364-5-52 Annex E); with the fundamental they combine as r.m.s. values.
"""

from __future__ import annotations

import cmath
import math
from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from typing import Final, NamedTuple

import numpy as np
from numpy.typing import NDArray

from relet.electrical.impedance import Impedance
from relet.electrical.phasors import ANGLES_DEG, Phasor
from relet.working import Figure, Formula, choose, solved

LINES: Final = ("L1", "L2", "L3")

MEAN = Formula("Imean = (I1 + I2 + I3) / 3", "A", I1="A", I2="A", I3="A", source="arithmetic mean of three lines")
UNBALANCE = Formula(
    "unbalance = 100 * max(abs(I1 - Imean), abs(I2 - Imean), abs(I3 - Imean)) / Imean", "%",
    I1="A", Imean="A", I2="A", I3="A", source="greatest departure of a line from the mean, of the mean",
)  # fmt: skip
NEUTRAL_SHARE = Formula(
    "share = 100 * IN / Imean", "%", IN="A", Imean="A", source="neutral current, of the mean line current"
)

_DIRECTION: Final = {v: cmath.rect(1, math.radians(a)) for v, a in ANGLES_DEG.items()}


@dataclass(frozen=True, slots=True)
class Load:
    """One load, as demand and balance see it.

    id             by which it is named in a working
    current_a      r.m.s. current in each of its lines while it runs, A
    pf             power factor; lagging unless `leading`
    lines          ("L2",) to neutral; ("L1", "L2") between two lines; all three: balanced
    third_percent  third harmonic, % of the fundamental. Applied to the whole current: a little high, never low
    neutral        a three-phase load has its neutral connected; nothing to do with the others
    on             chance that it draws this current at a random working moment; None: counted as always on
    kind           class of load or circuit for handbook allowances
    start_a        current in each line while it starts, A; None: nothing beyond current_a
    start_pf       power factor then; None: that of running
    """

    id: str
    current_a: Figure
    pf: Figure
    lines: tuple[str, ...]
    leading: bool = False
    third_percent: Figure | None = None
    neutral: bool = False
    on: Figure | None = None
    kind: str = ""
    start_a: Figure | None = None
    start_pf: Figure | None = None

    def __post_init__(self) -> None:
        if len(set(self.lines)) != len(self.lines) or not self.lines or not set(self.lines) <= set(LINES):
            raise ValueError(f"{self.id}: lines {self.lines}; one, two or three different ones of {LINES} are allowed")


class Drawn(NamedTuple):
    """What a load puts into the three lines, A: complex fundamental, and arithmetic third harmonic in the neutral."""

    lines: tuple[complex, complex, complex]
    third: float


def drawn(load: Load, *, starting: bool = False) -> Drawn:
    """A load's currents as plain numbers, running or starting. A start is taken without harmonics of its own."""
    current, pf = float(load.current_a), float(load.pf)
    if starting and load.start_a is not None:
        current, pf = float(load.start_a), float(load.pf if load.start_pf is None else load.start_pf)
    phi = math.acos(min(1.0, max(0.0, pf))) * (-1 if load.leading else 1)
    lag = cmath.rect(current, -phi)
    out = [0j, 0j, 0j]
    if len(load.lines) == 2:
        first, second = load.lines
        there = lag * _DIRECTION[f"{first}-{second}"]
        out[LINES.index(first)], out[LINES.index(second)] = there, -there
    else:
        for name in load.lines:
            out[LINES.index(name)] = lag * _DIRECTION[name]
    to_neutral = 1 if len(load.lines) == 1 else 3 if len(load.lines) == 3 and load.neutral else 0
    third = 0.0 if load.third_percent is None else to_neutral * load.third_percent / 100 * float(load.current_a)
    return Drawn((out[0], out[1], out[2]), third)


def given_by(loads: Iterable[Load], *, starting: str | None = None) -> tuple[Figure, ...]:
    """The figures that a sum over these loads rests on."""
    out: list[Figure] = []
    for x in loads:
        out += [x.current_a, x.pf]
        if x.third_percent is not None:
            out.append(x.third_percent)
        if x.id == starting:
            out += [f for f in (x.start_a, x.start_pf) if f is not None]
    return tuple(out)


@dataclass(frozen=True, slots=True)
class LineCurrents:
    """Currents of a load case, A, r.m.s.

    lines    L1, L2, L3 (fundamental phasor sums)
    neutral  phasor sum of the lines with the triplen share
    case     which load case, in words
    counted  what was counted, by id
    """

    lines: tuple[Figure, Figure, Figure]
    neutral: Figure
    case: str
    counted: tuple[str, ...]

    @property
    def worst(self) -> Figure:
        """The most loaded line."""
        return choose(self.lines, max, f"most loaded line, {self.case}", name="Iline")

    @property
    def unbalance_percent(self) -> Figure:
        """See unbalance()."""
        return unbalance(*self.lines)

    @property
    def neutral_share_percent(self) -> Figure:
        """See neutral_share()."""
        return neutral_share(self.neutral, *self.lines)


def neutral_rms(fundamental: complex, third_a: float) -> float:
    """R.m.s. of the neutral current, A: phasor sum of the fundamentals with the arithmetic sum of the thirds."""
    return math.hypot(fundamental.real, fundamental.imag, third_a)


def line_currents(loads: Sequence[Load], case: str = "all on") -> LineCurrents:
    """Everything on: phasor sums in each line and in the neutral.

    source  circuit theory; IEC 60364-5-52 Annex E for the triplen share of the neutral
    """
    parts = [drawn(x) for x in loads]
    total = [sum((p.lines[k] for p in parts), 0j) for k in range(3)]
    counted, given = tuple(x.id for x in loads), given_by(loads)
    what = f"phasor sum, {case}: {', '.join(counted) or 'nothing'}"
    lines = [
        solved(abs(t), "A", f"{what}, {name}", 0.0, _on(loads, name, given), name=f"I{k}")
        for k, (name, t) in enumerate(zip(LINES, total), 1)
    ]
    neutral = neutral_rms(sum(total, 0j), sum(p.third for p in parts))
    return LineCurrents(
        (lines[0], lines[1], lines[2]),
        solved(neutral, "A", f"{what}, neutral with third harmonics", 0.0, given, name="IN"),
        case,
        counted,
    )


def _on(loads: Sequence[Load], line: str, everything: tuple[Figure, ...]) -> tuple[Figure, ...]:
    on = [x for x in loads if line in x.lines]
    return everything if len(on) == len(loads) else given_by(on)


class Longest(NamedTuple):
    """The longest sum of vectors: its length, what is in it, and which of them is there with its start instead."""

    length: float
    on: NDArray[np.bool_]
    start: int | None


def longest_sum(
    running: NDArray[np.complex128], starting: NDArray[np.complex128], may_start: NDArray[np.bool_]
) -> Longest:
    """Greatest length that a sum of currents can have when each may be on or off and at most one of them starts.

    running, starting  (n,) phasors of the n loads in one conductor, A
    may_start          (n,) True where a load has a start

    A sum is longest for the loads that point to one side of some line through the origin, so every such half is
    tried, with each start: exact, and no load is ever counted for cancelling another.
    source  geometry of vector sums (support function of a zonotope)
    """
    edges = np.angle(running)[np.abs(running) > 0]
    edges = np.unique(
        np.round(np.mod(np.concatenate([edges + np.pi / 2, edges - np.pi / 2]), 2 * np.pi), _ANGLE_DIGITS)
    )
    between = (edges + np.append(edges[1:], edges[:1] + 2 * np.pi)) / 2 if len(edges) else np.zeros(1)
    halves = np.array_split(between, 1 + len(between) * len(running) // _MOST_AT_ONCE)
    return max((_longest_of(h, running, starting, may_start) for h in halves if len(h)), key=lambda x: x.length)


_ANGLE_DIGITS: Final = 12
_MOST_AT_ONCE: Final = 500_000


def _longest_of(
    between: NDArray[np.float64], running: NDArray[np.complex128], starting: NDArray[np.complex128],
    may_start: NDArray[np.bool_],
) -> Longest:  # fmt: skip
    """The longest sum over some of the halves, each named by the angle that it faces."""
    n = len(running)
    side = (np.exp(-1j * between)[:, None] * running).real > 0
    own = np.where(side, running, 0)
    sums = own.sum(axis=1)
    started = np.where(may_start, np.abs(sums[:, None] - own + starting), -1.0)
    length = np.concatenate([np.abs(sums)[:, None], started], axis=1)
    half, which = np.unravel_index(int(length.argmax()), length.shape)
    on = side[half].copy() if n else np.zeros(0, bool)
    if which:
        on[which - 1] = True
    return Longest(float(length[half, which]), on, int(which) - 1 if which else None)


def unbalance(i1_a: Figure, i2_a: Figure, i3_a: Figure) -> Figure:
    """Unbalance in %: the greatest departure of a line current from the mean of the three, of that mean.

    0 where nothing flows. 200 when one line carries everything. The measure is the usual one of the trade
    (NEMA MG 1 states it for voltages); a network operator may use sequence components.
    """
    mean = MEAN(i1_a, i2_a, i3_a)
    if mean <= 0:
        return solved(0.0, "%", "no current, so no unbalance", 0.0, (mean,), name="unbalance")
    return UNBALANCE(i1_a, mean, i2_a, i3_a)


def neutral_share(neutral_a: Figure, i1_a: Figure, i2_a: Figure, i3_a: Figure) -> Figure:
    """Neutral current in % of the mean line current; 0 where nothing flows."""
    mean = MEAN(i1_a, i2_a, i3_a)
    if mean <= 0:
        return solved(0.0, "%", "no current", 0.0, (neutral_a, mean), name="share")
    return NEUTRAL_SHARE(neutral_a, mean)


class StarPoint(NamedTuple):
    """Star connection with an impedance in its neutral: shift of the star point, line and neutral currents."""

    shift_v: Phasor
    lines_a: tuple[Figure, Figure, Figure]
    neutral_a: Figure


def star_point(
    voltages: tuple[Phasor, Phasor, Phasor],
    loads: tuple[Impedance, Impedance, Impedance],
    neutral: Impedance | None,
) -> StarPoint:
    """Shift of the star point of three unequal impedances; neutral None: broken, which is why it is asked.

    source  Millman's theorem: U = sum(Uk / Zk) / (sum(1 / Zk) + 1 / Zn)
    raises  ZeroDivisionError for an impedance of nought
    """
    u = [p.value for p in voltages]
    y = [1 / complex(z.r, z.x) for z in loads]
    y_neutral = 0j if neutral is None else 1 / complex(neutral.r, neutral.x)
    shift = sum((a * b for a, b in zip(u, y)), 0j) / (sum(y, 0j) + y_neutral)
    current = [(a - shift) * b for a, b in zip(u, y)]
    back = shift * y_neutral
    left = abs(sum(current, 0j) - back)
    given = tuple(f for pair in (*voltages, *loads, *((neutral,) if neutral else ())) for f in pair)
    how = "Millman's theorem"
    lines = [solved(abs(i), "A", how, left, given, name=f"I{k}") for k, i in enumerate(current, 1)]
    return StarPoint(
        Phasor(
            solved(shift.real, "V", how, left, given, name="Ure"), solved(shift.imag, "V", how, left, given, name="Uim")
        ),
        (lines[0], lines[1], lines[2]),
        solved(abs(back), "A", how, left, given, name="IN"),
    )
