"""Constants of the fault, heating and band methods, read from their table."""

from __future__ import annotations

from relet.tables.core import table
from relet.working import Figure


def constant(method: str, quantity: str, unit: str, name: str) -> Figure:
    """A constant of "iec60909", "iec60949", "iec60269" or "rcd". Raises OutsideTable for one that is not held."""
    return table("fault_constants").row(method=method, quantity=quantity).figure("value", unit, name=name)
