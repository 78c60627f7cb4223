"""The four-wire network of a case, solved: voltages at every element and currents in every run, by phasors.

Everything that is plugged in runs at its rated power; this is the result shown beside the tabulated volt drop, and what
the plot of volt drop along a path is drawn from.
"""

from __future__ import annotations

import math
from typing import NamedTuple

import numpy as np

from relet.checks import things
from relet.checks.loads import Drawn, everything, voltages
from relet.checks.runs import HOT, Conductors, conductors, segments
from relet.checks.study import Study, kept
from relet.electrical.network import Loads, Network, Solution, balanced_v, solve
from relet.electrical.topology import ORIGIN, machine_seat
from relet.errors import NotSolved
from relet.model import Seat
from relet.working import Figure, solved


class Solved(NamedTuple):
    """A solved network: node of each element, nodes in order, and the solution."""

    node: dict[Seat, int]
    names: tuple[str, ...]
    solution: Solution
    given: tuple[Figure, ...]


@kept
def solved_case(study: Study) -> Solved:
    """Solve the network with everything that is plugged in running.

    Nodes are the origin, the far end of each run, and each tap; busbars, devices and outlets take the node of what
    feeds them. Raises NotSolved where no voltage can be found.
    """
    node: dict[Seat, int] = {ORIGIN: 0}
    names, parent = ["origin"], [-1]
    line: list[complex] = [0j]
    neutral: list[complex] = [0j]
    given: list[Figure] = []

    def add(name: str, up: int, c: Conductors) -> int:
        names.append(name)
        parent.append(up)
        line.append(complex(c.line.r, c.line.x))
        neutral.append(complex(c.neutral.r, c.neutral.x))
        given.extend((c.line.r, c.line.x))
        return len(names) - 1

    i = study.case.installation
    stack: list[Seat] = [ORIGIN]
    while stack:
        s = stack.pop()
        children = list(study.feeds.children.get(s, ()))
        taps = sorted((t for t in children if t in i.taps), key=lambda t: _along(study, t))
        if s in i.runs and taps:
            up, before = node[study.feeds.parent[s]], 0.0
            for t in taps:
                seg = segments(study, t)[-1]
                whole = conductors(study, s, seg.length, HOT)
                share = (float(seg.length) - before) / float(seg.length) if seg.length > 0 else 0.0
                up = add(t, up, whole)
                line[-1], neutral[-1] = line[-1] * share, neutral[-1] * share
                before = float(seg.length)
                node[t] = up
            node[s] = up
        elif s in i.runs:
            seg = segments(study, s)[-1]
            node[s] = add(s, node[study.feeds.parent[s]], conductors(study, s, seg.length, HOT))
        elif s not in node:
            node[s] = node[study.feeds.parent[s]]
        stack.extend(c for c in children if c not in node)
        stack.extend(t for t in taps if t in node)
    return Solved(node, tuple(names), _solve(study, node, names, parent, line, neutral), tuple(given[:64]))


def _along(study: Study, tap: Seat) -> float:
    return float(study.facts.number(things.tap(study, tap), "along_m", "m", name="L"))


def _solve(
    study: Study, node: dict[Seat, int], names: list[str], parent: list[int], line: list[complex],
    neutral: list[complex],
) -> Solution:  # fmt: skip
    v = voltages(study)
    power = np.zeros((len(names), 3), dtype=np.complex128)
    pairs = np.zeros((len(names), 3), dtype=np.complex128)
    for d in everything(study):
        at = node.get(machine_seat(d.id), node.get(Seat(d.id)))
        if at is None or not d.lines:
            continue
        if d.connection == "two lines" and len(d.lines) == 2:
            pairs[at, d.lines[0]] += _apparent(d, float(v.u))
        else:
            for n in d.lines:
                power[at, n] += _apparent(d, float(v.u0))
    net = Network(np.array(parent), np.array(line), np.array(neutral), balanced_v(float(v.u0)))
    return solve(net, Loads(power_va=power, pair_power_va=pairs))


def _apparent(d: Drawn, voltage_v: float) -> complex:
    """Apparent power, VA, at one voltage."""
    s = float(d.current_a) * voltage_v
    phi = math.acos(min(1.0, float(d.pf)))
    return complex(s * math.cos(phi), s * math.sin(phi))


@kept
def phasor_drop_percent(study: Study, seat: Seat) -> Figure | None:
    """Fall of the magnitude of the voltage from the origin to an element, % of U0, worst of its lines."""
    try:
        found = solved_case(study)
    except NotSolved:
        return None
    at = found.node.get(seat)
    if at is None or at == 0:
        return None
    u0 = float(voltages(study).u0)
    drops = [100 * (1 - abs(complex(found.solution.u_v[at, n])) / u0) for n in things.lines(study, seat)]
    residual = float(found.solution.residual)
    how = "four-wire network, everything plugged in running, by phasors"
    return solved(max(drops), "%", how, residual, found.given, name="fall")
