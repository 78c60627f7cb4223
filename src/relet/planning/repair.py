"""Local repair by sizing: what a larger cable, device, feed or enclosure at one place settles, without a new plan."""

from __future__ import annotations

from collections.abc import Sequence

from relet.model import Part
from relet.planning.build import Model
from relet.planning.feeds import RadialFeed, TapFeed, board_devices
from relet.planning.gather import frame_price
from relet.planning.made import Hung, Made
from relet.planning.parts import Frame, datum, whole
from relet.planning.sizing import Sizing
from relet.planning.verdicts import Wrong, sites_of

BY_CABLE = ("fault.disconnection", "fault.conductor_heating", "conductor.")
BY_DEVICE = ("fault.breaking_capacity",)


def enlarged(m: Model, made: Made, wrong: Sequence[Wrong], before: Sizing, *, feeds: bool) -> tuple[Sizing, list[str]]:
    """The sizing with one step more wherever that may settle something, and what was done in words.

    feeds  a feed of a higher rating, with an enclosure that bears it, is such a step too
    """
    csa, device, told = dict(before.csa_mm2), dict(before.device), []
    feed_of, frame_of = dict(before.feed), dict(before.frame)
    done: set[str] = set()
    for w in wrong:
        for site in sites_of(made, w):
            h, feed, seat = made.hung[site], made.hung[site].feed, made.hung[site].seat
            if feed is None or site in done or w.subject in made.tapped:
                continue
            if is_demand(made, w):
                step = _higher(m, h, w.value) if feeds else None
                if step is not None:
                    feed_of[site], frame_of[site] = step
                    told.append(f"{w.rule}: {w.said}; {step[0].in_a:g} A instead of {feed.in_a:g} A to {seat}")
                    done.add(site)
            elif w.rule.startswith(BY_CABLE):
                now = csa.get(site, feed.csa_mm2)
                larger = next((s for s in m.sets.problem.choices.cable_sizes_mm2 if s > now), None)
                if larger is not None:
                    csa[site] = larger
                    told.append(f"{w.rule}: {w.said}; {larger:g} mm2 instead of {now:g} to {seat}")
                    done.add(site)
            elif w.rule in BY_DEVICE and isinstance(feed, RadialFeed) and w.subject in made.run_site:
                stronger = _stronger(m, device.get(site, feed.device))
                if stronger is not None:
                    device[site] = stronger
                    told.append(f"{w.rule}: {w.said}; {stronger.id} at {w.subject}")
                    done.add(site)
    return Sizing(csa, device, feed_of, frame_of), told


def _higher(m: Model, h: Hung, amps: float) -> tuple[RadialFeed | TapFeed, Frame] | None:
    """The least feed of the same kind at a site that carries a current, and the cheapest frame that bears it there."""
    several: list[RadialFeed | TapFeed] = []
    if isinstance(h.feed, TapFeed):
        several = [x for x in m.sets.taps[h.site] if x.run == h.feed.run]
    else:
        several = list(m.sets.radials[h.site])
    feed = min((x for x in several if x.in_a >= amps - 1e-9), key=lambda x: x.in_a, default=None)
    if feed is None:
        return None
    able = [
        f for f in m.sets.frames_at[h.site]
        if f.in_a >= feed.in_a and f.apertures >= h.frame.apertures and f.ways >= h.frame.ways
    ]  # fmt: skip
    frame = min(able, key=lambda f: (frame_price(f, m.sets.costs), f.id), default=None)
    return None if frame is None else (feed, frame)


def is_demand(made: Made, w: Wrong) -> bool:
    """True for an overload by what is plugged in, against the rated current of the device: no cable settles that."""
    if w.rule != "conductor.overload":
        return False
    rated = {h.feed.in_a for h in made.hung.values() if h.feed is not None} | set(made.tapped_a.values())
    return any(abs(w.limit - a) < 1e-6 for a in rated) and w.value > w.limit


def _stronger(m: Model, part: Part) -> Part | None:
    """The cheapest device of the same rating, curve and poles that breaks more."""
    costs, poles = m.sets.costs, whole(part, "poles")
    able = [
        p for p in board_devices(m.sets.problem, m.sets.phases, poles, datum(part, "in_a"))
        if datum(p, "icn_ka") > datum(part, "icn_ka") and p.data.get("curve") == part.data.get("curve")
        and costs.known(p.id)
    ]  # fmt: skip
    return min(able, key=lambda p: (costs.book.each(p.id), p.id), default=None)
