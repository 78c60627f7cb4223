"""What containment a way lies in, stretch by stretch, and how many share it."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from itertools import pairwise
from typing import Final

from relet.model import Point
from relet.space.net import AT_WALL_M, Net, Stretch, Trace

_HAIR_M: Final = 1e-6


@dataclass(frozen=True, slots=True)
class Section:
    """A stretch of containment that a route lies in.

    name    the wall ("north"), the drawn containment ("T1"), or "<wall> to <thing>" for a spur off a wall
    from_m, to_m  along the wall or the containment's path, from_m < to_m
    """

    name: str
    from_m: float
    to_m: float


def most_sharing(lying: Mapping[str, Sequence[Section]]) -> dict[str, int]:
    """Most of these (itself included) that lie in one stretch of containment with each, by id."""
    out = dict.fromkeys(lying, 1)
    by_name: dict[str, list[tuple[float, float, str]]] = {}
    for id, several in lying.items():
        for s in several:
            by_name.setdefault(s.name, []).append((s.from_m, s.to_m, id))
    for stretches in by_name.values():
        marks = sorted({m for f, t, _ in stretches for m in (f, t)})
        for a, b in pairwise(marks):
            if b - a > _HAIR_M:
                here = {id for f, t, id in stretches if f <= a and b <= t}
                for id in here:
                    out[id] = max(out[id], len(here))
    return out


def sections(net: Net, traces: Sequence[Trace], names: Mapping[Point, str]) -> tuple[Section, ...]:
    """Stretches put together, and given the name of the containment that is drawn there."""
    out: list[Section] = []
    for trace in traces:
        for s in trace.stretches:
            if s.kind == "spur":
                if s.along_m > AT_WALL_M:
                    end = names[trace.points[0] if s is trace.stretches[0] else trace.points[-1]]
                    out.append(Section(f"{s.name} to {end}", 0.0, s.along_m))
            elif s.along_m > _HAIR_M:
                pieces = _covered(net, s) if s.kind == "wall" else [(s.name, s.from_m, s.to_m)]
                for name, f, t in pieces:
                    out.append(Section(name, min(f, t), max(f, t)))
    joined: list[Section] = []
    for piece in out:
        last = joined[-1] if joined else None
        touches = last and last.name == piece.name and max(last.from_m, piece.from_m) <= min(
            last.to_m, piece.to_m
        ) + _HAIR_M  # fmt: skip
        if last and touches:
            joined[-1] = Section(last.name, min(last.from_m, piece.from_m), max(last.to_m, piece.to_m))
        else:
            joined.append(piece)
    return tuple(joined)


def _covered(net: Net, s: Stretch) -> list[tuple[str, float, float]]:
    """A stretch of wall cut where drawn containment begins and ends, in the order walked."""
    low, high = min(s.from_m, s.to_m), max(s.from_m, s.to_m)
    covers = net.covers[s.name]
    marks = sorted({low, high, *(m for c in covers for m in (c.from_m, c.to_m) if low < m < high)})
    out = []
    for f, t in pairwise(marks):
        if t - f <= _HAIR_M:
            continue
        over = next((c for c in covers if c.from_m <= f + _HAIR_M and t - _HAIR_M <= c.to_m), None)
        if over is None:
            out.append((s.name, f, t))
        else:
            per = (over.end_m - over.at_m) / (over.to_m - over.from_m)
            out.append((over.id, over.at_m + per * (f - over.from_m), over.at_m + per * (t - over.from_m)))
    return out if s.from_m <= s.to_m else out[::-1]
