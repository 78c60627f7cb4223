"""What each machine asks of the outlet that feeds it, at the worse end of everything not known."""

from __future__ import annotations

import cmath
import math
import re
from dataclasses import dataclass

from relet.codes import Code
from relet.errors import OutsideTable
from relet.model import Machine, Open, Point, Tenancy, Unit
from relet.planning import held
from relet.tables.assemblies import ingress_needed
from relet.tables.core import table
from relet.tables.machines import zone_codes

_LINE_V = math.sqrt(3)
RCD_TYPES = ("AC", "A", "F", "B")
"""Each suits what the ones before it suit."""


@dataclass(frozen=True)
class Plug:
    """What is on the end of a machine's lead: form "1363", "60309", "fixed" or "" (free to choose); 0: any rating."""

    form: str = ""
    in_a: float = 0.0
    phases: int = 0
    neutral: bool | None = None


@dataclass(frozen=True)
class Ip:
    """Ingress numerals that are asked for: first (solids) and second (water)."""

    solid: int = 0
    water: int = 0

    def with_(self, other: Ip) -> Ip:
        """The worse of two in each numeral."""
        return Ip(max(self.solid, other.solid), max(self.water, other.water))

    def met_by(self, *codes: int) -> bool:
        """True if a part with these declared codes (44; 66 and 67) suits. 67 alone says nothing of jets."""
        first = max((c // 10 for c in codes), default=0) >= self.solid
        seconds = [c % 10 for c in codes]
        if self.water <= 4:
            return first and max(seconds, default=0) >= self.water
        if self.water <= 6:
            return first and any(self.water <= s <= 6 or s == 9 for s in seconds)
        return first and any(s >= self.water for s in seconds)


@dataclass(frozen=True)
class Need:
    """One machine of one tenancy.

    id           "tenancy.machine"
    ib_a         line current at rated power
    heats_a      current that heats conductors like it over its duty cycle, at an angle of acos(pf)
    restarts     it comes back by itself after a loss of supply: the case that governs feeds and assemblies
    start_a      greatest current while it starts
    outlets      outlets it needs beside one another
    """

    id: str
    tenancy: str
    machine: str
    name: str
    at_m: Point
    phases: int
    ib_a: float
    heats_a: float
    pf: float
    restarts: bool
    start_a: float
    plug: Plug
    lead_m: float
    leak_ma: float
    rcd_type: str
    ip: Ip
    motor_w: float
    long: bool
    outlets: int

    @property
    def phasor(self) -> complex:
        """What it draws when supply comes back, in its own line's frame; nothing if it waits to be started."""
        return cmath.rect(self.heats_a, -math.acos(min(1.0, self.pf))) if self.restarts else 0j

    def demand_a(self, angle: float) -> float:
        """Its part in a sum of phasors seen along an angle: never more than its part in the sum's magnitude."""
        return self.heats_a * math.cos(math.acos(min(1.0, self.pf)) - angle) if self.restarts else 0.0


def needs_of(tenancy: Tenancy, unit: Unit, code: Code, height_m: float) -> tuple[Need, ...]:
    """The needs of every machine of a tenancy, in order of machine; outlets hang at a height."""
    return tuple(need_of(tenancy, m, unit, code, height_m) for m in tenancy.machines.values())


def need_of(tenancy: Tenancy, machine: Machine, unit: Unit, code: Code, height_m: float) -> Need:
    """What one machine asks for."""
    f = machine.facts
    plug = plug_of(held.words(f, "plug", code, "machine"))
    phases = int(held.number(f, "phases", code, "machine") or plug.phases or 3)
    start = (held.words(f, "start", code, "machine") or ("none",))[0]
    pf = held.number(f, "pf", code, "machine") or 1.0
    ib_a, motor_w = _current(machine, unit, code, phases, plug)
    if plug.in_a and isinstance(f["power_w"].holds if "power_w" in f else Open(), Open) and "current_a" not in f:
        ib_a = min(ib_a, plug.in_a)  # whatever the machine is, its plug carries it
    lasting = held.yes(f, "continuous", code, "machine") or "together" in f
    duty = (held.number(f, "duty_percent", code, "machine") or 100.0) / 100.0
    multiple = held.number(f, "start_multiple", code, "machine", cases=(start,)) or 1.0
    outlets = int(held.number(f, "outlets", code, "machine") or 1)
    return Need(
        id=f"{tenancy.id}.{machine.id}", tenancy=tenancy.id, machine=machine.id, name=machine.name,
        at_m=machine.at_m, phases=phases, ib_a=ib_a, heats_a=ib_a * math.sqrt(min(1.0, duty)), pf=pf,
        restarts=not held.yes(f, "restart_inhibit", code, "machine"),
        start_a=ib_a * max(1.0, multiple), plug=plug, lead_m=_lead(machine, unit, code, plug, height_m),
        leak_ma=held.number(f, "leak_ma", code, "machine", cases=(f"drive {phases}ph",) if start == "drive" else ())
        or 0.0,
        rcd_type=max(held.words(f, "rcd_type", code, "machine") or ("A",), key=RCD_TYPES.index),
        ip=_own_ip(machine, code), motor_w=motor_w if start not in ("none", "transformer-inrush", "capacitor") else 0.0,
        long=lasting, outlets=outlets,
    )  # fmt: skip


def plug_of(words: tuple[str, ...]) -> Plug:
    """A plug from the words of the unit file: "13 A", "16 A 1ph", "EN 60309 32 A 3P+N+E", "fixed"."""
    if not words:
        return Plug()
    text = words[0].lower()
    if "fixed" in text:
        return Plug("fixed")
    rated = re.search(r"(\d+)\s*a\b", text)
    if rated is None:
        return Plug()
    in_a = float(rated.group(1))
    if in_a == 13:
        return Plug("1363", 13.0, 1, True)
    three = "3ph" in text or "3p" in text
    neutral = True if "3p+n" in text or not three else (False if "3p+e" in text else None)
    return Plug("60309", in_a, 3 if three else 1, neutral)


def zone_ip(kind: str) -> Ip:
    """What a kind of place asks of everything in it; nothing for a kind without numerals."""
    return _ip(zone_codes(kind)) if kind else Ip()


def _ip(codes: tuple[str, ...]) -> Ip:
    out = Ip()
    for c in codes:
        try:
            asked = ingress_needed(c)
        except OutsideTable:
            continue
        out = out.with_(Ip(int(asked[0] or 0), int(asked[1] or 0)))
    return out


def _own_ip(machine: Machine, code: Code) -> Ip:
    codes = [w for field in ("wet_code", "dust_code") for w in held.words(machine.facts, field, code, "machine")]
    return _ip(tuple(codes))


def _current(machine: Machine, unit: Unit, code: Code, phases: int, plug: Plug) -> tuple[float, float]:
    """(line current A, shaft or input power W)."""
    f = machine.facts
    u0 = held.number(unit.supply.facts, "u0_v", code, "supply", "low") or 0.0
    pf = held.number(f, "pf", code, "machine", "low") or 1.0
    across = 3 * u0 if phases == 3 else u0
    if held.yes(f, "two_lines", code, "machine"):
        across = _LINE_V * u0
    if "current_a" in f:
        ib = held.number(f, "current_a", code, "machine") or 0.0
        return ib, ib * across * pf
    if "shaft_kw" in f and "power_w" not in f:
        kw = held.number(f, "shaft_kw", code, "machine") or 0.0
        efficiency = held.number(f, "efficiency", code, "machine", "low") or 1.0
        return kw * 1000 / (across * pf * efficiency), kw * 1000
    row = f"{plug.form} {plug.in_a:g} A".strip() if plug.form == "60309" else "13 A"
    poles = "2P+E" if phases == 1 else "3P+E" if plug.neutral is False else "3P+N+E"
    case = f"{row} {poles}" if plug.form == "60309" else row if plug.form == "1363" else str(phases)
    power = held.number(f, "power_w", code, "machine", cases=(case,)) or 0.0
    return power / (across * pf), power


def _lead(machine: Machine, unit: Unit, code: Code, plug: Plug, height_m: float) -> float:
    """What the lead reaches in plan: its fall or rise to the outlet deducted where its length is known."""
    if "lead_m" in machine.facts:
        long = held.number(machine.facts, "lead_m", code, "machine", "low") or 0.0
        leaves = held.number(machine.facts, "lead_height_m", code, "machine") or height_m
        return max(0.0, long - abs(leaves - height_m))
    kind = "socket_13a" if plug.form == "1363" else "industrial"
    return held.number(unit.policy.facts, f"lead_reach_m.{kind}", code, "policy", "low") or 0.0


def known_zone(kind: str) -> bool:
    """True if the table of zones holds this kind."""
    return any(r.text("zone_id") == kind for r in table("zones").rows)
