"""The JSON Schema of the unit file. `python -m relet.files.schema` writes it anew."""

from __future__ import annotations

import json
from pathlib import Path
from typing import Any, Final

from relet.files.atomic import write_text
from relet.files.claims import HOWS
from relet.files.grammar import CLAIM_REF
from relet.files.unit_rows import NEEDED, UNIT_FORMAT, UnitFileRow

FILE: Final = Path(__file__).with_name("unit.schema.json")
_VALUE: Final[dict[str, Any]] = {"type": ["number", "string", "boolean"]}
_BETWEEN: Final[dict[str, Any]] = {
    "low": {"type": ["number", "string"]},
    "high": {"type": ["number", "string"]},
}
_ONE_OF: Final[dict[str, Any]] = {"one_of": {"type": "array", "items": _VALUE, "minItems": 2, "uniqueItems": True}}
_BESIDE: Final[dict[str, Any]] = {
    "on": {"type": "string", "format": "date"},
    "with": {"type": "string"},
    "by": {"type": "string"},
    "note": {"type": "string"},
    "plus_minus": {"type": "number", "minimum": 0},
}


def _table(properties: dict[str, Any], needed: list[str]) -> dict[str, Any]:
    return {
        "type": "object",
        "properties": properties | _BESIDE,
        "required": needed,
        "additionalProperties": False,
    }


def _claim() -> dict[str, Any]:
    """Every way in which a value may be written beside a plain one."""
    inner = {"anyOf": [_VALUE, _bare(_BETWEEN, ["low", "high"]), _bare(_ONE_OF, ["one_of"])]}
    return {
        "description": "a claim, a range, one of several, or unknown",
        "anyOf": [
            {"enum": ["unknown", "?"]},
            _table(_BETWEEN, ["low", "high"]),
            _table(_ONE_OF, ["one_of"]),
            *(_table({how: inner}, [how]) for how in HOWS),
        ],
    }


def _bare(properties: dict[str, Any], needed: list[str]) -> dict[str, Any]:
    return {"type": "object", "properties": properties, "required": needed, "additionalProperties": False}


def unit_schema() -> dict[str, Any]:
    """JSON Schema (2020-12) of relet/unit/1, for a document whose dates are written as texts."""
    made: dict[str, Any] = _tidy(UnitFileRow.model_json_schema(by_alias=True))
    made["$defs"]["claim"] = _claim()
    wishes = made["$defs"]["WishesRow"]["properties"]
    wishes["forbid"] = {"anyOf": [{"$ref": "#/$defs/ForbidRow"}, wishes["forbid"]]}
    made["required"] = sorted({*made.get("required", []), *NEEDED})
    head = {
        "$schema": "https://json-schema.org/draft/2020-12/schema",
        "$id": f"urn:{UNIT_FORMAT.replace('/', ':')}",
        "title": f"unit file {UNIT_FORMAT}",
    }
    return head | {k: v for k, v in made.items() if k != "title"}


def _tidy(node: Any) -> Any:
    """References to the claim put in, titles that only repeat a name and nulls that no file can hold left out."""
    if isinstance(node, list):
        return [_tidy(v) for v in node if v != {"type": "null"}]
    if not isinstance(node, dict):
        return node
    if node.get("$comment") == CLAIM_REF:
        return {"$ref": CLAIM_REF}
    out = {k: _tidy(v) for k, v in node.items() if not (k == "title" and isinstance(v, str))}
    if out.get("default", 0) is None:
        del out["default"]
    return out


def text() -> str:
    """The schema as it is shipped."""
    return json.dumps(unit_schema(), indent=1, ensure_ascii=False) + "\n"


if __name__ == "__main__":
    write_text(FILE, text())
