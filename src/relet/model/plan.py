"""What the planner answers and what becomes of it."""

from __future__ import annotations

from relet.model.installation import Installation, merge
from relet.model.tenancy import Use
from relet.model.values import Digest, Map, Value


class SolverReport(Value, frozen=True, kw_only=True):
    """How the programme was solved. Prices in the currency of the price book, gap as a share of price.

    log  one line per round: what failed, which constraint was added, price and bound then
    """

    price: float
    bound: float
    gap: float
    places: int
    binaries: int
    rows: int
    seconds: float
    rounds: int
    stopped: bool
    log: tuple[str, ...] = ()


class Scheme(Value, frozen=True, kw_only=True):
    """One backbone and the contents for several tenancies."""

    backbone: Installation
    contents: Map[str, Installation]
    uses: Map[str, Use]
    made_for: Digest
    solved: SolverReport | None = None
    why: Map[str, str] = Map()

    def installation(self, tenancy: str) -> Installation:
        """Backbone plus the contents of one tenancy; seats that contradict each other are an error."""
        return merge(self.backbone, self.contents[tenancy])
