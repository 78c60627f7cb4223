"""From the address of a working to the address of its page."""

from __future__ import annotations

from urllib.parse import quote

from relet.web.showcase import CaseView


def of(case: str, *tail: str) -> str:
    """Address of a page of a case."""
    return "/".join(("/of", quote(case), *(quote(t, safe="/.~") for t in tail)))


def link(view: CaseView, at: str) -> str:
    """Address of the page where a printed text has its working; "" where it has none."""
    kind, _, name = at.partition(":")
    if kind == "fact":
        return of(view.id, "fact", name) if view.knows(name) else ""
    if kind == "finding":
        address = view.by_key.get(name)
        return of(view.id, "finding", address) if address is not None else ""
    if kind == "price":
        return of(view.id, "price", name)
    if kind == "row":
        return of(view.id, "figure", name) if name in view.figures else of(view.id, "figures")
    return ""
