"""Random legal installations for property tests: boards, radials, tapped runs, assemblies with contents, taps.

    installations()        one legal installation
    pairs()                two that share most seats: what stands, and what comes
    pairs(unknown=True)    the first may hold a run whose feed nobody knows

Everything is legal by construction: no two pieces overlap on a rail or a face, and what hangs behind a device has it.
Seats come from few names so that two installations meet at many of them.
"""

from __future__ import annotations

from dataclasses import dataclass, field
from typing import Any

from hypothesis import strategies as st

from relet.model import (
    Assembly,
    Board,
    Claim,
    Containment,
    Device,
    Exactly,
    FixedLoad,
    Installation,
    Map,
    OffGroup,
    Outlet,
    Path,
    Run,
    Seat,
    Tap,
)  # fmt: skip

ENCLOSURES = (("enclosure-4-12", 4, 12), ("enclosure-6-18", 6, 18), ("enclosure-8-24-ip55", 8, 24))
RAIL = (
    ("rcbo-c16-2p-30a", 2), ("rcbo-c32-4p-30a", 4), ("mcb-b10-1p", 1), ("mcb-c32-3p", 3), ("rccb-63-4p-30a", 4),
)  # fmt: skip
FACE = (
    ("outlet-60309-16a-2pe", 1), ("outlet-60309-32a-3pne", 1), ("outlet-60309-32a-3pne-interlocked", 2),
    ("outlet-1363-twin-ip55", 2), ("fixed-connection-32a-3pne", 1),
)  # fmt: skip
WAY3 = ("mcb-c32-3p", "mcb-c63-3p", "mcb-c32-4p", "fuse-switch-63-3p", "mcb")
LEAVES = ("load", "outlet", "assembly", "tapped", "board", "spare")


def chosen(value: float | str, how: str = "chosen", about: str = "plan.x") -> Claim:
    return Claim(about=Path(about), holds=Exactly(value), how=how)  # type: ignore[arg-type]


@dataclass
class _Build:
    draw: Any
    boards: dict[Seat, Board] = field(default_factory=dict)
    assemblies: dict[Seat, Assembly] = field(default_factory=dict)
    devices: dict[Seat, Device] = field(default_factory=dict)
    outlets: dict[Seat, Outlet] = field(default_factory=dict)
    runs: dict[Seat, Run] = field(default_factory=dict)
    taps: dict[Seat, Tap] = field(default_factory=dict)
    containment: dict[Seat, Containment] = field(default_factory=dict)
    loads: dict[Seat, FixedLoad] = field(default_factory=dict)
    off_groups: dict[Seat, OffGroup] = field(default_factory=dict)

    def pick(self, options: Any) -> Any:
        return self.draw(st.sampled_from(options))

    def yes(self, of: int = 2) -> bool:
        return bool(self.draw(st.integers(1, of)) == 1)

    def run(self, seat: str, from_: str, to: str, tapped: bool = False) -> None:
        facts: dict[str, Claim] = {"length_m": chosen(self.pick((8.0, 12.5, 20.0)), self.pick(("chosen", "read")))}
        if not tapped:
            facts["csa_mm2"] = chosen(self.pick((4.0, 16.0)))
        through = self.pick(((), ("T1",))) if self.containment else ()
        self.runs[Seat(seat)] = Run(
            part="tapped-run-63" if tapped else "swa-90", cable="tapped-run" if tapped else "swa-90", from_=Seat(from_),
            to=Seat(to), tapped=tapped, facts=Map(facts), stays=self.yes(), through=through,
        )  # fmt: skip

    def assembly(self, name: str) -> None:
        part, apertures, ways = self.pick(ENCLOSURES)
        at = Seat(name)
        self.assemblies[at] = Assembly(part=part, at_m=(self.pick((0.0, 6.0)), 2.0), height_m=1.2, stays=self.yes())
        self.devices[Seat(f"{name}/incomer")] = Device(part=self.pick(("switch-63-4p", "rccb-63-4p-30a")))
        rail: list[Seat] = []
        n = 5
        while n <= ways and self.yes(4) is False and len(rail) < 4:
            part, size = self.pick(RAIL)
            if n + size - 1 > ways:
                break
            up = [s for s in rail if self.devices[s].part.startswith("rccb")]
            behind = self.pick((None, *up))
            facts = {"phase": chosen(self.pick(("L1", "L2")))} if size <= 2 else {}
            self.devices[s := Seat(f"{name}/rail/{n}")] = Device(part=part, behind=behind, facts=Map(facts))
            rail.append(s)
            n += size + self.pick((0, 0, 1))
        n = 1
        mine = []
        while rail and n <= apertures and self.yes(4) is False:
            part, size = self.pick(FACE)
            if n + size - 1 > apertures:
                break
            label = self.pick(("", "", "bench"))
            self.outlets[s := Seat(f"{name}/face/{n}")] = Outlet(part=part, behind=self.pick(rail), label=label)
            mine.append(s)
            n += size + self.pick((0, 0, 1))
        if mine and self.yes(3):
            button = Seat(f"{name}/face/{apertures}")
            self.off_groups[button] = OffGroup(button=button, outlets=tuple(mine[: self.pick((1, 2))]))

    def branch(self, device: str, name: str, kind: str, depth: int = 0) -> None:
        """What one way feeds, under names that start with `name`."""
        if kind == "load":
            self.loads[Seat(f"lights{name}")] = FixedLoad(id=f"lights{name}", name="lights", serves="lighting")
            self.run(f"R{name}", device, f"lights{name}")
        elif kind == "outlet":
            at = self.pick(((1.0, 0.0), (3.0, 0.0)))
            self.outlets[Seat(f"X{name}")] = Outlet(part=self.pick(FACE)[0], at_m=at, height_m=1.1)
            self.run(f"R{name}", device, f"X{name}")
        elif kind == "assembly":
            self.assembly(f"A{name}")
            self.run(f"R{name}", device, f"A{name}")
        elif kind == "tapped":
            self.run(f"R{name}", device, "end", tapped=True)
            for n in range(1, self.pick((1, 2, 3)) + 1):
                tap = Seat(f"R{name}/tap/{n}")
                self.taps[tap] = Tap(part="tap-off-63-fused", facts=Map({"along_m": chosen(2.0 * n)}))
                if self.yes(3) is False:
                    self.devices[tap] = Device(part=self.pick(("fuse-carrier-63-4p", "fuse-carrier-32-4p")))
                self.branch(tap, f"{name}{n}", self.pick(("assembly", "outlet")))
        elif kind == "board" and depth == 0:
            self.board(f"SB{name}", (1, 2), fed_by=self.pick((None, f"R{name}")), depth=1, prefix=name)
            self.run(f"R{name}", device, f"SB{name}")

    def board(self, name: str, ways: Any, fed_by: str | None = None, depth: int = 0, prefix: str = "") -> None:
        self.boards[Seat(name)] = Board(
            part="board-8-3ph", at_m=(0.5, 0.0), height_m=1.6, ways=8, stays=True,
            fed_by=Seat(fed_by) if fed_by else None,
        )  # fmt: skip
        if depth or self.yes(8) is False:
            self.devices[Seat(f"{name}/incomer")] = Device(part="switch-disconnector-100-4p", stays=True)
        for way in ways:
            if self.yes(4):
                continue
            device = Seat(f"{name}/{way}")
            if self.yes(4):
                device = Seat(f"{name}/{way}.L1")
                kinds: Any = ("load", "outlet")
                self.devices[device] = Device(part="mcb-b10-1p", stays=self.yes())
            else:
                kinds = LEAVES
                part = self.pick(WAY3)
                facts = {"curve": chosen("C"), "in_a": chosen(self.pick((32.0, 63.0)))} if part == "mcb" else {}
                self.devices[device] = Device(part=part, stays=self.yes(), facts=Map(facts))
            other = self.pick((way, way, way, 9 - way))  # a thing may hang on another way in another installation
            if f"R{prefix}{other}" in self.runs:
                continue
            self.branch(device, f"{prefix}{other}", self.pick(kinds), depth)

    def done(self) -> Installation:
        return Installation(**{n: Map(getattr(self, n)) for n in Installation.__struct_fields__ if n != "made"})


@st.composite
def installations(draw: Any, unknown: bool = False) -> Installation:
    """One legal installation."""
    b = _Build(draw)
    if b.yes():
        b.containment[Seat("T1")] = Containment(
            part="trunking-100x50", path_m=((0.0, 0.0), (b.pick((6.0, 9.0)), 0.0)), height_m=3.0
        )
    b.board("DB1", (1, 2, 3, 4))
    if unknown and b.yes():
        b.outlets[Seat("X99")] = Outlet(part="outlet-1363-twin", at_m=(9.0, 0.0), height_m=0.4)
        b.run("R99", "DB1/99", "X99")
    return b.done()


@st.composite
def pairs(draw: Any, unknown: bool = False) -> tuple[Installation, Installation]:
    """What stands and what comes."""
    a = draw(installations(unknown=unknown))
    b = draw(installations())
    if unknown and "X99" in a.outlets and draw(st.booleans()):
        b = draw(st.just(_with(b, a)))
    return a, b


def _with(b: Installation, a: Installation) -> Installation:
    from msgspec.structs import replace

    return replace(
        b, outlets=b.outlets.put(Seat("X99"), a.outlets[Seat("X99")]), runs=b.runs.put(Seat("R99"), a.runs[Seat("R99")])
    )
