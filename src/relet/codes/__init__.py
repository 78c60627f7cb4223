"""Dated packs of practice as data: limits, forces, clauses, defaults, kinds of cable."""

from relet.codes.pack import (
    DEFAULT,
    FORCES_THAT_FAIL,
    MARKS,
    PACKS,
    UNCONFIRMED,
    CableKind,
    Code,
    Default,
    Force,
    RuleRow,
    code_ids,
    load_code,
    rows_of,
    weakest_mark,
)

__all__ = [
    "DEFAULT", "FORCES_THAT_FAIL", "MARKS", "PACKS", "UNCONFIRMED", "CableKind", "Code", "Default", "Force", "RuleRow",
    "code_ids", "load_code", "rows_of", "weakest_mark",
]  # fmt: skip
