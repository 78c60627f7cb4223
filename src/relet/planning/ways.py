"""Ways of the board: each radial and each tapped run takes one."""

from __future__ import annotations

from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from relet.planning.build import Model


def enough_ways(m: Model) -> None:
    """No more feeds than free ways.

    sum_p sum_r radial[p,r] + sum_k step[k,0] <= free ways        "ways"
    """
    terms = [(1.0, v) for v in m.vars.radial.values()]
    terms += [(1.0, v) for (_, j), v in m.vars.step.items() if j == 0]
    free = len(m.sets.ways)
    if terms:
        m.programme.at_most("ways", terms, float(free), f"{free} free ways of the board")
