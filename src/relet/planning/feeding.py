"""Feeds: every frame that hangs is fed once, by a radial or a tap that it can carry."""

from __future__ import annotations

from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from relet.planning.build import Model


def feed_every_frame(m: Model) -> None:
    """One feed for each frame, rated no higher than the frame.

        sum_r radial[p,r] + sum_x tap[p,x] = sum_f frame[p,f]                              all p             "feed"
        sum_{feeds of A and more} feed[p] <= sum_{f of A and more} frame[p,f]              all p, ratings A  "rated"

    Rows of "rated" are for each rating from which on a frame drops out.
    """
    s = m.sets
    for p in s.places():
        if p not in s.radials:
            continue
        feeds = m.fed(p)
        terms = [*((1.0, v) for _, v in feeds), *((-1.0, v) for _, v in m.hung(p))]
        m.programme.equal(f"feed[{p}]", terms, 0.0, "conductor.overload: a feed to each assembly")
        for rating in sorted({f.in_a for f in s.frames_at[p]}):
            above = [(1.0, v) for a, v in feeds if a > rating]
            if above:
                able = [(-1.0, m.vars.frame[p, f.id]) for f in s.frames_at[p] if f.in_a > rating]
                m.programme.at_most(f"rated[{p},{rating:g}]", [*above, *able], 0.0)
