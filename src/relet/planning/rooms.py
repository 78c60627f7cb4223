"""Room: apertures of the face and ways of the rail, with the spare share kept free; one frame at a place."""

from __future__ import annotations

from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from relet.planning.build import Model

RULE = "assembly.fit (with the spare share of policy)"
NEIGHBOURS = "place.clearance between assemblies"


def fit_on_face_and_rail(m: Model) -> None:
    """Outlets fit on the face and devices on the rail while each tenant is in.

        sum_c apertures[c] count[t,p,c] <= sum_f usable apertures[f] frame[p,f]        all t, p        "face"
        sum_c ways[c] count[t,p,c]      <= sum_f usable ways[f] frame[p,f]             all t, p        "rail"

    Usable is what the spare share (at least one) and the incomer leave.
    """
    s = m.sets
    for t in s.tenancies:
        for site in s.sites:
            counted = {c: v for (u, q, c), v in m.vars.count.items() if u == t and q == site}
            if not counted:
                continue
            face = [(float(s.circuits[c].apertures), v) for c, v in counted.items()]
            rail = [(float(s.circuits[c].ways), v) for c, v in counted.items()]
            if site in s.kept_frames:
                f = s.kept_frames[site].frame
                m.programme.at_most(f"face[{t},{site}]", face, float(f.apertures), RULE)
                m.programme.at_most(f"rail[{t},{site}]", rail, float(f.ways), RULE)
                continue
            frames = s.frames_at[site]
            face += [(-float(f.apertures), m.vars.frame[site, f.id]) for f in frames]
            rail += [(-float(f.ways), m.vars.frame[site, f.id]) for f in frames]
            m.programme.at_most(f"face[{t},{site}]", face, 0.0, RULE)
            m.programme.at_most(f"rail[{t},{site}]", rail, 0.0, RULE)


def fit_the_seated(m: Model) -> None:
    """As above, by what is in use alone: for a first plan, before anything is counted.

    sum_i apertures[c] / gangs[c] seat[i,p,c] <= sum_f usable apertures[f] frame[p,f]        all t, p        "face"
    sum_i ways[c] / gangs[c] seat[i,p,c]      <= sum_f usable ways[f] frame[p,f]             all t, p        "rail"
    """
    s = m.sets
    for t in s.tenancies:
        for site in s.sites:
            here = [] if site in s.kept_outlets else s.needs_at(site, t)
            for name, room in (("face", "apertures"), ("rail", "ways")):
                terms = [
                    (n.outlets * getattr(s.circuits[c], room) / s.circuits[c].gangs, m.vars.seat[n.id, site, c])
                    for n in here for c in s.pairs[n.id, site].circuits
                ]  # fmt: skip
                if not terms:
                    continue
                own = float(getattr(s.kept_frames[site].frame, room)) if site in s.kept_frames else 0.0
                frames = [] if site in s.kept_frames else s.frames_at[site]
                terms += [(-float(getattr(f, room)), m.vars.frame[site, f.id]) for f in frames]
                m.programme.at_most(f"{name}[{t},{site}]", terms, own, RULE)


def one_frame_a_place(m: Model) -> None:
    """One frame at a place, and none so near another that they overlap.

    sum_f frame[p,f] <= 1                                            all p                                "one"
    sum_f frame[p,f] + sum_f frame[q,f] <= 1                         p, q nearer than a width, one wall   "apart"
    """
    s = m.sets
    sites = [p for p in s.places() if p in s.radials]
    for p in sites:
        m.programme.at_most(f"one[{p}]", m.hung(p), 1.0)
    width = max((float(f.part.data.get("width_mm", 0.0)) for f in s.frames), default=0.0) / 1000
    for a, p in enumerate(sites):
        for q in sites[a + 1 :]:
            here, there = s.sites[p], s.sites[q]
            apart = ((here.at_m[0] - there.at_m[0]) ** 2 + (here.at_m[1] - there.at_m[1]) ** 2) ** 0.5
            if here.on == there.on and apart < width - 1e-9:
                m.programme.at_most(f"apart[{p},{q}]", [*m.hung(p), *m.hung(q)], 1.0, NEIGHBOURS)
