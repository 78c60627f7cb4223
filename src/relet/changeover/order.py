"""In which order pieces of work that meet at one place are done: strip out from the source, fit towards it."""

from __future__ import annotations

import re
from typing import TypeAlias

from relet.changeover.difference import Difference
from relet.electrical.topology import holder
from relet.model import Device, OffGroup, Outlet, Run, Seat, Tap

_OUT = {"off_groups": 5, "runs": 10, "devices": 21, "outlets": 20, "taps": 13, "assemblies": 22, "boards": 23}
_IN = {"boards": 41, "assemblies": 42, "devices": 43, "outlets": 46, "taps": 53, "runs": 58, "off_groups": 62}
_SWAP = {"boards": 31, "assemblies": 32, "devices": 33, "outlets": 45, "taps": 52, "runs": 57, "off_groups": 61}
_REWIRE = {"devices": 60, "outlets": 60, "runs": 57, "off_groups": 61}


Natural: TypeAlias = tuple[tuple[int, str], ...]
Rank: TypeAlias = tuple[int, int, Natural]


def natural(seat: str) -> Natural:
    """A key that puts "A2/rail/5" before "A2/rail/13" and before "A10"."""
    return tuple((int(p), "") if p.isdigit() else (-1, p) for p in re.split(r"(\d+)", seat) if p)


def rank(d: Difference) -> Rank:
    """Place in the natural order: out before swap before in; a run is cut first and connected last.

    The second number puts what hangs behind another device out before it and in after it.
    """
    behind = _depth(d)
    if d.group == "loads" and d.after is None:
        return (80, 0, natural(d.seat))
    if d.kind == "removed":
        return (_special(d, {"device": 12, "run": 14, "containment": 24}) or _OUT[d.group], -behind, natural(d.seat))
    if d.kind == "replaced":
        return (_special(d, {"device": 54, "run": 50, "containment": 30}) or _SWAP[d.group], behind, natural(d.seat))
    if d.kind == "added":
        return (_special(d, {"device": 55, "run": 51, "containment": 40}) or _IN[d.group], behind, natural(d.seat))
    if d.kind == "rewired":
        return (_special(d, {"device": 60, "run": 50, "containment": 60}) or _REWIRE[d.group], behind, natural(d.seat))
    return (70 if d.kind == "relabelled" else 0, 0, natural(d.seat))


def _special(d: Difference, ranks: dict[str, int]) -> int | None:
    one = d.after or d.before
    if d.group == "devices" and "/tap/" in d.seat:
        return ranks["device"]
    if isinstance(one, Run) and one.tapped:
        return ranks["run"]
    return ranks["containment"] if d.group == "containment" else None


def _depth(d: Difference) -> int:
    one = d.before if d.kind == "removed" else d.after
    return 1 if isinstance(one, Device) and one.behind is not None else 0


def meets(d: Difference) -> frozenset[str]:
    """Places where a piece of work has to do with others: its enclosure or run, and those that it connects."""
    out: set[str] = {holder(d.key)}
    for one in (d.before, d.after):
        if isinstance(one, Run):
            out |= {holder(one.from_), holder(Seat(one.to)), d.key, *one.through} - {"end"}
        elif isinstance(one, OffGroup):
            out |= {holder(one.button), *(holder(s) for s in one.outlets)}
        elif isinstance(one, Outlet | Tap):
            out.add(holder(d.key))
    return frozenset(out)
