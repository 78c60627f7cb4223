"""Whatever a plan can hold is written, read back, and found to be the same."""

from __future__ import annotations

import tempfile
from datetime import date, datetime
from functools import lru_cache
from pathlib import Path
from typing import Any

from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from relet import model as m
from relet.files import UnitFile, plan_text, read_plan, read_unit, write_plan
from relet.files.fields import Field, register
from relet.model import Between, Claim, Exactly, Held, How, Installation, Map, OneOf, Open, Scheme, Seat

EXAMPLE = Path(__file__).parents[1] / "unit" / "data_files" / "unit_3.toml"
CABLES = ("twin-earth-70", "swa-90", "tapped-run")
TEXT = st.text(st.characters(exclude_categories=["Cs"], exclude_characters="\0"), max_size=30)
WORD = TEXT.filter(lambda t: t.strip() and t not in ("unknown", "?"))
POINT = st.tuples(st.floats(0, 12), st.integers(0, 8))
HOWS: tuple[How, ...] = ("read", "seen", "told", "kind", "chosen", "maker", "default")


@lru_cache
def unit() -> UnitFile:
    return read_unit(EXAMPLE)


def scalars(field: Field) -> st.SearchStrategy[Any]:
    if field.form == "flag":
        return st.booleans()
    if field.words:
        return st.sampled_from(field.words)
    if field.form == "whole":
        return st.integers(int(field.low), int(field.high))
    if field.form == "number":
        return st.floats(field.low, field.high)
    return WORD


@st.composite
def held(draw: st.DrawFn, field: Field) -> Held:
    one = scalars(field)
    kind = draw(st.sampled_from(("exactly", "between", "one_of", "open")))
    if kind == "between" and field.form == "number":
        low, high = sorted((draw(one), draw(one)))
        return Between(low, high)
    if kind == "one_of" and field.form != "flag":
        options = draw(st.lists(one, min_size=2, max_size=3, unique=True))
        return OneOf(tuple(options))
    return Open() if kind == "open" else Exactly(draw(one))


def a_few_words(field: Field) -> bool:
    return len(field.words) != 1


@st.composite
def facts(draw: st.DrawFn, thing: str, at: str) -> Map[str, Claim]:
    fields = [f for f in register()[thing].values() if a_few_words(f)]
    chosen = draw(st.lists(st.sampled_from(fields), max_size=4, unique_by=lambda f: f.name))
    own = {"board": {"height_m", "ways"}, "assembly": {"height_m"}, "outlet": {"height_m"}, "containment": {"height_m"}}
    out = {}
    for f in chosen:
        if f.name in own.get(thing, ()) or f.name in ("along_m", "length_m"):
            continue
        out[f.name] = Claim(
            about=m.Path(f"{at}.{f.name}"),
            holds=draw(held(f)),
            how=draw(st.sampled_from(HOWS)),
            on=draw(st.none() | st.dates(date(1, 1, 1))),
            note=draw(st.just("") | TEXT),
        )
    return Map(out)


@st.composite
def piece(draw: st.DrawFn, thing: str, at: str) -> dict[str, Any]:
    return {
        "part": draw(TEXT), "stays": draw(st.booleans()), "label": draw(TEXT), "id": draw(st.none() | TEXT),
        "facts": draw(facts(thing, at)),
    }  # fmt: skip


@st.composite
def installations(draw: st.DrawFn, at: str, tag: str) -> Installation:
    """Legal ones: a board, assemblies fed from it, a tapped run, outlets, loads, all by names with a tag."""
    b, x = f"DB{tag}", f"X{tag}"
    boards = {
        b: m.Board(
            at_m=draw(POINT), height_m=draw(st.floats(0, 4)), ways=20, **draw(piece("board", f"{at}.boards.{b}"))
        )
    }
    devices, assemblies, outlets, runs = {}, {}, {}, {}
    for n in draw(st.lists(st.integers(1, 9), unique=True, max_size=3)):
        a, way, rail, face = f"A{tag}{n}", f"{b}/{n}", f"A{tag}{n}/rail/2", f"A{tag}{n}/face/{n}"
        if draw(st.booleans()):
            way += ".L2"
        devices[way] = m.Device(**draw(piece("device", f"{at}.devices.{way}")))
        devices[f"{a}/incomer"] = m.Device(**draw(piece("device", f"{at}.devices.{a}/incomer")))
        devices[rail] = m.Device(
            behind=draw(st.none() | st.just(Seat(f"{a}/incomer"))), **draw(piece("device", f"{at}.devices.{rail}"))
        )
        assemblies[a] = m.Assembly(
            at_m=draw(POINT),
            height_m=draw(st.floats(0, 4)),
            place=draw(TEXT),
            **draw(piece("assembly", f"{at}.assemblies.{a}")),
        )
        outlets[face] = m.Outlet(behind=Seat(rail), **draw(piece("outlet", f"{at}.outlets.{face}")))
        r = f"R{tag}{n}"
        runs[r] = m.Run(
            from_=Seat(way), to=Seat(a), cable=draw(st.sampled_from(CABLES)), through=(f"T{tag}",),
            route_m=draw(st.just(()) | st.lists(POINT, min_size=2, max_size=3).map(tuple)),
            tapped=draw(st.booleans()), **draw(piece("run", f"{at}.runs.{r}")),
        )  # fmt: skip
    t = f"{tag}tapped"
    runs[t] = m.Run(
        from_=Seat(b), to=Seat("end"), cable="tapped-run", tapped=True, **draw(piece("run", f"{at}.runs.{t}"))
    )
    tap = f"{t}/tap/1"
    devices[tap] = m.Device(**draw(piece("device", f"{at}.devices.{tap}")))
    runs[f"{tag}drop"] = m.Run(
        from_=Seat(tap), to=Seat(x), cable="swa-90", **draw(piece("run", f"{at}.runs.{tag}drop"))
    )
    outlets[x] = m.Outlet(
        at_m=draw(st.none() | POINT),
        height_m=draw(st.none() | st.floats(0, 4)),
        **draw(piece("outlet", f"{at}.outlets.{x}")),
    )
    load = f"load{tag}"
    loads = {
        load: m.FixedLoad(
            id=load,
            name=draw(TEXT),
            serves=draw(TEXT),
            at_m=draw(st.none() | POINT),
            facts=draw(facts("load", f"{at}.loads.{load}")),
        )
    }
    runs[f"{tag}light"] = m.Run(
        from_=Seat(b), to=Seat(load), cable="swa-90", **draw(piece("run", f"{at}.runs.{tag}light"))
    )
    path = draw(st.lists(POINT, min_size=2, max_size=3).map(tuple))
    held_in = m.Containment(
        path_m=path, height_m=draw(st.floats(0, 4)), **draw(piece("containment", f"{at}.containment.T{tag}"))
    )
    stamp = m.Stamp(job=draw(TEXT), step=draw(st.integers(0, 99)), at=draw(st.none() | st.datetimes(datetime(1, 1, 1))))
    return Installation(
        boards=Map(boards), devices=Map(devices), assemblies=Map(assemblies), outlets=Map(outlets), runs=Map(runs),
        taps=Map({tap: m.Tap(**draw(piece("tap", f"{at}.taps.{tap}")))}), loads=Map(loads),
        containment=Map({f"T{tag}": held_in}),
        off_groups=Map({f"G{tag}": m.OffGroup(button=Seat(x), outlets=(Seat(x),))}),
        made=draw(st.just(Map()) | st.just(Map({b: stamp, f"{x}:out": stamp}))),
    )  # type: ignore[arg-type]  # fmt: skip


NUMBER = st.floats(allow_nan=False)
REPORTS = st.builds(
    m.SolverReport, price=NUMBER, bound=NUMBER, gap=NUMBER, places=st.integers(0, 99), binaries=st.integers(0, 99),
    rows=st.integers(0, 99), seconds=NUMBER, rounds=st.integers(0, 9), stopped=st.booleans(),
    log=st.lists(TEXT, max_size=3).map(tuple),
)  # fmt: skip


@st.composite
def schemes(draw: st.DrawFn) -> Scheme:
    contents = draw(st.none() | installations("design.quoin", "q"))
    outlets = ["Xb"] if contents is None else ["Xb", "Xq"]
    plugged = draw(st.dictionaries(st.sampled_from(["bench", "folder"]), st.sampled_from(outlets)))
    return Scheme(
        backbone=draw(installations("plan", "b")),
        contents=Map({} if contents is None else {"quoin": contents}),
        uses=Map({"quoin": m.Use(tenancy="quoin", plugged=Map(plugged))}),  # type: ignore[arg-type]
        made_for=draw(st.just("") | st.just(unit().digest)),  # type: ignore[arg-type]
        solved=draw(st.none() | REPORTS),
        why=draw(st.dictionaries(TEXT.filter(bool), TEXT, max_size=2).map(Map)),
    )


@settings(max_examples=60, deadline=None, suppress_health_check=list(HealthCheck))
@given(schemes())
def test_a_plan_read_back_is_the_plan_that_was_written(scheme: Scheme) -> None:
    with tempfile.TemporaryDirectory() as folder:
        path = Path(folder) / "plan.toml"
        write_plan(scheme, path, unit())
        back = read_plan(path, unit())
        assert back == scheme
        assert plan_text(back, unit()) == path.read_text(encoding="utf-8")
