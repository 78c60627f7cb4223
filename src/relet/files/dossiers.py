"""Cases of an opened unit worked out for papers and pages: judged, priced, with the job from what was before."""

from __future__ import annotations

from datetime import date

from relet.changeover import Job, job
from relet.checks import judge
from relet.checks.findings import Findings
from relet.files.opened import STANDING, Opened
from relet.model import Case, Installation, Map, Seat, SolverReport, Tenancy, Use
from relet.pricing import Price, price_installation
from relet.readings import Reading
from relet.schedules.dossier import Dossier


def readings(opened: Opened) -> tuple[Reading, ...]:
    """Results on record, as the changeover counts them."""
    return tuple(
        Reading(
            id=r.id, of=r.of, at=Seat("origin") if r.at == "supply" else r.at, value=r.value, unit=r.unit, on=r.on,  # type: ignore[arg-type]
            instrument=r.with_,
        )
        for r in opened.unit_file.readings
        if r.value is not None
    )  # fmt: skip


def installation_of(opened: Opened, id: str) -> tuple[Installation, Tenancy | None, Use | None]:
    """What stands ("standing"), or a tenancy's design, with who uses it. Raises InputError for an unknown id."""
    if id == STANDING:
        case = opened.standing_case(None)
        return case.installation, None, None
    case = opened.design_case(id)
    return case.installation, case.tenancy, case.use


def changeover(opened: Opened, from_: str, to: str) -> Job:
    """The job from one installation to another: "standing", or a tenancy with a design."""
    a, tenancy, use = installation_of(opened, from_)
    b, _, _ = installation_of(opened, to)
    return job(
        a, b, opened.prices, id=f"{from_}-to-{to}", catalogue=opened.catalogue, readings=readings(opened),
        stock=opened.unit_file.stock, use=use, tenant=tenancy,
    )  # fmt: skip


def before(opened: Opened, id: str) -> str:
    """What was there before a tenancy: the tenancy before it that has a design, else what stands."""
    held = [t.id for t in opened.unit_file.in_order if t.id in opened.schemes]
    at = held.index(id) if id in held else 0
    return held[at - 1] if at > 0 else STANDING


def dossier(opened: Opened, case: Case, *, found: Findings | None = None, on: date | None = None) -> Dossier:
    """One case with everything that is printed about it."""
    id = case.where.removeprefix("design.")
    price: Price | None = None
    work: Job | None = None
    earlier = ""
    solved: SolverReport | None = None
    why: Map[str, str] = Map()
    if id != STANDING:
        price = price_installation(case.installation, opened.prices, opened.catalogue, opened.unit_file.stock)
        earlier = before(opened, id)
        work = changeover(opened, earlier, id)
        scheme = opened.schemes[id]
        solved, why = scheme.solved, scheme.why
    return Dossier(
        case=case, found=found if found is not None else judge(case), price=price, job=work,
        before=opened.name_of(earlier) if earlier else "", readings=readings(opened), solved=solved, why=why, on=on,
    )  # fmt: skip


def dossiers(opened: Opened, code: str | None = None, on: date | None = None) -> tuple[Dossier, ...]:
    """Every case of a unit: what stands, and each design."""
    return tuple(dossier(opened, case, on=on) for case in opened.cases(code=code))
