"""Who and what a piece of work affects: who loses supply, and which circuits have to be tested."""

from __future__ import annotations

from collections.abc import Collection, Mapping

from relet.changeover.isolation import Feeds
from relet.changeover.order import natural
from relet.changeover.step import Loss
from relet.changeover.wording import name
from relet.electrical.topology import ORIGIN
from relet.model import Catalogue, Device, FixedLoad, Seat, Tenancy
from relet.readings import circuit_of


def circuits(feeds: Feeds, touched: Collection[Seat], rest: Collection[Seat]) -> tuple[Seat, ...]:
    """Protective devices whose circuits were touched and are energised now."""
    tree, out = feeds.tree, set()
    for t in touched:
        if not tree.fed(t) or any(feeds.above(p, t) for p in rest):
            continue
        ends = [e for e in (t, *tree.below(t)) if e in tree.ends]
        out |= {t} if t in feeds.installation.devices else set()
        out |= {c for e in (t, *ends) if (c := circuit_of(e, tree)) is not None}
    return tuple(sorted((c for c in out if protects(feeds.installation.devices[c], feeds.catalogue)), key=natural))


def protects(device: Device, catalogue: Catalogue | None) -> bool:
    """True for anything but a switch or a contactor."""
    part = catalogue.parts.get(device.part) if catalogue is not None else None
    kind = part.kind if part is not None else device.part.split("-")[0]
    return kind not in ("switch", "contactor")


def residual(feeds: Feeds, seat: Seat) -> bool:
    """True if a residual current device stands in the path."""
    for s in feeds.tree.devices_on(seat):
        device = feeds.installation.devices[s]
        part = feeds.catalogue.parts.get(device.part) if feeds.catalogue is not None else None
        if "idn_ma" in device.facts or (part is not None and "idn_ma" in part.data):
            return True
    return False


def losses(feeds: Feeds, point: Seat, locked: Collection[Seat], tenant: Tenancy | None) -> tuple[Loss, ...]:
    """Who loses supply when a point opens, beside those who are without already."""
    tree, i = feeds.tree, feeds.installation
    below = tree.below(point) if point != ORIGIN else tuple(s for s in tree.parent if tree.fed(s))
    off = {e for p in locked for e in tree.below(p)}
    machines: Mapping[str, object] = tenant.machines if tenant is not None else {}
    out: list[Loss] = []
    for e in sorted(set(below) - off):
        if e in i.outlets:
            out.append(Loss(seat=e, kind="outlet", name=i.outlets[e].label or name(i.outlets[e], feeds.catalogue)))
        elif e in i.loads:
            load: FixedLoad = i.loads[e]
            out.append(Loss(seat=e, kind="load", name=load.name, serves=load.serves))
        elif e.startswith("machine:"):
            machine = getattr(machines.get(e.removeprefix("machine:")), "name", e.removeprefix("machine:"))
            tenancy = tenant.name if tenant is not None else ""
            out.append(Loss(seat=e, kind="machine", name=machine, tenancy=tenancy))
    return tuple(out)
