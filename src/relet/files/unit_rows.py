"""The grammar of the unit file, relet/unit/1."""

from __future__ import annotations

from typing import Annotated, Final, Literal

from pydantic import BeforeValidator
from pydantic import Field as Key

from relet.files.claims import Said
from relet.files.grammar import APoint, Claimed, Facts, Flag, From, Groups, Plain, Points, Row, Text, Texts, To, Whole
from relet.files.pieces import InstallationRow

UNIT_FORMAT: Final = "relet/unit/1"


class UnitRow(Row):
    """[unit]"""

    id: Text
    name: Text = ""
    outline_m: Points
    ceiling_m: Annotated[float, Plain("unit", "ceiling_m")]


class OpeningRow(Row):
    """[openings] one door, roller door or window."""

    wall: Text
    from_m: Annotated[float, Plain("opening", "from_m")]
    to_m: Annotated[float, Plain("opening", "to_m")]
    height_m: Annotated[float, Plain("opening", "height_m")]
    escape: Flag = False


class ZoneRow(Row):
    """[zones] a part of the floor: a kind of place, an area kept clear, or both."""

    kind: Annotated[Said, Claimed("zone", "kind")] | None = None
    keep_clear: Flag = False
    area_m: Points
    facts: Annotated[dict[str, Said], Facts("zone")]


class PostRow(Row):
    """[posts] a column or pendant point where an assembly can hang."""

    at_m: APoint
    kind: Literal["column", "pendant"] = "column"


class SupplyRow(Row):
    """[supply] at its origin."""

    at_m: APoint
    bonding: Annotated[dict[str, Said], Facts("bonding")] = {}
    facts: Annotated[dict[str, Said], Facts("supply")]


class PolicyRow(Row):
    """[policy] the person's own rules."""

    code: Text = ""
    lead_reach_m: Annotated[dict[str, Said], Facts("lead_reach")] = {}
    facts: Annotated[dict[str, Said], Facts("policy")]


class ReadingRow(Row):
    """[standing.readings] one measured value; the name of the value says its unit."""

    at: Text
    facts: Annotated[dict[str, Said], Facts("reading")]


class StandingRow(InstallationRow):
    """[standing] what is on the walls, and what was read there."""

    readings: dict[str, ReadingRow] = {}


class MachineRow(Row):
    """[tenancies.<t>.machines] one machine; its kind fills in what is left out."""

    name: Text = ""
    kind: Text | None = None
    at_m: APoint
    facts: Annotated[dict[str, Said], Facts("machine")]


class RulesRow(Row):
    """[tenancies.<t>.rules]"""

    never_together: Groups = ()
    stays_on: Texts = ()
    interlocked: Groups = ()


class TenancyRow(Row):
    """[tenancies.<t>] who comes in, when, and with which machines."""

    name: Text = ""
    from_: From = Key(default=None, alias="from")
    to: To = None
    machines: dict[str, MachineRow] = {}
    rules: RulesRow = Key(default_factory=RulesRow)


class ForbidRow(Row):
    """[wishes] forbid: a wall, post, zone or place that may not be used."""

    wall: Text | None = None
    place: Text | None = None
    reason: Text = ""


def _several(raw: object) -> object:
    return [raw] if isinstance(raw, dict) else raw


class WishesRow(Row):
    """[wishes] what the person wants of a plan."""

    keep: Texts = ()
    pins: dict[str, Text] = {}
    forbid: Annotated[tuple[ForbidRow, ...], BeforeValidator(_several), Key(strict=False)] = ()
    most_assemblies: Annotated[int, Plain("wishes", "most_assemblies")] | None = None
    most_price: Annotated[float, Plain("wishes", "most_price")] | None = None


class UnitFileRow(Row):
    """A whole unit file. unit and supply are asked for apart, so that the rest can be looked at without them."""

    format: Literal["relet/unit/1"]
    catalogue: Text = ""
    prices: Text = ""
    unit: UnitRow | None = None
    openings: dict[str, OpeningRow] = {}
    zones: dict[str, ZoneRow] = {}
    posts: dict[str, PostRow] = {}
    supply: SupplyRow | None = None
    policy: PolicyRow = Key(default_factory=lambda: PolicyRow.model_validate({}))
    standing: StandingRow = Key(default_factory=StandingRow)
    tenancies: dict[str, TenancyRow] = {}
    wishes: WishesRow = Key(default_factory=WishesRow)
    stock: dict[str, Whole] = {}
    designs: dict[str, Text] = {}


NEEDED: Final = ("unit", "supply")
