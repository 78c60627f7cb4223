"""In and out: the unit file and the plan file, each mistake with its line, and one parser of what people type."""

from importlib import import_module
from typing import TYPE_CHECKING, Any

from relet.files.plan import read_plan
from relet.files.starter import starter
from relet.files.typed import parse_quantity
from relet.files.unit import read_unit
from relet.files.values import Reading, UnitFile

if TYPE_CHECKING:
    from relet.files.edit import set_value
    from relet.files.plan_out import plan_text, write_plan

__all__ = [
    "Reading", "UnitFile", "parse_quantity", "plan_text", "read_plan", "read_unit", "set_value", "starter",
    "write_plan",
]  # fmt: skip

_WRITERS = {"set_value": "edit", "plan_text": "plan_out", "write_plan": "plan_out"}
"""Loaded when first asked for: only they need the library that keeps comments, and most runs only read."""


def __getattr__(name: str) -> Any:
    if name in _WRITERS:
        return getattr(import_module(f"relet.files.{_WRITERS[name]}"), name)
    raise AttributeError(f"module {__name__!r} has no attribute {name!r}")
