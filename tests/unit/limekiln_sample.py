"""A hand-made sample of the invented scenario (Limekiln Yard, Unit 7) for tests of schedules, papers and pages.

Everything is invented. The findings are made by hand from figures and formulas, so that their workings are real walks
back along the figures while no rule has to run.
"""

from __future__ import annotations

from datetime import date
from functools import cache

from relet.changeover import job
from relet.checks.findings import (
    Basis,
    Covered,
    Finding,
    Findings,
    Judged,
    MeasureNext,
    Need,
    Verdict,
    at_least,
    at_most,
)
from relet.files.catalogue import read_catalogue
from relet.files.prices import read_prices
from relet.model import (
    Assembly,
    Between,
    Board,
    Case,
    Claim,
    Device,
    Exactly,
    Facts,
    FixedLoad,
    Held,
    How,
    Installation,
    Machine,
    Map,
    OneOf,
    Open,
    Opening,
    Outlet,
    Policy,
    Post,
    Run,
    Scalar,
    SolverReport,
    Space,
    Supply,
    Tenancy,
    Unit,
    Use,
    Zone,
    merge,
)
from relet.pricing import price_installation
from relet.readings import Reading
from relet.schedules import Dossier
from relet.working import Figure, Formula, Word, fact, lookup

ZS = Formula("Zs = Ze + R12", "ohm", Ze="ohm", R12="ohm", source="sum along the path")
R12 = Formula("R12 = r12 * L / 1000", "ohm", r12="mohm/m", L="m", source="length times resistance of the loop")
ZMAX = Formula("Zmax = Cmin * U0 / (m * In)", "ohm", Cmin="", U0="V", m="", In="A", source="411.4.4 in our own words")
IB = Formula("Ib = P / (sqrt(3) * U * pf)", "A", P="W", U="V", pf="", source="power of a three-phase load")
IZ = Formula("Iz = It * Ca * Cg", "A", It="A", Ca="", Cg="", source="rating with its factors")
DROP = Formula(
    "dU = 100 * mv * Ib * L / (1000 * U0)", "%", mv="mV/A/m", Ib="A", L="m", U0="V", source="volt drop by table"
)
LOSS = Formula("dT = P / G", "K", P="W", G="W/K", source="heat balance of an enclosure")

EXPLOSIVE = (
    "Is the spray bay a place where an explosive atmosphere may occur? Ask: a specialist for explosive atmospheres. "
    "Bring back: the zone classification."
)
UNCONFIRMED = "2018; edition unconfirmed"
U0 = fact("policy.u0_v", 230.0, "V", "published", "nominal voltage", name="U0")
CMIN = lookup(
    "bs7671-2018-a4 limits", "c_min, 411.4.4", 0.95, "", "BS 7671 411.4.4 [M]", "M+", UNCONFIRMED, name="Cmin"
)
MULT = lookup("mcb_time_current", "type C upper bound", 10.0, "", "S02", "V2", "2015", name="m")


def hold(about: str, how: How = "chosen", note: str = "", /, **facts: Held | Scalar) -> Facts:
    """Facts of one thing: plain values are held exactly."""
    rows: dict[str, Claim] = {}
    for field, value in facts.items():
        held = Exactly(value) if isinstance(value, float | int | str | bool) else value
        rows[field] = Claim(about=f"{about}.{field}", holds=held, how=how, note=note)  # type: ignore[arg-type]
    return Map(rows)


SPACE = Space(
    outline_m=((0, 0), (18, 0), (18, 12), (0, 12)),
    ceiling_m=4.8,
    openings=Map(
        {
            "roller_door": Opening(id="roller_door", wall="south", from_m=6.5, to_m=10.5, height_m=4.0),
            "personnel_door": Opening(
                id="personnel_door", wall="east", from_m=1.0, to_m=2.0, height_m=2.1, escape=True
            ),
        }
    ),
    zones=Map(
        {
            "hot_corner": Zone(id="hot_corner", kind="dry_dust", area_m=((0, 3), (5, 3), (5, 9), (0, 9))),
            "wash_down": Zone(id="wash_down", kind="wet_splash", area_m=((13, 8), (18, 8), (18, 12), (13, 12))),
            "spray_bay": Zone(id="spray_bay", kind="paint", area_m=((15, 3), (18, 3), (18, 6.5), (15, 6.5))),
            "aisle": Zone(id="aisle", kind="", keep_clear=True, area_m=((6.5, 0), (10.5, 0), (10.5, 4), (6.5, 4))),
        }
    ),
    posts=Map({"c1": Post(id="c1", at_m=(9.0, 7.0))}),
)

UNIT = Unit(
    id="limekiln-7",
    name="Limekiln Yard, Unit 7",
    space=SPACE,
    supply=Supply(
        at_m=(0.3, 11.8),
        facts=Map(
            {
                **hold("supply", "seen", phases=3, earthing="TN-C-S"),
                **hold("supply", "seen", cut_out_fuse_a=OneOf((80, 100))),
                **hold("supply", "told", "the landlord's word", agreed_kva=69),
                **hold("supply", "told", ze_ohm=Open()),
            }
        ),
    ),
    policy=Policy(code="bs7671-2018-a4", facts=hold("policy", "chosen", spare_share=0.25)),
)


def machine(
    t: str, id: str, name: str, at: tuple[float, float], plug: str, power: float | Held, phases: int = 1
) -> Machine:
    """One machine; its plug and phases are seen, its power told or assumed."""
    about = f"tenancies.{t}.machines.{id}"
    held = {**hold(about, "seen", phases=phases, plug=plug), **hold(about, "told", "tenant's list", power_w=power)}
    return Machine(
        id=id, name=name, at_m=at, facts=Map({**held, **hold(about, "kind", "table of kinds", pf=0.82, start="dol")})
    )


TENANCIES = {
    "harbour": Tenancy(
        id="harbour",
        name="Harbour & Husk",
        from_=date(2027, 1, 4),
        to=date(2029, 12, 31),
        machines=Map(
            {
                m.id: m
                for m in (
                    machine("harbour", "roaster", "drum roaster", (1.6, 6.0), "16 A 3ph", 3000, 3),
                    machine(
                        "harbour", "afterburner", "afterburner fan", (1.2, 8.2), "16 A 3ph", Between(2200, 2600), 3
                    ),
                    machine("harbour", "grinder", "bulk grinder", (4.6, 11.0), "16 A 3ph", 3500, 3),
                    machine("harbour", "sealer", "band sealer", (8.2, 11.2), "13 A", 1200),
                    machine("harbour", "espresso", "tasting espresso set", (16.8, 8.8), "16 A 1ph", Open()),
                )
            }
        ),
    ),
    "slipwell": Tenancy(
        id="slipwell",
        name="Slipwell Studio",
        from_=date(2030, 2, 1),
        to=date(2032, 6, 30),
        machines=Map(
            {
                m.id: m
                for m in (
                    machine("slipwell", "kiln_big", "front-loading kiln", (1.4, 6.2), "32 A 3ph", 14000, 3),
                    machine("slipwell", "wheel_a", "throwing wheel A", (6.8, 11.2), "13 A", 400),
                )
            }
        ),
    ),
}


def _standing() -> Installation:
    at = "standing"
    return Installation(
        boards=Map({"DB1": Board(part="board-12-3ph", at_m=(0.9, 12.0), height_m=1.6, ways=12, stays=True)}),
        devices=Map(
            {
                "DB1/incomer": Device(part="switch-disconnector-100-4p", stays=True),
                "DB1/1": Device(
                    part="mcb", facts=hold(f"{at}.devices.DB1/1", "seen", in_a=32, poles=3, curve=OneOf(("B", "C")))
                ),
                "DB1/2.L2": Device(
                    part="mcb", stays=True, facts=hold(f"{at}.devices.DB1/2.L2", "seen", in_a=6, poles=1, curve="B")
                ),
            }
        ),
        outlets=Map({"X1": Outlet(part="outlet-60309-32a-3pne", at_m=(0.0, 7.0), height_m=1.2)}),
        runs=Map(
            {
                "R1": Run(
                    part="cable",
                    from_="DB1/1",
                    to="X1",
                    cable="singles-70-in-trunking",
                    route_m=((0.9, 12.0), (0.0, 12.0), (0.0, 7.0)),
                    facts=hold(f"{at}.runs.R1", "seen", csa_mm2=OneOf((4, 6)), cpc_mm2=4, length_m=Between(14, 20)),
                ),
                "R3": Run(
                    part="cable",
                    from_="DB1/2.L2",
                    to="lights",
                    cable="twin-earth-70",
                    stays=True,
                    facts=hold(f"{at}.runs.R3", "seen", csa_mm2=1.5, cpc_mm2=1.0, length_m=26),
                ),
            }
        ),
        loads=Map(
            {
                "lights": FixedLoad(
                    id="lights",
                    name="high-bay lights",
                    serves="lighting",
                    at_m=(9, 6),
                    facts=hold(f"{at}.loads.lights", "seen", power_w=840, pf=0.95, phase="L2"),
                )
            }
        ),
    )


def _assembly(
    t: str, seat: str, way: str, run: str, at: tuple[float, float], length: float, contents: dict[str, tuple[str, str]]
) -> Installation:
    """An assembly fed at 63 A; contents: rail place -> (device part, outlet part)."""
    where = f"design.{t}"
    devices = {
        way: Device(part="mcb-c63-4p", stays=True),
        f"{seat}/incomer": Device(part="switch-63-4p", stays=True),
    }
    outlets = {}
    for n, (place, (device, outlet)) in enumerate(contents.items(), 1):
        phase = (
            hold(f"{where}.devices.{seat}/rail/{place}", phase=f"L{(n - 1) % 3 + 1}") if "-4p" not in device else Map()
        )
        devices[f"{seat}/rail/{place}"] = Device(part=device, facts=phase)
        outlets[f"{seat}/face/{n}"] = Outlet(part=outlet, behind=f"{seat}/rail/{place}")
    facts = hold(f"{where}.runs.{run}", csa_mm2=16, cpc_mm2=16, length_m=length)
    route = ((0.9, 12.0), (0.0, 12.0), at) if at[0] == 0 else ((0.9, 12.0), at)
    return Installation(
        assemblies=Map(
            {seat: Assembly(part="enclosure-6-18", at_m=at, height_m=1.2, place=f"{seat.lower()} wall", stays=True)}
        ),
        devices=Map(devices),
        outlets=Map(outlets),
        runs=Map({run: Run(part="cable", from_=way, to=seat, cable="swa-90", route_m=route, facts=facts, stays=True)}),
    )


def _designs() -> dict[str, tuple[Installation, Use]]:
    s, r3 = _standing(), _standing().runs["R3"]
    kept = Installation(
        boards=s.boards,
        loads=s.loads,
        runs=Map({"R3": r3}),
        devices=s.devices.drop("DB1/1"),
    )
    red, blue, twin = "outlet-60309-16a-3pne", "outlet-60309-16a-2pe", "outlet-1363-twin"
    three, one = "rcbo-c16-4p-30a", "rcbo-c16-2p-30a"
    harbour = merge(
        kept,
        _assembly(
            "harbour", "A1", "DB1/3", "R7", (0.0, 6.5), 9.5, {"5": (three, red), "9": (three, red), "13": (one, blue)}
        ),
        _assembly("harbour", "A2", "DB1/4", "R8", (6.0, 12.0), 7.0, {"5": (three, red), "9": (one, twin)}),
        _assembly("harbour", "A3", "DB1/5", "R9", (18.0, 8.6), 24.5, {"5": (one, blue), "7": (one, blue)}),
    )
    slipwell = merge(
        kept,
        _assembly(
            "slipwell", "A1", "DB1/3", "R7", (0.0, 6.5), 9.5, {"5": ("rcbo-c32-4p-30a", "outlet-60309-32a-3pne")}
        ),
        _assembly("slipwell", "A2", "DB1/4", "R8", (6.0, 12.0), 7.0, {"9": (one, twin)}),
    )
    return {
        "harbour": (
            harbour,
            Use(
                tenancy="harbour",
                plugged=Map(
                    {
                        "roaster": "A1/face/1",
                        "afterburner": "A1/face/2",
                        "grinder": "A2/face/1",
                        "sealer": "A2/face/2",
                        "espresso": "A3/face/1",
                    }
                ),
            ),
        ),
        "slipwell": (slipwell, Use(tenancy="slipwell", plugged=Map({"kiln_big": "A1/face/1", "wheel_a": "A2/face/1"}))),
    }


# ---- findings, made by hand ----------------------------------------------------------------------------------------


def loop(where: str, run: str, ze: float, length: float, in_a: float, device: str) -> Judged:
    """Loop impedance against the greatest that opens the breaker in time."""
    open_ze = fact(
        "supply.ze_ohm", ze, "ohm", "unknown", "plausible range, table plausible [A, A]", name="Ze", is_open=True
    )
    per_m = lookup("r1_r2_copper", "16 mm2 + 16 mm2, 20 C", 2.3, "mohm/m", "S17", "V1", "17th", name="r12")
    long = fact(f"{where}.runs.{run}.length_m", length, "m", "chosen", "along the walls", name="L")
    rated = fact(f"{where}.devices.{device}.in_a", in_a, "A", "chosen", name="In")
    zs = ZS(open_ze, R12(per_m, long))
    limit = ZMAX(CMIN, U0, MULT, rated)
    word = Word("C", f"{where}.devices.{device}.curve", "chosen")
    return at_most(
        zs, limit, "The breaker opens in time on an earth fault at the far end.", open_ze, rests=(word.figure,)
    )


def _finding(
    rule: str, title: str, subject: str, where: str, verdict: Verdict, worst: Judged | None, **more: object
) -> Finding:
    row = {
        "force": "code",
        "clause": "411.3.2",
        "rule_status": "M",
        "sentence": worst.sentence if worst else "",
        "best": None,
        "needs": (),
        **more,
    }
    return Finding(rule=rule, title=title, subject=subject, where=where, verdict=verdict, worst=worst, **row)  # type: ignore[arg-type]


def _machine_current(where: str, t: str, m: str, power: float) -> Figure:
    p = fact(f"tenancies.{t}.machines.{m}.power_w", power, "W", "declared", "tenant's list", name="P")
    u = fact("policy.u_v", 400.0, "V", "published", name="U")
    return IB(p, u, fact(f"tenancies.{t}.machines.{m}.pf", 0.82, "", "assumed", "table of kinds", name="pf"))


def _rating() -> Figure:
    it = lookup("ccc_4D4A", "method C, 16 mm2, three loaded", 85.0, "A", "M", "M", "17th/18th", name="It")
    ca = lookup("ambient_factor", "30 C, 90 C insulation", 1.0, "", "S01", "V2", "2018", name="Ca")
    return IZ(it, ca, lookup("grouping_factor", "2 circuits, touching", 0.8, "", "S03", "V2", "2018", name="Cg"))


def harbour_findings() -> tuple[Finding, ...]:
    """Findings of the first design: every verdict occurs."""
    w, t = "design.harbour", "harbour"
    zs_bad, zs_good = loop(w, "R7", 0.8, 9.5, 63, "DB1/3"), loop(w, "R7", 0.05, 9.5, 63, "DB1/3")
    rated = fact(f"{w}.devices.DB1/3.in_a", 63.0, "A", "chosen", name="In")
    spare_low = fact(f"{w}.assemblies.A3.spare", 0.21, "", "chosen", name="spare")
    spare = fact("policy.spare_share", 0.25, "", "chosen", "our own rule", name="least spare")
    mv = lookup("vd_4E4B", "16 mm2, three-phase", 2.5, "mV/A/m", "S35", "M+", "17th/18th", name="mv")
    length = fact(f"{w}.runs.R9.length_m", 24.5, "m", "chosen", name="L")
    drop = DROP(mv, _machine_current(w, t, "roaster", 12000.0), length, U0)
    drop_limit = lookup(
        "bs7671-2018-a4 limits",
        "volt drop, other uses",
        5.0,
        "%",
        "BS 7671 Appendix 4 [M]",
        "M+",
        UNCONFIRMED,
        name="limit",
    )
    heat = LOSS(
        fact(f"{w}.assemblies.A1.loss_w", 64.0, "W", "declared", name="P"),
        fact("catalogue.enclosure-6-18.dissipation_w_per_k", 2.97, "W/K", "declared", name="G"),
    )
    heat_limit = fact("catalogue.enclosure-6-18.rise_k", 21.0, "K", "declared", "maker", name="greatest rise")
    ip, ip_need = (
        fact("catalogue.enclosure-6-18.ip", 44.0, "", "declared", name="IP"),
        lookup("zones", "wet_splash", 55.0, "", "P", "P", "", name="IP asked"),
    )
    capacity = fact("supply.agreed_kva", 69.0, "kVA", "declared", "the landlord's word", name="agreed")
    demand = fact(f"{w}.demand_kva", 31.4, "kVA", "chosen", name="demand")
    need = Need("supply.ze_ohm", (Between(0.0, 0.32),), words="meets if Ze is 0.32 ohm or less")
    many = tuple(
        _finding(
            "conductor.overload",
            "Overload of conductors",
            r,
            w,
            "meets",
            at_most(rated, _rating(), "The device protects the run against overload."),
            clause="433.1.1",
        )
        for r in ("R7", "R8", "R9")
    )
    return (
        _finding(
            "fault.disconnection",
            "Disconnection in time",
            "R7",
            w,
            "depends",
            zs_bad,
            best=zs_good,
            needs=(need,),
            mark="edition unconfirmed",
        ),
        _finding(
            "assembly.ingress",
            "Ingress for the zone",
            "A3/face/1",
            w,
            "fails",
            at_least(ip, ip_need, "The outlet is less tight than its zone asks."),
            clause="512.2, Appendix 5",
        ),
        _finding(
            "assembly.heat",
            "Heat in the enclosure",
            "A1",
            w,
            "fails",
            at_most(heat, heat_limit, "The inside gets warmer than the enclosure allows."),
            force="product",
            clause="EN 61439-1 10.10",
        ),
        _finding(
            "assembly.fit",
            "Room to spare",
            "A3",
            w,
            "advice",
            at_least(spare_low, spare, "Less room is spare than the policy asks."),
            force="policy",
            clause="policy",
        ),
        Finding(
            "place.explosive",
            "spray_bay",
            w,
            "refer",
            "law",
            "outside the wiring rules",
            EXPLOSIVE,
            "Explosive atmosphere",
            "M",
        ),
        _finding(
            "conductor.volt_drop",
            "Volt drop",
            "R9",
            w,
            "meets",
            at_most(drop, drop_limit, "The volt drop at the far end is small enough.", drop),
            force="guidance",
            clause="525, Appendix 4",
        ),
        _finding(
            "load.supply_capacity",
            "Capacity of the supply",
            "supply",
            w,
            "meets",
            at_most(demand, capacity, "The supply carries the greatest demand."),
            force="operator",
            clause="supply agreement; 311",
        ),
        *many,
        Finding(
            "assembly.interlock",
            "A2/face/2",
            w,
            "not applicable",
            "code",
            "Table 537.4",
            "a 13 A outlet needs no interlock",
            "Interlock of outlets",
            "M",
        ),
    )


COVERAGE = (
    Covered("fault.disconnection", "Disconnection in time", "code", "411.3.2", "judged", 1, ""),
    Covered("conductor.overload", "Overload of conductors", "code", "433.1.1", "judged", 3, ""),
    Covered(
        "protection.inrush",
        "Inrush against the magnetic band",
        "guidance",
        "533; practice",
        "not judged",
        0,
        "no start is known",
    ),
    Covered(
        "assembly.interlock",
        "Interlock of outlets",
        "code",
        "Table 537.4",
        "not applicable",
        0,
        "a 13 A outlet needs no interlock",
    ),
)
NEXT = (
    MeasureNext("supply.ze_ohm", "Ze at the origin", "read", 5.0, 0.7, 1, 1),
    MeasureNext("supply.cut_out_fuse_a", "cut-out rating: ask the network operator", "ask", 10.0, 0.3, 0, 1),
)
BASIS = Basis("BS 7671:2018+A4:2026", "bs7671-2018-a4", "shipped tables", "invented 2026.1", "relet 0.1.0", 4, 2)


def findings(*found: Finding) -> Findings:
    """Findings with coverage and what to measure next."""
    return Findings(BASIS, found, COVERAGE, NEXT, ("tenancies.harbour.machines.roaster.pf",))


def case(where: str) -> Case:
    """One case of the sample: "standing", "design.harbour", "design.slipwell"."""
    t = where.removeprefix("design.")
    i, use = (_standing(), None) if where == "standing" else _designs()[t]
    return Case(
        where=where,
        unit=UNIT,
        installation=i,
        tenancy=TENANCIES.get(t),
        use=use,
        catalogue=read_catalogue(),
        code="bs7671-2018-a4",
    )


READINGS = (
    Reading(
        id="T1",
        of="insulation",
        at="R3",
        value=120.0,
        unit="Mohm",
        on=date(2026, 10, 5),
        instrument="insulation tester 1",
    ),
    Reading(id="T3", of="zs", at="R1", value=0.92, unit="ohm", on=date(2026, 10, 5), instrument="loop tester 1"),
)


@cache
def dossiers() -> tuple[Dossier, ...]:
    """What stands and two designs, each with findings, price and the job from what was before."""
    book, stands, harbour, slipwell = read_prices(), case("standing"), case("design.harbour"), case("design.slipwell")
    stock = {"outlet-60309-16a-2pe": 2, "outlet-1363-twin": 1}
    first = job(
        stands.installation,
        harbour.installation,
        book,
        id="J1",
        catalogue=stands.catalogue,
        readings=READINGS,
        stock=stock,
    )
    second = job(
        harbour.installation,
        slipwell.installation,
        book,
        id="J2",
        catalogue=stands.catalogue,
        use=harbour.use,
        tenant=harbour.tenancy,
    )
    bad, good = loop("standing", "R1", 0.8, 20, 32, "DB1/1"), loop("standing", "R1", 0.05, 14, 32, "DB1/1")
    depends = _finding(
        "fault.disconnection",
        "Disconnection in time",
        "R1",
        "standing",
        "depends",
        bad,
        best=good,
        needs=(Need("supply.ze_ohm", words="meets if Ze is 0.48 ohm or less"),),
    )
    fine = _finding(
        "fault.disconnection",
        "Disconnection in time",
        "R7",
        "design.slipwell",
        "meets",
        loop("design.slipwell", "R7", 0.05, 9.5, 63, "DB1/3"),
    )
    solved = SolverReport(
        price=4310.0,
        bound=4280.0,
        gap=0.0069,
        places=44,
        binaries=1290,
        rows=5120,
        seconds=11.2,
        rounds=2,
        stopped=False,
        log=("round 1: fault.disconnection failed at R7",),
    )
    return (
        Dossier(
            case=stands,
            found=findings(depends),
            price=price_installation(stands.installation, book, stands.catalogue),
            readings=READINGS,
        ),
        Dossier(
            case=harbour,
            found=findings(*harbour_findings()),
            price=price_installation(harbour.installation, book, stands.catalogue),
            job=first,
            before="as it stands",
            readings=READINGS,
            solved=solved,
            why=Map({"A1": "reaches roaster and afterburner; next best + 84"}),
            on=date(2026, 11, 25),
        ),
        Dossier(
            case=slipwell,
            found=findings(fine),
            price=price_installation(slipwell.installation, book, stands.catalogue),
            job=second,
            before="Harbour & Husk",
        ),
    )
