"""What machines and fixed loads draw, on which lines, and how they start."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Final, NamedTuple

from relet.checks import things
from relet.checks.facts import Missing, Owner
from relet.checks.study import Study, kept
from relet.checks.things import Line
from relet.electrical.currents import Connection, design_current, effective_current, line_voltage
from relet.electrical.topology import machine_seat
from relet.model import Seat
from relet.working import Figure, Word

_POLES: Final = {"1ph": "2P+E", "3ph": "3P+N+E"}
MOTOR_STARTS: Final = frozenset({"dol", "star-delta", "soft", "drive"})


@dataclass(frozen=True, slots=True)
class Drawn:
    """What one machine or fixed load draws.

    id          machine id or seat of the load
    lines       lines it draws from; empty while it is not plugged in and single-phase
    current_a   running current at rated power, A per line (the peak of an intermittent load)
    heats_a     current that heats conductors like it: over its duty cycle
    pf          power factor
    start       how it starts; start_multiple of the running current
    chance      chance that it draws its rated power at a random working moment
    """

    id: str
    name: str
    connection: Connection
    lines: tuple[Line, ...]
    current_a: Figure
    heats_a: Figure
    pf: Figure
    start: Word
    start_multiple: Figure
    chance: Figure
    third_percent: Figure
    leak_ma: Figure
    rcd_type: Word
    continuous: bool
    together: str
    lighting: bool = False

    @property
    def is_motor(self) -> bool:
        """True for what turns."""
        return str(self.start) in MOTOR_STARTS

    @property
    def is_heater(self) -> bool:
        """True for what heats for long: it comes on with its start group."""
        return not self.is_motor and (self.continuous or bool(self.together))


class Voltages(NamedTuple):
    """Nominal voltages, V: line to neutral and line to line."""

    u0: Figure
    u: Figure


@kept
def voltages(study: Study) -> Voltages:
    """Nominal voltages of the supply. A stated line-to-earth voltage alone gives sqrt3 times itself."""
    s = things.supply(study)
    u0 = study.facts.number(s, "u0_v", "V", name="U0")
    if study.facts.says(s, "u0_v") and not study.facts.says(s, "u_v"):
        return Voltages(u0, line_voltage(u0))
    return Voltages(u0, study.facts.number(s, "u_v", "V", name="U"))


@kept
def machine(study: Study, id: str) -> Drawn:
    """What a machine draws. Raises Missing when neither current nor power is held."""
    owner, m = things.machine(study, id), things.machines(study)[id]
    f = study.facts
    seat = machine_seat(id)
    fed = seat in study.feeds.parent
    phases = f.maybe(owner, "phases", "")
    three = phases is not None and phases >= 3
    two = bool(f.yes(owner, "two_lines"))
    connection: Connection = "three" if three else "two lines" if two else "single"
    if three:
        on: tuple[Line, ...] = (0, 1, 2)
    elif fed:
        reach = things.lines(study, seat)
        on = reach[:2] if two else reach[:1]
    else:
        on = ()
    v = voltages(study)
    pf = f.number(owner, "pf", "")
    current = _current(study, owner, connection, v.u0 if connection == "single" else v.u, pf)
    duty = f.number(owner, "duty_percent", "%", name="X")
    heats = effective_current(current, duty) if duty < 100 else current
    start = f.word(owner, "start")
    return Drawn(
        id, m.name, connection, on, current, heats, pf, start,
        f.number(owner.cased(str(start)), "start_multiple", "", name="m"),
        f.number(owner, "on_probability", "", name="p"),
        f.number(owner, "thd3_percent", "%", name="h3"), f.number(owner, "leak_ma", "mA", name="Ileak"),
        f.word(owner, "rcd_type"), bool(f.yes(owner, "continuous")), str(f.maybe_word(owner, "together") or ""),
    )  # fmt: skip


@kept
def load(study: Study, seat: Seat) -> Drawn:
    """What a fixed load draws."""
    owner, held = things.load(study, seat), study.case.installation.loads[seat]
    f = study.facts
    on = things.lines(study, seat)
    connection: Connection = "three" if len(on) == 3 else "single"
    v = voltages(study)
    pf = f.number(owner, "pf", "")
    current = _current(study, owner, connection, v.u0 if connection == "single" else v.u, pf)
    return Drawn(
        seat, held.name, connection, on, current, current, pf, f.word(owner, "start"),
        f.number(owner, "start_multiple", "", name="m"),
        f.number(owner, "on_probability", "", name="p"), f.number(owner, "third_harmonic_percent", "%", name="h3"),
        f.number(owner, "leak_ma", "mA", name="Ileak"), f.word(owner, "rcd_type"), True, "", "light" in held.serves,
    )  # fmt: skip


def _current(study: Study, owner: Owner, connection: Connection, voltage: Figure, pf: Figure) -> Figure:
    f = study.facts
    said = {n for n in ("current_a", "power_w", "shaft_kw") if f.says(owner, n)}
    if "current_a" in said:
        return design_current(connection, voltage, current_a=f.number(owner, "current_a", "A", name="Ib"))
    if "shaft_kw" in said and "power_w" not in said:
        shaft = f.number(owner, "shaft_kw", "kW", name="Pshaft")
        eta = f.number(owner, "efficiency", "", name="eta")
        return design_current(connection, voltage, shaft_kw=shaft, pf=pf, efficiency=eta)
    power = f.maybe(owner.cased(_plug_case(study, owner)), "power_w", "W", name="P")
    if power is None:
        raise Missing(f"{owner.at}.power_w", "power_w")
    return design_current(connection, voltage, power_w=power, pf=pf)


def _plug_case(study: Study, owner: Owner) -> str:
    """What narrows the plausible power of a machine: its plug, else its phases."""
    if owner.of != "machine":
        return owner.case
    plug, phases = study.facts.maybe_word(owner, "plug"), study.facts.maybe(owner, "phases", "")
    amperes, _, poles = str(plug or "").rpartition(" A ")
    if plug == "13 A":
        return str(plug)
    if amperes and poles in _POLES:
        return f"60309 {amperes} A {_POLES[poles]}"
    return f"{float(phases):g}" if phases is not None else ""


@kept
def below(study: Study, seat: Seat) -> tuple[Drawn, ...]:
    """Everything that draws through an element, machines and fixed loads, by id."""
    own = [machine(study, m) for m in things.machines_below(study, seat)]
    return (*own, *(load(study, s) for s in things.loads_below(study, seat)))


@kept
def everything(study: Study) -> tuple[Drawn, ...]:
    """Everything of the case, plugged in or not."""
    own = [machine(study, m) for m in things.machines(study)]
    return (*own, *(load(study, s) for s in study.case.installation.loads))
