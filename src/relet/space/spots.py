"""A point with an address, so that a length measured from it can say where it comes from."""

from __future__ import annotations

from relet.errors import ReletError
from relet.model import Point, Value
from relet.working import Figure, Ground, fact


class Spot(Value, frozen=True, kw_only=True):
    """A point of the unit that a figure may rest on.

    path      address of what stands there: "tenancies.harbour.machines.roaster", "design.harbour.assemblies.A4"
    at_m      where, in plan
    height_m  above the floor, None where no height is asked
    ground    how the place is known: "chosen" for our own pieces, "declared" where the tenant said so
    """

    path: str
    at_m: Point
    height_m: float | None = None
    ground: Ground = "declared"

    @property
    def name(self) -> str:
        """Last part of the address: "A4"."""
        return self.path.rsplit(".", 1)[-1]

    def plan(self) -> tuple[Figure, Figure]:
        """x and y as facts, in metres."""
        x, y = self.at_m
        return (
            fact(f"{self.path}.at_m[0]", x, "m", self.ground, name="x"),
            fact(f"{self.path}.at_m[1]", y, "m", self.ground, name="y"),
        )

    def height(self) -> Figure:
        """Height above the floor as a fact, in metres. Raises ReletError where the spot has none."""
        if self.height_m is None:
            raise ReletError(f"{self.path}: its height above the floor is not given")
        return fact(f"{self.path}.height_m", self.height_m, "m", self.ground, name="h")
