"""Where something has to be opened and locked off before a hand goes in, found in the feeding tree.

Inside a board the busbar is dead when its incomer is open; the incomer itself, and everything inside an outlet
assembly, is worked on only when the device above its feed is open, because the line side of an incomer stays live.
A tap and the device in it are worked on when the whole tapped run is dead. Nothing here says that a conductor is
dead: isolated on the record means prove dead.
"""

from __future__ import annotations

from collections.abc import Collection, Iterable, Mapping, Sequence
from functools import cached_property
from types import MappingProxyType

from msgspec.structs import replace

from relet.changeover.difference import Content, Difference
from relet.electrical.topology import ORIGIN, Topology, holder, topology
from relet.model import Assembly, Board, Catalogue, Containment, Exactly, Installation, OffGroup, Run, Seat, Use


class Feeds:
    """One installation seen by somebody who has to make a part of it dead.

    unknown   elements whose feed the survey could not tell: they count as fed from anywhere
    by_run    boards that a run feeds, now or later: without it they are fed by nothing (not from the origin)
    """

    def __init__(
        self,
        installation: Installation,
        catalogue: Catalogue | None = None,
        unknown: frozenset[Seat] = frozenset(),
        use: Use | None = None,
        by_run: Mapping[Seat, Seat] = MappingProxyType({}),
    ) -> None:
        self.installation, self.catalogue, self.unknown = installation, catalogue, unknown
        boards = installation.boards
        apart = {s: replace(b, fed_by=by_run[s]) for s, b in boards.items() if b.fed_by is None and s in by_run}
        seen = replace(installation, boards=boards.merged(apart)) if apart else installation
        self.tree: Topology = topology(seen, use)

    # ---- what is opened ----

    def inside(self, seat: Seat) -> tuple[Seat, ...]:
        """Elements above which all must be off before a hand goes to this seat. Empty: nothing stands there."""
        i, own = self.installation, Seat(seat.removesuffix("/device"))
        at = holder(own)
        if "/tap/" in own:
            return (at,) if at in i.runs else ()
        if at in i.boards:
            incomer = Seat(f"{at}/incomer")
            return (incomer if own in (at, incomer) and incomer in i.devices else at,)
        if at in i.assemblies:
            incomer = Seat(f"{at}/incomer")
            return (incomer if incomer in i.devices else at,)
        if own in i.outlets or own in i.loads or own in i.runs:
            return (own,)
        return ()

    def opened(self, d: Difference) -> tuple[Seat, ...]:
        """Elements above which all must be off for one piece of work, in this state."""
        if d.kind in ("learned", "relabelled"):
            return ()
        out: list[Seat] = []
        for content in (d.before, d.after):
            if content is not None:
                out += self._opened(d, content)
        return tuple(dict.fromkeys(out))

    def _opened(self, d: Difference, content: Content) -> Iterable[Seat]:
        i = self.installation
        if isinstance(content, Run):
            ends = [*self.inside(content.from_), *([] if content.to == "end" else self.inside(Seat(content.to)))]
            return [*ends, d.seat] if d.seat in i.runs else ends
        if isinstance(content, Containment):
            return [Seat(r) for r, run in i.runs.items() if d.key in run.through] if d.kind != "added" else []
        if isinstance(content, OffGroup):
            return [e for s in (content.button, *content.outlets) for e in self.inside(s)]
        if isinstance(content, Board | Assembly) and d.key not in i.boards and d.key not in i.assemblies:
            return []
        return self.inside(d.key)

    # ---- where it is isolated ----

    def isolates(self, seat: Seat) -> bool:
        """True unless a device is known not to be suitable for isolation (a contactor never is)."""
        device = self.installation.devices.get(seat)
        if device is None:
            return False
        claim = device.facts.get("isolates")
        if claim is not None and isinstance(claim.holds, Exactly):
            return bool(claim.holds.value)
        part = self.catalogue.parts.get(device.part) if self.catalogue is not None else None
        if part is not None and "isolates" in part.data:
            return bool(part.data["isolates"])
        return (part.kind if part is not None else device.part) != "contactor"

    @cached_property
    def main_switches(self) -> tuple[Seat, ...]:
        """Incomers fed straight from the origin; the origin itself if there are none."""
        found = [s for s in self.installation.devices if self.tree.parent.get(s) == ORIGIN and self.isolates(s)]
        return tuple(found) or (ORIGIN,)

    def of_unknown_feed(self, element: Seat) -> bool:
        """True if nobody knows what feeds an element."""
        return any(e in self.unknown for e in self.tree.path(element))

    def need(self, element: Seat) -> tuple[Seat, ...]:
        """Points to open for one element: the nearest device above it that isolates; else the origin."""
        if self.of_unknown_feed(element):
            return self.main_switches
        path = self.tree.path(element)
        if path[0] != ORIGIN:
            return ()
        return (next((s for s in reversed(path[:-1]) if self.isolates(s)), ORIGIN),)

    def needs(self, elements: Iterable[Seat]) -> tuple[Seat, ...]:
        """Points to open for several elements; a point below another one is left out."""
        points = list(dict.fromkeys(p for e in elements for p in self.need(e)))
        return tuple(p for p in points if not any(q != p and self.above(q, p) for q in points))

    def above(self, upper: Seat, lower: Seat) -> bool:
        """True if `lower` loses supply when `upper` opens (or is the same)."""
        return upper in self.tree.path(lower) or (upper == ORIGIN and lower != ORIGIN)

    def off(self, element: Seat, isolated: Collection[Seat]) -> bool:
        """True if something above an element is open and locked, or no way leads to it from any source."""
        if self.of_unknown_feed(element):
            return ORIGIN in isolated or set(self.main_switches) <= set(isolated)
        path = self.tree.path(element)
        return path[0] != ORIGIN or any(p in isolated for p in path[:-1])

    def dead(self, elements: Sequence[Seat], isolated: Collection[Seat]) -> bool:
        """True if all of several elements are off on the record."""
        return all(self.off(e, isolated) for e in elements)

    def unconnected(self, element: Seat) -> bool:
        """True if no way leads to an element from any source that the record knows or suspects."""
        return not self.of_unknown_feed(element) and self.tree.path(element)[0] != ORIGIN
