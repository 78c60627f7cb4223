"""From column values to things on walls: one backbone, and for each tenant what is in the assemblies and who plugs in.

Seats are named in the order of the walls; contents that serve the next tenant too stay at their seats, and on their
lines: phases are given over all tenancies at once (`phases`).
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from typing import TypeVar

from relet.model import Device, Digest, Installation, Map, Outlet, Scheme, Seat, Use, merge
from relet.planning import pieces
from relet.planning.backbone import bones_of, free_names
from relet.planning.build import Model
from relet.planning.circuits import Circuit
from relet.planning.contents import Fitted, Room, refit
from relet.planning.lines import lines_of
from relet.planning.made import Contents, Hung, Made, Plugged
from relet.planning.needs import Need
from relet.planning.parts import whole
from relet.planning.programme import Numbers
from relet.planning.sizing import Sizing

T = TypeVar("T")


def synthesise(m: Model, values: Numbers, made_for: Digest, sizing: Sizing | None = None) -> Made:
    """The scheme that a solution of the programme stands for, some of its feeds built larger."""
    sizing = sizing or Sizing()
    hung = _hung(m, values, sizing)
    bones = bones_of(m, hung, sizing)
    backbone = merge(
        m.sets.kept,
        Installation(
            devices=_at(bones.devices), assemblies=_at(bones.assemblies), runs=_at(bones.runs), taps=_at(bones.taps)
        ),
    )  # fmt: skip
    seated = _seated(m, values)
    fitted, placed = _contents(m, values, hung, seated)
    lines = lines_of(m, hung, fitted, placed)
    contents, uses = {}, {}
    for t in m.sets.tenancies:
        contents[t], uses[t] = _tenant(m, t, hung, fitted[t], placed[t], seated, lines)
    why = {h.seat: _why(m, h, seated) for h in hung.values()}
    scheme = Scheme(backbone=backbone, contents=Map(contents), uses=Map(uses), made_for=made_for, why=Map(why))
    rated = {seat: m.sets.runs[run].in_a for seat, run in bones.tapped.items()}
    return Made(scheme, hung, seated, bones.sites, bones.tapped, rated)


def _on(values: Numbers, column: int) -> bool:
    return bool(values[column] > 0.5)


def _hung(m: Model, values: Numbers, sizing: Sizing) -> dict[str, Hung]:
    """New assemblies, and kept ones that have room, by site."""
    s, out = m.sets, {}
    names = free_names("A", {*s.problem.standing.assemblies})
    for site in s.sites:
        if site in s.kept_frames:
            k = s.kept_frames[site]
            used = [int(d.rsplit("/", 1)[1]) + whole(s.problem.catalogue.parts[p.part], "ways") - 1
                    for d, p in s.kept.devices.items() if d.startswith(f"{k.seat}/rail/")]  # fmt: skip
            faces = [int(o.rsplit("/", 1)[1]) + whole(s.problem.catalogue.parts[p.part], "apertures") - 1
                     for o, p in s.kept.outlets.items() if o.startswith(f"{k.seat}/face/")]  # fmt: skip
            rail, face = max(used, default=whole(k.frame.incomer, "ways")), max(faces, default=0)
            room = Room(face + 1, k.frame.apertures, rail + 1, k.frame.ways)
            out[site] = Hung(site, str(k.seat), k.frame, None, room)
            continue
        frame = next((f for f in s.frames_at.get(site, ()) if (site, f.id) in m.vars.frame
                      and _on(values, m.vars.frame[site, f.id])), None)  # fmt: skip
        if frame is None:
            continue
        radial = next((r for r in s.radials.get(site, ()) if _on(values, m.vars.radial[site, r.id])), None)
        tap = next((x for x in s.taps.get(site, ()) if _on(values, m.vars.tap[site, x.id])), None)
        frame, feed = sizing.frame.get(site, frame), sizing.feed.get(site, radial or tap)
        taken = whole(frame.incomer, "ways")
        room = Room(1, whole(frame.part, "apertures"), taken + 1, whole(frame.part, "ways") - taken)
        out[site] = Hung(site, next(names), frame, feed, room)
    return out


def _seated(m: Model, values: Numbers) -> dict[tuple[str, str], tuple[tuple[str, str], ...]]:
    """(tenancy, site) -> machines there with the kind of circuit that feeds each."""
    out: dict[tuple[str, str], tuple[tuple[str, str], ...]] = {}
    for (need, site, c), column in m.vars.seat.items():
        if _on(values, column):
            t = m.sets.needs[need].tenancy
            out[t, site] = (*out.get((t, site), ()), (need, c))
    return out


def _contents(
    m: Model, values: Numbers, hung: Mapping[str, Hung], seated: Mapping[tuple[str, str], tuple[tuple[str, str], ...]]
) -> tuple[Contents, Plugged]:
    """By tenancy and site: the circuits at their places, and which machines hang on each of them."""
    fitted: Contents = {}
    placed: Plugged = {}
    before: dict[str, tuple[Fitted, ...]] = {}
    for t in m.sets.tenancies:
        before = {
            site: refit(before.get(site, ()), _wanted(m, values, t, site, seated.get((t, site), ())), h.room)
            for site, h in hung.items()
        }
        fitted[t] = before
        placed[t] = {site: _plug(m.sets.needs, before[site], seated.get((t, site), ())) for site in hung}
    return fitted, placed


def _tenant(
    m: Model, t: str, hung: Mapping[str, Hung], fitted: Mapping[str, tuple[Fitted, ...]],
    placed: Mapping[str, dict[int, list[Need]]], seated: Mapping[tuple[str, str], tuple[tuple[str, str], ...]],
    lines: Mapping[tuple[str, str, int], str],
) -> tuple[Installation, Use]:  # fmt: skip
    """What is in the assemblies while a tenant is in, and who plugs in where."""
    s = m.sets
    plugged: dict[str, Seat] = {}
    for (u, site), several in seated.items():
        if u == t and site in s.kept_outlets:
            plugged |= {s.needs[i].machine: s.kept_outlets[site].seat for i, _ in several}
    devices: dict[str, Device] = {}
    outlets: dict[str, Outlet] = {}
    for site, h in hung.items():
        for n, f in enumerate(fitted[site]):
            rail, face, line = f"{h.seat}/rail/{f.rail}", f"{h.seat}/face/{f.face}", lines.get((t, site, n), "")
            devices[rail] = pieces.device(f"design.{t}", rail, f.circuit.device, line)
            outlets[face] = pieces.outlet(f"design.{t}", face, f.circuit.outlet, rail)
            for one in placed[site].get(n, ()):
                plugged[one.machine] = Seat(face)
    inside = Installation(devices=_at(devices), outlets=_at(outlets))
    return inside, Use(tenancy=t, plugged=Map(plugged))


def _wanted(
    m: Model, values: Numbers, t: str, site: str, machines: Sequence[tuple[str, str]]
) -> list[Circuit]:  # fmt: skip
    """Circuits to stand at a site: what is used, and what is cheaper left standing for a later tenant."""
    out: list[Circuit] = []
    for c, kind in m.sets.circuits.items():
        users = [m.sets.needs[i] for i, k in machines if k == c]
        used = len(_bundles(kind, users))
        column = m.vars.count.get((t, site, c))
        held = round(float(values[column]) - 1e-6) if column is not None else 0
        out += [kind] * max(used, held)
    return out


def _bundles(kind: Circuit, users: Sequence[Need]) -> list[list[Need]]:
    """Machines by the outlet they share: as many plugs as it takes, and no more current than it carries."""
    out: list[list[Need]] = []
    for n in sorted(users, key=lambda n: (-n.heats_a, n.id)):
        for extra in range(max(1, n.outlets)):
            if extra:
                out.append([])
                continue
            home = next(
                (b for b in out if 0 < len(b) < kind.gangs and sum(x.heats_a for x in b) + n.heats_a <= kind.total_a),
                None,
            )  # fmt: skip
            if home is None:
                out.append([n])
            else:
                home.append(n)
    return out


def _plug(
    needs: Mapping[str, Need], fitted: Sequence[Fitted], machines: Sequence[tuple[str, str]]
) -> dict[int, list[Need]]:  # fmt: skip
    """Which machines hang on which fitted circuit, by its number."""
    out: dict[int, list[Need]] = {}
    for kind in {f.circuit.id: f.circuit for f in fitted}.values():
        users = [needs[i] for i, c in machines if c == kind.id]
        homes = [n for n, f in enumerate(fitted) if f.circuit.id == kind.id]
        for n, bundle in zip(homes, _bundles(kind, users)):
            out[n] = bundle
    return out


def _why(m: Model, h: Hung, seated: dict[tuple[str, str], tuple[tuple[str, str], ...]]) -> str:
    told = []
    for t in m.sets.tenancies:
        names = [m.sets.needs[i].name for i, _ in seated.get((t, h.site), ())]
        if names:
            told.append(f"{t}: {', '.join(names)}")
    return f"reaches {'; '.join(told)}" if told else "kept"


def _at(group: Mapping[str, T]) -> Map[Seat, T]:
    return Map({Seat(s): p for s, p in group.items()})
