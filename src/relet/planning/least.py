"""What any plan must at least hang: found by a small programme of its own, said to the large one as three rows.

    sum_{p,f} frame[p,f] >= N                                                          "least frames"
    sum_{p,f} price[f] frame[p,f] >= F                                                 "least price"
    sum_p sum_x tap[p,x] >= N - free ways + sum_k step[k,0],   sum_k step[k,0] >= 1    "least taps", where N > free ways

N and F are the least number and the least price of frames that can seat every machine by reach, room, ingress and
diversity, feeds left aside: bounds of programmes solved in a tenth of a second. Every plan meets the rows; the
relaxation of the large programme alone does not, because it spreads slivers of frames over neighbouring places.
"""

from __future__ import annotations

import math
import threading
from dataclasses import dataclass, replace

import numpy as np

from relet.planning.build import Model
from relet.planning.first import placing
from relet.planning.sets import Sets
from relet.planning.solver import Limits, solve

SHORT_S = 3.0


@dataclass(frozen=True)
class Least:
    """Least number and least price of new frames."""

    number: int
    price: float


def least(s: Sets, limits: Limits, stop: threading.Event | None) -> Least:
    """The bounds of the two small programmes; nothing where they tell nothing."""
    m = placing(s, fed=False)
    arrays = m.programme.arrays()
    frames = np.zeros(len(arrays.cost))
    frames[list(m.vars.frame.values())] = 1.0
    short = replace(limits, seconds=SHORT_S, gap=0.0)
    number = solve(replace(arrays, cost=frames, fixed=0.0), short, stop=stop)
    price = solve(replace(arrays, cost=arrays.cost * frames, fixed=0.0), short, stop=stop)
    if number.status == "infeasible" or not np.isfinite(number.bound) or not np.isfinite(price.bound):
        return Least(0, 0.0)
    return Least(max(0, math.ceil(number.bound - 1e-6)), max(0.0, price.bound - 1e-6))


def hang_the_least(m: Model, least: Least) -> None:
    """The three rows."""
    p, v = m.programme, m.vars
    if not least.number:
        return
    p.at_least("least frames", [(1.0, c) for c in v.frame.values()], float(least.number))
    p.at_least("least price", [(p.cost[c], c) for c in v.frame.values()], least.price)
    short = least.number - len(m.sets.ways)
    runs = [(1.0, c) for (_, j), c in v.step.items() if j == 0]
    if short > 0 and runs:
        p.at_least("least runs", runs, 1.0)
        p.at_least("least taps", [*((1.0, c) for c in v.tap.values()), *((-a, c) for a, c in runs)], float(short))
