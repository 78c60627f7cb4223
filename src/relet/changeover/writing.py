"""What each step says: its words, its points, who loses supply, its minutes. The walk decides the order."""

from __future__ import annotations

from collections.abc import Collection, Iterable, Mapping

from relet.changeover.difference import Difference
from relet.changeover.isolation import Feeds
from relet.changeover.legal import extent
from relet.changeover.step import Loss, Step, Verb, part_of
from relet.changeover.wording import ON_RECORD, name, place, unknown_feed, work_words
from relet.electrical.topology import ORIGIN, holder
from relet.model import Catalogue, Device, FixedLoad, Installation, Outlet, Piece, Run, Seat, Tenancy
from relet.pricing import PriceBook, minutes
from relet.readings import circuit_of


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
        lost = self._losses(feeds, point, locked)
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
        proofs = self._n(*(f"prove_dead:{e}" for e in opened), *(f"isolate:{p}" for p in points))
        words = work_words(d, verb, self.catalogue, apart)
        step = self._step(
            verb, d.seat, words, self._minutes(d), [*proofs, *later_than], before=part_of(d.before),
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

    # ---- closing ----

    def closing(self, feeds: Feeds, point: Seat, worked: list[Difference], rest: Collection[Seat]) -> Iterable[Step]:
        """What has to be done before and after a point closes: lock off, label, test dead, close, test live."""
        touched = {Seat(d.seat.removesuffix("/device")) for d in worked}
        mine = self._n(*(f"work:{d.seat}" for d in worked))
        for seat in self._spare(feeds, worked):
            if seat != point and seat not in rest and feeds.above(point, seat):
                words = f"Lock off {seat} and mark it as spare: it feeds nothing."
                yield self._step("lock_off", seat, words, self.book.minutes("lock_off"), mine, isolate_at=(seat,))
        labelled = sorted(
            {holder(d.seat) for d in worked if d.kind in ("added", "replaced") and holder(d.seat) != d.seat}
        )
        for at in labelled:
            seats = sorted(d.seat for d in worked if holder(d.seat) == at and d.kind in ("added", "replaced"))
            words = f"Label in {at}: {', '.join(seats)}."
            yield self._step(
                "label", at, words, len(seats) * self.book.minutes("label"), mine, parts=(("label", len(seats)),)
            )
        circuits = self.circuits(feeds, touched, rest)
        for c in circuits:
            words = f"Dead tests of the circuit of {c}: continuity, insulation, polarity; enter the readings."
            yield self._step("test_dead", c, words, self.book.minutes("test_circuit"), mine, isolate_at=(point,))
        dead = self._n(*(f"test_dead:{c}" for c in circuits))
        words = f"Take the lock off and close {point}; check what it feeds."
        if point == ORIGIN:
            words = "Have the supply restored; check what it feeds."
        yield self._step("re_energise", point, words, self.book.minutes("re_energise"), [*mine, *dead])
        closed = self._n(f"re_energise:{point}")
        for c in circuits:
            time = self.book.minutes("test_live") + (self.book.minutes("test_rcd") if self._residual(feeds, c) else 0)
            words = (
                f"Live tests of the circuit of {c}: loop impedance, residual current devices, phase sequence, function."
            )
            yield self._step("test_live", c, words, time, closed)

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

    def circuits(self, feeds: Feeds, touched: Collection[Seat], rest: Collection[Seat]) -> tuple[Seat, ...]:
        """Protective devices whose circuits were touched and are energised now."""
        tree, out = feeds.tree, set()
        for t in touched:
            if not tree.fed(t) or any(feeds.above(p, t) for p in rest):
                continue
            ends = [e for e in (t, *tree.below(t)) if e in tree.ends]
            out |= {t} if t in feeds.installation.devices else set()
            out |= {c for e in (t, *ends) if (c := circuit_of(e, tree)) is not None}
        return tuple(sorted(c for c in out if self.protects(feeds.installation.devices[c])))

    def protects(self, device: Device) -> bool:
        """True for anything but a switch or a contactor."""
        part = self.catalogue.parts.get(device.part) if self.catalogue is not None else None
        kind = part.kind if part is not None else device.part.split("-")[0]
        return kind not in ("switch", "contactor")

    def _residual(self, feeds: Feeds, seat: Seat) -> bool:
        for s in feeds.tree.devices_on(seat):
            device = feeds.installation.devices[s]
            part = self.catalogue.parts.get(device.part) if self.catalogue is not None else None
            if "idn_ma" in device.facts or (part is not None and "idn_ma" in part.data):
                return True
        return False

    def _losses(self, feeds: Feeds, point: Seat, locked: Collection[Seat]) -> tuple[Loss, ...]:
        tree, i = feeds.tree, feeds.installation
        below = tree.below(point) if point != ORIGIN else tuple(s for s in tree.parent if tree.fed(s))
        off = {e for p in locked for e in tree.below(p)}
        machines: Mapping[str, object] = self.tenant.machines if self.tenant is not None else {}
        out: list[Loss] = []
        for e in sorted(set(below) - off):
            if e in i.outlets:
                out.append(Loss(seat=e, kind="outlet", name=i.outlets[e].label or name(i.outlets[e], self.catalogue)))
            elif e in i.loads:
                load: FixedLoad = i.loads[e]
                out.append(Loss(seat=e, kind="load", name=load.name, serves=load.serves))
            elif e.startswith("machine:"):
                machine = getattr(machines.get(e.removeprefix("machine:")), "name", e.removeprefix("machine:"))
                tenancy = self.tenant.name if self.tenant is not None else ""
                out.append(Loss(seat=e, kind="machine", name=machine, tenancy=tenancy))
        return tuple(out)
