"""What a run may carry where it lies: tabulated rating, factors, grouping by containment, installed rating."""

from __future__ import annotations

from typing import NamedTuple

from relet.checks import things
from relet.checks.demand import demand, loads_at
from relet.checks.facts import Missing
from relet.checks.runs import csa, insulation_c, is_tapped, kind
from relet.checks.study import Study, kept
from relet.electrical.conductors import Factors, installed_rating
from relet.electrical.containment import Laid, Ledger, Section, cable_area, inside_area, ledger
from relet.errors import OutsideTable
from relet.model import Seat
from relet.tables import cables
from relet.tables import containment as sizes
from relet.working import Figure, Formula, choose, fact

FILL_ALLOWED = Formula(
    "A = f * Ainside", "mm2", f="", Ainside="mm2", source="share of the inside area, handbook method"
)
THIRD_SHARE = Formula(
    "h3 = 100 * Ithird / (3 * I)", "%", Ithird="A", I="A", source="third harmonic of one line, from the neutral's sum"
)
SUM_OF_THIRDS = Formula("Ith = h3 / 100 * I", "A", h3="%", I="A", source="third harmonic of one load")


class Rating(NamedTuple):
    """Rating of a run: tabulated It, factors, installed Iz; and the current its neutral adds, if it governs."""

    it: Figure
    factors: Factors
    iz: Figure
    neutral_governs: bool


def loading(study: Study, seat: Seat) -> str:
    """Loading column of the tables: "1ph" (two loaded conductors) or "3ph"."""
    return "1ph" if things.single(study, seat) else "3ph"


@kept
def table_of(study: Study, seat: Seat) -> tuple[str, str]:
    """Table and reference method that hold the rating of a run. Raises OutsideTable when none has its size."""
    k, s = kind(study, seat), csa(study, seat)
    said = study.facts.maybe_word(things.run(study, seat), "method")
    method = str(said) if said is not None else k.method
    last: OutsideTable | None = None
    for name in k.rating_tables:
        try:
            cables.current_rating(name, method, loading(study, seat), s)
            return name, method
        except OutsideTable as e:
            last = e
    assert last is not None
    raise last


@kept
def tabulated(study: Study, seat: Seat) -> Figure:
    """Tabulated rating It, A."""
    name, method = table_of(study, seat)
    return cables.current_rating(name, method, loading(study, seat), csa(study, seat))


def lying_in(study: Study, section: Seat) -> tuple[Seat, ...]:
    """Cables that lie in a stretch of containment, tapped runs left out."""
    return tuple(s for s, r in study.case.installation.runs.items() if section in r.through and not is_tapped(r))


@kept
def group_factor(study: Study, seat: Seat) -> Figure | None:
    """Grouping factor: the worst of the sections it lies in; by the stated number where none is drawn."""
    r, k = things.get_run(study, seat), kind(study, seat)
    factors = []
    for section in r.through:
        if section in study.case.installation.containment:
            n = len(lying_in(study, Seat(section)))
            factors.append(cables.grouping_factor(_arrangement(study, Seat(section), k.group), _counted(section, n)))
    said = study.facts.maybe(things.run(study, seat), "grouped_with", "", name="n")
    if said is not None and not factors:
        factors.append(cables.grouping_factor("bunched" if k.form == "singles" else k.group, said))
    return choose(factors, min, "worst section on its way", name="Cg") if factors else None


def _counted(section: str, n: int) -> Figure:
    return fact(f"containment.{section}.circuits", float(n), "", "chosen", "circuits that lie in the section", name="n")


def _arrangement(study: Study, section: Seat, otherwise: str) -> str:
    owner = things.containment(study, section)
    form = study.facts.maybe_word(owner, "form") or study.facts.maybe_word(owner, "kind")
    return "bunched" if form is None or form in ("trunking", "conduit") else otherwise


@kept
def ambient(study: Study, seat: Seat) -> Figure:
    """Air around a run, degC: the hottest of its own and its sections'."""
    own = study.facts.number(things.run(study, seat), "ambient_c", "degC", name="ta")
    i = study.case.installation
    held = [
        study.facts.number(things.containment(study, Seat(s)), "ambient_c", "degC", name="ta")
        for s in things.get_run(study, seat).through
        if s in i.containment
    ]
    return choose([own, *held], max, "hottest on its way", name="ta")


@kept
def third_share(study: Study, seat: Seat) -> Figure | None:
    """Third harmonic of a three-phase run in % of its line current; None where there is none."""
    if things.single(study, seat):
        return None
    loads = [x for x in loads_at(study, seat) if len(x.lines) == 1 and x.third_percent]
    line = demand(study, seat).worst
    if not loads or line <= 0:
        return None
    total = None
    for x in loads:
        assert x.third_percent is not None
        one = SUM_OF_THIRDS(x.third_percent, x.current_a)
        total = one if total is None else ADD(total, one)
    assert total is not None
    return THIRD_SHARE(total, line)


ADD = Formula("Ith = Ia + Ibb", "A", Ia="A", Ibb="A", source="triplen harmonics add arithmetically, IEC 60364-5-52 E")


@kept
def rating(study: Study, seat: Seat) -> Rating:
    """Tabulated and installed rating of a run."""
    r, f, owner = things.get_run(study, seat), study.facts, things.run(study, seat)
    if is_tapped(r):
        declared = f.number(owner, "in_a", "A", name="Iz")
        return Rating(declared, Factors(), declared, False)
    it = tabulated(study, seat)
    ca = cables.ambient_factor(insulation_c(study, seat), ambient(study, seat), "air", study.code.ambient_base)
    ci = None
    insulated = f.maybe(owner, "insulation_mm", "mm", name="Lins")
    if insulated is not None and insulated > 0:
        ci = cables.insulation_factor(insulated)
    ch, governs = None, False
    share = third_share(study, seat)
    if share is not None:
        row = cables.harmonic_neutral_factor(share)
        governs = row.size_on == "neutral"
        ch = row.factor
    factors = Factors(ca=ca, cg=group_factor(study, seat), ci=ci, ch=ch)
    return Rating(it, factors, installed_rating(it, factors), governs)


@kept
def takes(study: Study, seat: Seat) -> Figure:
    """Area that the cables of a run take in a containment, mm2. Raises Missing where no diameter is known."""
    k, s = kind(study, seat), csa(study, seat)
    n = 2 if things.single(study, seat) else 4
    owner = things.run(study, seat)
    if k.form == "singles":
        number = fact(f"{owner.at}.conductors", float(n + 1), "", "chosen", "lines, neutral, protective", name="n")
        return cable_area(sizes.single_diameter(s), number)
    held = study.facts.maybe(owner, "overall_mm", "mm", name="De")
    if held is not None:
        return cable_area(held)
    if k.form == "armoured":
        return cable_area(sizes.swa_diameter(n, s))
    if k.form == "flexible":
        return cable_area(sizes.flexible_diameter(n + 1, s))
    raise Missing(f"{owner.at}.overall_mm", "overall_mm (overall diameter of the cable)")


@kept
def section_room(study: Study, section: Seat) -> Figure:
    """Area that cables may take in a section, mm2."""
    owner = things.containment(study, section)
    width = study.facts.number(owner, "width_mm", "mm", name="w")
    depth = study.facts.number(owner, "depth_mm", "mm", name="d")
    return FILL_ALLOWED(study.code.limit("containment_fill"), inside_area(width, depth))


@kept
def account(study: Study, section: Seat) -> Ledger:
    """The ledger of a section: circuits, factor, fill, and how many more may join."""
    laid = []
    for seat in lying_in(study, section):
        above = things.device_above(study, seat)
        load = things.in_a(study, above) if above is not None else demand(study, seat).worst
        r = rating(study, seat)
        laid.append(Laid(seat, load, r.it, r.factors, takes(study, seat)))
    arrangement = _arrangement(study, section, "wall")
    return ledger(
        Section(section, tuple(laid), lambda n: cables.grouping_factor(arrangement, n), section_room(study, section))
    )
