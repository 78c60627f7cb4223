"""Reading a plan file, written by the planner or by hand, against the unit it was made for."""

from __future__ import annotations

from collections.abc import Mapping
from pathlib import Path

from relet.codes import code_ids, load_code
from relet.errors import InputError
from relet.files.contradictions import check_taps
from relet.files.feeds import check_feeds
from relet.files.geometry import check_heights, check_inside, points_of
from relet.files.mistakes import Mistakes, validated
from relet.files.pieces_in import installation, known_seats, with_implied_loads
from relet.files.plan_rows import PLAN_FORMAT, PlanRow, SolvedRow
from relet.files.references import check_pieces
from relet.files.seats import check_seats
from relet.files.sections import GROUPS, Section, Sections
from relet.files.source import load, uncollected
from relet.files.unit import check_format
from relet.files.values import UnitFile
from relet.model import Digest, Installation, Map, Scheme, Seat, SolverReport, Use


def read_plan(path: str | Path, unit_file: UnitFile) -> Scheme:
    """Read a plan file (relet/plan/1).

    A plain value is chosen by the plan. Where it repeats what is held about the piece that stands at the same seat, it
    is that claim, with its address: a piece that is kept stays equal to the one that stands.

    Addresses of the other facts: "plan.runs.R7.length_m" in the backbone, "design.<tenancy>.runs.R9.length_m" in the
    contents of a tenancy.

    raises  InputError, InputErrors: as read_unit
    """
    with uncollected():
        return _read(path, unit_file)


def _read(path: str | Path, unit_file: UnitFile) -> Scheme:
    source = load(path, "a plan file")
    check_format(source, PLAN_FORMAT, "a plan file")
    mistakes = Mistakes(source)
    row = validated(PlanRow, source.data, mistakes)
    if row is None:
        mistakes.tell()
        raise InputError("nothing in it could be read.", file=source.name)
    sections = _sections(row, unit_file.standing)
    if source.broken is None:
        _check(row, sections, unit_file, mistakes)
    mistakes.tell()
    return Scheme(
        backbone=sections[""].held,
        contents=Map({t: s.held for t, s in sections.items() if t}),
        uses=Map({t: Use(tenancy=t, plugged=Map({m: Seat(o) for m, o in use.items()})) for t, use in row.uses.items()}),
        made_for=Digest(row.made_for),
        solved=_solved(row.solved),
        why=Map(row.why),
    )


def _sections(row: PlanRow, standing: Installation) -> Mapping[str, Section]:
    """The backbone under "", the contents under their tenancy."""
    backbone = installation(row.backbone, "plan", "chosen", standing)
    contents = {t: installation(r, f"design.{t}", "chosen", standing) for t, r in row.contents.items()}
    every = known_seats(backbone, *contents.values())
    backbone = with_implied_loads(backbone, "plan", every)
    out = {"": Section(("backbone",), row.backbone, backbone)}
    for t, held in contents.items():
        held = with_implied_loads(held, f"design.{t}", known_seats(backbone, held))
        out[t] = Section(("contents", t), row.contents[t], held)
    return out


def _check(row: PlanRow, sections: Mapping[str, Section], unit_file: UnitFile, mistakes: Mistakes) -> None:
    unit, tenancies = unit_file.unit, unit_file.tenancies
    if row.unit != unit.id:
        mistakes.note(("unit",), f'"{row.unit}" is not the unit of {unit_file.file}, which is "{unit.id}".')
    for group in ("contents", "uses"):
        for t in getattr(row, group):
            if t not in tenancies:
                mistakes.note((group, t), f"no tenancy of that name in {unit_file.file}.", t, tenancies)
    code = load_code(unit.policy.code) if unit.policy.code in code_ids() else None
    backbone = sections[""]
    contents = [s for t, s in sections.items() if t]
    wholes = [Sections((*contents, backbone)), *(Sections((backbone, s)) for s in contents)]
    for whole in wholes:
        check_seats(whole, mistakes)
        check_pieces(whole, code, mistakes)
        check_taps(whole, mistakes)
        check_inside(unit.space, points_of(whole), mistakes)
        check_heights(whole, unit.space, mistakes)
    for whole in wholes[1:] or wholes:
        _contradictions(whole, mistakes)
        check_feeds(whole, mistakes)
    _uses(row, sections, unit_file, mistakes)


def _contradictions(whole: Sections, mistakes: Mistakes) -> None:
    """No tenancy may hold a piece of the backbone with other content."""
    backbone = whole.sections[0]
    for group in (*GROUPS, "made"):
        there = getattr(backbone.held, group)
        for seat, piece, where in whole.mine(group):
            if len(whole.sections) > 1 and seat in there and there[seat] != piece:
                line = mistakes.line("backbone", group, seat)
                what = f"{seat} stands in the backbone with other content (line {line}). Allowed: one of the two."
                mistakes.note(where, what)


def _uses(row: PlanRow, sections: Mapping[str, Section], unit_file: UnitFile, mistakes: Mistakes) -> None:
    for t, use in row.uses.items():
        if t not in unit_file.tenancies:
            continue
        machines = unit_file.tenancies[t].machines
        outlets = {*sections[""].held.outlets, *(sections[t].held.outlets if t in sections else ())}
        for machine, outlet in use.items():
            if machine not in machines:
                mistakes.note(("uses", t, machine), f"no machine of that name in tenancy {t}.", machine, machines)
            elif outlet not in outlets:
                mistakes.note(("uses", t, machine), f'there is no outlet "{outlet}" in this plan.', outlet, outlets)


def _solved(row: SolvedRow | None) -> SolverReport | None:
    if row is None:
        return None
    return SolverReport(**{f: getattr(row, f) for f in SolverReport.__struct_fields__})
