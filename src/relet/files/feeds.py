"""Is everything fed once, and nothing by itself?"""

from __future__ import annotations

from relet.electrical.topology import topology
from relet.files.mistakes import Mistakes
from relet.files.pieces import END
from relet.files.sections import Sections
from relet.model import Installation, Map, Seat


def check_feeds(s: Sections, mistakes: Mistakes) -> None:
    """Seats fed twice, and feeds that go round."""
    fed: dict[str, str] = {}
    outlets, boards = s.group("outlets"), s.group("boards")
    for name, run in s.group("runs").items():
        if run.to == END:
            continue
        if run.to in fed:
            line = mistakes.line(*s.where("runs", fed[run.to]))
            what = f"{run.to} is fed by {fed[run.to]} (line {line}) already. Allowed: one feed for each seat."
            mistakes.note((*s.where("runs", name), "to"), what)
        fed.setdefault(run.to, name)
        end = outlets.get(run.to)
        if end is not None and end.behind is not None:
            what = f"{run.to} sits behind {end.behind} in its assembly and cannot be fed by a run as well."
            mistakes.note((*s.where("runs", name), "to"), what)
        board = boards.get(run.to)
        if board is not None and board.fed_by not in (None, name):
            mistakes.note((*s.where("runs", name), "to"), f"{run.to} says that {board.fed_by} feeds it.")
    _rounds(s, mistakes)


def _rounds(s: Sections, mistakes: Mistakes) -> None:
    groups = ("boards", "assemblies", "devices", "outlets", "runs", "taps", "loads")
    whole = Installation(**{g: Map(s.group(g)) for g in groups})  # type: ignore[arg-type]
    found = topology(whole, None)
    told: set[Seat] = set()
    for seat in found.loops:
        ring = _ring(found.parent, seat)
        if seat not in ring or told & set(ring):
            continue
        told |= set(ring)
        first = next((r for r in ring if r in whole.runs), ring[0])
        at = ring.index(first)
        way = " > ".join([*ring[at:], *ring[:at], first])
        group = next(g for g in groups if first in getattr(whole, g))
        field = ("from",) if group == "runs" else ("behind",) if group in ("devices", "outlets") else ()
        mistakes.note(
            (*s.where(group, first), *field), f"{first} feeds itself: {way}. Allowed: feeds that start at the origin."
        )


def _ring(parent: dict[Seat, Seat], seat: Seat) -> list[Seat]:
    """The circle that a walk up from `seat` ends in, each element before what it feeds."""
    seen: list[Seat] = []
    while seat not in seen:
        seen.append(seat)
        seat = parent[seat]
    return list(reversed(seen[seen.index(seat) :]))
