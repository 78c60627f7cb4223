"""What a job costs, what goes in and comes out, and from where: stock first, then what the job itself sets free."""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence

from msgspec.structs import replace

from relet.changeover.difference import GENERIC, Content, Difference
from relet.changeover.step import Moved, Step
from relet.model import Catalogue, Containment, Device, Installation, Piece, Run, Seat
from relet.pricing import Price, PriceBook, Share, Task, cores, length_m, metre_names, minutes, price_change, work_name


def placed(steps: Sequence[Step], stock: Mapping[str, int]) -> tuple[Step, ...]:
    """Steps with where each part comes from and where it goes: "store", "supplier", "scrap" or a seat.

    What comes out may go in again later in the same job, once the stock is used up. Cables, containment and parts
    of unknown data (generic kinds) are never used again; a part replaced by its equal is scrap.
    """
    left = dict(stock)
    freed: dict[str, list[int]] = {}
    out: list[Step] = []
    for step in steps:
        d = step.difference
        if d is None or d.kind not in ("added", "removed", "replaced"):
            out.append(step)
            continue
        from_, to = "", ""
        if isinstance(d.after, Piece) and not _same_piece(d):
            from_ = _whence(d.after, d.seat, left, freed, out)
        if isinstance(d.before, Piece) and not _same_piece(d):
            to = "store" if _reusable(d.before) and not d.like_for_like else "scrap"
            if to == "store":
                freed.setdefault(d.before.part, []).append(len(out))
        elif _same_piece(d):
            from_ = to = str(d.seat)
        out.append(replace(step, from_=from_, to=to))
    return tuple(out)


def _whence(piece: Piece, seat: Seat, left: dict[str, int], freed: dict[str, list[int]], done: list[Step]) -> str:
    if not _reusable(piece):
        return "supplier"
    if left.get(piece.part, 0) > 0:
        left[piece.part] -= 1
        return "store"
    if freed.get(piece.part):
        n = freed[piece.part].pop(0)
        done[n] = replace(done[n], to=str(seat))
        return str(done[n].seat)
    return "supplier"


def _same_piece(d: Difference) -> bool:
    """True if the same piece is only moved (not cables: those are drawn anew)."""
    return (
        d.kind == "replaced" and not d.like_for_like and isinstance(d.before, Piece) and isinstance(d.after, Piece)
        and _reusable(d.before) and d.before.part == d.after.part and not any(f.startswith("facts.") for f in d.fields)
    )  # fmt: skip


def _reusable(content: Content | Piece | None) -> bool:
    return isinstance(content, Piece) and not isinstance(content, Run | Containment) and content.part not in GENERIC


def moved(steps: Iterable[Step], *, into: bool) -> tuple[Moved, ...]:
    """Parts in (or out), gathered by part and place."""
    seats: dict[tuple[str, str, str], list[Seat]] = {}
    quantity: dict[tuple[str, str, str], float] = {}

    def note(part: str, place: str, seat: Seat, much: float, unit: str) -> None:
        key = (part, unit, place)
        seats.setdefault(key, []).append(seat)
        quantity[key] = quantity.get(key, 0.0) + much

    for step in steps:
        for part, n in step.parts if into else ():
            note(part, "supplier", step.seat, n, "each")
        d, place = step.difference, step.from_ if into else step.to
        content = (d.after if into else d.before) if d is not None else None
        if not place or not isinstance(content, Piece):
            continue
        if isinstance(content, Run | Containment):
            name = metre_names(content, 0)[-1] if isinstance(content, Run) else content.part
            note(name, place, step.seat, round(length_m(content) or 0.0, 2), "m")
        else:
            note(content.part, place, step.seat, 1, "each")
    return tuple(
        Moved(part=k[0], quantity=quantity[k], unit=k[1], place=k[2], seats=tuple(seats[k])) for k in sorted(seats)
    )


def priced_job(
    steps: Sequence[Step], b: Installation, book: PriceBook, catalogue: Catalogue | None, access: bool, certified: int
) -> Price:
    """The price of a job: backbone to whom the backbone is, contents and taking them out apart, upkeep apart."""
    work = [s.difference for s in steps if s.difference is not None and s.difference.is_work]
    backbone = bool(work) and all(_stays(d) for d in work)
    upkeep = bool(work) and all(d.like_for_like for d in work)
    whole: Share | None = "upkeep" if upkeep else "backbone" if backbone else None
    tasks = [t for s in steps for t in _tasks(s, b, book, catalogue, whole)]
    scrap = any(s.to == "scrap" for s in steps)
    return price_change(tasks, book, certificates=certified, access=access, waste=scrap, whole=whole)


def _stays(d: Difference) -> bool:
    return any(isinstance(x, Piece) and x.stays for x in (d.before, d.after))


def _tasks(
    step: Step, b: Installation, book: PriceBook, catalogue: Catalogue | None, whole: Share | None
) -> list[Task]:
    d = step.difference
    if step.verb == "draw":
        return []  # its time is priced with the run that it belongs to
    if d is None:
        share: Share = whole or ("testing" if step.verb.startswith("test") else "contents")
        names = {"test_dead": "testing", "test_live": "testing", "label": "labels", "blank": "blanks"}
        return [
            Task(
                what=names.get(step.verb, "isolating, proving dead, locking off, re-energising"),
                minutes=step.minutes, share=share, seat=step.seat, parts=step.parts,
            )
        ]  # fmt: skip
    if not d.is_work:
        return []
    share = "upkeep" if d.like_for_like else "backbone" if _stays(d) else "contents"
    if d.kind not in ("added", "removed", "replaced") or not isinstance(d.after or d.before, Piece):
        return [Task(what=f"{step.verb} {d.group}", minutes=step.minutes, share=share, seat=d.seat)]
    out: list[Task] = []
    if isinstance(d.before, Piece):
        took: Share = "upkeep" if d.like_for_like else "backbone" if d.before.stays else "taking_out"
        time = minutes(book, "take_out", d.before)
        out.append(Task(what=work_name(d.before, "take out"), minutes=time, share=took, seat=d.seat))
    if isinstance(d.after, Piece):
        free = step.from_ != "supplier"
        count = cores(d.after, b, catalogue) if isinstance(d.after, Run) else 5
        time = minutes(book, "put_in", d.after)
        out.append(
            Task(
                what=work_name(d.after), minutes=time, share=share, seat=d.seat, put_in=d.after, stock=free, cores=count
            )
        )
    return out


def new_circuits(work: Iterable[Difference]) -> bool:
    """True if a protective device or a run comes where none was: more than minor works."""
    return any(d.kind == "added" and isinstance(d.after, Device | Run) for d in work)
