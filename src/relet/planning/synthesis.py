"""From column values to things on walls: one backbone, and for each tenant what is in the assemblies and who plugs in.

Seats are named in the order of the walls; contents that serve the next tenant too stay at their seats; phases are given
to single-phase circuits so that the most loaded line, of the unit first and of the assembly then, stays lowest.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, field, replace
from typing import TypeVar

from relet.model import Assembly, Device, Digest, Installation, Map, Outlet, Run, Scheme, Seat, Tap, Use, merge
from relet.planning import pieces
from relet.planning.build import Model
from relet.planning.circuits import Circuit
from relet.planning.contents import Fitted, Room, refit
from relet.planning.feeds import RadialFeed, TapFeed
from relet.planning.needs import Need
from relet.planning.parts import Frame, whole
from relet.planning.programme import Numbers

LINES = ("L1", "L2", "L3")
T = TypeVar("T")


@dataclass(frozen=True)
class Hung:
    """An assembly of the plan: its seat, frame, feed (None where it stands already) and room for contents."""

    site: str
    seat: str
    frame: Frame
    feed: RadialFeed | TapFeed | None
    room: Room


@dataclass(frozen=True)
class Made:
    """A scheme with what it was made of, so that a finding about a seat leads back to a decision.

    hung      assemblies by site
    seated    (tenancy, site) -> machines with the circuit each hangs on
    run_site  run or device seat of a feed -> sites that it serves
    """

    scheme: Scheme
    hung: dict[str, Hung]
    seated: dict[tuple[str, str], tuple[tuple[str, str], ...]]
    run_site: dict[str, tuple[str, ...]]


@dataclass
class _Backbone:
    devices: dict[str, Device] = field(default_factory=dict)
    assemblies: dict[str, Assembly] = field(default_factory=dict)
    runs: dict[str, Run] = field(default_factory=dict)
    taps: dict[str, Tap] = field(default_factory=dict)
    sites: dict[str, tuple[str, ...]] = field(default_factory=dict)


def synthesise(m: Model, values: Numbers, made_for: Digest) -> Made:
    """The scheme that a solution of the programme stands for."""
    hung = _hung(m, values)
    bones = _Backbone()
    _feed(m, values, hung, bones)
    backbone = merge(
        m.sets.kept,
        Installation(
            devices=_at(bones.devices), assemblies=_at(bones.assemblies), runs=_at(bones.runs), taps=_at(bones.taps)
        ),
    )  # fmt: skip
    contents: dict[str, Installation] = {}
    uses: dict[str, Use] = {}
    seated: dict[tuple[str, str], tuple[tuple[str, str], ...]] = {}
    before: dict[str, tuple[Fitted, ...]] = {}
    for t in m.sets.tenancies:
        before = _tenant(m, values, t, hung, before, contents, uses, seated)
    why = {h.seat: _why(m, h, seated) for h in hung.values()}
    scheme = Scheme(backbone=backbone, contents=Map(contents), uses=Map(uses), made_for=made_for, why=Map(why))
    return Made(scheme, hung, seated, bones.sites)


def _on(values: Numbers, column: int) -> bool:
    return bool(values[column] > 0.5)


def _hung(m: Model, values: Numbers) -> dict[str, Hung]:
    """New assemblies, and kept ones that have room, by site."""
    s, out = m.sets, {}
    names = _names("A", {*s.kept.assemblies})
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
        taken = whole(frame.incomer, "ways")
        room = Room(1, whole(frame.part, "apertures"), taken + 1, whole(frame.part, "ways") - taken)
        out[site] = Hung(site, next(names), frame, radial or tap, room)
    return out


def _names(letter: str, taken: set[Seat]) -> Iterator[str]:
    n = 0
    while True:
        n += 1
        if f"{letter}{n}" not in taken:
            yield f"{letter}{n}"


def _feed(m: Model, values: Numbers, hung: dict[str, Hung], bones: _Backbone) -> None:
    """Devices at the board, cables, tapped runs with their taps and drops, enclosures with their incomers."""
    s = m.sets
    ways, runs = iter(s.ways), _names("R", {*s.kept.runs})
    for run_id, run in s.runs.items():
        taps = sorted((h for h in hung.values() if isinstance(h.feed, TapFeed) and h.feed.run == run_id),
                      key=lambda h: h.feed.along_m)  # type: ignore[union-attr]  # fmt: skip
        if not taps:
            continue
        way, seat = next(ways), next(runs)
        steps = max(s.runs[run_id].sites.index(h.site) for h in taps)
        bones.devices[way] = pieces.device("plan", way, run.device)
        bones.runs[seat] = pieces.tapped_run(seat, way, run.part, run.along_m[steps])
        bones.sites[seat] = bones.sites[way] = tuple(h.site for h in taps)
        for n, h in enumerate(taps, 1):
            x = h.feed
            assert isinstance(x, TapFeed)
            tap, drop = f"{seat}/tap/{n}", next(runs)
            bones.taps[tap] = pieces.tap(tap, x.tap, x.along_m)
            bones.devices[tap] = pieces.device("plan", tap, x.device)
            bones.runs[drop] = pieces.run(drop, tap, h.seat, s.problem.choices.flexible, x.csa_mm2, x.drop_m)
            bones.sites[tap] = bones.sites[drop] = (h.site,)
    for h in hung.values():
        if h.feed is None:
            continue
        if isinstance(h.feed, RadialFeed):
            way, seat = next(ways), next(runs)
            r = h.feed
            bones.devices[way] = pieces.device("plan", way, r.device)
            bones.runs[seat] = pieces.run(
                seat, way, h.seat, s.problem.choices.cable, r.csa_mm2, r.length_m, route_m=r.points
            )
            bones.sites[seat] = bones.sites[way] = (h.site,)
        site = s.sites[h.site]
        bones.assemblies[h.seat] = pieces.assembly(h.seat, h.frame.part, site.at_m, site.height_m, h.site)
        bones.devices[f"{h.seat}/incomer"] = pieces.device("plan", f"{h.seat}/incomer", h.frame.incomer)


def _tenant(
    m: Model, values: Numbers, t: str, hung: dict[str, Hung], before: dict[str, tuple[Fitted, ...]],
    contents: dict[str, Installation], uses: dict[str, Use],
    seated: dict[tuple[str, str], tuple[tuple[str, str], ...]],
) -> dict[str, tuple[Fitted, ...]]:  # fmt: skip
    s = m.sets
    plugged: dict[str, Seat] = {}
    for (need, site, c), column in m.vars.seat.items():
        if s.needs[need].tenancy != t or not _on(values, column):
            continue
        if site in s.kept_outlets:
            plugged[s.needs[need].machine] = s.kept_outlets[site].seat
        seated[t, site] = (*seated.get((t, site), ()), (need, c))
    fitted: dict[str, tuple[Fitted, ...]] = {}
    for site, h in hung.items():
        wanted = _wanted(m, values, t, site, seated.get((t, site), ()))
        fitted[site] = refit(before.get(site, ()), wanted, h.room)
    placed = {site: _plug(s.needs, fitted[site], seated.get((t, site), ())) for site in hung}
    fitted = _phased(fitted, placed, s.phases)
    devices: dict[str, Device] = {}
    outlets: dict[str, Outlet] = {}
    for site, h in hung.items():
        for f in fitted[site]:
            rail, face = f"{h.seat}/rail/{f.rail}", f"{h.seat}/face/{f.face}"
            devices[rail] = pieces.device(f"design.{t}", rail, f.circuit.device, f.phase)
            outlets[face] = pieces.outlet(f"design.{t}", face, f.circuit.outlet, rail)
        for n, several in placed[site].items():
            for one in several:
                plugged[one.machine] = Seat(f"{h.seat}/face/{fitted[site][n].face}")
    contents[t] = Installation(devices=_at(devices), outlets=_at(outlets))
    uses[t] = Use(tenancy=t, plugged=Map(plugged))
    return fitted


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


def _phased(
    fitted: dict[str, tuple[Fitted, ...]], placed: dict[str, dict[int, list[Need]]], phases: int
) -> dict[str, tuple[Fitted, ...]]:  # fmt: skip
    """Phases for circuits that have none yet, the heaviest first, each where the most loaded line stays lowest."""
    unit = [0.0, 0.0, 0.0]
    own = {site: [0.0, 0.0, 0.0] for site in fitted}
    todo: list[tuple[float, str, int]] = []
    out = {site: list(several) for site, several in fitted.items()}
    for site, several in fitted.items():
        for n, f in enumerate(several):
            load = sum(x.heats_a for x in placed[site].get(n, ()))
            if f.circuit.phases == 3 or phases != 3:
                for k in range(3):
                    unit[k] += load
                    own[site][k] += load
                if f.circuit.phases == 1:
                    out[site][n] = replace(f, phase=LINES[0])
            elif f.phase:
                unit[LINES.index(f.phase)] += load
                own[site][LINES.index(f.phase)] += load
            else:
                todo.append((load, site, n))
    for load, site, n in sorted(todo, key=lambda e: (-e[0], e[1], e[2])):
        k = min(range(3), key=lambda k: (max(own[site][k] + load, *own[site]) + unit[k] + load, k))
        unit[k] += load
        own[site][k] += load
        out[site][n] = replace(out[site][n], phase=LINES[k])
    return {site: tuple(several) for site, several in out.items()}


def _why(m: Model, h: Hung, seated: dict[tuple[str, str], tuple[tuple[str, str], ...]]) -> str:
    told = []
    for t in m.sets.tenancies:
        names = [m.sets.needs[i].name for i, _ in seated.get((t, h.site), ())]
        if names:
            told.append(f"{t}: {', '.join(names)}")
    return f"reaches {'; '.join(told)}" if told else "kept"


def _at(group: Mapping[str, T]) -> Map[Seat, T]:
    return Map({Seat(s): p for s, p in group.items()})
