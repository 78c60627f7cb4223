"""Are seats well formed, on something that is there, and held once?"""

from __future__ import annotations

import re
from typing import Final

from relet.files.mistakes import Mistakes, Where
from relet.files.sections import Sections

_NAME: Final = re.compile(r"\w[\w-]*")
_IN_BOARD: Final = re.compile(r"(?P<board>\w[\w-]*)/(?P<way>[1-9]\d*)(?:\.(?P<phase>L[123]))?")
_IN_RAIL: Final = re.compile(r"(?P<holder>\w[\w-]*)/rail/[1-9]\d*")
_IN_FACE: Final = re.compile(r"(?P<holder>\w[\w-]*)/face/[1-9]\d*")
_INCOMER: Final = re.compile(r"(?P<holder>\w[\w-]*)/incomer")
_TAP: Final = re.compile(r"(?P<run>\w[\w-]*)/tap/[1-9]\d*")
_RESERVED: Final = ("end", "origin", "supply")
_NAMED: Final = ("boards", "assemblies", "runs", "containment", "loads", "off_groups")
_DEVICE_SEATS: Final = (
    'Allowed: a way of a board ("DB1/3", or "DB1/3.L1" for one phase), "DB1/incomer", "A1/incomer", '
    'a rail of an assembly ("A1/rail/2"), a tap ("R7/tap/1").'
)

_OUTLET_SEATS: Final = 'Allowed: a name ("X1") for one on the wall, "A1/face/2" for one in an assembly.'


def check_names(names: list[str], what: str, where: Where, mistakes: Mistakes) -> None:
    """Names of machines, tenancies, zones: letters, digits, - and _; a dot or slash would break addresses."""
    for name in names:
        if not _NAME.fullmatch(name):
            mistakes.note((*where, name), f'"{name}" cannot name {what}. Allowed: letters, digits, "-" and "_".')


def check_seats(s: Sections, mistakes: Mistakes) -> None:
    """Every seat of these sections."""
    for group in _NAMED:
        for seat, _, where in s.mine(group):
            _name(seat, where, mistakes)
    assemblies = s.group("assemblies")
    _devices(s, mistakes)
    for seat, _, where in s.mine("outlets"):
        face = _IN_FACE.fullmatch(seat)
        if face is not None:
            if face["holder"] not in assemblies:
                mistakes.note(where, _no("assembly", face["holder"]), face["holder"], assemblies)
        elif not _NAME.fullmatch(seat) or seat in _RESERVED:
            mistakes.note(where, f'"{seat}" is not a seat of an outlet. {_OUTLET_SEATS}')
    runs = s.group("runs")
    for seat, _, where in s.mine("taps"):
        tap = _TAP.fullmatch(seat)
        if tap is None:
            mistakes.note(where, f'"{seat}" is not a seat of a tap-off. Allowed: run/tap/number, as in "R7/tap/1".')
        elif tap["run"] not in runs:
            mistakes.note(where, _no("run", tap["run"]), tap["run"], runs)
        elif not runs[tap["run"]].tapped:
            mistakes.note(where, f"run {tap['run']} is not tapped. Write tapped = true in it if it can be.")
    _doubled(s, mistakes)


def _name(seat: str, where: Where, mistakes: Mistakes) -> None:
    if seat in _RESERVED:
        mistakes.note(where, f'"{seat}" has a meaning of its own and cannot name a piece. Choose another name.')
    elif not _NAME.fullmatch(seat):
        mistakes.note(where, f'"{seat}" cannot name a piece here. Allowed: letters, digits, "-" and "_", as in "R7".')


def _devices(s: Sections, mistakes: Mistakes) -> None:
    boards, assemblies, taps = s.group("boards"), s.group("assemblies"), s.group("taps")
    devices = s.group("devices")
    for seat, _, where in s.mine("devices"):
        if (way := _IN_BOARD.fullmatch(seat)) is not None:
            board = boards.get(way["board"])
            if board is None:
                mistakes.note(where, _no("board", way["board"]), way["board"], boards)
            elif int(way["way"]) > board.ways:
                mistakes.note(where, f"{way['board']} has {board.ways} ways; there is no way {way['way']}.")
            elif way["phase"] and f"{way['board']}/{way['way']}" in devices:
                across = f"{way['board']}/{way['way']}"
                line = mistakes.line(*s.where("devices", across))
                mistakes.note(where, f"{across} (line {line}) takes all phases of this way; both cannot sit there.")
        elif (rail := _IN_RAIL.fullmatch(seat)) is not None:
            if rail["holder"] not in assemblies:
                mistakes.note(where, _no("assembly", rail["holder"]), rail["holder"], assemblies)
        elif (incomer := _INCOMER.fullmatch(seat)) is not None:
            if incomer["holder"] not in assemblies and incomer["holder"] not in boards:
                mistakes.note(
                    where, _no("board or assembly", incomer["holder"]), incomer["holder"], [*boards, *assemblies]
                )
        elif _TAP.fullmatch(seat) is not None:
            if seat not in taps:
                mistakes.note(where, _no("tap", seat), seat, taps)
        else:
            mistakes.note(where, f'"{seat}" is not a seat of a device. {_DEVICE_SEATS}')


def _doubled(s: Sections, mistakes: Mistakes) -> None:
    first: dict[str, str] = {}
    for group in ("boards", "assemblies", "outlets", "runs", "containment", "loads"):
        for seat in s.group(group):
            if seat in first:
                line = mistakes.line(*s.where(first[seat], seat))
                what = (
                    f"{seat} stands among the {first[seat]} too (line {line}). A name may stand once; choose another."
                )
                mistakes.note(s.where(group, seat), what)
            first.setdefault(seat, group)
    for section in s.sections[-s.own :]:
        for board, row in section.row.boards.items():
            seat = f"{board}/incomer"
            if row.incomer is not None and seat in section.row.devices:
                line = mistakes.line(*section.where, "boards", board, "incomer")
                mistakes.note(
                    (*section.where, "devices", seat),
                    f"the incomer of {board} stands in line {line} already. Keep one.",
                )


def _no(what: str, name: str) -> str:
    return f'there is no {what} "{name}" here.'
