"""What a step says: pieces and places in words."""

from __future__ import annotations

from collections.abc import Iterable

from relet.changeover.difference import Content, Difference
from relet.changeover.step import Verb, part_of
from relet.electrical.topology import holder
from relet.model import Catalogue, Containment, Device, OffGroup, Outlet, Piece, Run, Seat
from relet.pricing import number

ON_RECORD = "isolated on the record: prove dead"


def unknown_feed(elements: Iterable[Seat]) -> str:
    """The warning at the head of a step whose feed nobody knows."""
    return (
        f"What feeds {', '.join(elements)} is not known. Isolated as far as the record goes; it may be live from "
        "somewhere else. Find its feed and prove dead before anything is touched."
    )


def work_words(d: Difference, verb: Verb, catalogue: Catalogue | None, apart: bool) -> str:
    """One piece of work in words. apart: nothing feeds its place, so no isolation stands before it."""
    text = _work(d, verb, catalogue)
    if not apart:
        return text
    return f"{text} Nothing feeds it {'yet' if d.kind == 'added' else 'any more'}."


def _work(d: Difference, verb: Verb, catalogue: Catalogue | None) -> str:
    old, new = name(d.before, catalogue), name(d.after, catalogue)
    match verb:
        case "take_out":
            return f"Take out {old} at {d.seat}."
        case "put_in":
            return f"Put in {new} at {d.seat}{_whence(d.after)}."
        case "replace" if d.like_for_like:
            return f"Replace {old} at {d.seat} by its equal."
        case "replace":
            if old == new and isinstance(d.after, Piece) and not isinstance(d.after, Run | Containment):
                return f"Take down {old} at {d.seat} and put it up as drawn ({', '.join(d.fields)})."
            return f"Replace {old} at {d.seat} by {new}{_whence(d.after)}."
        case "reconnect":
            return f"Reconnect {new} at {d.seat}{_whence(d.after)}."
        case "relabel":
            label = d.after.label if isinstance(d.after, Piece) else ""
            return f"Relabel {d.seat}: {label or 'no label'}."
        case _:
            return f"Nothing to do at {d.seat}: the record knows it better ({', '.join(d.fields) or 'load'})."


def _whence(content: Content | None) -> str:
    match content:
        case Run(from_=from_, to="end"):
            return f", from {from_}"
        case Run(from_=from_, to=to):
            return f", from {from_} to {to}"
        case Device(behind=str(behind)) | Outlet(behind=str(behind)):
            return f", behind {behind}"
        case OffGroup(outlets=outlets):
            return f": it switches off {', '.join(outlets)}"
    return ""


def name(content: Content | None, catalogue: Catalogue | None) -> str:
    """A piece in words: the catalogue's name, else its part."""
    if isinstance(content, Run) and not content.tapped:
        mm2 = number(content, "csa_mm2")
        return f"cable {content.cable}" + (f", {mm2:g} mm2" if mm2 is not None else "")
    part = part_of(content)
    found = catalogue.parts.get(part) if catalogue is not None else None
    return found.name if found is not None else part


def place(element: Seat) -> str:
    """Where a hand goes in, in words."""
    at = holder(element)
    return f"in {at}" if element.endswith("/incomer") or at == element else f"at {element}"
