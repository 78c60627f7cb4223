"""No-goods: what the real checks found wanting, fed back as constraints by the name of the rule."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from typing import TYPE_CHECKING

from relet.planning.programme import Term

if TYPE_CHECKING:
    from relet.planning.build import Model


@dataclass(frozen=True)
class NoGood:
    """At one site these may not all hold together.

    machines   all of these seated here, and
    circuit    the first of them on this kind of circuit ("" for any), and
    feed_up_to fed at no more than this rating, A (None: however fed), and
    frames     in one of these frames (None: in any)
    tapped     only where fed by a tap (True) or a radial (False); None: either
    """

    name: str
    rule: str
    site: str
    machines: tuple[str, ...] = ()
    circuit: str = ""
    feed_up_to: float | None = None
    frames: tuple[str, ...] | None = None
    tapped: bool | None = None

    def __str__(self) -> str:
        return self.name


def forbid(m: Model, cuts: Iterable[NoGood]) -> None:
    """Each no-good leaves out at least one of what it names.

        sum_{i in S} seat[i,p] + [feed[p] of at most A] + [frame[p] among F] <= |S| + groups - 1        "nogood"

    Feeds and frames of a place exclude one another, so each bracket counts as one.
    """
    for n, cut in enumerate(cuts):
        terms, most = _terms(m, cut)
        if most:
            m.programme.at_most(f"nogood[{n}]", terms, most - 1.0, f"{cut.rule}: {cut.name}")


def _terms(m: Model, cut: NoGood) -> tuple[list[Term], float]:
    terms: list[Term] = []
    most = 0.0
    for k, i in enumerate(cut.machines):
        if (i, cut.site) not in m.sets.pairs:
            return [], 0.0
        if k == 0 and cut.circuit:
            if (i, cut.site, cut.circuit) not in m.vars.seat:
                return [], 0.0
            terms.append((1.0, m.vars.seat[i, cut.site, cut.circuit]))
        else:
            terms += m.seated(i, cut.site)
        most += 1.0
    radial = [r for r in m.sets.radials.get(cut.site, ()) if cut.feed_up_to is None or r.in_a <= cut.feed_up_to]
    taps = [x for x in m.sets.taps.get(cut.site, ()) if cut.feed_up_to is None or x.in_a <= cut.feed_up_to]
    if cut.feed_up_to is not None or cut.tapped is not None:
        if cut.tapped is not True:
            terms += [(1.0, m.vars.radial[cut.site, r.id]) for r in radial]
        if cut.tapped is not False:
            terms += [(1.0, m.vars.tap[cut.site, x.id]) for x in taps]
        most += 1.0
    if cut.frames is not None:
        terms += m.hung(cut.site, cut.frames)
        most += 1.0
    return terms, most
