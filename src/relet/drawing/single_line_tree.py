"""What a single-line diagram shows, as trees: from the feeding tree of an installation, before any place on paper."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import dataclass, field
from typing import Literal

from relet.drawing.wording import (
    Words,
    device_words,
    exact,
    held,
    holder_words,
    kind_of,
    outlet_words,
    phase_words,
    power_words,
    run_words,
    say,
    tap_words,
)
from relet.electrical.topology import ORIGIN, Topology, topology
from relet.model import Board, Catalogue, FixedLoad, Installation, Machine, Seat, Tenancy, Unit, Use, natural

NodeKind = Literal["device", "run", "bar", "outlet", "load", "tap", "spare", "see"]


@dataclass
class Node:
    """One element. kind tells its cell, look the symbol in it.

    head    seat, over the conductor; label a name of the person's own
    lines   what is said under it
    beside  for an outlet: machine and power
    """

    seat: str
    kind: NodeKind
    name: str
    head: str = ""
    look: str = ""
    lines: tuple[Words, ...] = ()
    beside: tuple[Words, ...] = ()
    children: list[Node] = field(default_factory=list)


@dataclass
class Section:
    """A bar with its ways, drawn by itself: a board, or a tapped run.

    lead  what leads to the bar from the origin, for the first one
    """

    seat: str
    title: str
    tapped: bool
    ways: list[Node]
    lead: list[Node] = field(default_factory=list)


def sections(
    installation: Installation, use: Use | None, unit: Unit, catalogue: Catalogue, tenancy: Tenancy | None
) -> list[Section]:
    """Every board and tapped run, those nearer the origin first; at the end what no way from the origin reaches."""
    return _Builder(installation, use, unit, catalogue, tenancy).all()


class _Builder:
    def __init__(
        self, i: Installation, use: Use | None, unit: Unit, catalogue: Catalogue, tenancy: Tenancy | None
    ) -> None:
        self.i, self.c, self.unit = i, catalogue, unit
        self.tree: Topology = topology(i, use)
        self.machines: Mapping[str, Machine] = tenancy.machines if tenancy else {}
        self.waiting: list[tuple[Seat, list[Node]]] = []

    def all(self) -> list[Section]:
        out: list[Section] = []
        roots = self._children(ORIGIN)
        lead = [self._cut_out()]
        here = roots
        while len(here) == 1 and here[0] not in self.i.boards:
            seat = here[0]
            if seat in self.i.runs and self.i.runs[seat].tapped:
                break
            lead.append(self._device(seat, alone=True) if seat in self.i.devices else self._run(seat, alone=True))
            here = self._children(seat)
        if len(here) == 1 and (here[0] in self.i.boards or here[0] in self.i.runs):
            self.waiting.append((here[0], lead))
        else:
            out.append(Section("origin", "origin of the supply", False, self._nodes(here), lead))
        while self.waiting:
            seat, before = self.waiting.pop(0)
            out.append(self._section(seat, before))
        if self.tree.orphans:
            ways = self._nodes(sorted(self.tree.orphans, key=natural))
            out.append(Section("", "feed not known", False, ways))
            while self.waiting:
                seat, before = self.waiting.pop(0)
                out.append(self._section(seat, before))
        return out

    def _section(self, seat: Seat, lead: list[Node]) -> Section:
        if seat in self.i.boards:
            board = self.i.boards[seat]
            ways = self._nodes(self._children(seat)) + self._spare(seat, board)
            ways.sort(key=lambda n: natural(n.seat))
            named = f"{board.label}, " if board.label else ""
            return Section(seat, f"{seat}  {named}{holder_words(board, self.c).text}", False, ways, lead)
        rating, length = run_words(self.i.runs[seat], self.c)
        return Section(
            seat, f"{seat}  {rating.text}, {length.text}", True, self._nodes(self._children(seat)), lead
        )  # fmt: skip

    def _children(self, seat: Seat) -> list[Seat]:
        return sorted(self.tree.children.get(seat, ()), key=natural)

    def _nodes(self, seats: Iterable[Seat]) -> list[Node]:
        return [n for s in seats if (n := self._node(s)) is not None]

    def _node(self, seat: Seat) -> Node | None:
        i = self.i
        if seat in i.taps:
            return self._tap(seat)
        if seat in i.devices:
            return self._device(seat)
        if seat in i.runs:
            return self._run(seat)
        if seat in i.boards:
            self.waiting.append((seat, []))
            return Node(seat, "see", f"board {seat}", lines=(Words(f"to board {seat}"),))
        if seat in i.assemblies:
            a = i.assemblies[seat]
            words = holder_words(a, self.c)
            label = f"{seat}  {a.label + ', ' if a.label else ''}{words.text}"
            return Node(seat, "bar", f"{seat}, {words.text}", label, children=self._nodes(self._children(seat)))
        if seat in i.outlets:
            return self._outlet(seat)
        if seat in i.loads:
            return self._load(i.loads[seat])
        return None

    def _device(self, seat: Seat, alone: bool = False) -> Node:
        d = self.i.devices[seat]
        rating, residual = device_words(d, self.c)
        phase = phase_words(d, self.c)
        if phase.text and phase.text not in seat:
            rating = Words(f"{rating.text} {phase.text}", rating.doubt or phase.doubt)
        name = f"{seat}, {kind_of(d, self.c)}, {rating.text} {residual.text}".rstrip()
        node = Node(seat, "device", name, seat, kind_of(d, self.c), tuple(w for w in (rating, residual) if w.text))
        node.children = [] if alone else self._nodes(self._children(seat))
        return node

    def _tap(self, seat: Seat) -> Node:
        where = tap_words(self.i.taps[seat], self.c)
        if seat in self.i.devices:
            node = self._device(seat)
            node.lines = (*node.lines, where)
            return node
        return Node(seat, "tap", f"tap {seat}", seat, lines=(where,), children=self._nodes(self._children(seat)))

    def _run(self, seat: Seat, alone: bool = False) -> Node:
        run = self.i.runs[seat]
        rating, length = run_words(run, self.c)
        name = f"run {seat}, {rating.text}, {length.text}"
        if alone:
            return Node(seat, "run", name, seat, lines=(rating, length))
        if run.tapped:
            self.waiting.append((seat, []))
            return Node(seat, "see", name, lines=(Words(f"to tapped run {seat}"),))
        node = Node(seat, "run", name, seat, lines=(rating, length), children=self._nodes(self._children(seat)))
        if not node.children:
            node.children = [Node(f"{seat}:end", "see", "end", lines=(Words(f"to {run.to}"),))]
        return node

    def _outlet(self, seat: Seat) -> Node:
        o = self.i.outlets[seat]
        words = outlet_words(o, self.c)
        phase = phase_words(o, self.c)
        text = f"{words.text} {phase.text}".rstrip()
        beside: list[Words] = []
        plugged = [s.removeprefix("machine:") for s in self._children(seat)]
        for id in plugged[:1]:
            m = self.machines.get(id)
            beside.append(Words(m.name if m else id))
            if m is not None:
                beside.append(power_words(m))
        if len(plugged) > 1:
            beside[0] = Words(f"{beside[0].text} + {len(plugged) - 1}")
        look = "fixed" if exact(held(o, "outlet", self.c)) == "fixed" else "outlet"
        return Node(
            seat, "outlet", f"{seat}, {text}", seat, look, (Words(text, words.doubt or phase.doubt),), tuple(beside)
        )

    def _load(self, load: FixedLoad) -> Node:
        return Node(
            load.id,
            "load",
            f"{load.name}, {load.serves}",
            load.id,
            "load",
            (power_words(load),),
            (Words("" if load.name == load.id else load.name),),
        )

    def _cut_out(self) -> Node:
        supply = self.unit.supply
        kind = say(held(supply, "cut_out_fuse_type"), missing="")
        size = say(held(supply, "cut_out_fuse_a"), "A")
        return Node(
            "supply", "device", f"cut-out fuse {size.text}", "cut-out", "fuse",
            (Words(f"{kind.text} {size.text}".strip(), size.doubt),),
        )  # fmt: skip

    def _spare(self, seat: Seat, board: Board) -> list[Node]:
        """Free ways of a board: whole ones run together, single poles one by one."""
        used: dict[int, set[str]] = {}
        for s in self.i.devices:
            way, _, phase = s.removeprefix(f"{seat}/").partition(".")
            if s.startswith(f"{seat}/") and way.isdigit():
                used.setdefault(int(way), set()).add(phase)
        out: list[Node] = []
        start: int | None = None
        for n in range(1, board.ways + 2):
            free = n <= board.ways and n not in used
            if free and start is None:
                start = n
            if not free and start is not None:
                name = f"{seat}/{start}" + (f" to {n - 1}" if n - 1 > start else "")
                out.append(Node(f"{seat}/{start}", "spare", f"{name} spare", name, lines=(Words("spare"),)))
                start = None
            if n in used and "" not in used[n] and len(used[n]) < 3:
                for phase in sorted({"L1", "L2", "L3"} - used[n]):
                    one = f"{seat}/{n}.{phase}"
                    out.append(Node(one, "spare", f"{one} spare", one, lines=(Words("spare"),)))
        return out


def supply_lines(unit: Unit) -> list[Words]:
    """Earthing, Ze, prospective fault current, agreed capacity, each with its unknowns."""
    s = unit.supply
    ze, ipf = say(held(s, "ze_ohm"), "Ω"), say(held(s, "ipf_ka"), "kA")
    kva = say(held(s, "agreed_kva"), "kVA")
    earthing = say(held(s, "earthing"))
    return [
        Words(f"{earthing.text}, {say(held(s, 'phases')).text} ph", earthing.doubt),
        Words(f"Ze {ze.text}", ze.doubt),
        Words(f"Ipf {ipf.text}", ipf.doubt),
        Words(f"agreed {kva.text}", kva.doubt),
    ]
