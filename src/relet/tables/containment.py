"""Room for cables: their overall diameters. OutsideTable where nothing is held."""

from __future__ import annotations

from relet.tables.core import table
from relet.working import Figure


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
