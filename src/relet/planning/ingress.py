"""Ingress: the weakest part governs, so frame and outlet each meet what the zone and the machine ask."""

from __future__ import annotations

from typing import TYPE_CHECKING

from relet.planning.parts import ip_codes

if TYPE_CHECKING:
    from relet.planning.build import Model


def outlet_suits_place(m: Model) -> None:
    """An idle outlet left standing suits its place as well.

        count[t,p,c] = 0        every c whose ingress code the zones at p do not allow        "idle"

    Frames and circuits in use that do not suit are no columns at all (`Sets.frames_at`, `gather`); when reasons are
    looked for they are held at zero by name in `seating.only_where_allowed`.
    """
    s = m.sets
    for (t, p, c), column in m.vars.count.items():
        if not s.sites[p].ip.met_by(*ip_codes(s.circuits[c].outlet)):
            m.programme.at_most(f"idle[{t},{p},{c}]", [(1.0, column)], 0.0, "assembly.ingress")
