"""Fault currents: what a device must break, whether it opens in time, whether the conductors survive."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass

from relet.checks import things
from relet.checks.circuits import circuit_class
from relet.checks.facts import Missing
from relet.checks.findings import Judged, NotApplicable, at_least, at_most, worst
from relet.checks.loads import voltages
from relet.checks.loops import (
    IN_A,
    Loop,
    band,
    energy_band,
    greatest,
    greatest_earth,
    icn,
    least_earth,
    least_short,
    loop,
)
from relet.checks.register import family, rule
from relet.checks.runs import cpc_csa, csa, is_tapped, kind
from relet.checks.study import Study
from relet.codes import Code
from relet.electrical.adiabatic import Heating, heating
from relet.electrical.bands import Band
from relet.electrical.devices import residual
from relet.electrical.faults import Fault, loop_limit
from relet.model import Seat
from relet.tables import cables
from relet.working import Figure, Formula, choose

RCD_LIMIT = Formula(
    "Zsmax = 1000 * Utouch / IdN", "ohm", Utouch="V", IdN="mA",
    source="BS 7671 411.5.3 and 411.4.4 with a residual current device (from memory)",
)  # fmt: skip


@dataclass(frozen=True, slots=True)
class Breaking:
    """A device and the greatest current it may have to break or bear."""

    seat: str
    kind: str
    fault: Fault
    capacity: Figure
    conditional: bool
    upstream: Figure | None
    backup: Figure | None


def _devices(study: Study) -> Iterable[str]:
    return tuple(s for s in study.case.installation.devices if study.feeds.fed(s))


@family("breaking", subjects=_devices, none="no device is fed from the origin")
def breaking(study: Study, subject: str) -> Breaking | NotApplicable:
    """Greatest prospective current at a device, and its capacity."""
    seat = Seat(subject)
    owner, kind_ = things.device(study, seat), things.device_kind(study, seat)
    if kind_ == "contactor":
        return NotApplicable("a contactor breaks no fault; its back-up is judged with its device")
    fault = greatest(study, seat)
    if kind_ in things.OVERCURRENT:
        capacity = study.facts.number(owner, "icn_ka", "kA", name="Icn")
        return Breaking(subject, kind_, fault, capacity, False, None, None)
    field = "inc_ka" if kind_ == "rccb" else "icc_ka"
    capacity = study.facts.number(owner, field, "kA", name="Icc")
    above = things.device_above(study, seat)
    upstream = things.in_a(study, above) if above is not None else _cut_out(study)
    return Breaking(
        subject, kind_, fault, capacity, True, upstream, study.facts.maybe(owner, "backup_max_a", "A", name="Ibackup")
    )


def _cut_out(study: Study) -> Figure:
    return study.facts.number(things.supply(study), "cut_out_fuse_a", "A", name="In")


@rule("fault.breaking_capacity")
def breaking_capacity(c: Breaking, code: Code) -> Judged | NotApplicable:
    """The greatest prospective current at a device is within what it can break, or bear behind its back-up."""
    what = "conditional short-circuit rating" if c.conditional else "rated short-circuit capacity"
    current = at_most(c.fault.current_ka, c.capacity, f"Greatest prospective current at the device against its {what}.")
    if c.backup is not None and c.upstream is not None:
        behind = at_most(
            c.upstream, c.backup, "The device upstream may not be larger than the back-up that its rating needs."
        )
        return worst(current, behind)
    return current


@dataclass(frozen=True, slots=True)
class EarthLoop:
    """The end of a circuit and what clears an earth fault there.

    device       overcurrent device that protects it, with its band
    residual     rated residual current of the nearest residual-current device in the path, if any, with its band
    """

    seat: str
    loop: Loop
    u0: Figure
    device: str
    band: Band
    within: Figure
    class_words: str
    residual: Figure | None
    residual_band: Band | None
    rests: tuple[Figure, ...]


def _loops(study: Study) -> Iterable[str]:
    i = study.case.installation
    runs = [s for s in i.runs if study.feeds.fed(s)]
    inside = [s for s, o in i.outlets.items() if o.behind is not None and study.feeds.fed(s)]
    return (*runs, *inside)


@family("earth loop", subjects=_loops, none="no circuit is fed from the origin")
def earth_loop(study: Study, subject: str) -> EarthLoop | NotApplicable:
    """Loop at the end of a run or at an outlet of an assembly, and the device that must open."""
    seat = Seat(subject)
    above = things.device_above(study, seat)
    if above is None:
        return NotApplicable("fed straight from the origin: the cut-out is the network operator's")
    rests: list[Figure] = []
    cls = circuit_class(study, seat)
    idn: Figure | None = None
    by_residual: Band | None = None
    found = [s for s in study.feeds.devices_on(seat) if things.is_residual(study, s)]
    if found:
        nearest = things.device(study, found[-1])
        idn = study.facts.number(nearest, "idn_ma", "mA", name="IdN")
        delay = study.facts.word(nearest, "rcd_delay")
        by_residual = residual(idn, "general" if delay == "none" else str(delay))
        rests.append(delay.figure)
    if things.device_kind(study, above) != "fuse-switch":
        rests.append(things.curve(study, above).figure)
    return EarthLoop(
        subject, loop(study, seat), voltages(study).u0, above, band(study, above), cls.within, cls.words, idn,
        by_residual, (*rests, *cls.rests),
    )  # fmt: skip


@rule("fault.disconnection")
def disconnection(c: EarthLoop, code: Code) -> Judged | NotApplicable:
    """An earth fault at the far end is cleared within the time that the class of the circuit allows.

    By the overcurrent device where it is quick enough, else by the residual-current device.
    """
    ia = c.band.trips_within(c.within)
    by_device = at_most(
        c.loop.zs, loop_limit(code.limit("c_min"), c.u0, ia),
        f"Loop impedance of the {c.class_words}, opened by {c.device} within {float(c.within):g} s.", rests=c.rests,
    )  # fmt: skip
    if by_device.meets or c.residual is None or c.residual_band is None:
        return by_device
    limits = (
        RCD_LIMIT(code.limit("touch_voltage_v"), c.residual),
        loop_limit(code.limit("c_min"), c.u0, c.residual_band.trips_within(c.within)),
    )
    limit = choose(limits, min, "the smaller of touch voltage and a current that opens it in time", name="Zsmax")
    by_residual = at_most(
        c.loop.zs, limit,
        f"Loop impedance of the {c.class_words}, opened by its residual-current device within {float(c.within):g} s.",
        rests=c.rests,
    )  # fmt: skip
    return by_residual if by_residual.margin > by_device.margin else by_device


@dataclass(frozen=True, slots=True)
class Heated:
    """One conductor of a run under fault.

    name         "line" or "protective"
    least        least fault current through it, A
    found        what the search over the range of fault current found
    other_opens  another device (residual current) opens where the overcurrent device is slow
    unlimited    address of the maker's let-through where it is not held, else "": a class limit or the bound of the
                 band can show that a conductor survives, never that it does not
    """

    name: str
    least: Figure
    found: Heating
    other_opens: bool
    unlimited: str


@dataclass(frozen=True, slots=True)
class HeatedRun:
    """A run under fault: its conductors, and the device that sees the fault."""

    seat: str
    device: str
    conductors: tuple[Heated, ...]
    rests: tuple[Figure, ...]


def _runs(study: Study) -> Iterable[str]:
    return tuple(s for s in study.case.installation.runs if study.feeds.fed(s))


@family("heated run", subjects=_runs, none="no run is fed from the origin")
def heated_run(study: Study, subject: str) -> HeatedRun | NotApplicable:
    """Search the range of fault current of a run for the point that heats each conductor most."""
    seat = Seat(subject)
    if is_tapped(things.get_run(study, seat)):
        return NotApplicable("a tapped run: its maker declares what it bears in a fault")
    above = things.device_above(study, seat)
    if above is None:
        return NotApplicable("fed straight from the origin: the cut-out is the network operator's")
    k, one, start = kind(study, seat), energy_band(study, above), study.feeds.parent[seat]
    longest = study.code.limit("adiabatic_up_to_s")
    guarded = any(things.is_residual(study, s) for s in study.feeds.devices_on(seat))
    least = least_short(study, seat).current_a
    k_line = cables.k_factor("copper", k.insulation, "live")
    fuse = things.device_kind(study, above) == "fuse-switch"
    declared = fuse or study.facts.says(things.device(study, above), "i2t_a2s")
    unlimited = "" if declared else f"{things.device(study, above).at}.i2t_a2s"

    def most(fault: Figure) -> Figure:
        capacity = IN_A(icn(study, above))
        return choose((fault, capacity), min, "not above what the device breaks: that is judged by itself", name="I")

    line = heating([one], least, most(greatest(study, start).current_a), k_line, csa(study, seat), longest)
    least_pe = least_earth(study, seat).current_a
    k_pe, area = _protective(study, seat)
    protective = heating([one], least_pe, most(greatest_earth(study, start).current_a), k_pe, area, longest)
    rests = () if fuse else (things.curve(study, above).figure,)
    both = (
        Heated("line", least, line, False, unlimited),
        Heated("protective", least_pe, protective, guarded, unlimited),
    )
    return HeatedRun(subject, above, both, rests)


def _protective(study: Study, seat: Seat) -> tuple[Figure, Figure]:
    """k and area of the protective conductor: a copper one, else the armour."""
    k, pe = kind(study, seat), cpc_csa(study, seat)
    if pe is not None:
        return cables.k_factor("copper", k.insulation, "separate" if k.cpc == "armour" else k.use_cpc), pe
    arm = cables.armour(3 if things.single(study, seat) else 4, csa(study, seat))
    area = things.need(arm.area, f"{things.run(study, seat).at}.cpc_mm2", "area of the armour")
    return cables.k_factor("steel", k.insulation, "armour"), area


@rule("fault.conductor_heating")
def conductor_heating(c: HeatedRun, code: Code) -> Judged:
    """At every fault current between the least and the greatest the conductors bear what the device lets through."""
    judged: list[Judged] = []
    for h in c.conductors:
        w = h.found.worst
        if w is not None:
            words = (
                f"Energy that {c.device} lets through against what the {h.name} conductor bears, at its worst current."
            )
            one = at_most(w.energy_a2s, w.withstand_a2s, words, w.current_a, rests=c.rests)
            if not one.meets and h.unlimited:
                raise Missing(h.unlimited, "i2t_a2s (let-through at its short-circuit capacity, declared by its maker)")
            judged.append(one)
        if not h.other_opens:
            words = f"Least fault current in the {h.name} conductor against what {c.device} surely clears in time."
            judged.append(at_least(h.least, h.found.clears_from, words, rests=c.rests))
    return worst(*judged)
