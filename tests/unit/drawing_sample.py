"""An invented unit of Limekiln Yard for drawings: everything in it is made up."""

from __future__ import annotations

import tomllib
from importlib import resources
from typing import Any

from relet.model import (
    Assembly,
    Between,
    Board,
    Catalogue,
    Claim,
    Containment,
    Device,
    Exactly,
    FixedLoad,
    Installation,
    Machine,
    Map,
    OneOf,
    Open,
    Opening,
    Outlet,
    Part,
    Policy,
    Post,
    Run,
    Space,
    Supply,
    Tap,
    Tenancy,
    Unit,
    Use,
    Zone,
)
from relet.model.values import Path, Seat


def facts(**held: Any) -> Map[str, Claim]:
    """Claims: a plain value is seen, a list is one of several, a tuple a range, None not known."""

    def claim(name: str, v: Any) -> Claim:
        if v is None:
            h: Any = Open()
        elif isinstance(v, list):
            h = OneOf(tuple(v))
        elif isinstance(v, tuple):
            h = Between(*v)
        else:
            h = Exactly(v)
        return Claim(about=Path(name), holds=h, how="seen")

    return Map({k: claim(k, v) for k, v in held.items()})


def catalogue() -> Catalogue:
    """The shipped invented catalogue."""
    raw = tomllib.loads(resources.files("relet").joinpath("files/shipped/catalogue.toml").read_text("utf-8"))
    parts = {
        k: Part(
            id=k, kind=p["kind"], name=p["name"], data=Map({n: v for n, v in p.items() if n not in ("kind", "name")})
        )
        for k, p in raw["parts"].items()
    }
    return Catalogue(edition=raw["edition"], parts=Map(parts))


def unit() -> Unit:
    space = Space(
        outline_m=((0, 0), (18, 0), (18, 12), (0, 12)),
        ceiling_m=4.8,
        openings=Map(
            {
                "roller_door": Opening(id="roller_door", wall="south", from_m=7.0, to_m=11.0, height_m=3.6),
                "side_door": Opening(id="side_door", wall="east", from_m=1.0, to_m=2.0, height_m=2.1, escape=True),
                "office_window": Opening(id="office_window", wall="west", from_m=2.0, to_m=4.0, height_m=1.2),
            }
        ),
        zones=Map(
            {
                "roasting": Zone(id="roasting", kind="hot_dusty", area_m=((0, 6), (8, 6), (8, 12), (0, 12))),
                "wash": Zone(id="wash", kind="hosed", area_m=((14, 8), (18, 8), (18, 12), (14, 12))),
                "spray": Zone(id="spray", kind="paint", area_m=((0, 0), (3, 0), (3, 2.6), (0, 2.6))),
                "aisle": Zone(id="aisle", kind="", area_m=((7, 0), (11, 0), (11, 4), (7, 4)), keep_clear=True),
            }
        ),
        posts=Map({"c1": Post(id="c1", at_m=(11.5, 6.0))}),
    )
    supply = Supply(at_m=(0.0, 11.4), facts=facts(cut_out_fuse_a=[80, 100], earthing="TN-C-S", ze_ohm=None, phases=3))
    return Unit(id="limekiln-7", name="Unit 7", space=space, supply=supply, policy=Policy(code="bs7671-2018-a4"))


ASSEMBLIES = {
    "A1": ((5.0, 12.0), "enclosure-6-18"),
    "A2": ((11.0, 12.0), "enclosure-8-24"),
    "A3": ((18.0, 9.5), "enclosure-4-12-ip66"),
    "A4": ((18.0, 5.0), "enclosure-6-18"),
    "A5": ((14.0, 0.0), "enclosure-6-18"),
}
MORE_ASSEMBLIES = {
    "A6": ((4.6, 0.0), "enclosure-6-18"),
    "A7": ((0.0, 6.5), "enclosure-4-12"),
    "A8": ((15.0, 12.0), "enclosure-8-24"),
}
MACHINES: dict[str, tuple[str, tuple[float, float], float, float, dict[str, Any], str]] = {
    "roaster": ("drum roaster", (3.0, 9.4), 2.2, 1.6, {"power_w": 5200, "phases": 3}, "A1/face/1"),
    "afterburner": ("afterburner", (5.4, 9.8), 1.2, 1.2, {"power_w": (1800, 3000), "phases": 3}, "A1/face/2"),
    "destoner": ("destoner", (7.0, 10.0), 0.9, 0.9, {"power_w": 1500, "phases": 1}, "A1/face/3"),
    "grinder": ("shop grinder", (9.6, 10.2), 1.0, 0.9, {"shaft_kw": 2.2, "phases": 3}, "A2/face/1"),
    "packer": ("bag packer", (11.4, 10.0), 1.4, 1.0, {"power_w": 900, "phases": 1}, "A2/face/2"),
    "sealer": ("band sealer", (13.0, 10.2), 1.2, 0.6, {"power_w": 600, "phases": 1}, "A2/face/3"),
    "washer": ("tray washer", (16.2, 9.6), 1.4, 1.4, {"power_w": 9000, "phases": 3}, "A3/face/1"),
    "chiller": ("cold-brew chiller", (16.0, 6.4), 1.2, 1.0, {"power_w": None, "phases": 1}, "A4/face/1"),
    "compressor": ("compressor", (16.4, 4.4), 1.6, 0.8, {"power_w": 4000, "phases": 3}, "A4/face/2"),
    "bench": ("cupping bench", (13.6, 2.0), 2.4, 0.9, {"power_w": 2400, "phases": 1}, "A5/face/1"),
    "espresso": ("espresso machine", (16.0, 1.8), 0.9, 0.7, {"power_w": 4300, "phases": 1}, "A5/face/2"),
    "scales": ("scales", (12.0, 1.6), 0.6, 0.5, {"power_w": 40, "phases": 1}, "A5/face/3"),
}
MORE_MACHINES: dict[str, tuple[str, tuple[float, float], float, float, dict[str, Any], str]] = {
    "silo": ("green coffee elevator", (3.2, 4.6), 0.8, 0.8, {"power_w": 1100, "phases": 3}, "A7/face/1"),
    "kettle": ("cascara kettle", (5.0, 1.6), 0.7, 0.7, {"power_w": 3000, "phases": 1}, "A6/face/1"),
}
OUTLETS = {
    3: "outlet-60309-16a-3pne",
    1: "outlet-60309-16a-2pe",
}


def tenancy(more: bool = False) -> Tenancy:
    machines = {**MACHINES, **(MORE_MACHINES if more else {})}
    held = {
        id: Machine(id=id, name=name, at_m=at, facts=facts(footprint_w_m=w, footprint_d_m=d, **f))
        for id, (name, at, w, d, f, _) in machines.items()
    }
    held["scales"] = Machine(id="scales", name="scales", at_m=(12.0, 1.6), facts=facts(power_w=40, phases=1))
    return Tenancy(id="harbour", name="Harbour & Husk", from_=None, to=None, machines=Map(held))


def use(more: bool = False) -> Use:
    machines = {**MACHINES, **(MORE_MACHINES if more else {})}
    return Use(tenancy="harbour", plugged=Map({id: Seat(m[5]) for id, m in machines.items()}))


def installation(more: bool = False) -> Installation:
    places = {**ASSEMBLIES, **(MORE_ASSEMBLIES if more else {})}
    machines = {**MACHINES, **(MORE_MACHINES if more else {})}
    devices: dict[str, Device] = {
        "DB1/incomer": Device(part="switch-125-4p"),
        "DB1/1": Device(part="mcb", facts=facts(curve=["B", "C"], in_a=63, poles=3)),
        "DB1/2": Device(part="mcb-c63-3p"),
        "DB1/3": Device(part="mcb-c63-3p"),
        "DB1/4.L1": Device(part="rcbo", facts=facts(curve="B", in_a=16, idn_ma=30, rcd_type="AC", poles=1)),
        "DB1/4.L2": Device(part="mcb", facts=facts(curve="B", in_a=6, poles=1)),
        "DB1/4.L3": Device(part="mcb", facts=facts(curve="B", in_a=10, poles=1)),
    }
    outlets: dict[str, Outlet] = {
        "X1": Outlet(part="outlet-1363-twin", at_m=(0.0, 5.0), height_m=0.4),
        "X2": Outlet(
            part="outlet", at_m=(5.5, 0.0), height_m=1.2, facts=facts(in_a=32, poles="3P+N+E", outlet="60309")
        ),
    }
    for a in places:
        devices[f"{a}/incomer"] = Device(part="switch-63-4p")
        three = [m for m in machines.values() if m[5].startswith(f"{a}/") and m[4]["phases"] == 3]
        rail = 5
        if a != "A2":
            devices[f"{a}/rail/5"] = Device(part="rccb-63-4p-30a" if a != "A3" else "rccb-40-4p-30b")
            rail = 9
        shared = Seat(f"{a}/rail/5") if a != "A2" else None
        for m in sorted((m for m in machines.values() if m[5].startswith(f"{a}/")), key=lambda m: m[5]):
            part = "mcb-c16-3p" if m in three else "mcb-c16-1p"
            if a == "A2":
                part = "rcbo-c16-4p-30a" if m in three else "rcbo-c16-1pn-30a"
            n = 4 if part.startswith("rcbo-c16-4p") else 3 if part == "mcb-c16-3p" else 1
            devices[f"{a}/rail/{rail}"] = Device(
                part=part, behind=shared, facts=Map() if m in three else facts(phase="L2")
            )
            outlets[m[5]] = Outlet(part=OUTLETS[3 if m in three else 1], behind=Seat(f"{a}/rail/{rail}"))
            rail += n
        taken = sum(1 for m in machines.values() if m[5].startswith(f"{a}/"))
        devices[f"{a}/rail/{rail}"] = Device(part="mcb-c16-1p", behind=shared)
        if taken <= 2:
            outlets[f"{a}/face/{taken + 1}"] = Outlet(part="outlet-1363-twin", behind=Seat(f"{a}/rail/{rail}"))
    runs: dict[str, Run] = {
        "R1": _run("DB1/1", "A1", csa_mm2=[10, 16], cpc_mm2=6, length_m=(8, 11)),
        "R2": _run("DB1/2", "A2", csa_mm2=16, cpc_mm2=10, length_m=16.5),
        "R7": Run(
            part="tapped-run-63", from_=Seat("DB1/3"), to=Seat("end"), cable="tapped-run", tapped=True,
            route_m=((0.0, 10.4), (0, 12), (18, 12), (18, 0), (12, 0)), facts=facts(length_m=38),
        ),
        "R8": _run("DB1/4.L1", "X1", csa_mm2=2.5, cpc_mm2=1.5, length_m=None),
        "R9": _run("DB1/4.L2", "lights", csa_mm2=1.5, cpc_mm2=1, length_m=24),
        "R10": _run("DB1/4.L3", "X2", csa_mm2=4, cpc_mm2=None, length_m=(14, 22)),
    }  # fmt: skip
    taps: dict[str, Tap] = {}
    for n, (a, along) in enumerate((("A3", 22.1), ("A4", 26.6), ("A5", 35.6), *((a, 9.0) for a in MORE_ASSEMBLIES)), 1):
        if a not in places:
            continue
        if a in MORE_ASSEMBLIES and a != "A8":
            devices[f"DB1/{n}"] = Device(part="mcb-c63-3p")
            runs[f"R2{n}"] = _run(f"DB1/{n}", a, csa_mm2=16, cpc_mm2=10, length_m=12)
            continue
        taps[f"R7/tap/{n}"] = Tap(part="tap-off-63-fused", facts=facts(along_m=along if a != "A8" else 16.5))
        devices[f"R7/tap/{n}"] = Device(part="fuse-switch-40-3p")
        runs[f"R1{n}"] = _run(f"R7/tap/{n}", a, csa_mm2=10, cpc_mm2=10, length_m=2.5)
    return Installation(
        boards=Map({Seat("DB1"): Board(part="board-8-3ph", at_m=(0.0, 10.4), height_m=1.6, ways=8)}),
        assemblies=Map({Seat(s): Assembly(part=p, at_m=at, height_m=1.2) for s, (at, p) in places.items()}),
        devices=Map({Seat(k): v for k, v in devices.items()}),
        outlets=Map({Seat(k): v for k, v in outlets.items()}),
        runs=Map({Seat(k): v for k, v in runs.items()}),
        taps=Map({Seat(k): v for k, v in taps.items()}),
        containment=Map({Seat("T1"): Containment(part="trunking-100x50", path_m=((0, 10.4), (0, 4.0)), height_m=3.0)}),
        loads=Map(
            {Seat("lights"): FixedLoad(id="lights", name="lights", serves="lighting", facts=facts(power_w=1200))}
        ),
    )


def _run(from_: str, to: str, **held: Any) -> Run:
    cable = "singles-70-in-trunking"
    return Run(part=cable, from_=Seat(from_), to=Seat(to), cable=cable, facts=facts(**held))
