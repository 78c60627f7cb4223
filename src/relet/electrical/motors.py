"""Starting: currents by kind of start, the voltage while it lasts, and short inrush against a magnetic trip.

Impedances are of one line, in ohm, for three-phase starts (voltages line to neutral) and of line and neutral together
for single-phase ones. Starting multiples and power factors come in as figures.
"""

from __future__ import annotations

from typing import Literal, NamedTuple

from relet.electrical.impedance import Impedance, parallel, series
from relet.electrical.phasors import Phasor, impedance_of
from relet.working import Figure, Formula, choose, solved

StartKind = Literal["none", "dol", "star-delta", "soft", "drive", "transformer-inrush", "capacitor"]

START = Formula("Istart = m * Ib", "A", m="", Ib="A", source="starting multiple of the machine's plate or kind")
STAR = Formula("Istart = Idelta / 3", "A", Idelta="A", source="star against delta: a third of the line current")
KVA_OF_LETTER = Formula("S = n * P", "kVA", n="kVA/hp", P="hp", source="locked-rotor code letter, NEMA MG 1")
SLIP_R = Formula("Rs = R / s", "ohm", R="ohm", s="", source="equivalent circuit of the induction motor")
LEFT_PERCENT = Formula("left = 100 * U / Un", "%", U="V", Un="V", source="voltage left, of the nominal")
DIP_PERCENT = Formula("dip = 100 * (U1 - U2) / Un", "%", U1="V", U2="V", Un="V", source="change of voltage")
DROP_PERCENT = Formula(
    "dip = 100 * sqrt(3) * I * (R * cos_deg(phi) + X * sin_deg(phi)) / U", "%",
    I="A", R="ohm", phi="deg", X="ohm", U="V", source="constant starting current, approximate drop",
)  # fmt: skip
TORQUE = Formula("T = (U / Un) ** 2", "", U="V", Un="V", source="torque of an induction motor goes with U squared")
PEAK_ALIKE = Formula(
    "Ipeak = sqrt(2) * m * Ib", "A", m="", Ib="A", source="inrush stated like for like: crest over crest of the current"
)
PEAK_OF_RMS = Formula("Ipeak = m * Ib", "A", m="", Ib="A", source="inrush crest stated over the r.m.s. current")
CHARGING = Formula(
    "Ipeak = sqrt(2) * U0 / Z", "A", U0="V", Z="ohm", source="empty capacitor at the crest: the loop alone limits it"
)
MAGNETIC_PEAK = Formula(
    "Imag = sqrt(2) * k * In", "A", k="", In="A", source="lower bound of the magnetic band (r.m.s.) as a crest value"
)
MAGNETIC_RMS = Formula("Imag = k * In", "A", k="", In="A", source="lower bound of the magnetic band, EN 60898-1")
MARGIN = Formula("margin = Imag / I", "", Imag="A", I="A", source="bound over current: not above 1 may trip")

# ---------- currents ----------


def start_current(running_a: Figure, multiple: Figure) -> Figure:
    """Line current while starting, A: multiple of the running current, as stated for the machine and its starter."""
    return START(multiple, running_a)


def star_delta_start(direct_a: Figure) -> Figure:
    """Line current of a star-delta start before the change-over, A: a third of the direct start.

    At the change-over a short peak can reach that of the direct start; protection is judged on both.
    """
    return STAR(direct_a)


def starting(
    kind: StartKind, running_a: Figure, multiple: Figure, *, multiple_is_direct: bool = False
) -> Figure | None:
    """Line current of a start that lasts (seconds), A; None for kinds that last milliseconds (see inrush_peak).

    multiple            of the running current, for the machine with its starter
    multiple_is_direct  it is that of the motor switched directly: a star-delta start then draws a third of it
    """
    if kind in ("transformer-inrush", "capacitor"):
        return None
    if kind == "none":
        return running_a
    current = start_current(running_a, multiple)
    return star_delta_start(current) if kind == "star-delta" and multiple_is_direct else current


def locked_rotor_kva(kva_per_hp: Figure, power_hp: Figure) -> Figure:
    """Apparent power at standstill, kVA, from a NEMA code letter; its current is currents.of_kva."""
    return KVA_OF_LETTER(kva_per_hp, power_hp)


# ---------- voltage while it lasts ----------


class Starting(NamedTuple):
    """A start seen from the supply: current, voltages line to neutral (single-phase: across the load).

    source_v     before the start, at the point behind the source impedance
    current_a    starting current as the lowered voltage lets it flow
    terminal_v   at the machine;  terminal_deg  its angle against the source
    origin_v     at the origin of the installation
    """

    source_v: Figure
    current_a: Figure
    terminal_v: Figure
    terminal_deg: Figure
    origin_v: Figure


def machine_at_start(voltage_v: Figure, start_a: Figure, phi: Figure) -> Impedance:
    """Impedance that draws the starting current at the nominal voltage (line to neutral for three-phase)."""
    return impedance_of(voltage_v, start_a, phi)


def machine_of_circuit(stator: Impedance, magnetizing: Impedance, rotor: Impedance, slip: Figure) -> Impedance:
    """Impedance of an induction motor from its equivalent circuit at a slip (1: standstill), ohm per phase."""
    return series(stator, parallel(magnetizing, Impedance(SLIP_R(rotor.r, slip), rotor.x)), source="in series")


def start_through(
    source_v: Figure, source: Impedance, path: Impedance, machine: Impedance, standing: Phasor | None = None
) -> Starting:
    """Voltages and current of a start behind source and path, the machine taken as an impedance.

    source_v  voltage behind the source impedance (line to neutral; single-phase: line to neutral with loop impedances)
    standing  current that other loads draw at the origin meanwhile, A, as a phasor against the source voltage
    source    circuit theory
    """
    e = float(source_v) - (standing.value if standing is not None else 0j) * complex(source.r, source.x)
    zs, zp, zm = (complex(z.r, z.x) for z in (source, path, machine))
    current = e / (zs + zp + zm)
    origin, terminal = e - current * zs, current * zm
    given = (source_v, *source, *path, *machine, *(standing or ()))
    left = abs(origin - current * zp - terminal) / float(source_v)
    how = "start behind source and path, machine as an impedance"

    def figure(value: complex, unit: str, name: str) -> Figure:
        return solved(abs(value), unit, how, left, given, name=name)

    at = Phasor(
        solved(terminal.real, "V", how, left, given, name="Ure"),
        solved(terminal.imag, "V", how, left, given, name="Uim"),
    )
    return Starting(
        source_v, figure(current, "A", "Istart"), figure(terminal, "V", "Uterminal"), at.angle,
        figure(origin, "V", "Uorigin"),
    )  # fmt: skip


def left_percent(voltage_v: Figure, nominal_v: Figure) -> Figure:
    """Voltage left during a start, % of the nominal, to be held against the machine's need."""
    return LEFT_PERCENT(voltage_v, nominal_v)


def dip_percent(before_v: Figure, during_v: Figure, nominal_v: Figure) -> Figure:
    """Change of voltage at a point by a start, % of the nominal: what a network operator limits at the origin."""
    return DIP_PERCENT(before_v, during_v, nominal_v)


def constant_current_dip_percent(start_a: Figure, path: Impedance, phi: Figure, line_v: Figure) -> Figure:
    """Dip along a path in % of the line voltage with the starting current taken as constant: never low."""
    return DROP_PERCENT(start_a, path.r, phi, path.x, line_v)


def torque_share(voltage_v: Figure, nominal_v: Figure) -> Figure:
    """Share of the starting torque that is left at a lowered voltage."""
    return TORQUE(voltage_v, nominal_v)


# ---------- inrush of milliseconds ----------

Stated = Literal["alike", "crest of rms"]


def inrush_peak(running_a: Figure, multiple: Figure, stated: Stated = "alike") -> Figure:
    """Crest of a transformer's or rectifier's inrush, A.

    stated  how the multiple is meant: crest over crest ("alike", the cautious reading of an unclear plate), or crest
            over the r.m.s. current ("crest of rms")
    """
    return (PEAK_OF_RMS if stated == "crest of rms" else PEAK_ALIKE)(multiple, running_a)


def charging_peak(u0_v: Figure, loop_ohm: Figure, declared_a: Figure | None = None) -> Figure:
    """Crest of the charging current of an empty capacitor, A: what the loop lets pass, or less where declared.

    loop_ohm  least impedance of the loop to it (cold, greatest source)
    """
    most = CHARGING(u0_v, loop_ohm)
    return most if declared_a is None else choose([most, declared_a], min, "the loop allows no more than the lesser")


def magnetic_peak(lower_multiple: Figure, in_a: Figure) -> Figure:
    """Crest value up to which a breaker surely holds, A: sqrt2 times the lower bound of its magnetic band."""
    return MAGNETIC_PEAK(lower_multiple, in_a)


def magnetic_rms(lower_multiple: Figure, in_a: Figure) -> Figure:
    """R.m.s. current up to which a breaker's magnetic trip surely holds, A: for starts that last."""
    return MAGNETIC_RMS(lower_multiple, in_a)


def magnetic_margin(bound_a: Figure, current_a: Figure) -> Figure:
    """Bound over current, both crest or both r.m.s.; not above 1: it may trip on the start."""
    return MARGIN(bound_a, current_a)
