"""Fault currents and loop impedances at the elements of a case.

Two sources are kept apart: Ze with its earth loop for disconnection, and the prospective current for breaking capacity.
The angle of both is an interval unless somebody says better.
"""

from __future__ import annotations

from typing import NamedTuple

from relet.checks import things
from relet.checks.loads import voltages
from relet.checks.runs import COLD, HOT, NO_LENGTH, path_conductors
from relet.checks.study import Study, kept
from relet.electrical.bands import Band, LetThrough
from relet.electrical.devices import breaker, fuse_gg
from relet.electrical.faults import (
    Fault,
    Source,
    emf,
    greatest_fault,
    greatest_loop,
    least_fault,
    source_of_current,
    source_of_impedance,
    three_phase_of,
)
from relet.electrical.impedance import Impedance, series
from relet.model import Seat
from relet.working import Figure, Formula

WITH_RETURN = Formula("Zln = 2 * Zph", "ohm", Zph="ohm", source="line and neutral alike")
IN_A = Formula("Icn = 1000 * Ickn", "A", Ickn="kA", source="turn of unit")


class Loop(NamedTuple):
    """Loop of an earth fault at an element: total, and what is inside the installation."""

    zs: Figure
    total: Impedance
    angle: Figure


@kept
def earth_source(study: Study) -> Source:
    """Earth-loop source: Ze with an interval of angle."""
    s, f = things.supply(study), study.facts
    ze = f.number(s, "ze_ohm", "ohm", name="Ze")
    low, high = f.number(s, "angle_low_deg", "deg", name="alow"), f.number(s, "angle_high_deg", "deg", name="ahigh")
    return source_of_impedance(ze, ze, emf(study.code.limit("c_max"), voltages(study).u0), low, high)


@kept
def line_source(study: Study) -> Source:
    """Line-neutral source for the greatest fault: the prospective current as read or declared."""
    s, f = things.supply(study), study.facts
    three = str(f.word(s, "ipf_of")) == "three-phase"
    ipf = f.number(s.cased("3" if three else "1"), "ipf_ka", "kA", name="Ipf")
    low, high = f.number(s, "angle_low_deg", "deg", name="alow"), f.number(s, "angle_high_deg", "deg", name="ahigh")
    return source_of_current(ipf, ipf, emf(study.code.limit("c_max"), voltages(study).u0), low, high)


@kept
def greatest(study: Study, seat: Seat) -> Fault:
    """Greatest prospective current at an element, conductors cold: three-phase where three lines reach it."""
    path = path_conductors(study, seat, COLD)
    source = line_source(study)
    said_three = str(study.facts.word(things.supply(study), "ipf_of")) == "three-phase"
    if things.single(study, seat):
        loop = series(path.line, path.neutral) if path is not None else NO_LENGTH
        return greatest_fault(source, loop)
    per_phase = source if said_three else three_phase_of(source)
    return greatest_fault(per_phase, path.line if path is not None else NO_LENGTH)


@kept
def loop(study: Study, seat: Seat) -> Loop:
    """Greatest earth-fault loop at an element, conductors hot."""
    path = path_conductors(study, seat, HOT)
    inside = series(path.line, path.cpc) if path is not None else NO_LENGTH
    whole, angle = greatest_loop(earth_source(study), inside)
    return Loop(whole.z, whole, angle)


@kept
def least_earth(study: Study, seat: Seat) -> Fault:
    """Least earth-fault current at an element, conductors hot."""
    path = path_conductors(study, seat, HOT)
    inside = series(path.line, path.cpc) if path is not None else NO_LENGTH
    return least_fault(earth_source(study), inside, study.code.limit("c_min"), voltages(study).u0)


@kept
def neutral_source(study: Study) -> Source:
    """What stands behind the origin between line and neutral where it weakens a fault or dips at a start.

    With a protective conductor from the operator (TN) the impedance of the earth loop: the neutral of a public supply
    is at least as good. In TT the earth loop runs through electrodes and says nothing of the neutral: the prospective
    current, half of it between line and neutral where it was given for three phases.
    """
    s, f = things.supply(study), study.facts
    if f.word(s, "earthing") != "TT":
        return earth_source(study)
    source = line_source(study)
    if str(f.word(s, "ipf_of")) != "three-phase":
        return source
    return source._replace(low_ohm=WITH_RETURN(source.low_ohm), high_ohm=WITH_RETURN(source.high_ohm))


@kept
def least_short(study: Study, seat: Seat) -> Fault:
    """Least short-circuit between line and neutral at an element, conductors hot."""
    path = path_conductors(study, seat, HOT)
    inside = series(path.line, path.neutral) if path is not None else NO_LENGTH
    return least_fault(neutral_source(study), inside, study.code.limit("c_min"), voltages(study).u0)


@kept
def greatest_earth(study: Study, seat: Seat) -> Fault:
    """Greatest earth-fault current at an element, conductors cold, by the prospective current at the origin."""
    path = path_conductors(study, seat, COLD)
    inside = series(path.line, path.cpc) if path is not None else NO_LENGTH
    return greatest_fault(line_source(study), inside)


@kept
def icn(study: Study, seat: Seat) -> Figure:
    """Rated short-circuit capacity of a device, kA."""
    return study.facts.number(things.device(study, seat), "icn_ka", "kA", name="Icn")


@kept
def band(study: Study, seat: Seat) -> Band:
    """Time-current band of an overcurrent device, without limits of its let-through."""
    rated, letter = things.in_a(study, seat), things.curve(study, seat)
    if things.device_kind(study, seat) == "fuse-switch" or letter == "gG":
        return fuse_gg(rated)
    return breaker(rated, str(letter))


@kept
def energy_band(study: Study, seat: Seat) -> Band:
    """The band with what is known of its let-through: declared by its maker, else the limit of its class."""
    plain = band(study, seat)
    if things.device_kind(study, seat) == "fuse-switch" or things.curve(study, seat) == "gG":
        return plain
    owner, f = things.device(study, seat), study.facts
    up_to = IN_A(icn(study, seat))
    declared = f.maybe(owner, "i2t_a2s", "A2s", name="I2t")
    if declared is not None:
        return plain.with_energies([LetThrough(up_to, declared)])
    held = f.maybe(owner, "energy_class", "")
    letter = str(things.curve(study, seat))
    return breaker(things.in_a(study, seat), letter, icn_a=up_to, energy_class=int(held) if held is not None else None)
