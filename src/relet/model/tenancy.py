"""Who comes in, and with which machines. A tenancy knows nothing of walls."""

from __future__ import annotations

from datetime import date

from relet.model.facts import Facts
from relet.model.unit import Point
from relet.model.values import Map, Seat, Value


class Machine(Value, frozen=True, kw_only=True):
    """One machine of a tenancy.

    kind   row of the library of machine kinds, or None
    at_m   where its lead leaves it, seen in plan
    facts  phases, power_w, shaft_kw, current_a, pf, efficiency, start, start_multiple, duty_percent,
           on_probability, leak_ma, rcd_type, thd3_percent, plug, continuous, together, lead_m, restart_dangerous,
           stop_dangerous, off_by, needs, footprint_w_m, footprint_d_m, outlets, light_over, two_lines ...
    """

    id: str
    name: str
    at_m: Point
    kind: str | None = None
    facts: Facts = Map()


class Tenancy(Value, frozen=True, kw_only=True):
    """A tenant's stay.

    never_together  groups of machines of which one person works one at a time. Information for the statistical
                    method; it excludes nothing from the coincident case unless built.
    stays_on        what keeps running when a stop is hit
    interlocked     groups said never to run together by something built; information until an installation has it
    """

    id: str
    name: str
    from_: date | None
    to: date | None
    machines: Map[str, Machine] = Map()
    never_together: tuple[tuple[str, ...], ...] = ()
    stays_on: tuple[str, ...] = ()
    interlocked: tuple[tuple[str, ...], ...] = ()


class Use(Value, frozen=True, kw_only=True):
    """Which outlet (or fixed connection) feeds which machine."""

    tenancy: str
    plugged: Map[str, Seat] = Map()


class Wishes(Value, frozen=True, kw_only=True):
    """What the person wants of a plan.

    keep    pieces that stand and must stay
    pins    machine -> outlet, assembly or place
    forbid  walls or places that may not be used, each with the reason
    most_assemblies, most_price   caps
    """

    keep: tuple[str, ...] = ()
    pins: Map[str, str] = Map()
    forbid: tuple[tuple[str, str], ...] = ()
    most_assemblies: int | None = None
    most_price: float | None = None
