"""Published figures as data: tables with source, status and edition, and look-ups that return figures.

- cables: current ratings, volt drop, factors, resistance, armour, k
- containment: diameters, glands, terms of conduit and trunking
- protection: bands of breakers and fuses, residual current devices, disconnection times, leakage
- assemblies: outlets, ingress and impact, rated diversity, losses, enclosure heating, switching duty
- machines: motors, demand, machine and tenant kinds, places, labour
- plausible: what an unknown fact may plausibly be
- sources: which publication stands behind a source code

`python -m relet.tables.lint` checks every row.
"""

from relet.tables.core import STATUSES_WORST_LAST, Row, Table, index, table, worst_status

__all__ = ["STATUSES_WORST_LAST", "Row", "Table", "index", "table", "worst_status"]
