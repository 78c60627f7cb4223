"""Writing a plan file: one thing, one line, in the grammar that is read back."""

from __future__ import annotations

from collections.abc import Mapping
from pathlib import Path
from typing import Any, Final, Literal

import tomlkit
from msgspec.structs import fields
from pydantic import ValidationError
from tomlkit.items import Array, InlineTable, Item, Table

from relet.files.atomic import write_text
from relet.files.claims import nominal, written
from relet.files.pieces_in import HEIGHT_NOT_KNOWN_M
from relet.files.plan_rows import PLAN_FORMAT, PlanRow
from relet.files.values import UnitFile
from relet.model import Claim, Exactly, Installation, Piece, Scheme, Value
from relet.model.installation import FixedLoad

_GROUPS: Final = (
    "boards", "assemblies", "devices", "outlets", "runs", "taps", "containment", "loads", "off_groups", "made",
)  # fmt: skip
_HEAD: Final = "A plan for {unit}. Plain values are chosen; a value that repeats what stands is what was found there."
By = Literal["planner", "hand"]
_SPELT: Final = {"from_": "from"}


def write_plan(scheme: Scheme, path: str | Path, unit_file: UnitFile, by: By = "planner") -> None:
    """Write a scheme as a plan file for a unit, whole or not at all; read_plan gives the same scheme back.

    raises  InputError: a place that cannot be written
            ValueError: the scheme holds something that a plan file cannot say (a fact outside the register)
    """
    write_text(path, plan_text(scheme, unit_file, by))


def plan_text(scheme: Scheme, unit_file: UnitFile, by: By = "planner") -> str:
    """The text of a plan file. Raises ValueError as write_plan."""
    doc = tomlkit.document()
    doc.add(tomlkit.comment(_HEAD.format(unit=unit_file.unit.id)))
    doc["format"] = PLAN_FORMAT
    doc["unit"] = unit_file.unit.id
    doc["by"] = by
    if scheme.made_for:
        doc["made_for"] = str(scheme.made_for)
    doc["backbone"] = _installation(scheme.backbone, unit_file.standing)
    for name, table in (
        ("contents", {t: _installation(i, unit_file.standing) for t, i in scheme.contents.items()}),
        ("uses", {t: _table(u.plugged) for t, u in scheme.uses.items()}),
    ):
        if table:
            doc[name] = _super(table)
    if scheme.solved is not None:
        doc["solved"] = _table({f: getattr(scheme.solved, f) for f in scheme.solved.__struct_fields__})
    if scheme.why:
        doc["why"] = _table(scheme.why)
    try:
        PlanRow.model_validate(doc.unwrap())
    except ValidationError as e:
        raise ValueError(f"this scheme cannot be written as a plan file: {e}") from None
    return tomlkit.dumps(doc)


def _installation(i: Installation, beside: Installation) -> Table:
    groups = {}
    for group in _GROUPS:
        held: Mapping[str, Value] = getattr(i, group)
        there: Mapping[str, Value] = getattr(beside, group)
        if held:
            groups[group] = _table({seat: _piece(p, there.get(seat)) for seat, p in held.items()})
    return _super(groups)


def _piece(piece: Value, beside: Value | None) -> dict[str, Any]:
    """One thing by the keys of its row; what is left out reads back as it was."""
    out: dict[str, Any] = {}
    for field in fields(piece):
        name, value = field.name, getattr(piece, field.name)
        if name == "facts" or (
            isinstance(piece, FixedLoad) and (name == "id" or (name == "name" and value == piece.id))
        ):
            continue
        if name == "height_m" and name in getattr(piece, "facts", ()):
            _agree(piece)  # written as the claim it is
        elif value != field.default or isinstance(value, bool) is not isinstance(field.default, bool):
            out[_SPELT.get(name, name)] = value
    if isinstance(piece, Piece | FixedLoad):
        there: Mapping[str, Claim] = beside.facts if isinstance(beside, Piece | FixedLoad) else {}
        for f, claim in piece.facts.items():
            said = written(claim, "chosen", there.get(f))
            bare = f == "height_m" and isinstance(claim.holds, Exactly) and not isinstance(said, dict)
            out[f] = {claim.how: said} if bare else said
    return out


def _agree(piece: Any) -> None:
    """A height that is a claim is written once; the model's own number must be what it is read back as."""
    back = nominal(piece.facts["height_m"].holds)
    if piece.height_m not in (back, HEIGHT_NOT_KNOWN_M if back is None else back):
        raise ValueError(f"height_m {piece.height_m} does not agree with the claim held about it, {back}")


def _super(tables: Mapping[str, Table]) -> Table:
    out = tomlkit.table(is_super_table=bool(tables))
    for name, table in tables.items():
        out[name] = table
    return out


def _table(entries: Mapping[str, Any]) -> Table:
    out = tomlkit.table()
    for key, value in entries.items():
        out[key] = _item(value)
    return out


def _item(value: Any) -> Item:
    if isinstance(value, Mapping):
        inline: InlineTable = tomlkit.inline_table()
        for k, v in value.items():
            inline[k] = _item(v)
        return inline
    if isinstance(value, list | tuple):
        array: Array = tomlkit.array()
        array.extend([_item(v) for v in value])
        long = sum(len(v) for v in value if isinstance(v, str)) > 100
        return array.multiline(True) if long else array
    made: Item = tomlkit.item(value)
    return made
