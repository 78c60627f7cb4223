"""Tenancies, wishes, stock and readings: do their names and days fit together?"""

from __future__ import annotations

from collections.abc import Mapping
from datetime import date
from functools import partial
from itertools import pairwise
from typing import Final

from relet.files.geometry import places_like, wall_names
from relet.files.kinds import kind_ids
from relet.files.mistakes import Mistakes, Where
from relet.files.seats import check_names
from relet.files.sections import Sections
from relet.files.unit_rows import UnitFileRow, WishesRow
from relet.files.words import listed, nearest
from relet.model import Space

_UNITS_OF: Final = {
    "insulation": ("mohm",), "polarity": ("ok",), "functional": ("ok",), "phase_sequence": ("ok",),
    "rcd_time": ("ms",), "ipf": ("ka",), "pscc": ("ka",), "voltage": ("v",),
}  # fmt: skip
_RESISTANCE: Final = ("ohm", "mohm")
VALUES: Final = ("ohm", "mohm", "ms", "ka", "v", "ok")


def check_tenancies(row: UnitFileRow, s: Sections, mistakes: Mistakes) -> None:
    """Names, kinds, groups and days of all tenancies."""
    check_names(list(row.tenancies), "a tenancy", ("tenancies",), mistakes)
    loads = s.group("loads")
    kinds = kind_ids()
    for t, tenancy in row.tenancies.items():
        where = ("tenancies", t)
        check_names(list(tenancy.machines), "a machine", (*where, "machines"), mistakes)
        for m, machine in tenancy.machines.items():
            if machine.kind is not None and machine.kind not in kinds:
                mistakes.note((*where, "machines", m, "kind"), partial(_no_kind, machine.kind))
        rules = tenancy.rules
        machines = raw_names(mistakes, "tenancies", t, "machines") | set(tenancy.machines)
        for field, groups in (("never_together", rules.never_together), ("interlocked", rules.interlocked)):
            for name in (n for g in groups for n in g):
                if name not in machines:
                    mistakes.note((*where, "rules", field), f'no machine "{name}" in this tenancy.', name, machines)
        for name in rules.stays_on:
            if name not in machines and name not in loads:
                what = f'"{name}" is neither a machine of this tenancy nor a load.'
                mistakes.note((*where, "rules", "stays_on"), what, name, machines | set(loads))
        if tenancy.from_ is not None and tenancy.to is not None and tenancy.to <= tenancy.from_:
            mistakes.note((*where, "to"), f"{tenancy.to} is not after from = {tenancy.from_}.")
    _overlaps(row, mistakes)


def _no_kind(kind: str) -> str:
    kinds = kind_ids()
    near = nearest(kind, kinds)
    family = [k for k in kinds if near and k.split("_")[0] == near.split("_")[0]][:6]
    more = f' Nearest: "{near}". Of the same trade: {", ".join(family)}.' if near else ""
    return f'"{kind}" is not in the table of machine kinds ({len(kinds)} kinds).{more}'


def _overlaps(row: UnitFileRow, mistakes: Mistakes) -> None:
    """Two tenants at once. A stay that is open ends when the next begins."""
    dated = sorted((t.from_, t.to or date.max, id) for id, t in row.tenancies.items() if t.from_ is not None)
    for (from_a, to_a, a), (from_b, _, b) in pairwise(dated):
        closed = row.tenancies[a].to is not None
        if from_b == from_a or (closed and from_b < to_a):
            line = mistakes.line("tenancies", a)
            until = str(to_a) if closed else "open"
            mistakes.note(
                ("tenancies", b, "from"), f"{from_b} falls into the stay of {a} ({from_a} to {until}, line {line})."
            )


def check_wishes(wishes: WishesRow, row: UnitFileRow, s: Sections, space: Space | None, mistakes: Mistakes) -> None:
    """Kept pieces, pinned machines, forbidden walls."""
    known = s.known
    for name in wishes.keep:
        if name not in known:
            mistakes.note(("wishes", "keep"), f'"{name}" does not stand here.', name, known)
    machines = {t: raw_names(mistakes, "tenancies", t, "machines") for t in row.tenancies}
    every = set().union(*machines.values())
    places = {*s.group("outlets"), *s.group("assemblies")}
    for machine, to in wishes.pins.items():
        t, _, m = machine.rpartition(".")
        if m not in (machines.get(t, ()) if t else every):
            mistakes.note(("wishes", "pins", machine), partial(_no_machine, m, machines, mistakes))
        if to not in places and space is not None and not places_like(space, to):
            more = 'Allowed: an outlet, an assembly, a post, or a wall with metres along it ("north-3.5").'
            mistakes.note(("wishes", "pins", machine), f'there is no "{to}" to pin it to. {more}', to, places)
    for i, forbid in enumerate(wishes.forbid):
        named = [n for n in (forbid.wall, forbid.place) if n is not None]
        if len(named) != 1:
            mistakes.note(("wishes", "forbid", i), "say which: one of wall and place.")
        elif space is not None and forbid.wall is not None and forbid.wall not in wall_names(space):
            names = wall_names(space)
            what = f'no wall "{forbid.wall}". This unit has {", ".join(names)}.'
            mistakes.note(("wishes", "forbid", "wall"), what, forbid.wall, names)
        elif space is not None and forbid.place is not None and not places_like(space, forbid.place):
            what = f'no place "{forbid.place}". Allowed: a post, or a wall with metres along it ("north-3.5").'
            mistakes.note(("wishes", "forbid", "place"), what)


def _no_machine(name: str, machines: Mapping[str, set[str]], mistakes: Mistakes) -> str:
    near = nearest(name, sorted(set().union(*machines.values())))
    if near is None:
        return "no machine of that name in any tenancy."
    tenancy = next(t for t, names in machines.items() if near in names)
    line = mistakes.line("tenancies", tenancy, "machines", near)
    return f"no machine of that name in any tenancy. Nearest: {near} (tenancy {tenancy}, line {line})."


def check_readings(row: UnitFileRow, s: Sections, mistakes: Mistakes) -> None:
    """One value each, of the unit that its test gives, taken at something that is there."""
    for id, r in row.standing.readings.items():
        where = ("standing", "readings", id)
        if r.at not in s.known and r.at not in ("supply", "origin"):
            what = f'there is no "{r.at}" here. Allowed: a seat or "supply".'
            mistakes.note((*where, "at"), what, r.at, s.known)
        if "of" not in r.facts:
            mistakes.note((*where, "of"), "of is missing; it says which test this is.")
            continue
        of = str(getattr(r.facts["of"].holds, "value", ""))
        allowed = _UNITS_OF.get(of, _RESISTANCE)
        values = [v for v in VALUES if v in r.facts]
        if len(values) != 1:
            mistakes.note(where, f"holds {len(values)} values. Allowed: one of {listed(allowed)} for {of}.")
        elif values[0] not in allowed:
            mistakes.note((*where, values[0]), f"{of} is not read in {values[0]}. Allowed: {listed(allowed)}.")


def check_files(row: UnitFileRow, mistakes: Mistakes) -> None:
    """Files that this one names stand beside it."""
    folder = mistakes.source.path.parent
    named: list[tuple[Where, str]] = [(("catalogue",), row.catalogue), (("prices",), row.prices)]
    for t, name in row.designs.items():
        named.append((("designs", t), name))
        if t not in row.tenancies and t not in raw_names(mistakes, "tenancies"):
            mistakes.note(("designs", t), f'no tenancy "{t}".', t, row.tenancies)
    for where, name in named:
        if name and not (folder / name).is_file():
            beside = [p.name for p in folder.glob("*.toml")] if folder.is_dir() else []
            mistakes.note(where, f'there is no file "{name}" beside this one.', name, beside)


def raw_names(mistakes: Mistakes, *where: str) -> set[str]:
    """Names that stand at a place of the file, with those whose rows could not be read."""
    at: object = mistakes.source.data
    for part in where:
        at = at.get(part) if isinstance(at, dict) else None
    return set(at) if isinstance(at, dict) else set()
