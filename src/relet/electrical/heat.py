"""Heat in an enclosure: losses, effective cooling surface, rise by IEC TR 60890 or by declared W/K, ratings inside.

Surface factors b, constant k, factors c and d, exponent, shares and rated diversity factors come in as figures
(tables.assemblies). IEC TR 60890 holds for enclosures without forced ventilation, losses about evenly spread and at
most three horizontal partitions; it and IEC 61439-1 are from memory.
"""

from __future__ import annotations

from collections.abc import Sequence
from typing import Final, NamedTuple

from relet.electrical.impedance import total
from relet.working import Figure, Formula, choose

_METHOD: Final = "IEC TR 60890 (from memory)"
_ASSEMBLY: Final = "IEC 61439-1 10.10.4 (from memory)"

METRES = Formula("m = mm / 1000", "m", mm="mm", source="turn of unit")
SURFACE = Formula(
    "Ae = w * d * (btop + bfloor) + w * h * (bfront + brear) + h * d * (bleft + bright)", "m2",
    w="m", d="m", btop="", bfloor="", h="m", bfront="", brear="", bleft="", bright="",
    source=f"effective cooling surface, {_METHOD}",
)  # fmt: skip
G = Formula("g = h / w", "m/m", h="m", w="m", source=f"small enclosures, {_METHOD}")
F_HEIGHT = Formula(
    "f = h ** e / (w * d)", "m^e/m2", h="m", e="", w="m", d="m", source=f"large enclosures, lengths in m, {_METHOD}"
)
RISE = Formula("dt = k * P ** x", "K", k="K/W^x", P="W", x="", source=f"rise at half the height, {_METHOD}")
RISE_PARTED = Formula(
    "dt = k * d * P ** x", "K", k="K/W^x", d="", P="W", x="", source=f"rise at half the height, {_METHOD}"
)
RISE_TOP = Formula("dttop = c * dt", "K", c="", dt="K", source=f"rise at the top, {_METHOD}")
RISE_DECLARED = Formula("dt = P / G", "K", P="W", G="W/K", source="dissipation declared by the enclosure's maker")
INSIDE = Formula("ti = ta + dt", "degC", ta="degC", dt="K", source="ambient and rise")
SPAN = Formula("dt = tmax - ta", "K", tmax="degC", ta="degC", source="rise that the limit allows")
ALLOWED_DECLARED = Formula("Pmax = G * dt", "W", G="W/K", dt="K", source="dissipation declared by the maker")
ALLOWED = Formula(
    "Pmax = (max(0, dt) / (c * k)) ** (1 / x)", "W", dt="K", c="", k="K/W^x", x="", source=f"{_METHOD} turned round"
)
ALLOWED_PARTED = Formula(
    "Pmax = (max(0, dt) / (c * k * d)) ** (1 / x)", "W", dt="K", c="", k="K/W^x", d="", x="",
    source=f"{_METHOD} turned round",
)  # fmt: skip
THROUGH_WALLS = Formula(
    "Q = k * A * (ti - ta)", "W", k="W/(m2 K)", A="m2", ti="degC", ta="degC", source="heat through walls, linear"
)
COOLING = Formula("Qcool = P - Q", "W", P="W", Q="W", source="heat balance")

POLES = Formula(
    "P = n * P1 * (I / In) ** 2",
    "W",
    n="",
    P1="W",
    I="A",
    In="A",
    source="loss of a pole goes with the current squared",
)
POLES_R = Formula("P = n * R * I ** 2 / 1000", "W", n="", R="mohm", I="A", source="loss in the resistance of n poles")
WIRES = Formula(
    "P = n * r * L * I ** 2 / 1000", "W", n="", r="mohm/m", L="m", I="A", source="loss in n conductors of one length"
)
WIRES_SHARE = Formula("Pwires = s * P", "W", s="", P="W", source="wiring as a share of the devices' losses")
WITH_RDF = Formula("I = RDF * Inc", "A", RDF="", Inc="A", source=_ASSEMBLY)
SPARE = Formula("spare = 100 * (Pmax - P) / Pmax", "%", Pmax="W", P="W", source="heat not yet used")

INC = Formula("Inc = s * In", "A", s="", In="A", source=_ASSEMBLY)
WIRE_FOR = Formula(
    "Iz = f * Inc", "A", f="", Inc="A", source=f"conductors of a circuit rated by calculation, {_ASSEMBLY}"
)
DERATED = Formula(
    "Iin = In * max(0, 1 - a / 100 * max(0, ti - tr))", "A", In="A", a="%/K", ti="degC", tr="degC",
    source="overload release above its reference temperature, by the maker's figure per K",
)  # fmt: skip
DERATED_SQUARE = Formula(
    "Iin = In * sqrt(max(0, tl - max(ti, tr)) / (tl - tr))", "A", In="A", tl="degC", ti="degC", tr="degC",
    source="thermal release: its own heat, of the square of the current, and the air's add up to its trip temperature",
)  # fmt: skip
SIDE_BY_SIDE = Formula("Iin = F * In", "A", F="", In="A", source="devices side by side, by the maker's factor")


class Faces(NamedTuple):
    """Surface factor b of each face, by how the enclosure stands (tables.assemblies.surface_factor)."""

    top: Figure
    front: Figure
    rear: Figure
    left: Figure
    right: Figure
    floor: Figure


class Rise(NamedTuple):
    """Air temperature rise at half the height and at the top, K."""

    middle_k: Figure
    top_k: Figure


# ---------- losses ----------


def pole_losses(poles: Figure, per_pole_w: Figure, current_a: Figure, in_a: Figure) -> Figure:
    """Losses of a device, W: its loaded poles at the loaded current, (I / In) squared."""
    return POLES(poles, per_pole_w, current_a, in_a)


def resistance_losses(poles: Figure, r_mohm: Figure, current_a: Figure) -> Figure:
    """Losses of a device known by the resistance of a pole, W."""
    return POLES_R(poles, r_mohm, current_a)


def wire_losses(conductors: Figure, r_mohm_per_m: Figure, length_m: Figure, current_a: Figure) -> Figure:
    """Losses of the wiring of a circuit inside, W; resistance at working temperature."""
    return WIRES(conductors, r_mohm_per_m, length_m, current_a)


def wiring_share(device_w: Figure, share: Figure) -> Figure:
    """Losses of the wiring as a share of the devices', where lengths are not known, W."""
    return WIRES_SHARE(share, device_w)


def all_losses(parts: Sequence[Figure]) -> Figure:
    """Sum of losses inside, W."""
    return total(parts, "P", "sum of the losses inside")


def loaded_current(inc_a: Figure, rdf: Figure) -> Figure:
    """Current of a circuit when the assembly is loaded at its rated diversity factor, A: losses go with RDF squared."""
    return WITH_RDF(rdf, inc_a)


# ---------- enclosure ----------


def metres(mm: Figure) -> Figure:
    """A dimension in m."""
    return METRES(mm)


def effective_surface(width_m: Figure, height_m: Figure, depth_m: Figure, b: Faces) -> Figure:
    """Effective cooling surface Ae, m2: each outside face times its factor b."""
    return SURFACE(width_m, depth_m, b.top, b.floor, height_m, b.front, b.rear, b.left, b.right)


def height_over_width(height_m: Figure, width_m: Figure) -> Figure:
    """g, m/m, by which c is found for small enclosures."""
    return G(height_m, width_m)


def height_over_floor(height_m: Figure, exponent: Figure, width_m: Figure, depth_m: Figure) -> Figure:
    """f = h^e / (w d), m^e/m2, by which c is found for large enclosures."""
    return F_HEIGHT(height_m, exponent, width_m, depth_m)


def rise(losses_w: Figure, k: Figure, c: Figure, exponent: Figure, d: Figure | None = None) -> Rise:
    """Air temperature rise by IEC TR 60890: k d P^x at half the height, c times that at the top.

    d  factor for horizontal partitions; None for small enclosures, which have none
    """
    middle = RISE(k, losses_w, exponent) if d is None else RISE_PARTED(k, d, losses_w, exponent)
    return Rise(middle, RISE_TOP(c, middle))


def declared_rise(losses_w: Figure, w_per_k: Figure) -> Figure:
    """Air temperature rise by the maker's dissipation, K."""
    return RISE_DECLARED(losses_w, w_per_k)


def inside_temperature(ambient_c: Figure, rise_k: Figure) -> Figure:
    """Air temperature inside, C."""
    return INSIDE(ambient_c, rise_k)


def allowed_losses(
    most_inside_c: Figure, ambient_c: Figure, k: Figure, c: Figure, exponent: Figure, d: Figure | None = None
) -> Figure:
    """Losses at which the air at the top reaches its limit, W (IEC TR 60890 turned round); 0 if ambient is above it."""
    span = SPAN(most_inside_c, ambient_c)
    return ALLOWED(span, c, k, exponent) if d is None else ALLOWED_PARTED(span, c, k, d, exponent)


def declared_allowed_losses(most_inside_c: Figure, ambient_c: Figure, w_per_k: Figure) -> Figure:
    """Losses that the declared dissipation carries off at the limit inside, W; negative if ambient is above it."""
    return ALLOWED_DECLARED(w_per_k, SPAN(most_inside_c, ambient_c))


def through_walls(k_w_per_m2_k: Figure, surface_m2: Figure, inside_c: Figure, ambient_c: Figure) -> Figure:
    """Heat through the walls with one heat transfer coefficient, W; negative when it comes in."""
    return THROUGH_WALLS(k_w_per_m2_k, surface_m2, inside_c, ambient_c)


def cooling_needed(losses_w: Figure, through_walls_w: Figure) -> Figure:
    """Heat that must be carried off otherwise, W; negative when there is some to spare."""
    return COOLING(losses_w, through_walls_w)


def spare_percent(allowed_w: Figure, losses_w: Figure) -> Figure:
    """Losses that may still be added, % of what is allowed."""
    return SPARE(allowed_w, losses_w)


# ---------- ratings inside ----------


def rated_there(in_a: Figure, share: Figure, declared_a: Figure | None = None) -> Figure:
    """Rated current Inc of a circuit of an assembly, A: the maker's figure, or a share of the free-air rating.

    share  0.8 in the table of IEC 61439-1; then its conductors are sized for more than Inc (wire_rating)
    """
    return declared_a if declared_a is not None else INC(share, in_a)


def wire_rating(inc_a: Figure, factor: Figure) -> Figure:
    """Rating that the conductors of a circuit rated by calculation need, A: 1.25 Inc in the table of IEC 61439-1."""
    return WIRE_FOR(factor, inc_a)


def loaded_limit(inc_a: Figure, rdf: Figure) -> Figure:
    """Greatest Ib of circuits that run together, A: Inc x RDF."""
    return WITH_RDF(rdf, inc_a)


def derated(in_a: Figure, inside_c: Figure, reference_c: Figure, percent_per_k: Figure) -> Figure:
    """Rated current of an overload device in warm air, A, by its maker's reduction per K; no gain below reference."""
    return DERATED(in_a, percent_per_k, inside_c, reference_c)


def derated_by_limit(in_a: Figure, inside_c: Figure, reference_c: Figure, trip_c: Figure) -> Figure:
    """The same where only the temperature is known at which it would trip without current, A."""
    return DERATED_SQUARE(in_a, trip_c, inside_c, reference_c)


def side_by_side(in_a: Figure, factor: Figure) -> Figure:
    """Rated current of devices mounted side by side, A, by their maker's factor."""
    return SIDE_BY_SIDE(factor, in_a)


def governing(*ratings_a: Figure) -> Figure:
    """The least of several ratings of one circuit there, A."""
    return choose(ratings_a, min, "the least of the ratings there", name="Ithere")
