"""Lines by hand: quantities, payers, stock, and one clear error for what has no price."""

from __future__ import annotations

import pytest

from relet.files.catalogue import read_catalogue
from relet.files.prices import read_prices
from relet.model import Assembly, Claim, Device, Exactly, Installation, Map, Outlet, Path, Run, Seat
from relet.pricing import PriceBook, Task, UnknownPrice, cores, price_change, price_installation

BOOK = PriceBook(
    edition="test", currency="GBP", valid_from=None,
    parts=Map({"mcb-c32-4p": 20.0, "outlet-a": 10.0, "box": 100.0}),
    per_metre=Map({"swa-90/6": 5.0, "swa-90/6/3": 3.0}),
    labour=Map({
        "fit_device": 30, "fit_outlet": 60, "fit_assembly": 60, "run_per_metre": 6, "terminate": 15,
        "terminate_large": 30,
        "test_circuit": 30, "paperwork": 60, "paperwork_per_circuit": 0, "standing_time": 0, "waste": 30, "access": 0,
    }),
    rate_per_hour=40.0, waste_percent=10.0, markup_percent=50.0, vat_percent=20.0,
    sums=Map({"waste": 7.0}),
)  # fmt: skip


def fact(value):
    return Claim(about=Path("plan.x"), holds=Exactly(value), how="chosen")


def run(length=10.0, mm2=6.0, from_="DB1/1", **facts):
    more = {k: fact(v) for k, v in facts.items()}
    return Run(
        part="swa-90", cable="swa-90", from_=Seat(from_), to=Seat("A1"), stays=True,
        facts=Map({"length_m": fact(length), "csa_mm2": fact(mm2), **more}),
    )  # fmt: skip


def small():
    return Installation(
        assemblies=Map({Seat("A1"): Assembly(part="box", at_m=(0, 0), height_m=1.2, stays=True)}),
        devices=Map({Seat("A1/rail/1"): Device(part="mcb-c32-4p")}),
        outlets=Map({Seat("A1/face/1"): Outlet(part="outlet-a", behind=Seat("A1/rail/1"))}),
        runs=Map({Seat("R1"): run()}),
    )


def test_an_installation_by_hand():
    price = price_installation(small(), BOOK)
    got = {(x.what, x.unit, x.payer): x.total for x in price.lines}
    assert got == {
        ("box", "each", "landlord"): 100.0, ("fit assembly", "h", "landlord"): 40.0,
        ("mcb-c32-4p", "each", "tenant"): 20.0, ("fit device", "h", "tenant"): 20.0,
        ("outlet-a", "each", "tenant"): 10.0, ("fit outlet", "h", "tenant"): 40.0,
        ("swa-90/6", "m", "landlord"): 50.0, ("swa-90/6, cut to waste", "m", "landlord"): 5.0,
        ("fit run", "h", "landlord"): 60.0,  # 10 m at 6 min and two ends at 15 min
        ("testing", "h", "tenant"): 20.0, ("certificates and schedules", "h", "tenant"): 40.0,
        ("standing time", "h", "tenant"): 0.0,
        ("mark-up on material", "GBP", "landlord"): 77.5, ("mark-up on material", "GBP", "tenant"): 15.0,
    }  # fmt: skip
    assert price.by_payer["landlord"] == 332.5 and price.by_payer["tenant"] == 165.0
    assert price.total == 497.5 and price.vat == 99.5


def test_stock_is_priced_at_nothing_but_fitted_all_the_same():
    whole, used = price_installation(small(), BOOK), price_installation(small(), BOOK, stock={"box": 1})
    assert round(whole.total - used.total, 2) == 150.0, "the box and its mark-up"
    assert [x.why for x in used.lines if x.what == "box"] == ["from stock"]


def test_a_part_without_a_price_names_the_part_and_the_book():
    task = Task(what="fit", minutes=0, share="contents", put_in=Device(part="mcb-z99"))
    with pytest.raises(UnknownPrice, match=r'price book "test": no price for part "mcb-z99"'):
        price_change([task], BOOK)
    with pytest.raises(UnknownPrice, match="swa-90/95"):
        price_change([Task(what="fit", minutes=0, share="contents", put_in=run(mm2=95.0))], BOOK)


def test_cores_and_large_ends():
    i = Installation(devices=Map({Seat("DB1/1"): Device(part="mcb-b16-1p"), Seat("DB1/2"): Device(part="mcb-c32-4p")}))
    assert cores(run(), i, read_catalogue()) == 3
    assert cores(run(from_="DB1/2"), i, read_catalogue()) == 5
    assert cores(run(cores=4), i, None) == 4
    assert cores(run(from_="DB1/7.L2"), i, None) == 5, "nothing is known of the device: the dearer"
    three = price_change([Task(what="fit", minutes=0, share="contents", put_in=run(), cores=3)], BOOK)
    assert next(x.each for x in three.lines if x.unit == "m") == 3.0


def test_a_length_that_nobody_knows_is_said_and_not_guessed():
    unknown = Run(part="swa-90", cable="swa-90", from_=Seat("D"), to=Seat("A1"), facts=Map({"csa_mm2": fact(6.0)}))
    price = price_change([Task(what="fit", minutes=0, share="contents", put_in=unknown, seat=Seat("R1"))], BOOK)
    assert [x.why for x in price.lines if x.unit == "m"] == ["length of R1 not known: not counted"]


def test_waste_and_certificates_are_lines_of_their_own_and_nothing_costs_nothing():
    price = price_change([Task(what="fit", minutes=60, share="backbone")], BOOK, certificates=2, waste=True)
    assert {x.what: (x.total, x.payer) for x in price.lines} == {
        "fit": (40.0, "landlord"), "certificates and schedules": (40.0, "tenant"),
        "taking waste away": (20.0, "tenant"), "taking waste away, sum": (7.0, "tenant"),
        "standing time": (0.0, "tenant"),
    }  # fmt: skip
    whole = price_change([Task(what="fit", minutes=60, share="backbone")], BOOK, waste=True, whole="backbone")
    assert whole.by_payer["tenant"] == 0
    assert price_change([], BOOK).lines == ()


def test_the_shipped_book_prices_every_shipped_part_and_work():
    book, catalogue = read_prices(), read_catalogue()
    assert {p for p in catalogue.parts if p not in book.parts and p not in book.per_metre} == set()
    assert {p for p in book.parts if p not in catalogue.parts} == set()
