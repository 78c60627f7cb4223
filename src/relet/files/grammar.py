"""What every row of a file is made of: points, texts, plain numbers and facts, each with its JSON Schema.

Structure (which keys, which are needed) is pydantic's business: it reports every fault with its place. What one value
may be is `fields.Field`'s: one sentence with the value met and what is allowed.
"""

from __future__ import annotations

from collections.abc import Callable
from datetime import date, datetime
from typing import Annotated, Any, ClassVar, Final

from pydantic import (
    BaseModel,
    ConfigDict,
    GetCoreSchemaHandler,
    GetJsonSchemaHandler,
    PlainValidator,
    WithJsonSchema,
    model_validator,
)
from pydantic_core import CoreSchema, PydanticCustomError, core_schema

from relet.files import claims
from relet.files.fields import Field, Refused, register
from relet.files.words import shown
from relet.model import Point

REFUSED: Final = "refused"
FACTS_KEY: Final = "(facts)"
"""Where a row gathers its facts while it is read: no key of a file can be spelt so."""
_FARTHEST_M: Final = 10_000.0


def refusing(read: Callable[[Any], Any]) -> Callable[[Any], Any]:
    """The same reader, telling pydantic of a refused value in its own words."""

    def reading(raw: Any) -> Any:
        try:
            return read(raw)
        except Refused as e:
            raise PydanticCustomError(REFUSED, "{said}", {"said": str(e)}) from None

    return reading


class Facts:
    """Marks a dict of facts: any of one thing's fields, each held as claims.Said. Absent fields stay absent."""

    def __init__(self, thing: str) -> None:
        self.thing = thing

    @property
    def fields(self) -> dict[str, Field]:
        """The fields that may stand here."""
        return dict(register().get(self.thing, {}))

    def __get_pydantic_core_schema__(self, source: Any, handler: GetCoreSchemaHandler) -> CoreSchema:
        return core_schema.typed_dict_schema(
            {
                name: core_schema.typed_dict_field(
                    core_schema.no_info_plain_validator_function(refusing(claims.reader(field))), required=False
                )
                for name, field in self.fields.items()
            },
            extra_behavior="forbid",
        )

    def __get_pydantic_json_schema__(self, schema: CoreSchema, handler: GetJsonSchemaHandler) -> dict[str, Any]:
        properties = {name: fact_schema(field) for name, field in self.fields.items()}
        return {"type": "object", "properties": properties, "additionalProperties": False}


class Plain:
    """Marks a number or word that must be known: no claim, no range."""

    def __init__(self, thing: str, name: str) -> None:
        self.thing, self.name = thing, name

    def __get_pydantic_core_schema__(self, source: Any, handler: GetCoreSchemaHandler) -> CoreSchema:
        field = register()[self.thing][self.name]
        return core_schema.no_info_plain_validator_function(refusing(lambda raw: field.scalar(raw, claim=False)))

    def __get_pydantic_json_schema__(self, schema: CoreSchema, handler: GetJsonSchemaHandler) -> dict[str, Any]:
        return value_schema(register()[self.thing][self.name])


class Claimed:
    """Marks a value that the model holds by itself and that may be written as a claim all the same."""

    def __init__(self, thing: str, name: str) -> None:
        self.thing, self.name = thing, name

    def __get_pydantic_core_schema__(self, source: Any, handler: GetCoreSchemaHandler) -> CoreSchema:
        read = claims.reader(register()[self.thing][self.name])
        return core_schema.no_info_plain_validator_function(refusing(read))

    def __get_pydantic_json_schema__(self, schema: CoreSchema, handler: GetJsonSchemaHandler) -> dict[str, Any]:
        return fact_schema(register()[self.thing][self.name])


class Row(BaseModel):
    """One thing of a file. A class that has `facts` gathers there every key that is not its own."""

    model_config = ConfigDict(
        frozen=True, strict=True, extra="forbid", allow_inf_nan=False,
        alias_generator=lambda name: FACTS_KEY if name == "facts" else name,
    )  # fmt: skip
    own_keys: ClassVar[frozenset[str] | None] = None

    @model_validator(mode="before")
    @classmethod
    def _gather(cls, raw: Any) -> Any:
        if "facts" not in cls.model_fields or not isinstance(raw, dict):
            return raw
        own = cls.keys()
        out: dict[str, Any] = {}
        facts: dict[str, Any] = {}
        for k, v in raw.items():
            (out if k in own else facts)[k] = v
        out[FACTS_KEY] = facts
        return out

    @classmethod
    def keys(cls) -> frozenset[str]:
        """Keys of the row itself, as they stand in a file."""
        if cls.own_keys is None or "own_keys" not in cls.__dict__:
            cls.own_keys = frozenset(f.alias or n for n, f in cls.model_fields.items() if n != "facts")
        return cls.own_keys

    @classmethod
    def __get_pydantic_json_schema__(cls, schema: CoreSchema, handler: GetJsonSchemaHandler) -> dict[str, Any]:
        made = handler.resolve_ref_schema(handler(schema))
        facts = made.get("properties", {}).pop(FACTS_KEY, None)
        if facts is not None:
            made["properties"] |= facts["properties"]
            made["required"] = [k for k in made.get("required", []) if k != FACTS_KEY]
        return made


# ---------- values ----------


def _point(raw: Any) -> Point:
    if isinstance(raw, list | tuple) and len(raw) == 2 and all(_is_metres(v) for v in raw):
        return (raw[0], raw[1])
    raise Refused(f"{shown(raw)} is not a point. Allowed: [x, y] in metres, as in [4.0, 2.5].")


def _is_metres(v: Any) -> bool:
    return isinstance(v, int | float) and not isinstance(v, bool) and -_FARTHEST_M <= v <= _FARTHEST_M


def _points(raw: Any) -> tuple[Point, ...]:
    if not isinstance(raw, list | tuple):
        raise Refused(f"{shown(raw)} is not a list of points. Allowed: [[x, y], [x, y], ...] in metres.")
    return tuple(_point(p) for p in raw)


def _text(raw: Any) -> str:
    if isinstance(raw, str) and len(raw) <= 400:
        return raw
    raise Refused(f"{shown(raw)} is not a text. Allowed: a text in quotes, up to 400 letters.")


def _texts(raw: Any) -> tuple[str, ...]:
    if isinstance(raw, list | tuple) and all(isinstance(t, str) for t in raw):
        return tuple(raw)
    raise Refused(f'{shown(raw)} is not a list of texts. Allowed: a list in brackets, as in ["X1", "R1"].')


def _groups(raw: Any) -> tuple[tuple[str, ...], ...]:
    if isinstance(raw, list | tuple) and all(isinstance(g, list | tuple) and len(g) > 1 for g in raw):
        return tuple(_texts(g) for g in raw)
    raise Refused(
        f'{shown(raw)} is not a list of groups. Allowed: [["a", "b"], ["c", "d"]], two names or more in each.'
    )


def _flag(raw: Any) -> bool:
    if isinstance(raw, bool):
        return raw
    raise Refused(f"{shown(raw)} is neither true nor false.")


def _whole(raw: Any) -> int:
    if isinstance(raw, int) and not isinstance(raw, bool) and 0 <= raw <= 1_000_000_000:
        return raw
    raise Refused(f"{shown(raw)} is not a count. Allowed: a whole number from 0 up.")


def _number(raw: Any) -> float:
    if isinstance(raw, int | float) and not isinstance(raw, bool) and abs(raw) < float("inf"):
        return raw
    raise Refused(f"{shown(raw)} is not a number.")


def _day_or(word: str) -> Callable[[Any], date | None]:
    def day(raw: Any) -> date | None:
        if isinstance(raw, date) and not isinstance(raw, datetime):
            return raw
        if raw == word:
            return None
        raise Refused(f'{shown(raw)} is not a day. Allowed: a date without quotes, as in 2027-02-01, or "{word}".')

    return day


def _moment(raw: Any) -> datetime:
    if isinstance(raw, datetime):
        return raw
    raise Refused(f"{shown(raw)} is not a moment. Allowed: a date with time, as in 2027-02-01T08:00:00.")


def _value(read: Callable[[Any], Any], **schema: Any) -> Any:
    return (PlainValidator(refusing(read)), WithJsonSchema(schema))


_POINT: Final[dict[str, Any]] = {"type": "array", "items": {"type": "number"}, "minItems": 2, "maxItems": 2}
_TEXTS: Final[dict[str, Any]] = {"type": "array", "items": {"type": "string"}}
APoint = Annotated[Point, *_value(_point, **_POINT)]
Points = Annotated[tuple[Point, ...], *_value(_points, type="array", items=_POINT)]
Text = Annotated[str, *_value(_text, type="string", maxLength=400)]
Texts = Annotated[tuple[str, ...], *_value(_texts, **_TEXTS)]
Groups = Annotated[tuple[tuple[str, ...], ...], *_value(_groups, type="array", items=_TEXTS | {"minItems": 2})]
Flag = Annotated[bool, *_value(_flag, type="boolean")]
Whole = Annotated[int, *_value(_whole, type="integer", minimum=0)]
Number = Annotated[float, *_value(_number, type="number")]
From = Annotated[date | None, *_value(_day_or("unknown"), type="string", format="date-or-unknown")]
To = Annotated[date | None, *_value(_day_or("open"), type="string", format="date-or-open")]
Moment = Annotated[datetime, *_value(_moment, type="string", format="date-time")]


# ---------- their JSON Schema ----------

CLAIM_REF: Final = "#/$defs/claim"


def value_schema(field: Field) -> dict[str, Any]:
    """JSON Schema of one plain value."""
    if field.form == "flag":
        return {"enum": [True, False, "yes", "no"]}
    if field.form == "words":
        return {"anyOf": [{"type": "string"}, _TEXTS]}
    if field.words:
        return {"enum": list(field.words)}
    if field.form == "text":
        return {"type": "string", "minLength": 1, "maxLength": 400}
    number: dict[str, Any] = {"type": "integer" if field.form == "whole" else "number"}
    for key, edge in (("minimum", field.low), ("maximum", field.high)):
        if abs(edge) != float("inf"):
            number[key] = edge
    if field.unit:
        number["description"] = field.unit
    return {"anyOf": [number, {"type": "string", "description": f"a quantity, as in '1 {field.unit}'".rstrip()}]}


def fact_schema(field: Field) -> dict[str, Any]:
    """JSON Schema of one fact: a plain value or a claim."""
    plain = value_schema(field)
    forms = plain.get("anyOf", [plain])
    return {"anyOf": [*forms, {"$comment": CLAIM_REF}]}
