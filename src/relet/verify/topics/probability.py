"""Demand by chance: with equal loads the distribution is the binomial one."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Final

from relet.electrical.balance import Load
from relet.electrical.chance import Distribution
from relet.electrical.demand import by_chance
from relet.verify.calling import Call
from relet.verify.case import Example, Way
from relet.verify.topics.common import Values
from relet.working import Figure, Formula, fact

_EXACTLY: Final = Formula("P = Pabove - Pnext", "", Pabove="", Pnext="", source="chance of exactly one number")

_ANY_SHARE: Final = fact("example.share", 0.01, "", "chosen", "share of time for the demand, which is not asked here")


def binomial(ex: Example, call: Call) -> Values:
    """n loads of 1 A, each on with the same chance: the line carries k amperes when k of them are on."""
    yield from _exactly(ex, call, call(by_chance, _loads(ex), _ANY_SHARE).distributions[0])


def binomial_with_demand(ex: Example, call: Call) -> Values:
    """The same, with the current that is passed for at most a share of the time."""
    found = call(by_chance, _loads(ex), ex.figure("beyond_share", ""))
    yield "demand_a", found.lines[0]
    yield from _exactly(ex, call, found.distributions[0])


def _exactly(ex: Example, call: Call, line: Distribution) -> Values:
    for k in ex.inputs["k"]:
        above, beyond = (call(line.share_above, _ampere(k - n)) for n in (1, 0))
        yield "P_eq", _EXACTLY(above, beyond)


def _loads(ex: Example) -> list[Load]:
    chance, unity = ex.figure("p", ""), fact("example.pf", 1.0, "", "chosen")
    return [Load(f"load {i}", _ampere(1), unity, ("L1",), on=chance) for i in range(ex.inputs["n"])]


def _ampere(number: float) -> Figure:
    return fact("example.current", number, "A", "chosen", "one ampere a load")


WAYS: Final[Mapping[str, Way]] = {"binomial": binomial, "binomial_with_demand": binomial_with_demand}
