"""What each step says: its words, its points, who loses supply, its minutes. The walk decides the order."""

from __future__ import annotations

from collections.abc import Collection, Iterable

from msgspec.structs import replace

from relet.changeover.affected import circuits, losses, protects, residual
from relet.changeover.difference import Difference
from relet.changeover.isolation import Feeds
from relet.changeover.legal import extent
from relet.changeover.order import natural
from relet.changeover.step import Step, Verb, part_of
from relet.changeover.wording import ON_RECORD, name, place, unknown_feed, work_words
from relet.electrical.topology import ORIGIN, holder
from relet.model import (
    Catalogue,
    Claim,
    Device,
    Exactly,
    Facts,
    Installation,
    Outlet,
    Path,
    Piece,
    Run,
    Seat,
    Tenancy,
)
from relet.pricing import PriceBook, minutes


def _endless(run: Run) -> Facts:
    """Facts of a run without its length: what is left of its minutes are its two ends."""
    zero = Claim(about=Path(f"plan.runs.{run.to}.length_m"), holds=Exactly(0.0), how="chosen")
    return run.facts.merged({"length_m": zero})


class Writer:
    """Writes numbered steps of one job.

    tenant    whose machines are plugged in while the work is done
    sources   other sources of the unit (panels, a battery, a neighbour's feed): isolated with every point
    """

    def __init__(
        self,
        job: str,
        book: PriceBook,
        catalogue: Catalogue | None,
        tenant: Tenancy | None = None,
        sources: Iterable[str] = (),
    ) -> None:
        self.job, self.book, self.catalogue, self.tenant = job, book, catalogue, tenant
        self.sources = tuple(sources)
        self.n = 0
        self.done: dict[str, int] = {}

    def _step(
        self, verb: Verb, seat: Seat, words: str, minutes_: float, later_than: Iterable[int] = (), **more: object
    ) -> Step:
        self.n += 1
        self.done[f"{verb}:{seat}"] = self.n
        return Step(
            n=self.n, job=self.job, verb=verb, seat=seat, words=words, minutes=round(minutes_, 2),
            after_steps=tuple(sorted({a for a in later_than if a})), **more,  # type: ignore[arg-type]
        )  # fmt: skip

    def _n(self, *keys: str) -> list[int]:
        return [self.done.get(k, 0) for k in keys]

    # ---- making dead ----

    def isolate(self, feeds: Feeds, point: Seat, locked: Collection[Seat]) -> Step:
        """Open a point and lock it off."""
        lost = losses(feeds, point, locked, self.tenant)
        if point == ORIGIN:
            words = (
                "Have the supply isolated before the first device, by the network operator or whoever may; lock it "
                f"off and tag it; {ON_RECORD}."
            )
        else:
            words = f"Open {point}, lock it off, tag it and keep the key; {ON_RECORD}."
        if self.sources:
            words += f" Isolate and lock off too: {', '.join(self.sources)}."
        return self._step(
            "isolate", point, words, self.book.minutes("isolate_and_prove"), isolate_at=(point,),
            other_sources=self.sources, loses_supply=lost,
        )  # fmt: skip

    def lock_off(self, feeds: Feeds, point: Seat, wider: Seat) -> Step:
        """Lock a narrower point so that a wider one can close."""
        words = f"Lock off {point}: what is left to do lies below it, so {wider} can close again."
        after = self._n(f"isolate:{wider}", f"put_in:{point}", f"replace:{point}")
        return self._step("lock_off", point, words, self.book.minutes("lock_off"), after, isolate_at=(point,))

    def prove(self, feeds: Feeds, element: Seat, points: tuple[Seat, ...], apart: bool) -> Step:
        """Prove dead at the place of work."""
        where = place(element)
        if apart:
            words = f"{where}: on the record nothing feeds it any more: prove dead all the same, neutral included."
        else:
            words = f"{where}: {ON_RECORD} between all conductors and to earth, neutral included; prove the tester."
            if element in feeds.installation.boards and Seat(f"{element}/incomer") in feeds.installation.devices:
                words += f" The line side of {element}/incomer stays live behind its shroud."
        first = "" if apart else self._first_proof(points)
        time = 0.0 if first else self.book.minutes("prove_dead")
        after = self._n(*(f"isolate:{p}" for p in points), *(f"lock_off:{p}" for p in points))
        return self._step(
            "prove_dead", element, words, time, after, isolate_at=points, other_sources=self.sources,
            prove_dead_at=(element,),
        )  # fmt: skip

    def _first_proof(self, points: tuple[Seat, ...]) -> str:
        """The isolation whose own minutes pay for this proof: the one written just before."""
        return next((p for p in points if self.done.get(f"isolate:{p}") == self.n), "")

    # ---- work ----

    def work(
        self,
        d: Difference,
        opens: tuple[str, ...],
        points: tuple[Seat, ...],
        opened: tuple[Seat, ...],
        strange: tuple[Seat, ...],
        later_than: Iterable[int] = (),
    ) -> Step:
        """One piece of work at one seat."""
        verbs: dict[str, Verb] = {
            "added": "put_in", "removed": "take_out", "replaced": "replace", "rewired": "reconnect",
            "relabelled": "relabel", "learned": "record",
        }  # fmt: skip
        verb = verbs[d.kind]
        warning = ""
        if strange:
            warning = unknown_feed(strange)
        apart = not points and d.kind not in ("learned", "relabelled")
        drawn = self._n(f"draw:{d.seat}")
        time = self._minutes(d) - (self._drawing(d.after) if any(drawn) and isinstance(d.after, Run) else 0.0)
        proofs = self._n(*(f"prove_dead:{e}" for e in opened), *(f"isolate:{p}" for p in points))
        words = work_words(d, verb, self.catalogue, apart)
        step = self._step(
            verb, d.seat, words, time, [*proofs, *drawn, *later_than], before=part_of(d.before),
            after=part_of(d.after), opens=opens, isolate_at=points, prove_dead_at=opened, warning=warning,
            difference=d, other_sources=self.sources if points else (),
        )  # fmt: skip
        self.done[f"work:{d.seat}"] = step.n
        return step

    def _minutes(self, d: Difference) -> float:
        if d.kind == "learned":
            return 0.0
        if d.kind == "relabelled":
            return self.book.minutes("label")
        if d.kind == "rewired" or d.group == "off_groups":
            return self.book.minutes("disconnect") + self.book.minutes("terminate")
        out = minutes(self.book, "take_out", d.before) if isinstance(d.before, Piece) and d.kind != "added" else 0.0
        return out + (minutes(self.book, "put_in", d.after) if isinstance(d.after, Piece) else 0.0)

    def blank(self, d: Difference, now: Installation, b: Installation, points: tuple[Seat, ...]) -> Step | None:
        """Close what a piece leaves open, if nothing else will sit there."""
        at = holder(d.key)
        if d.kind not in ("removed", "replaced") or d.group not in ("devices", "outlets", "taps"):
            return None
        if at not in b.boards and at not in b.assemblies and not (d.group == "taps" and at in b.runs):
            return None
        if d.group == "taps" or at in b.boards:
            if d.kind == "replaced" or d.key.endswith("/incomer"):
                return None
            part = () if d.group == "taps" else (("blank-board-way", 1 if ".L" in d.key else 3),)
            what = "tap-off opening" if d.group == "taps" else "board way"
        else:
            free = self._left_open(d, b)
            if not free:
                return None
            face = d.group == "outlets"
            part = (("blank-aperture" if face else "blank-way", free),)
            what = f"{free} {'aperture' if face else 'way'}{'s' if free > 1 else ''}"
        words = f"Blank {what} at {d.key}."
        work = self._n(f"work:{d.seat}")
        return self._step("blank", d.seat, words, self.book.minutes("blank"), work, isolate_at=points, parts=part)

    def _left_open(self, d: Difference, b: Installation) -> int:
        was = Installation(**{d.group: {d.key: d.before}})  # type: ignore[arg-type]
        taken = {
            p for s in (*b.devices, *b.outlets) if holder(s) == holder(d.key) for p in extent(s, b, self.catalogue)
        }
        return len(set(extent(d.key, was, self.catalogue)) - taken)

    # ---- before a point opens ----

    def draw(self, d: Difference, run: Run) -> Step:
        """Draw a cable in before anything is opened, its ends left off: only connecting it needs the isolation."""
        words = f"Draw in {name(run, self.catalogue)} for {d.seat} and leave both ends off, capped and marked."
        return self._step("draw", d.seat, words, self._drawing(run))

    def _drawing(self, run: Run) -> float:
        return minutes(self.book, "put_in", run) - minutes(self.book, "put_in", replace(run, facts=_endless(run)))

    def beforehand(self, feeds: Feeds, worked: list[Difference]) -> Iterable[Step]:
        """Label and dead-test what is fitted and not connected yet."""
        mine = self._n(*(f"work:{d.seat}" for d in worked))
        yield from self._labels(worked, mine)
        for c in sorted({d.key for d in worked if isinstance(d.after, Device)}, key=natural):
            device = feeds.installation.devices.get(c)
            if device is not None and protects(device, self.catalogue) and feeds.tree.children.get(c):
                yield self._dead_test(c, mine)

    # ---- closing ----

    def closing(
        self, feeds: Feeds, point: Seat, worked: list[Difference], rest: Collection[Seat], prepared: Collection[Seat]
    ) -> Iterable[Step]:
        """What has to be done before and after a point closes: lock off, label, test dead, close, test live.

        prepared   seats that were labelled and dead-tested before they were connected
        """
        touched = {Seat(d.seat.removesuffix("/device")) for d in worked}
        mine = self._n(*(f"work:{d.seat}" for d in worked))
        for seat in self._spare(feeds, worked):
            if seat != point and seat not in rest and feeds.above(point, seat):
                words = f"Lock off {seat} and mark it as spare: it feeds nothing."
                yield self._step("lock_off", seat, words, self.book.minutes("lock_off"), mine, isolate_at=(seat,))
        yield from self._labels([d for d in worked if d.seat not in prepared], mine)
        affected = circuits(feeds, touched, rest)
        for c in affected:
            if c not in prepared:
                yield self._dead_test(c, mine, (point,))
        dead = self._n(*(f"test_dead:{c}" for c in affected))
        words = f"Take the lock off and close {point}; check what it feeds."
        if point == ORIGIN:
            words = "Have the supply restored; check what it feeds."
        yield self._step("re_energise", point, words, self.book.minutes("re_energise"), [*mine, *dead])
        closed = self._n(f"re_energise:{point}")
        for c in affected:
            time = self.book.minutes("test_live") + (self.book.minutes("test_rcd") if residual(feeds, c) else 0)
            words = (
                f"Live tests of the circuit of {c}: loop impedance, residual current devices, phase sequence, function."
            )
            yield self._step("test_live", c, words, time, closed)

    def _labels(self, worked: Iterable[Difference], mine: list[int]) -> Iterable[Step]:
        by_place: dict[Seat, list[Seat]] = {}
        for d in worked:
            if d.kind in ("added", "replaced") and holder(d.seat) != d.seat:
                by_place.setdefault(holder(d.seat), []).append(d.seat)
        for at in sorted(by_place, key=natural):
            seats = sorted(by_place[at], key=natural)
            time = len(seats) * self.book.minutes("label")
            parts = (("label", len(seats)),)
            yield self._step("label", at, f"Label in {at}: {', '.join(seats)}.", time, mine, parts=parts)

    def _dead_test(self, c: Seat, mine: list[int], points: tuple[Seat, ...] = ()) -> Step:
        words = f"Dead tests of the circuit of {c}: continuity, insulation, polarity; enter the readings."
        return self._step("test_dead", c, words, self.book.minutes("test_circuit"), mine, isolate_at=points)

    @staticmethod
    def _spare(feeds: Feeds, worked: Iterable[Difference]) -> tuple[Seat, ...]:
        """Devices that work has left with nothing to feed."""
        out: set[Seat] = set()
        for d in worked:
            if isinstance(d.after, Device):
                out.add(d.key)
            for one in (d.before, d.after):
                if isinstance(one, Run):
                    out.add(one.from_)
                elif isinstance(one, Device | Outlet) and one.behind is not None:
                    out.add(one.behind)
        devices, children = feeds.installation.devices, feeds.tree.children
        return tuple(sorted(s for s in out if s in devices and not children.get(s) and not s.endswith("/incomer")))
