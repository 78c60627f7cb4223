"""Who feeds whom: the tree from the origin to every machine, found in an installation, never stored.

    origin > DB1/incomer > DB1 > DB1/3 > R7 > R7/tap/1 > R8 > A4/incomer > A4 > A4/rail/2 > A4/face/3 > machine

A busbar ("DB1", "A4") is an element of its own. A tap and the device in it are one element. Machines hang on the
outlet they are plugged into and are named "machine:<id>".
"""

from __future__ import annotations

from dataclasses import dataclass, field
from functools import cached_property

from relet.model import Installation, Seat, Use

ORIGIN = Seat("origin")


def machine_seat(machine_id: str) -> Seat:
    """The element name of a machine."""
    return Seat(f"machine:{machine_id}")


def holder(seat: Seat) -> Seat:
    """The board, assembly or run that a seat belongs to: "A4/rail/2" -> "A4"; "DB1" -> "DB1"."""
    return Seat(seat.split("/", 1)[0])


@dataclass(frozen=True)
class Topology:
    """The feeding tree of one installation in one use.

    parent   element -> the element that feeds it
    orphans  elements whose feed is not known (a run from an unknown device, an assembly that no run reaches, a second
             board that no run reaches)
    loops    elements that feed themselves; a reader refuses them, so this is empty for a read file
    """

    installation: Installation
    parent: dict[Seat, Seat]
    orphans: tuple[Seat, ...]
    loops: tuple[Seat, ...]
    _paths: dict[Seat, tuple[Seat, ...]] = field(default_factory=dict)

    @cached_property
    def children(self) -> dict[Seat, tuple[Seat, ...]]:
        """Element -> what it feeds, in order of seat."""
        out: dict[Seat, list[Seat]] = {}
        for child, up in self.parent.items():
            out.setdefault(up, []).append(child)
        return {k: tuple(sorted(v)) for k, v in out.items()}

    def path(self, seat: Seat) -> tuple[Seat, ...]:
        """Elements from the origin to `seat`, both included; without the origin if the feed is unknown."""
        if seat not in self._paths:
            chain = [seat]
            while (up := self.parent.get(chain[-1])) is not None and up not in chain:
                chain.append(up)
            self._paths[seat] = tuple(reversed(chain))
        return self._paths[seat]

    def fed(self, seat: Seat) -> bool:
        """True if a way leads from the origin to `seat`."""
        return self.path(seat)[0] == ORIGIN

    @cached_property
    def _below(self) -> dict[Seat, tuple[Seat, ...]]:
        return {}

    def below(self, seat: Seat) -> tuple[Seat, ...]:
        """Everything that loses supply when `seat` opens, without itself."""
        memo = self._below
        if seat not in memo:
            out: list[Seat] = []
            stack = list(reversed(self.children.get(seat, ())))
            seen = {seat}
            while stack:
                s = stack.pop()
                if s in seen:  # two devices behind one another, half-way through a change
                    continue
                seen.add(s)
                out.append(s)
                stack.extend(reversed(self.children.get(s, ())))
            memo[seat] = tuple(out)
        return memo[seat]

    def device_above(self, seat: Seat) -> Seat | None:
        """The nearest device upstream of `seat` (not itself)."""
        for s in reversed(self.path(seat)[:-1]):
            if s in self.installation.devices:
                return s
        return None

    def devices_on(self, seat: Seat) -> tuple[Seat, ...]:
        """Devices in the path to `seat`, from the origin down, `seat` itself included if it is one."""
        return tuple(s for s in self.path(seat) if s in self.installation.devices)

    def runs_on(self, seat: Seat) -> tuple[Seat, ...]:
        """Runs in the path to `seat`, from the origin down."""
        return tuple(s for s in self.path(seat) if s in self.installation.runs)

    @cached_property
    def ends(self) -> tuple[Seat, ...]:
        """Outlets and fixed loads: the points of use."""
        i = self.installation
        return tuple(sorted([*i.outlets, *(Seat(k) for k in i.loads)]))


def topology(installation: Installation, use: Use | None) -> Topology:
    """Find who feeds whom."""
    i = installation
    parent: dict[Seat, Seat] = {}
    run_to: dict[Seat, Seat] = {}
    for seat, run in i.runs.items():
        if run.from_ in i.devices or run.from_ in i.taps or run.from_ in i.boards or run.from_ in i.assemblies:
            parent[seat] = run.from_
        elif run.from_ == ORIGIN:
            parent[seat] = ORIGIN
        if run.to != "end":
            run_to[run.to] = seat
    for seat in i.taps:
        parent[seat] = Seat(seat.split("/tap/", 1)[0])
    for seat, board in i.boards.items():
        _busbar(i, parent, seat, board.fed_by or run_to.get(seat))
    for seat in i.assemblies:
        if seat in run_to:
            _busbar(i, parent, seat, run_to[seat])
        else:
            _busbar(i, parent, seat, None)
    for seat, device in i.devices.items():
        if seat in i.taps or seat.endswith("/incomer"):
            continue
        parent[seat] = device.behind or holder(seat)
    for seat, outlet in i.outlets.items():
        if outlet.behind is not None:
            parent[seat] = outlet.behind
        elif seat in run_to:
            parent[seat] = run_to[seat]
    for key in i.loads:
        load = Seat(key)
        if load in run_to:
            parent[load] = run_to[load]
    if use is not None:
        for machine, seat in use.plugged.items():
            if seat in i.outlets:
                parent[machine_seat(machine)] = seat
    _root(i, parent, run_to)
    known = {*i.runs, *i.taps, *i.boards, *i.assemblies, *i.devices, *i.outlets, *(Seat(k) for k in i.loads)}
    loops = tuple(sorted(s for s in known if _circular(parent, s)))
    orphans = tuple(sorted(s for s in known if s not in parent and s not in loops))
    return Topology(i, parent, orphans, loops)


def _busbar(i: Installation, parent: dict[Seat, Seat], seat: Seat, feed: Seat | None) -> None:
    incomer = Seat(f"{seat}/incomer")
    if incomer in i.devices:
        parent[seat] = incomer
        if feed is not None:
            parent[incomer] = feed
    elif feed is not None:
        parent[seat] = feed


def _root(i: Installation, parent: dict[Seat, Seat], run_to: dict[Seat, Seat]) -> None:
    """The one board that nothing is said to feed stands at the origin, unless another board already does.

    Of several such boards nobody knows which one it is: all of them stay without a feed.
    """
    unfed = [s for s, board in i.boards.items() if board.fed_by is None and s not in run_to]
    if len(unfed) == 1 and not any(_above(parent, s) == ORIGIN for s in i.boards):
        _busbar(i, parent, unfed[0], ORIGIN)


def _above(parent: dict[Seat, Seat], seat: Seat) -> Seat:
    """The first element of the way to `seat`; any element of a loop."""
    seen = {seat}
    while (up := parent.get(seat)) is not None and up not in seen:
        seen.add(up)
        seat = up
    return seat


def _circular(parent: dict[Seat, Seat], seat: Seat) -> bool:
    seen = {seat}
    while (up := parent.get(seat)) is not None:
        if up in seen:
            return True
        seen.add(up)
        seat = up
    return False
