"""New pieces of a plan: values at seats, each fact a claim of ours ("chosen") at the address it will have.

Backbone pieces live at "plan.<group>.<seat>.<fact>", contents at "design.<tenancy>.<group>.<seat>.<fact>".
"""

from __future__ import annotations

import math
from collections.abc import Mapping

from relet.model import (
    Assembly,
    Claim,
    Device,
    Exactly,
    Facts,
    Map,
    Outlet,
    Part,
    Path,
    Point,
    Run,
    Scalar,
    Seat,
    Tap,
)

BACKBONE = "plan"


def chosen(where: str, group: str, seat: str, values: Mapping[str, tuple[Scalar, str]]) -> Facts:
    """Facts that we decided: by field, (value, why)."""
    return Map(
        {
            field: Claim(about=Path(f"{where}.{group}.{seat}.{field}"), holds=Exactly(value), how="chosen", note=why)
            for field, (value, why) in values.items()
        }
    )


def in_tenths(length_m: float) -> float:
    """A length as it is ordered: up to the next tenth of a metre."""
    return math.ceil(length_m * 10 - 1e-6) / 10


def assembly(seat: str, part: Part, at_m: Point, height_m: float, place: str) -> Assembly:
    """An enclosure at a place; it stays with the building."""
    return Assembly(part=part.id, at_m=at_m, height_m=height_m, place=place, stays=True)


def device(where: str, seat: str, part: Part, phase: str = "", behind: str = "", label: str = "") -> Device:
    """A device of the backbone (where is "plan") or of a tenancy's contents."""
    facts = chosen(where, "devices", seat, {"phase": (phase, "phase chosen by the planner")}) if phase else Map()
    return Device(
        part=part.id, facts=facts, behind=Seat(behind) if behind else None, stays=where == BACKBONE, label=label
    )


def outlet(where: str, seat: str, part: Part, behind: str, phase: str = "") -> Outlet:
    """An outlet on the face of an assembly."""
    facts = chosen(where, "outlets", seat, {"phase": (phase, "phase chosen by the planner")}) if phase else Map()
    return Outlet(part=part.id, facts=facts, behind=Seat(behind))


def run(
    seat: str, from_: str, to: str, cable: str, csa_mm2: float, length_m: float, ambient_c: float | None = None,
    route_m: tuple[Point, ...] = (), part: str = "cable", why: str = "",
) -> Run:  # fmt: skip
    """A cable of the backbone, kept apart from its neighbours so that it stands in no group."""
    values: dict[str, tuple[Scalar, str]] = {
        "length_m": (in_tenths(length_m), why or "by the route, up to the next tenth"),
        "csa_mm2": (csa_mm2, "smallest made size that every check lets pass"),
        "grouped_with": (1, "kept clear of neighbours by more than twice its diameter"),
    }
    if ambient_c is not None:
        values["ambient_c"] = (ambient_c, "warmest place it passes")
    return Run(
        part=part, from_=Seat(from_), to=Seat(to), cable=cable, route_m=route_m, stays=True,
        facts=chosen(BACKBONE, "runs", seat, values),
    )  # fmt: skip


def tapped_run(seat: str, from_: str, part: Part, length_m: float, route_m: tuple[Point, ...] = ()) -> Run:
    """A tapped run with declared data, from a board's device to its own end."""
    facts = chosen(BACKBONE, "runs", seat, {"length_m": (in_tenths(length_m), "by the route, up to the next tenth")})
    return Run(
        part=part.id, from_=Seat(from_), to=Seat("end"), cable="tapped-run", tapped=True, stays=True, route_m=route_m,
        facts=facts,
    )  # fmt: skip


def tap(seat: str, part: Part, along_m: float) -> Tap:
    """A tap-off unit on a tapped run."""
    facts = chosen(BACKBONE, "taps", seat, {"along_m": (round(along_m, 3), "by the route")})
    return Tap(part=part.id, facts=facts, stays=True)
