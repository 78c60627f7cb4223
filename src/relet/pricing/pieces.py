"""What one piece costs and how long it takes: material and minutes, looked up in the book by what the piece is."""

from __future__ import annotations

import itertools
from math import dist
from typing import Literal, TypeAlias

from relet.model import (
    Assembly,
    Between,
    Board,
    Catalogue,
    Containment,
    Device,
    Exactly,
    Installation,
    OneOf,
    Outlet,
    Piece,
    Run,
    Tap,
)
from relet.pricing.book import PriceBook

Verb: TypeAlias = Literal["put_in", "take_out"]

_NAMES: tuple[tuple[type[Piece], str], ...] = (
    (Board, "board"), (Assembly, "assembly"), (Device, "device"), (Outlet, "outlet"), (Tap, "tap"),
)  # fmt: skip


def number(piece: Piece, fact: str) -> float | None:
    """The dearest number that a fact may have: its value, the top of its range, the largest of its options."""
    claim = piece.facts.get(fact)
    held = claim.holds if claim is not None else None
    match held:
        case Exactly(value=bool() | str()) | None:
            return None
        case Exactly(value=v):
            return float(v)
        case Between(high=h):
            return float(h)
        case OneOf(options=options):
            numbers = [float(o) for o in options if isinstance(o, int | float) and not isinstance(o, bool)]
            return max(numbers, default=None)
    return None


def length_m(piece: Run | Containment) -> float | None:
    """Length of a run or a stretch of containment: the fact, else its drawn way; None if neither is known."""
    known = number(piece, "length_m")
    way = piece.route_m if isinstance(piece, Run) else piece.path_m
    if known is not None or len(way) < 2:
        return known
    return sum(dist(p, q) for p, q in itertools.pairwise(way))


def cores(run: Run, installation: Installation, catalogue: Catalogue | None) -> int:
    """Cores that a run is priced with: its own fact, else three behind a one- or two-pole device, else five."""
    known = number(run, "cores")
    if known is not None:
        return int(known)
    device = installation.devices.get(run.from_)
    if device is None:
        return 5
    poles = number(device, "poles")
    if poles is None and catalogue is not None and device.part in catalogue.parts:
        declared = catalogue.parts[device.part].data.get("poles")
        poles = float(declared) if isinstance(declared, int | float) else None
    if poles is None:
        return 3 if ".L" in run.from_ else 5
    return 3 if poles <= 2 else 5


def metre_names(run: Run, count: int) -> tuple[str, ...]:
    """Names under which the book may hold a metre of this run, the best first."""
    if run.tapped:
        return (run.part,)
    mm2 = number(run, "csa_mm2")
    size = f"{mm2:g}" if mm2 is not None else "size not known"
    return (f"{run.cable}/{size}/{count}", f"{run.cable}/{size}")


def minutes(book: PriceBook, verb: Verb, piece: Piece) -> float:
    """Minutes for putting a piece in or taking it out. A length that nobody knows counts as nothing, and is said."""
    taking = verb == "take_out"
    if isinstance(piece, Containment):
        row = "remove_containment_per_metre" if taking else "fit_containment_per_metre"
        return book.minutes(row) * (length_m(piece) or 0.0)
    if isinstance(piece, Run):
        ends = 1 if piece.to == "end" else 2
        row = f"{'remove_' if taking else ''}{'tapped_' if piece.tapped else ''}run_per_metre"
        large = (number(piece, "csa_mm2") or 0.0) >= book.large_from_mm2
        end = "disconnect" if taking else "terminate_large" if large else "terminate"
        return book.minutes(row) * (length_m(piece) or 0.0) + ends * book.minutes(end)
    for kind, name in _NAMES:
        if isinstance(piece, kind):
            return book.minutes(f"{'remove' if taking else 'fit'}_{name}")
    raise TypeError(f"no work is known for {type(piece).__name__}")
