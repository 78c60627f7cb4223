"""Everything a verdict depends on, and nothing else."""

from __future__ import annotations

from relet.model.facts import Claim
from relet.model.installation import Installation
from relet.model.parts import Catalogue
from relet.model.tenancy import Tenancy, Use
from relet.model.unit import Unit
from relet.model.values import Map, Value


class Case(Value, frozen=True, kw_only=True):
    """One unit with one installation in one use.

    where      what is judged, in words and in addresses: "standing" or "design.<tenancy>"
    tenancy    whose machines run, None for the building's own loads alone
    use        which outlet feeds which machine, None while nobody is plugged in
    catalogue  declared data of parts
    code       id of the code pack
    learned    claims by path that go before what the pieces hold: readings, what-ifs, the person's own copy
    """

    where: str
    unit: Unit
    installation: Installation
    tenancy: Tenancy | None
    use: Use | None
    catalogue: Catalogue
    code: str
    learned: Map[str, Claim] = Map()
