"""A unit file with everything it names: catalogue, prices, plans; and the cases that a check judges."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from functools import cached_property
from pathlib import Path

from relet.errors import InputError
from relet.files.catalogue import read_catalogue
from relet.files.plan import read_plan
from relet.files.prices import read_prices
from relet.files.unit import read_unit
from relet.files.values import UnitFile
from relet.files.words import near_hint
from relet.model import Case, Catalogue, Map, Scheme, Tenancy, Use
from relet.pricing import PriceBook

STANDING = "standing"


@dataclass(frozen=True)
class Opened:
    """Everything that a unit file names.

    schemes  by tenancy: the plan that serves it; a plan given by hand on the command line goes before the file's own
    """

    unit_file: UnitFile
    catalogue: Catalogue
    prices: PriceBook
    schemes: Map[str, Scheme]

    @cached_property
    def code(self) -> str:
        """Id of the code pack of the unit."""
        return self.unit_file.unit.policy.code

    def tenancy(self, id: str) -> Tenancy:
        """A tenancy by id. Raises InputError naming the nearest."""
        held = self.unit_file.tenancies
        if id not in held:
            hint = near_hint(id, tuple(held))
            raise InputError(f'no tenancy "{id}".{hint} There are: {", ".join(held)}.', file=self.unit_file.file)
        return held[id]

    def name_of(self, where: str) -> str:
        """A case in words: "as it stands", or its tenancy's name. `where` as in a finding, or the tenancy's id."""
        return "as it stands" if where == STANDING else self.tenancy(where.removeprefix("design.")).name

    def standing_case(self, tenancy: Tenancy | None, code: str | None = None) -> Case:
        """What stands, with the machines of a tenancy (or nobody's)."""
        i = self.unit_file.standing
        plugged = {} if tenancy is None else {m: s for m, s in self.unit_file.wishes.pins.items() if s in i.outlets}
        use = None if tenancy is None else Use(
            tenancy=tenancy.id, plugged=Map({m: s for m, s in plugged.items() if m in tenancy.machines})  # type: ignore[arg-type]
        )  # fmt: skip
        return Case(
            where=STANDING, unit=self.unit_file.unit, installation=i, tenancy=tenancy, use=use,
            catalogue=self.catalogue, code=code or self.code,
        )  # fmt: skip

    def design_case(self, id: str, code: str | None = None) -> Case:
        """The design that serves a tenancy. Raises InputError when there is none."""
        tenancy = self.tenancy(id)
        if id not in self.schemes:
            raise InputError(f'tenancy "{id}" has no design yet. `relet design` makes one.', file=self.unit_file.file)
        scheme = self.schemes[id]
        return Case(
            where=f"design.{id}", unit=self.unit_file.unit, installation=scheme.installation(id), tenancy=tenancy,
            use=scheme.uses[id], catalogue=self.catalogue, code=code or self.code,
        )  # fmt: skip

    def cases(self, tenancy: str | None = None, code: str | None = None) -> tuple[Case, ...]:
        """What a check judges: one tenancy's design (or what stands, with its machines); without a tenancy what
        stands with the machines of the first tenancy that has no design yet, and every design."""
        if tenancy is not None:
            t = self.tenancy(tenancy)
            return (self.design_case(t.id, code) if t.id in self.schemes else self.standing_case(t, code),)
        waiting = next((t for t in self.unit_file.in_order if t.id not in self.schemes), None)
        designs = (self.design_case(t.id, code) for t in self.unit_file.in_order if t.id in self.schemes)
        return (self.standing_case(waiting, code), *designs)


def open_unit(path: str | Path, plans: Sequence[str | Path] = ()) -> Opened:
    """Read a unit file and everything it names.

    plans   plan files that go before those the unit file names
    raises  InputError, InputErrors
    """
    u = read_unit(path)
    catalogue = read_catalogue(u.beside(u.catalogue) if u.catalogue else None)
    prices = read_prices(u.beside(u.prices) if u.prices else None)
    schemes: dict[str, Scheme] = {}
    for tenancy, name in u.designs.items():
        scheme = read_plan(u.beside(name), u)
        if tenancy not in scheme.contents:
            raise InputError(f"the plan {name} holds nothing for it.", file=u.file, place=f"designs.{tenancy}")
        schemes[tenancy] = scheme
    for given in plans:
        scheme = read_plan(given, u)
        schemes.update(dict.fromkeys(scheme.contents, scheme))
    return Opened(u, catalogue, prices, Map(schemes))
