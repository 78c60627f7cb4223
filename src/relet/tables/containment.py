"""Room for cables: diameters, glands, and the terms of conduit and trunking (IET On-Site Guide method).

Terms of the cables drawn in add up to at most the term of the conduit or trunking. OutsideTable where nothing is held.
"""

from __future__ import annotations

from relet.errors import OutsideTable
from relet.tables.core import table
from relet.working import Figure, choose


def swa_diameter(cores: int, csa_mm2: float) -> Figure:
    """Overall diameter of a steel wire armoured XLPE cable, mm (BS 5467, BS 6724)."""
    row = table("dimensions_swa_xlpe").row(cores=cores, csa_mm2=csa_mm2)
    return row.figure("overall_diameter_mm", "mm", (csa_mm2,), name="De")


def flexible_diameter(cores: int, csa_mm2: float) -> Figure:
    """Greatest overall diameter of an H07RN-F flexible cable, mm (EN 50525-2-21)."""
    row = table("dimensions_h07rnf").row(cores=cores, csa_mm2=csa_mm2)
    return row.figure("overall_diameter_max_mm", "mm", (csa_mm2,), name="De")


def single_diameter(csa_mm2: float) -> Figure:
    """Diameter of an insulated single-core conductor for conduit or trunking, mm (BS 6004)."""
    return table("dimensions_singles").row(csa_mm2=csa_mm2).figure("core_diameter_mm", "mm", (csa_mm2,), name="De")


def cable_term_trunking(csa_mm2: float, *, conductor: str = "stranded", thermosetting: bool = False) -> Figure:
    """Term of one insulated single-core cable in trunking; terms add up to at most the trunking's term.

    source  IET On-Site Guide method; empty sizes raise OutsideTable
    """
    row = table("containment_cable_factors").row(csa_mm2=csa_mm2, conductor=conductor)
    column = "trunking_factor_thermosetting" if thermosetting else "trunking_factor_PVC"
    return row.figure(column, "", (csa_mm2,), name="cable term")


def trunking_term(size_mm: str) -> Figure:
    """Term of a trunking by its nominal size, for example "75 x 50". The lower of the two published lists."""
    row = table("containment_trunking_factors").row(size_mm=size_mm)
    terms = [f for c in ("factor_S24", "factor_S25") if (f := row.maybe(c, "", name="trunking term")) is not None]
    return choose(terms, min, "the lower of the published terms", name="trunking term")


def cable_term_conduit(csa_mm2: float, *, conductor: str = "stranded", straight_to_3m: bool = False) -> Figure:
    """Term of one insulated single-core cable in conduit."""
    row = table("containment_cable_factors").row(csa_mm2=csa_mm2, conductor=conductor)
    column = "conduit_factor_straight_to_3m" if straight_to_3m else "conduit_factor_long_or_bends"
    return row.figure(column, "", (csa_mm2,), name="cable term")


def conduit_term(diameter_mm: int, length_m: float, bends: int = 0) -> Figure:
    """Term of a conduit of 16, 20, 25 or 32 mm between draw-in points; the next longer row.

    raises  OutsideTable: longer, or with more bends, than the table knows
    source  IET On-Site Guide method
    """
    held = table("containment_conduit_factors")
    if diameter_mm not in (16, 20, 25, 32):
        raise OutsideTable(held.name, f"diameter_mm {diameter_mm}", "16, 20, 25 and 32 mm")
    straight = held.where(case="straight to 3 m")
    longest = max((r.number("length_m") or 0.0 for r in straight), default=0.0)
    case = "straight to 3 m" if bends == 0 and length_m <= longest else "run over 3 m or with bends"
    row = held.at_least("length_m", length_m, case=case, bends=bends)
    return row.figure(f"factor_{diameter_mm}mm", "", (length_m,), name="conduit term")


def gland(diameter_mm: float) -> tuple[str, Figure]:
    """Smallest usual gland for an armoured cable of this overall diameter: its size and the entry hole, mm."""
    held = table("gland_entry_sizes")
    row = held.at_least("cable_overall_diameter_max_mm", diameter_mm)
    return row.text("gland_size"), row.figure("clearance_hole_mm", "mm", (diameter_mm,), name="hole")
