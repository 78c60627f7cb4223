"""What the table of machine kinds fills in where a file is silent. Assumed, and marked so (how = "kind")."""

from __future__ import annotations

import re
from functools import lru_cache
from typing import Final, NamedTuple

from relet.files.claims import Said
from relet.model import Between, Claim, Exactly, Held, Path
from relet.tables.core import Row
from relet.tables.machines import machine_kind, machine_kind_ids, zone_codes, zone_ids

_NUMBERS: Final = (
    ("phases", "phases"), ("pf", "pf_typical"),
    ("efficiency", "efficiency_typical"), ("start_multiple", "start_multiple"), ("duty_percent", "rated_duty_percent"),
    ("leak_ma", "protective_conductor_current_ma"), ("thd3_percent", "thd3_percent"),
    ("footprint_w_m", "footprint_w_m"), ("footprint_d_m", "footprint_d_m"),
)  # fmt: skip
_WORDS: Final = (
    ("start", "start_kind"), ("rcd_type", "rcd_type_needed"), ("needs", "needs"), ("wet_code", "wet_class"),
    ("dust_code", "dust_class"),
)  # fmt: skip
_SPREADS: Final = (
    ("power_w", "power_low_w", "power_typical_w", "power_high_w"),
    ("on_probability", "duty_on_probability_low", "duty_on_probability_typical", "duty_on_probability_high"),
)  # fmt: skip
_LOAD: Final = ("power_w", "shaft_kw", "current_a")
_PLUG: Final = re.compile(r"(?:BS 1363|EN 60309) (\d+ A)(?: (\d)P(?:\+N)?\+E)?")


class Kind(NamedTuple):
    """One row of the table as a machine takes it over: facts by field with their notes."""

    name: str
    phases: int
    power_w: float
    facts: dict[str, tuple[Held, str]]


@lru_cache(maxsize=1)
def kind_ids() -> tuple[str, ...]:
    """Every machine kind."""
    return machine_kind_ids()


@lru_cache(maxsize=1)
def zone_kinds() -> tuple[str, ...]:
    """Every kind of place."""
    return zone_ids()


def refers(zone_kind: str) -> bool:
    """Whether a kind of place asks for a specialist (explosive atmosphere, BE3 of IEC 60364-5-51)."""
    return zone_kind in zone_kinds() and "BE3" in zone_codes(zone_kind)


@lru_cache(maxsize=512)
def kind(kind_id: str) -> Kind:
    """A machine kind. Raises OutsideTable for one that is not in the table."""
    row = machine_kind(kind_id)
    other = f"kind {kind_id}, status {row.text('status_other')}"
    facts: dict[str, tuple[Held, str]] = {}
    for field, low, typical, high in _SPREADS:
        status = row.text("status" if field == "power_w" else "status_other")
        low_v, typical_v, high_v = (row.number(c) for c in (low, typical, high))
        if low_v is not None and typical_v is not None and high_v is not None:
            held: Held = Between(low_v, high_v) if low_v < high_v else Exactly(typical_v)
            facts[field] = (held, f"kind {kind_id}, typical {typical_v:g}, status {status}")
    for field, column in _NUMBERS:
        value = row.number(column)
        if value is not None:
            facts[field] = (Exactly(int(value) if field == "phases" else value), other)
    for field, column in _WORDS:
        if row.text(column):
            facts[field] = (Exactly(row.text(column)), other)
    plug = _plug(row)
    if plug:
        facts["plug"] = (Exactly(plug), other)
    phases = int(row.number("phases") or 1)
    if row.text("supply_v") not in ("230", "230.0") and phases == 1:
        facts["two_lines"] = (Exactly(True), other)
    return Kind(row.text("name"), phases, row.number("power_typical_w") or 0.0, facts)


def _plug(row: Row) -> str:
    usual = row.text("plug_kind_usual")
    met = _PLUG.fullmatch(usual)
    if met is None:
        return usual if usual == "fixed" else ""
    poles = {"2": " 1ph", "3": " 3ph", None: ""}[met[2]]
    return met[1] + poles


def filled_in(prefix: str, kind_id: str, said: dict[str, Said], own: dict[str, Claim]) -> dict[str, Claim]:
    """The claims of a machine with what its kind adds.

    A load that the file gives in one way (power, shaft or current) takes no power from the kind: that would speak of
    another machine. Its plug likewise, where the machine has other phases or draws more than usual.
    """
    k = kind(kind_id)
    given_load = any(f in said for f in _LOAD)
    other_plug = not _as_usual(k, said)
    for field, (held, note) in k.facts.items():
        if field in own or (given_load and field == "power_w") or (other_plug and field in ("plug", "two_lines")):
            continue
        own[field] = Claim(about=Path(f"{prefix}.{field}"), holds=held, how="kind", note=note)
    return own


def _as_usual(k: Kind, said: dict[str, Said]) -> bool:
    phases = said.get("phases")
    if phases is not None and phases.holds != Exactly(k.phases):
        return False
    if "current_a" in said:
        return False
    for field, factor in (("power_w", 1.0), ("shaft_kw", 1000.0)):
        if field in said:
            holds = said[field].holds
            most = holds.high if isinstance(holds, Between) else getattr(holds, "value", None)
            if not isinstance(most, int | float) or most * factor > k.power_w:
                return False
    return True
