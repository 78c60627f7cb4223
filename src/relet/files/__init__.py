"""In and out: the unit file and the plan file, each mistake with its line, and one parser of what people type."""

from relet.files.typed import parse_quantity
from relet.files.unit import read_unit
from relet.files.values import Reading, UnitFile

__all__ = ["Reading", "UnitFile", "parse_quantity", "read_unit"]
