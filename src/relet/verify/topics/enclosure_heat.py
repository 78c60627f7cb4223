"""Heat of an enclosure: effective surface, and what its walls let through."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Final

from relet.electrical.heat import Faces, cooling_needed, effective_surface, through_walls
from relet.tables.assemblies import surface_factor
from relet.verify.calling import Call
from relet.verify.case import Example, Way
from relet.verify.topics.common import Values


def wall_cabinet(ex: Example, call: Call) -> Values:
    """A single cabinet on a wall: surface, heat through the walls at several ambients, cooling needed."""
    side = surface_factor("exposed side faces incl. front and free rear")
    faces = Faces(
        top=surface_factor("exposed top surface"), front=side,
        rear=surface_factor("covered rear side of wall-mounted enclosure"), left=side, right=side,
        floor=surface_factor("floor surface"),
    )  # fmt: skip
    surface = call(
        effective_surface, ex.figure("width_m", "m"), ex.figure("height_m", "m"), ex.figure("depth_m", "m"), faces
    )
    yield "A_m2", surface
    for ambient in ex.figures("ambient_c", "degC"):
        k = ex.figure("k_w_per_m2_k", "W/(m2 K)")
        heat = call(through_walls, k, surface, ex.figure("inside_c", "degC"), ambient)
        yield "Q_surface_w", heat
        yield "cooling_w", call(cooling_needed, ex.figure("losses_w", "W"), heat)


WAYS: Final[Mapping[str, Way]] = {"wall_cabinet": wall_cabinet}
