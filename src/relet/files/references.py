"""Does every name that a piece points to stand somewhere?"""

from __future__ import annotations

import re
from typing import Final

from relet.codes import Code
from relet.electrical.topology import ORIGIN
from relet.files.mistakes import Mistakes, Where
from relet.files.pieces import END, TAPPED_RUN
from relet.files.sections import Sections
from relet.files.words import nearest

_MOST_COMPARED: Final = 1_000_000
_LIKE_A_SEAT: Final = re.compile(r"[A-Z]+\d*|[A-Za-z]{1,3}\d+")


def check_pieces(s: Sections, code: Code | None, mistakes: Mistakes) -> None:
    """What pieces point to: feeds, ends, containment, the device they sit behind, kinds of cable."""
    devices, taps, boards, assemblies = (s.group(g) for g in ("devices", "taps", "boards", "assemblies"))
    runs, outlets, containment = s.group("runs"), s.group("outlets"), s.group("containment")
    feeders = {*devices, *taps, *boards, *assemblies, ORIGIN}
    kinds = (*code.cables(), TAPPED_RUN) if code is not None else ()
    ends = {*outlets, *assemblies, *boards, *s.written_loads}
    compare = len(runs) * len(ends) <= _MOST_COMPARED
    for _, run, where in s.mine("runs"):
        if run.from_ not in feeders:
            more = 'Allowed: a device, a tap, a board, an assembly or "origin".'
            mistakes.note((*where, "from"), _nothing(run.from_, more), run.from_, feeders)
        if run.to != END and run.to not in ends:
            _end(run.to, bool(run.facts.get("serves")), ends if compare else set(), (*where, "to"), s, mistakes)
        for name in run.through:
            if name not in containment:
                mistakes.note((*where, "through"), _nothing(name, "Allowed: names of containment."), name, containment)
        if run.cable not in kinds and kinds:
            what = f'"{run.cable}" is not a kind of cable. Allowed: {", ".join(kinds)}.'
            mistakes.note((*where, "cable"), what, run.cable, kinds)
    for seat, device, where in s.mine("devices"):
        if device.behind is not None and device.behind not in devices:
            mistakes.note((*where, "behind"), _nothing(device.behind, "Allowed: a device."), device.behind, devices)
        elif device.behind is not None and device.behind.split("/")[0] != seat.split("/")[0]:
            mistakes.note((*where, "behind"), f"{device.behind} sits elsewhere; only a run leads from there to here.")
    for seat, outlet, where in s.mine("outlets"):
        if outlet.behind is None:
            continue
        if outlet.behind not in devices:
            mistakes.note((*where, "behind"), _nothing(outlet.behind, "Allowed: a device."), outlet.behind, devices)
        elif outlet.behind.split("/")[0] != seat.split("/")[0]:
            mistakes.note((*where, "behind"), f"{outlet.behind} sits elsewhere; only a run leads from there to here.")
    for _, board, where in s.mine("boards"):
        if board.fed_by is not None and board.fed_by not in (ORIGIN, *runs):
            more = 'Allowed: a run or "origin".'
            mistakes.note((*where, "fed_by"), _nothing(board.fed_by, more), board.fed_by, {ORIGIN, *runs})
    for _, group, where in s.mine("off_groups"):
        for outlet in group.outlets:
            if outlet not in outlets:
                mistakes.note((*where, "outlets"), _nothing(outlet, "Allowed: outlets."), outlet, outlets)


def _end(to: str, serves: bool, ends: set[str], where: Where, s: Sections, mistakes: Mistakes) -> None:
    """A run that goes to a name which is nothing else makes a load of that name; a slip of the pen must not."""
    if not re.fullmatch(r"\w[\w-]*", to):
        mistakes.note(where, _nothing(to, 'Allowed: an outlet, assembly, board, load or "end".'), to, s.known)
        return
    if to in s.known and to not in s.group("loads"):
        mistakes.note(where, f'a run cannot end at {to}. Allowed: an outlet, assembly, board, load or "end".')
    elif not serves and (_LIKE_A_SEAT.fullmatch(to) or nearest(to, sorted(ends), 0.75)):
        more = 'If it is a load of the building\'s own, say what it serves, as in serves = "lighting".'
        mistakes.note(where, _nothing(to, more), to, ends)


def _nothing(name: str, more: str) -> str:
    return f'there is no "{name}" here. {more}'
