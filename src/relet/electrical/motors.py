"""Starting: its current, and the voltage while it lasts.

Impedances are of one line, in ohm, for three-phase starts (voltages line to neutral) and of line and neutral together
for single-phase ones. Starting multiples and power factors come in as figures.
"""

from __future__ import annotations

from typing import NamedTuple

from relet.electrical.impedance import Impedance, parallel, series
from relet.electrical.phasors import Phasor
from relet.working import Figure, Formula, solved

START = Formula("Istart = m * Ib", "A", m="", Ib="A", source="starting multiple of the machine's plate or kind")
KVA_OF_LETTER = Formula("S = n * P", "kVA", n="kVA/hp", P="hp", source="locked-rotor code letter, NEMA MG 1")
SLIP_R = Formula("Rs = R / s", "ohm", R="ohm", s="", source="equivalent circuit of the induction motor")

# ---------- currents ----------


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
