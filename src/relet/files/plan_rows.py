"""The grammar of the plan file, relet/plan/1."""

from __future__ import annotations

from typing import Annotated, Any, Final, Literal

from pydantic import Field as Key
from pydantic import PlainValidator, WithJsonSchema

from relet.files.fields import Refused
from relet.files.grammar import Flag, Row, Text, Texts, Whole, refusing
from relet.files.pieces import InstallationRow
from relet.files.words import shown

PLAN_FORMAT: Final = "relet/plan/1"


def _price(raw: Any) -> float:
    """A number; infinite while no bound is proven yet."""
    if isinstance(raw, int | float) and not isinstance(raw, bool) and raw == raw:
        return raw
    raise Refused(f"{shown(raw)} is not a number.")


def _long_text(raw: Any) -> str:
    if isinstance(raw, str):
        return raw
    raise Refused(f"{shown(raw)} is not a text in quotes.")


AnyNumber = Annotated[float, PlainValidator(refusing(_price)), WithJsonSchema({"type": "number"})]
LongText = Annotated[str, PlainValidator(refusing(_long_text)), WithJsonSchema({"type": "string"})]


class SolvedRow(Row):
    """[solved] how the programme was solved."""

    price: AnyNumber
    bound: AnyNumber
    gap: AnyNumber
    places: Whole
    binaries: Whole
    rows: Whole
    seconds: AnyNumber
    rounds: Whole
    stopped: Flag = False
    log: Texts = ()


class PlanRow(Row):
    """A whole plan file."""

    format: Literal["relet/plan/1"]
    unit: Text
    by: Literal["planner", "hand"] = "hand"
    made_for: Text = ""
    backbone: InstallationRow = Key(default_factory=InstallationRow)
    contents: dict[str, InstallationRow] = {}
    uses: dict[str, dict[str, Text]] = {}
    solved: SolvedRow | None = None
    why: dict[str, LongText] = {}
