"""Standing currents: what machines leak while all is well may not half trip the device that guards them."""

from __future__ import annotations

from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from relet.planning.build import Model


def standing_currents(m: Model) -> None:
    """Below each residual-current device the standing currents add up to no more than their share of its rating.

        sum_i leak[i] seat[i,p] <= share IdN                     one device at the incomer: all t, p         "leak"
        sum_i leak[i] seat[i,p,c] <= share IdN count[t,p,c]      a device per outlet of several gangs        "leak"

    A machine alone behind its own device is no row: a circuit that cannot bear it is none of its circuits.
    """
    s, p = m.sets, m.programme
    limit = s.standing_share * s.idn_ma
    for t in s.tenancies:
        for site in s.sites:
            here = [n for n in s.needs_at(site, t) if site not in s.kept_outlets]
            if s.one_incoming and here:
                terms = [(n.leak_ma, v) for n in here for _, v in m.seated(n.id, site)]
                p.at_most(f"leak[{t},{site}]", terms, limit, "protection.standing_leakage")
    if s.one_incoming:
        return
    for (t, site, c), column in m.vars.count.items():
        circuit = s.circuits[c]
        if circuit.gangs < 2 or not circuit.idn_ma:
            continue
        terms = [(n.leak_ma, m.vars.seat[n.id, site, c]) for n in s.needs_at(site, t) if (n.id, site, c) in m.vars.seat]
        p.at_most(
            f"leak[{t},{site},{c}]", [*terms, (-s.standing_share * circuit.idn_ma, column)], 0.0,
            "protection.standing_leakage",
        )  # fmt: skip
