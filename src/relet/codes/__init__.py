"""Dated packs of practice as data: limits, forces, clauses, defaults, kinds of cable."""

from relet.codes.pack import (
    DEFAULT,
    FORCES_THAT_FAIL,
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
)

__all__ = [
    "DEFAULT", "FORCES_THAT_FAIL", "PACKS", "UNCONFIRMED", "CableKind", "Code", "Default", "Force", "RuleRow",
    "code_ids", "load_code", "rows_of",
]  # fmt: skip
