"""What a run is made of: its kind of cable, conductors, lengths, and the impedances of its line and return."""

from __future__ import annotations

from typing import Final, NamedTuple

from relet.checks import things
from relet.checks.study import Study, kept
from relet.codes import CableKind
from relet.electrical.impedance import Impedance, conductor, series
from relet.model import Run, Seat
from relet.tables import cables
from relet.working import Figure, Formula, fact, lookup

TAPPED: Final = "tapped-run"
COLD: Final = "cold"
HOT: Final = "hot"

RESISTANCE = Formula(
    "R = R20 * (1 + alpha * (T - T0))", "mohm/m", R20="mohm/m", alpha="per K", T="degC", T0="degC",
    source="resistance at temperature, IEC 60228",
)  # fmt: skip
TIMES = Formula("R = R20 * Kt", "mohm/m", R20="mohm/m", Kt="", source="resistance at working temperature")


class Conductors(NamedTuple):
    """Per metre and whole impedances of a piece of run, ohm: line, neutral, protective conductor."""

    line: Impedance
    neutral: Impedance
    cpc: Impedance


class Segment(NamedTuple):
    """A piece of a run on the way to something: all of it, or up to a tap."""

    run: Seat
    length: Figure


def is_tapped(r: Run) -> bool:
    """True for a tapped run with declared data."""
    return r.tapped or r.cable == TAPPED


@kept
def kind(study: Study, seat: Seat) -> CableKind:
    """Kind of cable of a run, by the code pack."""
    return study.code.cable(things.get_run(study, seat).cable)


@kept
def insulation_c(study: Study, seat: Seat) -> Figure:
    """Working temperature that the insulation allows, degC."""
    k = kind(study, seat)
    row = f"{k.cable}: insulation_c"
    return lookup(f"{study.code.id} cable kinds", row, k.insulation_c, "degC", "M", "M+", k.mark, name="Tc")


@kept
def csa(study: Study, seat: Seat) -> Figure:
    """Line conductor, mm2. Plausible sizes go by the rating of the device above."""
    above = things.device_above(study, seat)
    case = f"{float(things.in_a(study, above)):g}" if above is not None else ""
    owner = things.run(study, seat)
    return study.facts.number(owner.cased(case), "csa_mm2", "mm2", name="S")


@kept
def cpc_csa(study: Study, seat: Seat) -> Figure | None:
    """Separate or core protective conductor, mm2; None where the armour alone serves."""
    owner = things.run(study, seat)
    if kind(study, seat).cpc == "armour" and not study.facts.says(owner, "cpc_mm2"):
        return None
    case = f"{float(csa(study, seat)):g}"
    return study.facts.number(owner.cased(case), "cpc_mm2", "mm2", name="Spe")


@kept
def length(study: Study, seat: Seat) -> Figure:
    """Length of a run, m."""
    owner = things.run(study, seat)
    r = things.get_run(study, seat)
    case = "drop" if r.from_ in study.case.installation.taps else "run"
    return study.facts.number(owner.cased(case), "length_m", "m", name="L")


@kept
def segments(study: Study, seat: Seat) -> tuple[Segment, ...]:
    """Pieces of run on the way from the origin to an element, in order."""
    path = study.feeds.path(seat)
    out: list[Segment] = []
    for n, s in enumerate(path):
        if s not in study.case.installation.runs:
            continue
        after = path[n + 1] if n + 1 < len(path) else None
        if after is not None and after in study.case.installation.taps:
            along = study.facts.number(things.tap(study, after), "along_m", "m", name="L")
            out.append(Segment(s, along))
        else:
            out.append(Segment(s, length(study, s)))
    return tuple(out)


def _per_metre(study: Study, seat: Seat, mm2: Figure) -> tuple[Figure, Figure]:
    k = kind(study, seat)
    r = cables.conductor_resistance(mm2, k.conductor_class)
    return r, cables.typical_reactance()


@kept
def conductors(study: Study, seat: Seat, along: Figure, state: str) -> Conductors:
    """Line, neutral and protective conductor over a length, cold (20 C) or hot (at working temperature)."""
    r = things.get_run(study, seat)
    owner, f = things.run(study, seat), study.facts
    if is_tapped(r):
        line_r = f.number(owner, "r_mohm_per_m", "mohm/m", name="R20")
        line_x = f.number(owner, "x_mohm_per_m", "mohm/m", name="X")
        pe_r = f.number(owner, "cpc_r_mohm_per_m", "mohm/m", name="Rpe20")
        pe_x = f.number(owner, "cpc_x_mohm_per_m", "mohm/m", name="Xpe")
        if state == HOT:
            top = f.number(owner, "max_conductor_c", "degC", name="Tc")
            alpha, t0 = cables.temperature_coefficient("copper"), study.code.limit("reference_c")
            line_r, pe_r = RESISTANCE(line_r, alpha, top, t0), RESISTANCE(pe_r, alpha, top, t0)
        line = conductor(line_r, line_x, along)
        return Conductors(line, line, conductor(pe_r, pe_x, along))
    k = kind(study, seat)
    line_r, line_x = _per_metre(study, seat, csa(study, seat))
    if state == HOT:
        line_r = RESISTANCE(
            line_r, cables.temperature_coefficient("copper"), insulation_c(study, seat), study.code.limit("reference_c")
        )
    line = conductor(line_r, line_x, along)
    pe = cpc_csa(study, seat)
    if pe is None:
        return Conductors(line, line, _armour(study, seat, along, state))
    pe_r, pe_x = _per_metre(study, seat, pe)
    if state == HOT and k.cpc == "armour":
        pe_r = TIMES(pe_r, cables.temperature_multiplier(k.insulation_c, "separate"))
    elif state == HOT:
        pe_r = RESISTANCE(
            pe_r, cables.temperature_coefficient("copper"), insulation_c(study, seat), study.code.limit("reference_c")
        )
    return Conductors(line, line, conductor(pe_r, pe_x, along))


def _armour(study: Study, seat: Seat, along: Figure, state: str) -> Impedance:
    cores = 3 if things.single(study, seat) else 4
    held = study.facts.maybe(things.run(study, seat), "cores", "")
    arm = cables.armour(int(held) if held is not None else cores, csa(study, seat))
    r = arm.resistance
    if state == HOT:
        r = TIMES(r, cables.temperature_multiplier(kind(study, seat).insulation_c, "armour"))
    return conductor(r, cables.armour_reactance(), along)


@kept
def path_conductors(study: Study, seat: Seat, state: str) -> Conductors | None:
    """Line, neutral and protective conductor from the origin to an element; None at the origin's own board."""
    parts = [conductors(study, s.run, s.length, state) for s in segments(study, seat)]
    if not parts:
        return None
    return Conductors(
        series(*(p.line for p in parts)), series(*(p.neutral for p in parts)), series(*(p.cpc for p in parts))
    )


NOTHING: Final = fact(
    "method.no_path", 0.0, "ohm", "chosen", "at the origin: no conductors of ours before it", name="Z0"
)
NO_LENGTH: Final = Impedance(NOTHING, NOTHING)
