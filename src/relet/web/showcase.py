"""What the pages show: one unit, each case with its dossier, and what is looked up in it by address."""

from __future__ import annotations

from functools import cached_property

from relet.checks.findings import Finding
from relet.drawing import face, plan, single_line, svg
from relet.errors import InputError
from relet.model import Seat
from relet.model.values import Value
from relet.schedules import Dossier, FactRow, FigureRow, facts, figure_rows
from relet.schedules.change import touched
from relet.schedules.findings import marks
from relet.working import Fact, Figure, leaves


class Showcase(Value, frozen=True, kw_only=True):
    """One unit with its cases: what stands first, then each tenancy that has a design, in order."""

    unit: str
    dossiers: tuple[Dossier, ...]


def showcase(*dossiers: Dossier) -> Showcase:
    """Gather the cases of one unit. Raises InputError: none, two of one name, or cases of different units."""
    if not dossiers:
        raise InputError("there is nothing to show: the unit has no case.")
    names = [d.id for d in dossiers]
    twice = next((n for n in names if names.count(n) > 1), None)
    if twice is not None:
        raise InputError(f'two cases are called "{twice}". Each needs a name of its own.')
    if len({d.case.unit.id for d in dossiers}) > 1:
        raise InputError("these cases belong to different units. One unit at a time can be shown.")
    return Showcase(unit=dossiers[0].case.unit.name, dossiers=dossiers)


class CaseView:
    """One case, with its findings, facts, table rows and drawings by address. Made once and only read."""

    def __init__(self, dossier: Dossier) -> None:
        self.dossier = dossier
        self.id, self.case, self.found = dossier.id, dossier.case, dossier.found

    @cached_property
    def addresses(self) -> dict[str, Finding]:
        """Findings by the end of their address: "<rule>/<subject>"."""
        out: dict[str, Finding] = {}
        for f in self.found.worst_first:
            base = one = f"{f.rule}/{f.subject}"
            n = 2
            while one in out:
                one, n = f"{base}~{n}", n + 1
            out[one] = f
        return out

    @cached_property
    def by_key(self) -> dict[str, str]:
        """End of the address by a finding's key; the gravest where two share one."""
        out: dict[str, str] = {}
        for address, f in self.addresses.items():
            out.setdefault(f.key, address)
        return out

    @cached_property
    def facts(self) -> dict[str, FactRow]:
        """Held facts by address."""
        return facts(self.case)

    @cached_property
    def figures(self) -> dict[str, FigureRow]:
        """Table rows that decide, by id."""
        return {r.id: r for r in figure_rows(self.found)}

    @cached_property
    def _decides(self) -> dict[str, tuple[str, ...]]:
        out: dict[str, dict[str, None]] = {}
        for f in self.found.worst_first:
            for leaf in f.decided_by:
                if isinstance(leaf.origin, Fact):
                    out.setdefault(leaf.origin.path, {})[f.key] = None
        return {path: tuple(keys) for path, keys in out.items()}

    @cached_property
    def leaves(self) -> dict[str, Figure]:
        """Facts as they stand in workings, by address: defaults and counted things among them."""
        out: dict[str, Figure] = {}
        for f in self.found.findings:
            sides = [x for side in (f.worst, f.best) if side is not None for x in (side.value, side.limit, *side.rests)]
            for figure in (*sides, *f.beside()):
                for leaf in leaves(figure):
                    if isinstance(leaf.origin, Fact):
                        out.setdefault(leaf.origin.path, leaf)
        return out

    @cached_property
    def asked(self) -> frozenset[str]:
        """Facts that would settle something, held or not."""
        return frozenset({n.about for n in self.found.next} | {n.about for f in self.found.findings for n in f.needs})

    def knows(self, about: str) -> bool:
        """True if a fact has a page: it is held, used in a working, or asked for."""
        return about in self.facts or about in self.leaves or about in self.asked

    def rests_on(self, about: str) -> tuple[str, ...]:
        """Keys of the findings that a fact decides, gravest first."""
        return self._decides.get(about, ())

    # ---- drawings, in the palette of the page ----

    @cached_property
    def plan_svg(self) -> str:
        """The plan."""
        c = self.case
        drawn = plan(c.unit, c.installation, c.use, c.tenancy, c.catalogue, verdicts=marks(self.found))
        return svg(drawn, "page", id_prefix="plan-", style=False)

    @cached_property
    def change_svg(self) -> str:
        """The plan with all that the changeover touches framed; "" where nothing comes before."""
        c, job = self.case, self.dossier.job
        if job is None:
            return ""
        drawn = plan(c.unit, c.installation, c.use, c.tenancy, c.catalogue, differs=touched(job))
        return svg(drawn, "page", id_prefix="change-", style=False)

    @cached_property
    def single_line_svg(self) -> str:
        """The single-line diagram."""
        c = self.case
        drawn = single_line(c.installation, c.use, c.unit, c.catalogue, c.tenancy, verdicts=marks(self.found))
        return svg(drawn, "page", id_prefix="line-", style=False)

    def face_svg(self, seat: str) -> str:
        """The front of one assembly."""
        c = self.case
        drawn = face(Seat(seat), c.installation, c.catalogue, c.use, c.tenancy)
        return svg(drawn, "page", id_prefix="face-", style=False)
