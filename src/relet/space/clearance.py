"""How far a place is from what it must keep clear of, edge to edge in plan, and how high its parts come."""

from __future__ import annotations

from collections.abc import Collection, Iterable, Mapping, Sequence
from dataclasses import dataclass
from typing import Literal

from relet.model import Point, Space
from relet.space.spots import Spot
from relet.working import Figure

Kind = Literal["opening", "board", "wet", "water", "assembly", "edge", "keep_clear"]


@dataclass(frozen=True, slots=True)
class Item:
    """An assembly or board on a wall or post, with what is known of its width (m) and stand-out (m)."""

    spot: Spot
    width_m: Figure
    depth_m: Figure


@dataclass(frozen=True, slots=True)
class Clearance:
    """One distance: to what kind of thing, which one, and the gap (m, 0 where they overlap or touch)."""

    kind: Kind
    to: str
    gap_m: Figure


@dataclass(frozen=True, slots=True)
class Heights:
    """Heights above the floor of an enclosure centred at a height, m.

    low, high  its edges;  handle  its switch handle;  outlets  centres of its outlets, in the order given
    """

    low_m: Figure
    high_m: Figure
    handle_m: Figure
    outlets_m: tuple[Figure, ...]


def clearances(
    space: Space, item: Item, *, boards: Iterable[Item] = (), board_working_m: Figure | None = None,
    wet: Collection[str] = (), water: Mapping[str, Point] | None = None, others: Iterable[Item] = (),
) -> tuple[Clearance, ...]:  # fmt: skip
    """Distances to everything around, nearest first.

    boards   with the depth of their working space `board_working_m`: measured to the edge of that space
    wet      kinds of zone counted as wet;  water  taps, sinks, drains by name
    others   other assemblies (the item itself, by path, is passed over)
    """
    raise NotImplementedError


def clearance_m(
    space: Space, item: Item, kind: Kind, *, boards: Iterable[Item] = (), board_working_m: Figure | None = None,
    wet: Collection[str] = (), water: Mapping[str, Point] | None = None, others: Iterable[Item] = (),
) -> Clearance | None:  # fmt: skip
    """The nearest thing of one kind and the gap to it; None where there is none of that kind."""
    raise NotImplementedError


def nearest(several: Iterable[Clearance], kind: Kind | None = None) -> Clearance | None:
    """The least of several gaps (of one kind), as a choice among figures; None where there is none."""
    raise NotImplementedError


def heights(
    centre: Figure, height_mm: Figure, handle_above_mm: Figure | None = None, outlets_above_mm: Sequence[Figure] = ()
) -> Heights:
    """Heights of edges, handle and outlets of an enclosure.

    centre           height of its centre above the floor, m
    height_mm        height of the enclosure
    handle_above_mm  handle above the centre (negative below); not known: taken at the centre
    outlets_above_mm centres of outlets above the centre
    """
    raise NotImplementedError
