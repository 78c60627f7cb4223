"""What is asked of the planner: everything a plan depends on, and nothing else."""

from __future__ import annotations

from typing import Final, Literal

from relet.errors import InputError
from relet.model import Catalogue, Digest, Installation, Tenancy, Unit, Value, Wishes, digest

Arrangement = Literal["device per outlet", "one incoming device"]
"""A main switch and a combined device per outlet; or one residual-current device at the incomer and breakers."""
PER_OUTLET: Final = "device per outlet"


class Choices(Value, frozen=True, kw_only=True):
    """House rules of the planner itself; the policy of the unit and the code pack go before them.

    arrangement     protection arrangement of every new assembly
    cable           kind of cable of a radial, clipped apart by more than twice its diameter: it shares no group
    flexible        kind of cable of a drop from a tap-off
    height_m        centre of an assembly above the floor
    cable_sizes_mm2 made sizes that may be used, smallest first
    radial_a        ratings of feeds from the board that may be used
    seconds, gap    time for all solving, and the gap at which a solve stops
    rounds          most rounds of plan, check and plan again
    threads, seed   fixed, so that runs repeat
    discount        share by which each later changeover counts less than the one before
    """

    arrangement: Arrangement = "device per outlet"
    cable: str = "swa-90"
    flexible: str = "flex-rubber-60"
    height_m: float = 1.2
    cable_sizes_mm2: tuple[float, ...] = (1.5, 2.5, 4, 6, 10, 16, 25, 35, 50, 70)
    radial_a: tuple[float, ...] = (32, 40, 50, 63, 80, 100)
    seconds: float = 25.0
    gap: float = 0.002
    rounds: int = 12
    threads: int = 2
    seed: int = 1
    discount: float = 0.0


class Problem(Value, frozen=True, kw_only=True):
    """One unit, what stands in it, and the tenancies to come in their order.

    standing   what is on the walls now; pieces named in wishes.keep, pieces with stays = true, boards, and all that
               feeds a load of the building stay as they are; the rest is taken out when the first tenancy comes
    tenancies  in the order in which they follow one another
    wishes     of the person; a pin is "machine" or "tenancy.machine"
    catalogue  parts with declared data; the planner takes parts by data, never by name
    code       id of the code pack
    made_for   digest of the file that the plan is made for; left out: that of what is named above
    """

    unit: Unit
    standing: Installation
    tenancies: tuple[Tenancy, ...]
    wishes: Wishes = Wishes()
    catalogue: Catalogue
    code: str
    choices: Choices = Choices()
    made_for: str = ""

    def digest(self) -> Digest:
        """What the plan is made for."""
        asked = (self.unit, self.standing, self.tenancies, self.wishes)
        return Digest(self.made_for) if self.made_for else digest(asked)

    def tenancy(self, id: str) -> Tenancy:
        """A tenancy by its id."""
        return next(t for t in self.tenancies if t.id == id)


def check_problem(problem: Problem) -> None:
    """Find what cannot be planned before the solver sees it.

    raises  InputError naming the place: no tenancy, no board, a wish that names nothing
    """
    if not problem.tenancies:
        raise InputError("there is no tenancy to plan for", place="tenancies")
    if not problem.standing.boards:
        raise InputError("there is no distribution board to feed from", place="standing.boards")
    machines = {m for t in problem.tenancies for m in t.machines}
    full = {f"{t.id}.{m}" for t in problem.tenancies for m in t.machines}
    for pin in problem.wishes.pins:
        if pin not in machines | full:
            allowed = ", ".join(sorted(machines))
            raise InputError(f'no machine "{pin}" in any tenancy. There are: {allowed}', place=f"wishes.pins.{pin}")
    held = {str(s) for s in problem.standing.pieces()} | {str(s) for s in problem.standing.loads}
    for seat in problem.wishes.keep:
        if seat not in held:
            raise InputError(f'nothing stands at "{seat}"', place="wishes.keep")
