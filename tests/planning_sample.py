"""Invented units for the planner's tests and benchmark. Every name, machine and figure here is made up."""

from __future__ import annotations

import random
import tomllib
from datetime import date
from pathlib import Path as File
from types import SimpleNamespace
from typing import Any

import relet
from relet.model import (
    Board,
    Case,
    Catalogue,
    Claim,
    Device,
    Exactly,
    Facts,
    Installation,
    Machine,
    Map,
    Opening,
    Part,
    Path,
    Policy,
    Scalar,
    Seat,
    Space,
    Supply,
    Tenancy,
    Unit,
    Wishes,
    Zone,
)
from relet.planning.problem import Choices, Problem
from relet.pricing import PriceBook

SHIPPED = File(relet.__file__).parent / "files" / "shipped"


def told(at: str, **values: Scalar) -> Facts:
    return Map({k: Claim(about=Path(f"{at}.{k}"), holds=Exactly(v), how="told") for k, v in values.items()})


def catalogue() -> Catalogue:
    raw = tomllib.loads((SHIPPED / "catalogue.toml").read_text(encoding="utf-8"))
    parts = {}
    for id, p in raw["parts"].items():
        data = {k: v for k, v in p.items() if k not in ("kind", "name", "note")}
        parts[id] = Part(id=id, kind=p["kind"], name=p["name"], data=Map(data), note=p.get("note", ""))
    return Catalogue(edition=raw["edition"], parts=Map(parts))


def prices() -> PriceBook:
    raw = tomllib.loads((SHIPPED / "prices.toml").read_text(encoding="utf-8"))
    labour = dict(raw["labour"])
    rate = labour.pop("rate_per_hour")
    return PriceBook(
        edition=raw["edition"], currency=raw["currency"], valid_from=raw["valid_from"], parts=Map(raw["parts"]),
        per_metre=Map(raw["per_metre"]), labour=Map(labour), rate_per_hour=rate, sums=Map(raw.get("lines", {})),
        shares=Map(raw.get("shares", {})), markup_percent=raw["terms"]["markup_percent"],
        vat_percent=raw["terms"]["vat_percent"], waste_percent=raw["terms"]["waste_percent"],
    )  # fmt: skip


def machine(tenancy: str, id: str, at: tuple[float, float], **facts: Scalar) -> Machine:
    return Machine(id=id, name=id, at_m=at, facts=told(f"tenancies.{tenancy}.machines.{id}", **facts))


def tenancy(id: str, machines: list[Machine]) -> Tenancy:
    return Tenancy(id=id, name=id, from_=date(2027, 1, 1), to=None, machines=Map({m.id: m for m in machines}))


def unit(width: float = 18.0, depth: float = 12.0, zones: dict[str, Zone] | None = None) -> Unit:
    space = Space(
        outline_m=((0.0, 0.0), (width, 0.0), (width, depth), (0.0, depth)), ceiling_m=4.5, zones=Map(zones or {}),
        openings=Map(
            {
                "roller": Opening(id="roller", wall="south", from_m=width / 2 - 2, to_m=width / 2 + 2, height_m=3.6),
                "side": Opening(id="side", wall="east", from_m=1.0, to_m=2.0, height_m=2.1, escape=True),
            }
        ),
    )  # fmt: skip
    supply = Supply(
        at_m=(0.3, depth - 0.3),
        facts=told("supply", phases=3, earthing="TN-C-S", cut_out_fuse_a=100, ze_ohm=0.2, ipf_ka=3.0, agreed_kva=69.0),
    )
    policy = Policy(code="bs7671-2018-a4")
    return Unit(id="sample", name="sample unit, invented", space=space, supply=supply, policy=policy)


def standing(depth: float = 12.0, ways: int = 8) -> Installation:
    board = Board(part="board-8-3ph", at_m=(0.0, depth - 1.0), height_m=1.6, ways=ways, stays=True)
    incomer = Device(part="switch-disconnector-125-4p", stays=True)
    return Installation(boards=Map({Seat("DB1"): board}), devices=Map({Seat("DB1/incomer"): incomer}))


def problem(u: Unit, tenancies: list[Tenancy], wishes: Wishes | None = None, **choices: Any) -> Problem:
    depth = max(y for _, y in u.space.outline_m)
    return Problem(
        unit=u, standing=standing(depth), tenancies=tuple(tenancies), wishes=wishes or Wishes(), catalogue=catalogue(),
        code=u.policy.code, choices=Choices(**choices),
    )  # fmt: skip


KINDS: tuple[dict[str, Scalar], ...] = (
    {"phases": 3, "power_w": 9000, "pf": 1.0, "plug": "32 A 3ph", "continuous": True},
    {"phases": 3, "power_w": 5500, "pf": 0.82, "plug": "16 A 3ph", "start": "dol", "start_multiple": 5},
    {"phases": 3, "power_w": 12000, "pf": 1.0, "plug": "32 A 3ph", "continuous": True},
    {"phases": 1, "power_w": 2200, "pf": 0.9, "plug": "16 A 1ph", "on_probability": 0.5},
    {"phases": 1, "power_w": 1800, "pf": 1.0, "plug": "13 A", "on_probability": 0.3},
    {"phases": 1, "power_w": 900, "pf": 0.9, "plug": "13 A", "on_probability": 0.2},
    {"phases": 1, "power_w": 3000, "pf": 0.85, "plug": "16 A 1ph", "on_probability": 0.3},
    {"phases": 3, "power_w": 4000, "pf": 0.8, "plug": "16 A 3ph", "on_probability": 0.35},
    {"phases": 1, "power_w": 4500, "pf": 0.9, "plug": "32 A 1ph", "on_probability": 0.3},
)  # fmt: skip


def demo_like(tenancies: int = 3, machines: int = 14, seed: int = 1, **choices: Any) -> Problem:
    """A unit of 18 m by 12 m with zones and about fifty places; machines stand within two metres of the walls."""
    rng = random.Random(seed)
    w, d = 18.0, 12.0
    zones = {
        "wet": Zone(id="wet", kind="wet_splash", area_m=((12.0, 9.0), (18.0, 9.0), (18.0, 12.0), (12.0, 12.0))),
        "dusty": Zone(id="dusty", kind="dry_dust", area_m=((0.0, 0.0), (6.0, 0.0), (6.0, 5.0), (0.0, 5.0))),
    }
    held = []
    for t in range(tenancies):
        several = []
        for i in range(machines):
            side = rng.choice("nnsweee"[:7] if i else "n")
            off = rng.uniform(0.3, 1.0)
            along = rng.uniform(0.08, 0.92)
            x, y = {"n": (along * w, d - off), "s": (rng.choice([0.2, 0.8]) * w + rng.uniform(-2, 2), off),
                    "w": (off, along * (d - 3)), "e": (w - off, 3 + along * (d - 3))}[side]  # fmt: skip
            facts = dict(KINDS[rng.randrange(len(KINDS))])
            several.append(machine(f"t{t}", f"m{i:02d}", (round(x, 2), round(y, 2)), **facts))
        held.append(tenancy(f"t{t}", several))
    return problem(unit(w, d, zones), held, **choices)


class FakeJudge:
    """Stands in for the checks: a run fails below a third of a square millimetre for each ampere of its device, over
    a hundred metres it fails altogether; `also` may add findings of its own."""

    def __init__(self, also: Any = None) -> None:
        self.also, self.cases = also, 0

    def __call__(self, case: Case, *, rules: Any = None) -> Any:
        self.cases += 1
        out = []
        for seat, run in case.installation.runs.items():
            device = case.installation.devices.get(run.from_)
            if device is None or run.tapped:
                continue
            claim = run.facts.get("csa_mm2")
            part = case.catalogue.parts.get(device.part)
            if claim is None or part is None or not isinstance(claim.holds, Exactly):
                continue
            in_a, csa = float(part.data["in_a"]), float(claim.holds.value)
            verdict = "meets" if csa * 5 >= in_a or csa * 4 >= in_a else "fails"
            out.append(finding("conductor.overload", seat, verdict, in_a, csa * 5))
        if self.also is not None and rules is None:
            out += self.also(case)
        return SimpleNamespace(findings=tuple(out))


def finding(rule: str, subject: str, verdict: str, value: float = 0.0, limit: float = 0.0) -> Any:
    return SimpleNamespace(
        rule=rule, subject=subject, verdict=verdict, value=value, limit=limit, margin=limit - value, sentence=rule,
        needs=(), where="",
    )  # fmt: skip
