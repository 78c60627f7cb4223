"""The catalogue: parts by number, with the data that a maker declares. Files of the user's; the shipped one is
invented and says so."""

from __future__ import annotations

from typing import Literal, TypeAlias

from relet.model.facts import Scalar
from relet.model.values import Map, Value

PartKind: TypeAlias = Literal[
    "enclosure", "board", "outlet", "fixed-connection", "mcb", "rcbo", "rccb", "fuse-switch", "switch", "mccb",
    "contactor", "tapped-run", "tap-off", "cable", "containment", "blank", "sundry",
]  # fmt: skip


class Part(Value, frozen=True, kw_only=True):
    """One part.

    data  declared quantities by field name, units at the end of the name:
          enclosure   apertures, ways, in_a, ip, ik, width_mm, height_mm, depth_mm, dissipation_w_per_k,
                      max_inside_c, icc_ka, upstream_max_a, position, rail_depth_mm
          outlet      outlet ("60309", "1363"), in_a, poles ("2P+E", "3P+N+E"), apertures, depth_mm, ip, ik,
                      interlocked, category, clock_h, gangs
          device      in_a, poles, curve, idn_ma, rcd_type, rcd_delay, icn_ka, loss_w_per_pole, ways, depth_mm,
                      energy_class, category, isolates, locks_off, shows_position
          tapped-run  in_a, r_mohm_per_m, x_mohm_per_m, cpc_r_mohm_per_m, cpc_x_mohm_per_m, icw_ka, ip
          tap-off     in_a, holds ("fuse 10x38" ...), ip
    sources  note per field or for all ("invented")
    """

    id: str
    kind: PartKind
    name: str
    data: Map[str, Scalar] = Map()
    note: str = ""


class Catalogue(Value, frozen=True, kw_only=True):
    """Parts by number, one edition."""

    edition: str
    parts: Map[str, Part]
    note: str = ""
