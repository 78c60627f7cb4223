"""What a motor's start does: at its terminals, and at the origin where everybody else hangs too."""

from __future__ import annotations

from typing import NamedTuple

from relet.checks import things
from relet.checks.drops import drop_percent
from relet.checks.loads import machine, voltages
from relet.checks.loops import neutral_source
from relet.checks.runs import HOT, NOTHING, path_conductors
from relet.checks.study import Study, kept
from relet.electrical.faults import three_phase_of
from relet.electrical.impedance import series
from relet.electrical.phasors import displacement
from relet.electrical.voltdrop import approximate, percent
from relet.model import Seat
from relet.working import Figure, Formula

STARTING = Formula("Istart = m * Ib", "A", m="", Ib="A", source="starting current as a multiple of running current")
AT_SOURCE = Formula(
    "Vs = I * Z", "V", I="A", Z="ohm",
    source="dip behind a source whose angle is not known: all of it in line with the voltage",
)  # fmt: skip
LEFT = Formula(
    "Uleft = 100 - dorigin - dpath - drest", "%", dorigin="%", dpath="%", drest="%",
    source="voltage left: dip at the origin, along the path, and what runs besides",
)  # fmt: skip


class Start(NamedTuple):
    """Voltage left at the terminals and dip at the origin while a machine starts, % of U0."""

    current: Figure
    left_percent: Figure
    origin_percent: Figure


@kept
def start(study: Study, id: str) -> Start:
    """A machine's start through the source and its path, with everything else running.

    The source behind the origin is that between line and neutral, see neutral_source().
    """
    d, v = machine(study, id), voltages(study)
    outlet = things.plugged(study, id)
    assert outlet is not None
    seat = Seat(outlet)
    current = STARTING(d.start_multiple, d.current_a)
    loop_source = neutral_source(study)
    source = three_phase_of(loop_source) if d.connection == "three" else loop_source
    origin = percent(AT_SOURCE(current, source.high_ohm), v.u0)
    path = path_conductors(study, seat, HOT)
    phi = displacement(study.facts.number(things.machine(study, id), "start_pf", "", name="pfstart"))
    nothing = percent(AT_SOURCE(current, NOTHING), v.u0)
    along = nothing
    if path is not None:
        z = path.line if d.connection == "three" else series(path.line, path.neutral)
        along = percent(approximate(current, z, phi), v.u0)
    rest = drop_percent(study, seat)
    return Start(current, LEFT(origin, along, rest if rest is not None else nothing), origin)
