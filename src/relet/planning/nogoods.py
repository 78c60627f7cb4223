"""No-goods: what the real checks found wanting, fed back as constraints by the name of the rule."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from typing import TYPE_CHECKING, TypeAlias

from relet.planning.current import ANGLES, line_share
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
    exact      it removes only plans that the checks refuse; where it does not, it may guide the search but no bound
    """

    name: str
    rule: str
    site: str
    machines: tuple[str, ...] = ()
    circuit: str = ""
    feed_up_to: float | None = None
    frames: tuple[str, ...] | None = None
    exact: bool = True


@dataclass(frozen=True)
class RunShort:
    """A tapped run carries less of one tenancy's demand on the average line than its rating, because lines are uneven.

    It guides the search and is never exact: another spread of the same demand might be more even.
    """

    name: str
    rule: str
    run: str
    tenancy: str
    limit_a: float
    exact: bool = False


@dataclass(frozen=True)
class NotOneRun:
    """These machines of one tenancy may not all draw through one tapped run of at most this rating."""

    name: str
    rule: str
    machines: tuple[str, ...]
    run_up_to_a: float
    exact: bool = True


Cut: TypeAlias = NoGood | RunShort | NotOneRun


def forbid(m: Model, cuts: Iterable[Cut]) -> None:
    """Each no-good leaves out at least one of what it names; each short run carries no more than it says.

        sum_{i in S} seat[i,p] + [feed[p] of at most A] + [frame[p] among F] <= |S| + groups - 1        "nogood"
        sum_p sum_i I[i] through[i,p,k] <= limit step[k,0]                                              "short"
        sum_{i in S} sum_p through[i,p,k] <= |S| - 1                 runs k of at most this rating      "not one run"

    Feeds and frames of a place exclude one another, so each bracket counts as one.
    """
    for n, cut in enumerate(cuts):
        rule = f"{cut.rule}: {cut.name}"
        if isinstance(cut, RunShort):
            _short(m, n, cut, rule)
        elif isinstance(cut, NotOneRun):
            for run in (r for r in m.sets.runs.values() if r.in_a <= cut.run_up_to_a):
                drawn = [(1.0, v) for (i, _, k), v in m.vars.through.items() if k == run.id and i in cut.machines]
                m.programme.at_most(f"not one run[{n},{run.id}]", drawn, len(cut.machines) - 1.0, rule)
        else:
            terms, most = _terms(m, cut)
            if most:
                m.programme.at_most(f"nogood[{n}]", terms, most - 1.0, rule)


def _short(m: Model, n: int, cut: RunShort, rule: str) -> None:
    terms = [
        (s.demand_a(ANGLES[1]) * line_share(s, m.sets.phases), v)
        for (i, _, k), v in m.vars.through.items()
        if k == cut.run and (s := m.sets.needs[i]).tenancy == cut.tenancy
    ]
    if (cut.run, 0) in m.vars.step:
        m.programme.at_most(f"short[{n}]", [*terms, (-cut.limit_a, m.vars.step[cut.run, 0])], 0.0, rule)


def _terms(m: Model, cut: NoGood) -> tuple[list[Term], float]:
    """The terms of a no-good, and how many of its parts can hold at once; (_, 0) where they cannot hold here at all."""
    terms: list[Term] = []
    for k, i in enumerate(cut.machines):
        if (i, cut.site) not in m.sets.pairs:
            return [], 0.0
        if k == 0 and cut.circuit:
            if (i, cut.site, cut.circuit) not in m.vars.seat:
                return [], 0.0
            terms.append((1.0, m.vars.seat[i, cut.site, cut.circuit]))
        else:
            terms += m.seated(i, cut.site)
    most = float(len(cut.machines))
    if cut.feed_up_to is not None:
        terms += [(1.0, v) for a, v in m.fed(cut.site) if a <= cut.feed_up_to]
        most += 1.0
    if cut.frames is not None:
        here = {f.id for f in m.sets.frames_at[cut.site]} if cut.site in m.sets.radials else set()
        terms += m.hung(cut.site, [f for f in cut.frames if f in here])
        most += 1.0
    return terms, most
