"""In and out: the unit file and the plan file, each mistake with its line, and one parser of what people type."""

from relet.files.edit import set_value
from relet.files.plan import read_plan
from relet.files.plan_out import plan_text, write_plan
from relet.files.starter import starter
from relet.files.typed import parse_quantity
from relet.files.unit import read_unit
from relet.files.values import Reading, UnitFile

__all__ = [
    "Reading", "UnitFile", "parse_quantity", "plan_text", "read_plan", "read_unit", "set_value", "starter",
    "write_plan",
]  # fmt: skip
