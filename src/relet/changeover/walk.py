"""Walk from one installation to another and write down each step: isolate, prove, work, test, re-energise.

The walk keeps the installation as it is at that moment and the points that are open and locked. Among the pieces of
work that nothing else has to go before, it does first what needs no isolation, then opens the point that costs the
fewest people their supply, does everything that point allows, and closes it only when nothing below it is left to do.
If all that is left lies below devices that can be locked off themselves, those are locked and the wider point closes.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping

from relet.changeover.difference import GENERIC, Difference
from relet.changeover.isolation import Feeds
from relet.changeover.legal import legal
from relet.changeover.order import Rank, meets, rank
from relet.changeover.step import Step, apply, part_of, put
from relet.changeover.writing import Writer
from relet.electrical.topology import ORIGIN, holder, topology
from relet.model import Catalogue, Installation, Run, Seat, Use
from relet.readings import all_joints, touched_by


class Walk:
    """The walk; `steps` is its result."""

    def __init__(
        self,
        a: Installation,
        b: Installation,
        differences: Iterable[Difference],
        writer: Writer,
        catalogue: Catalogue | None,
        use: Use | None,
        stock: Mapping[str, int],
    ) -> None:
        self.a, self.b, self.writer, self.catalogue, self.use, self.stock = a, b, writer, catalogue, use, stock
        self.unknown = frozenset(topology(a, None).orphans)
        self.by_run = {Seat(run.to): Seat(s) for i in (a, b) for s, run in i.runs.items() if run.to in i.boards}
        self.last = self._feeds(b)
        self.todo: dict[Seat, Difference] = {d.seat: d for d in sorted(differences, key=rank)}
        self.ranks = {d.seat: rank(d) for d in self.todo.values()}
        self.places = {d.seat: meets(d) for d in self.todo.values()}
        self.place = Seat("")
        self.prepared: set[Seat] = set()
        self.locked: list[Seat] = []
        self.proven: set[Seat] = set()
        self.worked: list[Difference] = []
        self.steps: list[Step] = []
        self._at(a)

    def _feeds(self, i: Installation) -> Feeds:
        return Feeds(i, self.catalogue, self.unknown, self.use, self.by_run)

    def _at(self, i: Installation) -> None:
        self.cur, self.feeds = i, self._feeds(i)

    # ---- the loop ----

    def run(self) -> tuple[Step, ...]:
        """Walk to the end."""
        while self.todo:
            ready = self._ready()
            free = [d for d in ready if self.feeds.dead(self.feeds.opened(d), self.locked)]
            idle = [d for d in free if all(self.feeds.unconnected(e) for e in self.feeds.opened(d))]
            held = [d for d in free if d not in idle]
            if self.locked and held:
                one = min(held, key=self._narrowest_last)
                if set(self.feeds.needs(self.feeds.opened(one))) <= set(self.locked) or not self._release():
                    self._work(one)
            elif self.locked and self._release():
                continue
            elif idle and (it := self._next_idle(idle, live=len(ready) > len(idle))) is not None:
                self._work(it)
            else:
                self._isolate(min((d for d in ready if d not in idle), key=self._cost))
        while self.locked:
            if not self._release():
                raise AssertionError(f"left open: {self.locked}")
        return tuple(self.steps)

    def _next_idle(self, idle: list[Difference], live: bool) -> Difference | None:
        """Work that needs no isolation, or None if all of it waits for parts that other work will set free."""
        freed = {part_of(d.before) for d in self.todo.values() if d.kind in ("removed", "replaced")} - GENERIC
        short = {p for p in freed if not self.stock.get(p)} if live and not self.locked else frozenset()
        now = [d for d in idle if d.kind != "added" or part_of(d.after) not in short]
        return min(now, key=lambda d: (holder(d.key) != self.place, self.ranks[d.seat]), default=None)

    def _ready(self) -> list[Difference]:
        out = []
        for d in self.todo.values():
            mine, places = self.ranks[d.seat], self.places[d.seat]
            if not any(self.ranks[s] < mine and places & self.places[s] for s in self.todo if s != d.seat):
                out.append(d)
        return out

    def _narrowest_last(self, d: Difference) -> tuple[int, bool, Rank]:
        """Work that needs the widest open point goes first, so that the point can close soon."""
        needs = self.feeds.needs(self.feeds.opened(d))
        depth = min((len(self.feeds.tree.path(p)) for p in needs), default=0)
        return depth, holder(d.key) != self.place, self.ranks[d.seat]

    def _cost(self, d: Difference) -> tuple[int, bool, Rank]:
        points = self.feeds.needs(self.feeds.opened(d))
        lost = sum(len(self.feeds.tree.below(p)) for p in points)
        return lost, holder(d.key) != self.place, self.ranks[d.seat]

    # ---- one piece of work ----

    def _work(self, d: Difference) -> None:
        opened = self.feeds.opened(d)
        strange = tuple(e for e in opened if self.feeds.of_unknown_feed(e))
        points = tuple(p for p in self.locked if any(self.feeds.above(p, e) for e in opened)) or (
            tuple(self.locked) if strange else ()
        )
        if d.is_work and d.kind != "relabelled":
            for e in opened:
                apart = self.feeds.unconnected(e)
                if e not in self.proven and not (apart and e not in self._elements(self.a)):
                    self._write(self.writer.prove(self.feeds, e, points, apart))
                    self.proven.add(e)
        opens = self._joints(d, put(d, self.cur))
        step = self.writer.work(d, opens, points, opened, strange, self._later_than(d))
        del self.todo[d.seat]
        self.place = holder(d.key)
        self._write(step)
        self._at(apply(step, self.cur))
        if d.is_work:
            self.worked.append(d)
        blank = self.writer.blank(d, self.cur, self.b, points)
        if blank is not None:
            self._write(blank)
        self.locked = [p for p in self.locked if p in self.cur.devices or p == ORIGIN]

    def _later_than(self, d: Difference) -> list[int]:
        """Steps of the work that had to go before at the same places."""
        mine, places = self.ranks[d.seat], self.places[d.seat]
        before = (s for s in self.ranks if self.ranks[s] < mine and places & self.places[s])
        return [self.writer.done[f"work:{s}"] for s in before]

    def _joints(self, d: Difference, after: Installation) -> tuple[str, ...]:
        """Joints that a piece of work opens or makes."""
        if d.kind in ("learned", "relabelled"):
            return ()
        if d.group == "off_groups":
            return (f"{d.key}:control",)
        old, new = self.feeds.tree, topology(after, None)
        if d.kind == "rewired" and d.group == "runs":
            both = {f"{d.seat}:from", f"{d.seat}:to"}
            same = {
                f"{d.seat}:{end}" for end, f in (("from", "from_"), ("to", "to"))
                if getattr(d.before, f) == getattr(d.after, f)
            }  # fmt: skip
            return tuple(sorted(both - same))
        touched = touched_by(d.seat, old) | touched_by(d.seat, new)
        if d.kind == "rewired":
            touched = frozenset(j for j in touched if j.startswith((f"{d.key}:", f"{d.seat}:")))
        return tuple(sorted(touched & (all_joints(old) | all_joints(new))))

    @staticmethod
    def _elements(i: Installation) -> frozenset[Seat]:
        return frozenset(Seat(s) for g in (i.boards, i.assemblies, i.devices, i.outlets, i.runs, i.loads) for s in g)

    # ---- isolating and closing ----

    def _before_opening(self) -> None:
        """Do what shortens the time without supply: draw cables in, label and dead-test what nothing feeds yet."""
        for d in self.todo.values():
            new = d.kind == "added" and f"draw:{d.seat}" not in self.writer.done
            if new and isinstance(d.after, Run) and self._can_be_drawn(d.after):
                self._write(self.writer.draw(d, d.after))
        busy = {p for d in self.todo.values() if d.group != "runs" for p in self.places[d.seat]}
        built = [
            d for d in self.worked
            if d.seat not in self.prepared and "/" in d.seat and self._apart(d) and holder(d.key) not in busy
        ]  # fmt: skip
        for step in self.writer.beforehand(self.feeds, built):
            self._write(step)
        self.prepared |= {d.seat for d in built}

    def _can_be_drawn(self, run: Run) -> bool:
        """True for a cable whose way opens no containment that is missing or holds other cables that are live."""
        others = self.cur.runs.items()
        there = all(t in self.cur.containment or t not in self.b.containment for t in run.through)
        beside = (s for s, other in others if set(run.through) & set(other.through))
        return not run.tapped and there and all(self.feeds.unconnected(s) for s in beside)

    def _isolate(self, d: Difference) -> None:
        if not self.locked:
            self._before_opening()
        opened = [e for e in self.feeds.opened(d) if not self.feeds.off(e, self.locked)]
        for point in self.feeds.needs(opened):
            self._write(self.writer.isolate(self.feeds, point, tuple(self.locked)))
            self.locked.append(point)
            self.proven.clear()

    def _under(self, point: Seat) -> list[Difference]:
        """Work left that touches anything at or below a point, as it is now or as it will be."""
        return [d for d in self.todo.values() if d.is_work and d.kind != "relabelled" and self._touches(point, d)]

    def _touches(self, point: Seat, d: Difference) -> bool:
        own = Seat(d.seat.removesuffix("/device"))
        for feeds in (self.feeds, self.last):
            elements = [*feeds.opened(d), *([own] if own in self._elements(feeds.installation) else [])]
            apart = point != ORIGIN and feeds.unconnected(point)
            if any(feeds.above(point, e) and (apart or not feeds.unconnected(e)) for e in elements):
                return True
            if any(feeds.of_unknown_feed(e) and point in feeds.main_switches for e in elements):
                return True
        return False

    def _release(self) -> bool:
        """Close one point if nothing below it is left to do; else move its lock down if that frees somebody."""
        for point in self.locked:
            if any(q != point and self.feeds.above(q, point) for q in self.locked):
                continue
            left = self._under(point)
            if not left:
                self._close(point)
                return True
            lower = self._lower(point, left)
            if lower is not None:
                for p in lower:
                    self._write(self.writer.lock_off(self.feeds, p, point))
                    self.locked.append(p)
                self._close(point)
                return True
        return False

    def _lower(self, point: Seat, left: list[Difference]) -> tuple[Seat, ...] | None:
        """Narrower points to lock (beside those that are) so that a point can close, if that frees somebody."""
        points: set[Seat] = set()
        for d in left:
            now = self.feeds.needs(self.feeds.opened(d))
            then = self.last.needs(self.last.opened(d))
            if point in now or point in then or not (now or then):
                return None
            points |= {*now, *then}
        below = set(self.feeds.tree.below(point))
        if not points or not all(p in below and p in self.cur.devices for p in points):
            return None
        kept = {e for p in points for e in (p, *self.feeds.tree.below(p))}
        if not any(e in self.feeds.tree.ends and e not in kept for e in below):
            return None
        new = points - set(self.locked)
        locks = [*(p for p in self.locked if p != point), *new]
        return tuple(sorted(new)) if not self._problems(locks) else None

    def _problems(self, locks: list[Seat]) -> tuple[str, ...]:
        return legal(self.cur, locks, catalogue=self.catalogue, unknown=self.unknown)

    def _close(self, point: Seat) -> None:
        rest = [p for p in self.locked if p != point]
        later = [d for d in self.worked if any(self._touches_now(q, d) for q in rest) or (self.todo and self._apart(d))]
        mine = [d for d in self.worked if d not in later]
        for step in self.writer.closing(self.feeds, point, mine, rest, self.prepared):
            self._write(step)
        self.locked = rest
        self.worked = later
        self.proven.clear()

    def _apart(self, d: Difference) -> bool:
        """True for something fitted that nothing feeds yet: it is labelled and tested when it is connected."""
        own = Seat(d.seat.removesuffix("/device"))
        return own in self._elements(self.cur) and self.feeds.unconnected(own)

    def _touches_now(self, point: Seat, d: Difference) -> bool:
        own = Seat(d.seat.removesuffix("/device"))
        return self.feeds.above(point, own) or self.feeds.above(point, holder(own))

    def _write(self, step: Step) -> None:
        self.steps.append(step)


def stamped(steps: Iterable[Step], a: Installation) -> Installation:
    """The installation after all steps."""
    for step in steps:
        a = apply(step, a)
    return a
