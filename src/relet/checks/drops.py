"""Volt drop along the way to a point of use, by tabulated mV/A/m, and what a start adds.

Three-phase drops are turned to line to neutral before they are added. The current of a stretch is the demand of what
lies beyond it; along a tapped run it falls from tap to tap.
"""

from __future__ import annotations

from typing import NamedTuple

from relet.checks import things
from relet.checks.demand import demand, loads_at
from relet.checks.loads import voltages
from relet.checks.ratings import loading, table_of
from relet.checks.runs import csa, is_tapped, segments
from relet.checks.study import Study, kept
from relet.electrical.balance import line_currents
from relet.electrical.phasors import displacement
from relet.electrical.voltdrop import along, percent, rate, rate_of, tabulated, to_neutral
from relet.model import Seat
from relet.tables import cables
from relet.working import Figure, Formula, solved

STRETCH = Formula("L = b - a", "m", b="m", a="m", source="distance from tap to tap")
OF_SIZE = Formula(
    "r = 1000 * rho / S", "mohm/m", rho="ohm.mm2/m", S="mm2", source="IEC 60364-5-52 Annex G (from memory)"
)


class Stretch(NamedTuple):
    """A stretch of run with one current: where, how long, what flows, line-to-neutral drop."""

    run: Seat
    length: Figure
    current: Figure
    drop_v: Figure


@kept
def power_factor(study: Study, *seats: Seat) -> Figure:
    """Power factor of everything beyond, from the sum of active and apparent current."""
    loads = loads_at(study, *seats)
    active = sum(float(x.current_a) * float(x.pf) * len(x.lines) for x in loads)
    lines = line_currents(loads).lines if loads else ()
    apparent = sum(float(i) for i in lines)
    value = min(1.0, active / apparent) if apparent > 0 else 1.0
    given = tuple(f for x in loads for f in (x.current_a, x.pf))
    return solved(value, "", "active over phasor current of the loads beyond", 0.0, given, name="pf")


@kept
def rate_per_metre(study: Study, run: Seat, *beyond: Seat) -> Figure:
    """mV/A/m of a run for the loads beyond: z up to 16 mm2, r cos phi + x sin phi above."""
    owner, three = things.run(study, run), not things.single(study, run)
    phi = displacement(power_factor(study, *beyond))
    if is_tapped(things.get_run(study, run)):
        r = study.facts.number(owner, "r_mohm_per_m", "mohm/m", name="R")
        x = study.facts.number(owner, "x_mohm_per_m", "mohm/m", name="X")
        return rate(rate_of(r, three_phase=three), rate_of(x, three_phase=three), phi)
    s = csa(study, run)
    if study.code.has_limit("volt_drop_rho"):
        r = OF_SIZE(study.code.limit("volt_drop_rho"), s)
        x = study.code.limit("volt_drop_lambda")
        return rate(rate_of(r, three_phase=three), rate_of(x, three_phase=three), phi)
    name, method = table_of(study, run)
    v = cables.volt_drop(name, method, loading(study, run), s)
    if v.r is None or v.x is None or float(v.x) == 0:
        return v.z
    return rate(v.r, v.x, phi)


@kept
def _stretches_of(study: Study, run: Seat, whole: Figure, after: Seat | None) -> tuple[Stretch, ...]:
    """Stretches of one run on the way to what comes after it."""
    i = study.case.installation
    taps = sorted(
        (s for s in study.feeds.children.get(run, ()) if s in i.taps),
        key=lambda s: float(study.facts.number(things.tap(study, s), "along_m", "m", name="L")),
    )
    if not taps or after not in taps:
        return (_stretch(study, run, whole, (run,)),)
    out: list[Stretch] = []
    start: Figure | None = None
    for n, tap in enumerate(taps):
        at = study.facts.number(things.tap(study, tap), "along_m", "m", name="L")
        piece = at if start is None else STRETCH(at, start)
        out.append(_stretch(study, run, piece, tuple(taps[n:])))
        if tap == after:
            break
        start = at
    return tuple(out)


def _stretch(study: Study, run: Seat, piece: Figure, beyond: tuple[Seat, ...]) -> Stretch:
    current = demand(study, *beyond).worst
    if current <= 0 and beyond == (run,):
        above = things.device_above(study, run)
        if above is not None:
            current = things.in_a(study, above)
    drop = tabulated(rate_per_metre(study, run, *beyond), current, piece)
    return Stretch(run, piece, current, drop if things.single(study, run) else to_neutral(drop))


@kept
def stretches(study: Study, seat: Seat) -> tuple[Stretch, ...]:
    """Every stretch from the origin to an element."""
    path = study.feeds.path(seat)
    out: list[Stretch] = []
    for s in segments(study, seat):
        at = path.index(s.run)
        after = path[at + 1] if at + 1 < len(path) else None
        out.extend(_stretches_of(study, s.run, s.length, after))
    return tuple(out)


@kept
def drop_v(study: Study, seat: Seat) -> Figure | None:
    """Line-to-neutral drop from the origin to an element, V; None where no run lies between."""
    parts = stretches(study, seat)
    return along([s.drop_v for s in parts]) if parts else None


@kept
def drop_percent(study: Study, seat: Seat) -> Figure | None:
    """Drop from the origin to an element, % of U0."""
    v = drop_v(study, seat)
    return percent(v, voltages(study).u0) if v is not None else None
