"""Reading a unit file: structure, then meaning, then the values of the model."""

from __future__ import annotations

from pathlib import Path
from typing import Any, Final

from relet.codes import DEFAULT, Code, code_ids, load_code
from relet.errors import InputError
from relet.files.claims import Said, claims
from relet.files.contradictions import check_machines, check_taps
from relet.files.feeds import check_feeds
from relet.files.geometry import check_heights, check_inside, check_space, points_of
from relet.files.kinds import filled_in, kind, refers, zone_kinds
from relet.files.mistakes import Mistakes, Where, validated
from relet.files.pieces_in import installation, known_seats, with_implied_loads
from relet.files.references import check_pieces
from relet.files.seats import check_names, check_seats
from relet.files.sections import Section, Sections
from relet.files.source import Source, load, uncollected
from relet.files.tenants import VALUES, check_files, check_readings, check_tenancies, check_wishes
from relet.files.unit_rows import NEEDED, UNIT_FORMAT, TenancyRow, UnitFileRow, ZoneRow
from relet.files.values import Reading, UnitFile
from relet.files.words import shown
from relet.model import (
    Claim,
    Exactly,
    Machine,
    Map,
    OneOf,
    Opening,
    Point,
    Policy,
    Post,
    Seat,
    Space,
    Supply,
    Tenancy,
    Unit,
    Wishes,
    Zone,
)

STARTER: Final = " `relet new FILE` writes one to start from."
_UNIT_SIGN: Final = {"ohm": "ohm", "ms": "ms", "ka": "kA", "v": "V", "ok": ""}


def read_unit(path: str | Path) -> UnitFile:
    """Read a unit file (relet/unit/1).

    raises  InputError: the file as a whole cannot be read (missing, a folder, too large, not UTF-8 ...)
            InputErrors: every mistake that it can still show, in the order of its lines
    """
    with uncollected():
        return read_source(load(path, "a unit file", STARTER))


def read_source(source: Source) -> UnitFile:
    """A unit file from its text. Raises as read_unit."""
    check_format(source, UNIT_FORMAT, "a unit file")
    mistakes = Mistakes(source)
    row = validated(UnitFileRow, source.data, mistakes)
    if row is None:
        mistakes.tell()
        raise InputError("nothing in it could be read.", file=source.name)
    if source.broken is None:
        for name in NEEDED:
            if name not in source.data:
                mistakes.note((name,), f"[{name}] is missing; it is needed.")
    standing = installation(row.standing, "standing", "seen")
    standing = with_implied_loads(standing, "standing", known_seats(standing))
    sections = Sections((Section(("standing",), row.standing, standing),))
    space = _space(row)
    if source.broken is None:
        _check(row, sections, space, mistakes)
    mistakes.tell()
    assert space is not None and row.supply is not None and row.unit is not None
    return UnitFile(
        unit=_unit(row, space),
        standing=standing,
        tenancies=Map({t: _tenancy(t, r) for t, r in row.tenancies.items()}),
        readings=_readings(row),
        wishes=_wishes(row),
        stock=Map(row.stock),
        designs=Map(row.designs),
        catalogue=row.catalogue,
        prices=row.prices,
        source=source,
    )


def check_format(source: Source, allowed: str, what: str) -> None:
    """The format line, before anything else is asked. Raises InputError."""
    said = source.data.get("format")
    if said == allowed or (said is None and source.broken is not None):
        return
    line = source.lines.at(("format",)) or 1
    if said is None:
        told = f'the line format = "{allowed}" is missing, so this may not be {what}.'
    else:
        told = f'{shown(said)} is not the format of {what} that can be read here. Allowed: "{allowed}".'
    raise InputError(told, file=source.name, line=line, place="format")


# ---------- meaning ----------


def _check(row: UnitFileRow, sections: Sections, space: Space | None, mistakes: Mistakes) -> None:
    if row.unit is not None:
        check_names([row.unit.id], "a unit", ("unit", "id"), mistakes)
    for group in ("openings", "zones", "posts"):
        check_names(list(getattr(row, group)), "a thing", (group,), mistakes)
    _check_zones(row, mistakes)
    check_seats(sections, mistakes)
    check_pieces(sections, _code(row, mistakes), mistakes)
    check_feeds(sections, mistakes)
    check_taps(sections, mistakes)
    check_readings(row, sections, mistakes)
    check_tenancies(row, sections, mistakes)
    for t, tenancy in row.tenancies.items():
        check_machines(("tenancies", t), tenancy, mistakes)
    check_files(row, mistakes)
    room = space is not None and check_space(space, mistakes)
    check_wishes(row.wishes, row, sections, space if room else None, mistakes)
    if space is not None and room:
        points: dict[Where, Point] = points_of(sections)
        for t, tenancy in row.tenancies.items():
            for m, machine in tenancy.machines.items():
                points["tenancies", t, "machines", m, "at_m"] = machine.at_m
        check_inside(space, points, mistakes)
        check_heights(sections, space, mistakes)


def _code(row: UnitFileRow, mistakes: Mistakes) -> Code | None:
    id = row.policy.code or DEFAULT
    if id not in code_ids():
        what = f'"{id}" is not a code pack. Allowed: {", ".join(code_ids())}.'
        mistakes.note(("policy", "code"), what, id, code_ids())
        return None
    return load_code(id)


def _check_zones(row: UnitFileRow, mistakes: Mistakes) -> None:
    kinds = zone_kinds()
    for z, zone in row.zones.items():
        for said in _kinds_said(zone):
            if said not in kinds:
                what = f'"{said}" is not a kind of place. Allowed: {", ".join(kinds)}.'
                mistakes.note(("zones", z, "kind"), what, said, kinds)
        if zone.kind is None and not zone.keep_clear:
            mistakes.note(("zones", z), "says neither what kind of place it is nor keep_clear = true.")


def _kinds_said(zone: ZoneRow) -> tuple[str, ...]:
    holds = None if zone.kind is None else zone.kind.holds
    options = holds.options if isinstance(holds, OneOf) else (holds.value,) if isinstance(holds, Exactly) else ()
    return tuple(str(o) for o in options)


# ---------- values ----------


def _space(row: UnitFileRow) -> Space | None:
    if row.unit is None:
        return None
    return Space(
        outline_m=row.unit.outline_m,
        ceiling_m=row.unit.ceiling_m,
        openings=Map(
            {
                i: Opening(id=i, wall=o.wall, from_m=o.from_m, to_m=o.to_m, height_m=o.height_m, escape=o.escape)
                for i, o in row.openings.items()
            }
        ),
        zones=Map({i: _zone(i, z) for i, z in row.zones.items()}),
        posts=Map({i: Post(id=i, at_m=p.at_m, kind=p.kind) for i, p in row.posts.items()}),
    )


def _zone(id: str, row: ZoneRow) -> Zone:
    """A zone; where its kind is one of several, the one that asks for a specialist is kept in mind."""
    options = _kinds_said(row)
    kind = next((k for k in options if refers(k)), options[0] if options else "")
    facts = claims(f"zones.{id}", row.facts, "told")
    if row.kind is not None and not row.kind.bare:
        facts = facts.merged(claims(f"zones.{id}", {"kind": row.kind}, "seen"))
    return Zone(id=id, kind=kind, area_m=row.area_m, keep_clear=row.keep_clear, facts=facts)


def _unit(row: UnitFileRow, space: Space) -> Unit:
    assert row.unit is not None and row.supply is not None
    supply = _nested(row.supply.facts, "bonding", row.supply.bonding)
    policy = _nested(row.policy.facts, "lead_reach_m", row.policy.lead_reach_m)
    return Unit(
        id=row.unit.id,
        name=row.unit.name or row.unit.id,
        space=space,
        supply=Supply(at_m=row.supply.at_m, facts=claims("supply", supply, "seen")),
        policy=Policy(code=row.policy.code or DEFAULT, facts=claims("policy", policy, "chosen")),
    )


def _nested(facts: dict[str, Said], name: str, inner: dict[str, Said]) -> dict[str, Said]:
    return {**facts, **{f"{name}.{k}": v for k, v in inner.items()}}


def _tenancy(id: str, row: TenancyRow) -> Tenancy:
    at = f"tenancies.{id}.machines"
    machines: dict[str, Machine] = {}
    for m, r in row.machines.items():
        own: dict[str, Claim] = dict(claims(f"{at}.{m}", r.facts, "seen"))
        name = r.name or m.replace("_", " ")
        if r.kind is not None:
            own = filled_in(f"{at}.{m}", r.kind, r.facts, own)
            name = r.name or kind(r.kind).name
        machines[m] = Machine(id=m, name=name, at_m=r.at_m, kind=r.kind, facts=Map(own))
    rules = row.rules
    return Tenancy(
        id=id, name=row.name or id, from_=row.from_, to=row.to, machines=Map(machines),
        never_together=rules.never_together, stays_on=rules.stays_on, interlocked=rules.interlocked,
    )  # fmt: skip


def _readings(row: UnitFileRow) -> tuple[Reading, ...]:
    out = []
    for id, r in row.standing.readings.items():
        of = str(getattr(r.facts["of"].holds, "value", ""))
        key = next(v for v in VALUES if v in r.facts)
        said = r.facts[key]
        value: Any = said.holds.value if isinstance(said.holds, Exactly) else None
        unit = _UNIT_SIGN.get(key, "Mohm")
        if key == "mohm" and of != "insulation":
            unit, value = "ohm", None if value is None else value / 1000
        at = Seat("supply" if r.at == "origin" else r.at)
        out.append(Reading(id=id, of=of, at=at, value=value, unit=unit, on=said.on, with_=said.note))
    return tuple(out)


def _wishes(row: UnitFileRow) -> Wishes:
    w = row.wishes
    return Wishes(
        keep=w.keep,
        pins=Map(w.pins),
        forbid=tuple((f.wall or f.place or "", f.reason) for f in w.forbid),
        most_assemblies=w.most_assemblies,
        most_price=w.most_price,
    )
