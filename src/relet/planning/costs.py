"""What each decision of a plan costs, taken from `relet.pricing` piece by piece, so that the two cannot drift.

    price of a scheme = price_installation(what is new for the first tenancy)
                      + discount-weighted sum of the changes from each tenancy to the next

A change is priced by the tasks it is made of: isolating each assembly that is worked in, taking out, putting in,
testing and certifying each circuit that is touched. Parts taken out are not set against parts put in later: stock is
the business of the changeover itself.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from itertools import pairwise
from typing import Any

from relet.model import Catalogue, Installation, Piece, Run, Seat
from relet.pricing import PriceBook, Task, UnknownPrice, cores, minutes, price_change, price_installation, work_name


@dataclass(frozen=True)
class Costs:
    """Prices of single pieces of work, each as `relet.pricing` prices it, mark-up included."""

    book: PriceBook
    catalogue: Catalogue

    def _alone(self, task: Task) -> float:
        standing = self.book.minutes("standing_time") / 60 * self.book.rate_per_hour
        return price_change([task], self.book).total - round(standing, 2)

    def put_in(self, piece: Piece, cores: int = 5) -> float:
        """Material and labour of one new piece."""
        return self._alone(_put_in(piece, cores, self.book))

    def take_out(self, piece: Piece) -> float:
        """Labour of taking one piece out."""
        return self._alone(_take_out(piece, self.book))

    def known(self, part: str) -> bool:
        """True if the book prices this part."""
        return part in self.book.parts

    @property
    def test(self) -> float:
        """Testing and certifying one circuit."""
        time = self.book.minutes("test_circuit") + self.book.minutes("paperwork_per_circuit")
        return time / 60 * self.book.rate_per_hour

    @property
    def isolate(self) -> float:
        """Isolating one assembly, proving it dead, and bringing it back."""
        verbs = ("isolate_and_prove", "lock_off", "re_energise")
        return sum(self.book.minutes(v) for v in verbs) / 60 * self.book.rate_per_hour

    @property
    def once(self) -> float:
        """What one job costs whatever its size: papers and standing time."""
        time = self.book.minutes("paperwork") + self.book.minutes("standing_time")
        return time / 60 * self.book.rate_per_hour + self.book.sums.get("certificates", 0.0)


def price_new(installation: Installation, kept: Installation, costs: Costs) -> float:
    """Price of everything in an installation that does not stand already."""
    gone = set(kept.pieces())
    new = {f: _without(getattr(installation, f), {*gone, *getattr(kept, f)}) for f in Installation.__struct_fields__}
    return price_installation(Installation(**new), costs.book, costs.catalogue).total


def price_between(before: Installation, after: Installation, costs: Costs) -> float:
    """Price of the change from one installation to another; nothing if they do not differ."""
    a, b = before.pieces(), after.pieces()
    differ = [s for s in sorted({*a, *b}) if not alike(a.get(s), b.get(s))]
    if not differ:
        return 0.0
    tasks: list[Task] = []
    for seat in differ:
        if seat in a:
            tasks.append(_take_out(a[seat], costs.book))
        if seat in b:
            piece = b[seat]
            tasks.append(
                _put_in(piece, cores(piece, after, costs.catalogue) if isinstance(piece, Run) else 5, costs.book)
            )
    for holder in sorted({s.split("/")[0] for s in differ}):
        for verb in ("isolate_and_prove", "lock_off", "re_energise"):
            tasks.append(
                Task(what=f"{verb.replace('_', ' ')} {holder}", minutes=costs.book.minutes(verb), share="contents")
            )
    touched = circuits_touched(differ, after)
    if touched:
        tasks.append(Task(what="testing", minutes=touched * costs.book.minutes("test_circuit"), share="testing"))
    return price_change(tasks, costs.book, certificates=touched).total


def alike(a: Piece | None, b: Piece | None) -> bool:
    """True if nothing has to be done at a seat: same part, same feed, same facts held, whatever their addresses."""
    if a is None or b is None or type(a) is not type(b):
        return a is b
    if {f: c.holds for f, c in a.facts.items()} != {f: c.holds for f, c in b.facts.items()}:
        return False
    fields = (f for f in a.__struct_fields__ if f not in ("facts", "label", "id"))
    return all(getattr(a, f) == getattr(b, f) for f in fields)


def price_scheme(installations: Sequence[Installation], kept: Installation, costs: Costs, discount: float) -> float:
    """The price of a scheme: see the top of this file."""
    total = price_new(installations[0], kept, costs)
    for n, (before, after) in enumerate(pairwise(installations), 1):
        total += (1 - discount) ** n * price_between(before, after, costs)
    return round(total, 2)


def circuits_touched(differ: Sequence[Seat], after: Installation) -> int:
    """Circuits of an installation in which a piece was put: by the device that feeds it."""
    out: set[Seat] = set()
    feeding = {r.from_ for r in after.runs.values()} | {o.behind for o in after.outlets.values() if o.behind}
    for seat in differ:
        if seat in after.outlets:
            behind = after.outlets[seat].behind
            out |= {behind} if behind is not None else set()
        elif seat in after.runs:
            out.add(after.runs[seat].from_)
        elif seat in after.devices and seat in feeding:
            out.add(seat)
    return len(out)


def part_prices(costs: Costs, pieces: Mapping[str, Piece]) -> dict[str, float]:
    """Price of putting in each part that the book prices, by part number."""
    out: dict[str, float] = {}
    for part, piece in pieces.items():
        try:
            out[part] = costs.put_in(piece)
        except UnknownPrice:
            continue
    return out


def _put_in(piece: Piece, count: int, book: PriceBook) -> Task:
    return Task(
        what=work_name(piece), minutes=minutes(book, "put_in", piece), share="contents", put_in=piece, cores=count
    )


def _take_out(piece: Piece, book: PriceBook) -> Task:
    return Task(what=work_name(piece, "take out"), minutes=minutes(book, "take_out", piece), share="taking_out")


def _without(group: Any, seats: set[Seat]) -> Any:
    return group.drop(*seats)
