"""The price of an installation from nothing, and of a list of tasks that changes one."""

from __future__ import annotations

from collections.abc import Iterable, Mapping

from relet.model import Catalogue, Containment, Installation, Piece, Run, Seat
from relet.model.values import Value
from relet.pricing.book import PriceBook, Share
from relet.pricing.lines import Line, Price, line, priced
from relet.pricing.pieces import cores, length_m, metre_names, minutes


class Task(Value, frozen=True, kw_only=True):
    """One thing done, to be priced.

    what      words of its line of labour
    minutes   time it takes
    share     what it belongs to
    seat      where
    put_in    the piece whose material is bought, None for work alone
    stock     it comes from stock: priced at nothing
    cores     cores of a run
    part      small parts by name with their number (blanks, labels)
    why       words
    """

    what: str
    minutes: float
    share: Share
    seat: Seat = Seat("")
    put_in: Piece | None = None
    stock: bool = False
    cores: int = 5
    parts: tuple[tuple[str, int], ...] = ()
    why: str = ""


def price_change(
    tasks: Iterable[Task],
    book: PriceBook,
    *,
    certificates: int = 0,
    access: bool = False,
    waste: bool = False,
    whole: Share | None = None,
) -> Price:
    """Price a list of tasks.

    certificates  number of circuits on the certificate; 0: none is written
    access        equipment for work above reach is needed
    waste         something goes to scrap
    whole         the share that carries the lines of the job as a whole (certificates, access, waste, standing time)
                  where all of it is backbone or upkeep; left out: each line's own share
    raises        UnknownPrice naming the part and the book
    """
    lines: list[Line] = []
    for task in tasks:
        lines += _material(task, book)
        if task.minutes:
            lines.append(_time(book, task.what, task.minutes, task.share, task.why))
    if certificates:
        time = book.minutes("paperwork") + certificates * book.minutes("paperwork_per_circuit")
        lines += _own(book, "certificates and schedules", time, "certificates", whole)
    if access:
        lines += _own(book, "access equipment", book.minutes("access"), "access", whole)
    if waste:
        lines += _own(book, "taking waste away", book.minutes("waste"), "waste", whole)
    if lines:
        lines += _own(book, "standing time", book.minutes("standing_time"), "standing_time", whole)
    return priced(book, [*lines, *_markup(book, lines)])


def price_installation(
    installation: Installation,
    book: PriceBook,
    catalogue: Catalogue | None = None,
    stock: Mapping[str, int] | None = None,
    circuits: int | None = None,
) -> Price:
    """Price everything in an installation as new work, stock used first.

    circuits  number of circuits to test and certify; left out: protective devices that feed something
    """
    left = dict(stock or {})
    tasks: list[Task] = []
    for seat, piece in installation.pieces().items():
        share: Share = "backbone" if piece.stays else "contents"
        from_stock = left.get(piece.part, 0) > 0 and not isinstance(piece, Run | Containment)
        if from_stock:
            left[piece.part] -= 1
        count = cores(piece, installation, catalogue) if isinstance(piece, Run) else 5
        tasks.append(
            Task(
                what=work_name(piece), minutes=minutes(book, "put_in", piece), share=share, seat=seat, put_in=piece,
                stock=from_stock, cores=count,
            )
        )  # fmt: skip
    feeding = {r.from_ for r in installation.runs.values()} | {o.behind for o in installation.outlets.values()}
    n = circuits if circuits is not None else sum(1 for d in installation.devices if d in feeding)
    tasks.append(Task(what="testing", minutes=n * book.minutes("test_circuit"), share="testing"))
    return price_change(tasks, book, certificates=n)


def work_name(piece: Piece, verb: str = "fit") -> str:
    """Words for a line of labour."""
    return f"{verb} {type(piece).__name__.lower()}"


def _material(task: Task, book: PriceBook) -> list[Line]:
    out = [line(book, part, n, "each", book.each(part), task.share, task.why) for part, n in task.parts]
    piece = task.put_in
    if piece is None:
        return out
    if isinstance(piece, Run | Containment):
        metres = length_m(piece)
        names = metre_names(piece, task.cores) if isinstance(piece, Run) else (piece.part,)
        each = book.metre(*names)
        held = next(n for n in names if n in book.per_metre)
        if metres is None:
            return [*out, line(book, held, 0, "m", each, task.share, f"length of {task.seat} not known: not counted")]
        out.append(line(book, held, metres, "m", each, task.share, task.why))
        if isinstance(piece, Run) and book.waste_percent:
            spare = metres * book.waste_percent / 100
            out.append(line(book, f"{held}, cut to waste", spare, "m", each, task.share))
        return out
    if task.stock:
        return [*out, line(book, piece.part, 1, "each", 0.0, task.share, "from stock")]
    return [*out, line(book, piece.part, 1, "each", book.each(piece.part), task.share, task.why)]


def _time(book: PriceBook, what: str, minutes_: float, share: Share, why: str = "") -> Line:
    return line(book, what, minutes_ / 60, "h", book.rate_per_hour, share, why)


def _own(book: PriceBook, what: str, minutes_: float, share: Share, whole: Share | None) -> list[Line]:
    """A line of its own: its time and, if the book has one, its sum."""
    out = [_time(book, what, minutes_, whole or share)]
    if amount := book.sums.get(share, 0.0):
        out.append(line(book, f"{what}, sum", 1, "sum", amount, whole or share))
    return out


def _markup(book: PriceBook, lines: Iterable[Line]) -> list[Line]:
    """Mark-up on material, one line per share so that each payer carries his own."""
    if not book.markup_percent:
        return []
    base: dict[Share, float] = {}
    for one in lines:
        if one.unit in ("each", "m"):
            base[one.share] = base.get(one.share, 0.0) + one.total
    percent = book.markup_percent / 100
    return [line(book, "mark-up on material", v, book.currency, percent, s) for s, v in base.items() if v]
