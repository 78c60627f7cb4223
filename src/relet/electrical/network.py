"""Four-wire (three lines and neutral) unbalanced radial network: voltages, currents, losses.

Backward/forward sweep: load currents from the last voltages, branch currents as sums below, voltages as drops along
the path, until nothing moves. Both sums are running totals over a walk round the tree (down: a node's branch holds
everything between the two times the walk passes it), so a sweep is a dozen numpy calls however deep the tree is.
Neutral and line impedances are kept apart and are not coupled; the earth carries nothing.

Source of the method: D. Shirmohammadi et al., "A compensation-based power flow method for weakly meshed
distribution and transmission networks", IEEE Trans. Power Systems 3 (1988), 753; for three lines and neutral
R. M. Ciric et al., IEEE Trans. Power Systems 18 (2003), 1283. From memory; compared with pandapower in
tests/differential.
"""

from __future__ import annotations

import math
from collections.abc import Iterable
from dataclasses import dataclass
from functools import cached_property
from typing import Final

import numpy as np
from numpy.typing import NDArray

from relet.errors import NotSolved
from relet.working import Figure, solved

Complex = NDArray[np.complex128]
Real = NDArray[np.float64]
Index = NDArray[np.intp]

METHOD: Final = "four-wire radial network, backward/forward sweep"
TURN: Final = complex(-0.5, math.sqrt(3) / 2)
"""A third of a turn: L2 lags L1, L3 leads it."""


def balanced_v(u0_v: float) -> Complex:
    """Source voltages of L1, L2, L3 to neutral for a symmetrical supply, in volts; L1 has angle zero."""
    out: Complex = np.multiply(u0_v, np.array([1, TURN.conjugate(), TURN], np.complex128), dtype=np.complex128)
    return out


def sequence_matrix(z0: complex, z1: complex, z2: complex) -> Complex:
    """3 x 3 impedance of a source in ohm from its zero, positive and negative sequence impedances (Fortescue)."""
    a = np.array([[1, 1, 1], [1, TURN.conjugate(), TURN], [1, TURN, TURN.conjugate()]])
    out: Complex = a @ np.diag([z0, z1, z2]) @ np.linalg.inv(a)
    return out


@dataclass(frozen=True, slots=True)
class Loads:
    """What is drawn at each node; arrays of shape (..., nodes, 3), leading axes are cases solved together.

    To neutral (L1, L2, L3), then between two lines (L1-L2, L2-L3, L3-L1, `pair_`):
    power_va       constant complex power, lagging positive: P + jQ
    current_a      constant current, its angle held to the voltage it is drawn from: lagging negative
    admittance_s   constant admittance in siemens, lagging negative
    """

    power_va: Complex | None = None
    current_a: Complex | None = None
    admittance_s: Complex | None = None
    pair_power_va: Complex | None = None
    pair_current_a: Complex | None = None
    pair_admittance_s: Complex | None = None

    def in_order(self, order: Index) -> Loads:
        """The same loads with the nodes taken in another order."""
        return Loads(*(None if a is None else a[..., order, :] for a in self._all()))

    def drawn_a(self, u: Complex) -> Complex:
        """Line currents drawn at line-to-neutral voltages `u`."""
        i = _drawn(u, self.power_va, self.current_a, self.admittance_s)
        if any(a is not None for a in self._all()[3:]):
            j = _drawn(u - np.roll(u, -1, -1), self.pair_power_va, self.pair_current_a, self.pair_admittance_s)
            i = i + j - np.roll(j, 1, -1)
        return i

    def cases(self) -> tuple[int, ...]:
        """Leading axes."""
        return np.broadcast_shapes(*(a.shape[:-2] for a in self._all() if a is not None))

    def _all(self) -> tuple[Complex | None, ...]:
        return (
            self.power_va, self.current_a, self.admittance_s,
            self.pair_power_va, self.pair_current_a, self.pair_admittance_s,
        )  # fmt: skip


def _drawn(u: Complex, power: Complex | None, current: Complex | None, admittance: Complex | None) -> Complex:
    i: Complex = np.zeros_like(u) if power is None else np.conj(power / u)
    if current is not None:
        i = i + current * u / np.abs(u)
    if admittance is not None:
        i = i + admittance * u
    return i


@dataclass(frozen=True)
class Network:
    """A radial network of n nodes. Node 0 is the source; branch i leads from parent[i] to node i.

    parent          (n,) index of the feeding node; parent[0] is -1. Any order.
    line_ohm        (n,) or (n, 3) complex impedance of the lines of branch i; entry 0 is not used
    neutral_ohm     (n,) complex impedance of its neutral
    source_v        (3,) complex voltages to neutral at node 0 without load
    source_ohm      (3, 3) impedance behind node 0, if it is not drawn as a branch (see sequence_matrix)
    raises          ValueError for shapes that do not fit, a value that is not finite, or a graph that is no tree
    """

    parent: Index
    line_ohm: Complex
    neutral_ohm: Complex
    source_v: Complex
    source_ohm: Complex | None = None

    def __post_init__(self) -> None:
        n = len(self.parent)
        line = np.asarray(self.line_ohm, complex)
        if line.shape not in ((n,), (n, 3)) or np.shape(self.neutral_ohm) != (n,) or np.shape(self.source_v) != (3,):
            raise ValueError(f"{n} nodes, but impedances {line.shape}, {np.shape(self.neutral_ohm)}")
        if n == 0 or self.parent[0] != -1:
            raise ValueError("node 0 must be the source, with parent -1")
        if not (np.isfinite(line).all() and np.isfinite(self.neutral_ohm).all() and np.isfinite(self.source_v).all()):
            raise ValueError("an impedance or a source voltage is not finite")

    @cached_property
    def walk(self) -> tuple[Index, Index, Index, Index]:
        """Walk round the tree: nodes in order of first passing, end of each subtree in it, times of entering, leaving.

        raises  ValueError if some node is not fed from node 0 or a parent is not a node
        """
        n = len(self.parent)
        children: list[list[int]] = [[] for _ in range(n)]
        for child, up in enumerate(self.parent.tolist()[1:], 1):
            if not 0 <= up < n:
                raise ValueError(f"node {child} has parent {up}, allowed are 0 to {n - 1}")
            children[up].append(child)
        order: list[int] = []
        end, enter, leave = [0] * n, [0] * n, [0] * n
        place = [0] * n
        time = 0
        stack = [0]
        while stack:
            node = stack.pop()
            if node < 0:
                at = place[~node]
                end[at], leave[at] = len(order), time
            else:
                place[node] = len(order)
                enter[len(order)] = time
                order.append(node)
                stack.append(~node)
                stack.extend(children[node])
            time += 1
        if len(order) != n:
            raise ValueError(f"{n - len(order)} of {n} nodes are not fed from node 0")
        return np.array(order), np.array(end), np.array(enter), np.array(leave)

    @cached_property
    def conductors_ohm(self) -> Complex:
        """(n, 4) impedances of L1, L2, L3, N in the order of the walk; nothing lies before node 0."""
        line = np.asarray(self.line_ohm, complex)
        z = np.empty((len(self.parent), 4), complex)
        z[:, :3] = line if line.ndim == 2 else line[:, None]
        z[:, 3] = self.neutral_ohm
        z[0] = 0
        return z[self.walk[0]]


@dataclass(frozen=True, slots=True)
class Solution:
    """A solved network; arrays keep the numbering of the nodes and the leading axes of the loads.

    u_v         (..., n, 3) complex voltages line to neutral at each node
    neutral_v   (..., n) complex voltage of the neutral against the neutral of the source
    line_a      (..., n, 3) complex currents in the lines of branch i, away from the source; at 0 the whole supply
    neutral_a   (..., n) complex current in its neutral, away from the source: minus the sum of the lines
    loss_w      (..., n) loss in branch i, lines and neutral
    residual    last change of a voltage as a share of the source voltage, greatest over all nodes and cases
    sweeps      number of sweeps made
    """

    u_v: Complex
    neutral_v: Complex
    line_a: Complex
    neutral_a: Complex
    loss_w: Real
    residual: float
    sweeps: int

    def case(self, *at: int) -> Solution:
        """One of several cases."""
        return Solution(
            self.u_v[at], self.neutral_v[at], self.line_a[at], self.neutral_a[at], self.loss_w[at],
            self.residual, self.sweeps,
        )  # fmt: skip

    @property
    def pair_v(self) -> Complex:
        """(..., n, 3) complex voltages L1-L2, L2-L3, L3-L1."""
        out: Complex = self.u_v - np.roll(self.u_v, -1, -1)
        return out


def solve(net: Network, loads: Loads, *, tolerance: float = 1e-9, most_sweeps: int = 100) -> Solution:
    """Solve a network for its voltages and currents.

    tolerance     largest change of any voltage in the last sweep, as a share of the source voltage
    most_sweeps   after these, NotSolved is raised: a load greater than the network can carry has no solution
    raises        NotSolved with the residual; ValueError for loads of another shape than the network
    """
    order, end, enter, leave = net.walk
    n, z = len(order), net.conductors_ohm
    mine = loads.in_order(order)
    cases = loads.cases()
    scale = float(np.abs(net.source_v).max())
    at_source = np.append(np.asarray(net.source_v, complex), 0)
    below = np.zeros((*cases, n + 1, 3), complex)
    tour = np.empty((*cases, 2 * n, 4), complex)
    i = np.empty((*cases, n, 4), complex)
    v = np.broadcast_to(at_source, (*cases, n, 4))
    u = v[..., :3] - v[..., 3:]
    change = math.inf
    with np.errstate(all="ignore"):
        for sweep in range(1, most_sweeps + 1):
            np.cumsum(mine.drawn_a(u), axis=-2, out=below[..., 1:, :])
            np.subtract(below[..., end, :], below[..., :-1, :], out=i[..., :3])
            np.negative(i[..., :3].sum(-1), out=i[..., 3])
            drop = z * i
            if net.source_ohm is not None:
                drop[..., 0, :3] = i[..., 0, :3] @ net.source_ohm.T
            tour[..., enter, :] = drop
            tour[..., leave, :] = -drop
            v = at_source - np.cumsum(tour, axis=-2)[..., enter, :]
            last, u = u, v[..., :3] - v[..., 3:]
            change = float(np.abs(u - last).max()) / scale
            if change <= tolerance:
                break
            if not math.isfinite(change):
                raise NotSolved("network: the loads are more than it can carry", change, sweep)
        else:
            raise NotSolved("network: the loads are more than it can carry", change, most_sweeps)
    back = np.empty_like(order)
    back[order] = np.arange(n)
    loss = (np.abs(i) ** 2 * z.real).sum(-1)
    return Solution(u[..., back, :], v[..., back, 3], i[..., back, :3], i[..., back, 3], loss[..., back], change, sweep)


def voltage(s: Solution, node: int, line: int, given: Iterable[Figure]) -> Figure:
    """Magnitude of a line-to-neutral voltage in V as a figure; `given` are the facts that the network was made of."""
    return solved(abs(s.u_v[node, line]), "V", METHOD, s.residual, given, name=f"U{line + 1}")


def line_current(s: Solution, branch: int, line: int, given: Iterable[Figure]) -> Figure:
    """Magnitude in A of the current in one line of a branch as a figure."""
    return solved(abs(s.line_a[branch, line]), "A", METHOD, s.residual, given, name=f"I{line + 1}")


def loss(s: Solution, given: Iterable[Figure]) -> Figure:
    """Losses of all branches together in W as a figure."""
    return solved(float(s.loss_w.sum()), "W", METHOD, s.residual, given, name="Ploss")
