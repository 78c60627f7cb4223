"""Which joints an installation holds, and which of them lie on the way to a point or in a circuit.

A joint is a conductor made off at a terminal, named by what it feeds:

    "DB1/3:in"      a device on its busbar            "A4:in"          a busbar on its incomer
    "A4/face/3:in"  an outlet on its device           "R7:from" "R7:to"  the two ends of a run
    "R7/tap/2:in"   a tap-off on its run              "R7/tap/2/device:in"  the device in it

What a run feeds has no joint of its own: the end of the run is that joint.
"""

from __future__ import annotations

from relet.electrical.topology import Topology
from relet.model import Installation, Seat


def joints_of(element: Seat, tree: Topology) -> tuple[str, ...]:
    """Joints that belong to one element of the feeding tree, as it stands now."""
    i = tree.installation
    if element in i.runs:
        run = i.runs[element]
        return (f"{element}:from",) if run.to == "end" else (f"{element}:from", f"{element}:to")
    if element in i.taps:
        own = (f"{element}:in",)
        return (*own, f"{element}/device:in") if element in i.devices else own
    if tree.parent.get(element) in i.runs:
        return ()
    if element in i.devices or element in i.outlets:
        return (f"{element}:in",)
    if (element in i.boards or element in i.assemblies) and Seat(f"{element}/incomer") in i.devices:
        return (f"{element}:in",)
    return ()


def pieces_of(element: Seat, installation: Installation) -> tuple[Seat, ...]:
    """Pieces that one element stands for: a tap and the device in it are one element."""
    if element in installation.taps and element in installation.devices:
        return (element, Seat(f"{element}/device"))
    return (element,) if element in installation.pieces() else ()


def all_joints(tree: Topology) -> frozenset[str]:
    """Every joint of an installation."""
    i = tree.installation
    elements = {*i.boards, *i.assemblies, *i.devices, *i.outlets, *i.runs, *i.taps}
    return frozenset(j for e in elements for j in joints_of(Seat(e), tree))


def touched_by(piece: Seat, tree: Topology) -> frozenset[str]:
    """Joints that open when the piece at a seat is taken away: its own, and those of what it feeds at once."""
    element = Seat(piece.removesuffix("/device"))
    i = tree.installation
    out: set[str] = set(joints_of(element, tree)) if piece in i.pieces() else set()
    up = tree.parent.get(element)
    if up in i.runs and up is not None and i.runs[up].to in (element, element.removesuffix("/incomer")):
        out.add(f"{up}:to")
    for child in tree.children.get(element, ()):
        own = joints_of(child, tree)
        out.update(own[:1] if child in i.runs else own)
    if element in i.boards or element in i.assemblies:
        incomer = Seat(f"{element}/incomer")
        if incomer in i.devices:
            out |= touched_by(incomer, tree)
    return frozenset(out)
