"""The schedule of machines: what each takes, where it plugs in, and what of it is only assumed."""

from __future__ import annotations

from relet.checks.findings import Findings, Verdict
from relet.model import Case, Machine, Seat
from relet.model.values import Value
from relet.schedules.circuits import outlet_words
from relet.schedules.facts import doubtful, held
from relet.schedules.findings import findings_at, worst_verdict
from relet.schedules.shown import Shown
from relet.working import without_unit


class MachineRow(Value, frozen=True, kw_only=True):
    """One machine. `assumed` names the facts that are not certain or only assumed."""

    id: str
    name: str
    load: Shown
    load_of: str
    phases: Shown
    plug: Shown
    outlet: str
    outlet_words: Shown
    assumed: tuple[str, ...]
    verdict: Verdict
    worst: str


_LOADS = (("power_w", "taken from the supply"), ("shaft_kw", "at the shaft"), ("current_a", "on the nameplate"))


def machine_rows(case: Case, found: Findings | None = None) -> tuple[MachineRow, ...]:
    """Machines of the case's tenancy, in the order of their ids; none where nobody is in."""
    if case.tenancy is None:
        return ()
    return tuple(_row(case, m, found) for m in case.tenancy.machines.values())


def _row(case: Case, m: Machine, found: Findings | None) -> MachineRow:
    assert case.tenancy is not None
    at = f"tenancies.{case.tenancy.id}.machines.{m.id}"
    field, of = next(((f, w) for f, w in _LOADS if f in m.facts), ("power_w", ""))
    load = held(m, at, field)
    seat = case.use.plugged.get(m.id, "") if case.use is not None else ""
    outlet = case.installation.outlets.get(Seat(seat))
    about = findings_at(found, (at,)) if found is not None else ()
    return MachineRow(
        id=m.id, name=m.name, load=load if load.text else Shown(text="not known", doubt=True), load_of=of,
        phases=held(m, at, "phases"), plug=held(m, at, "plug"), outlet=seat,
        outlet_words=outlet_words(case, seat, outlet) if outlet is not None else Shown(text=""),
        assumed=tuple(without_unit(f) for f, c in m.facts.items() if doubtful(c)),
        verdict=worst_verdict(about), worst=f"finding:{about[0].key}" if about else "",
    )  # fmt: skip
