"""Heat in an enclosure: losses, cooling surface, what IEC TR 60890 or declared W/K allows, ratings inside.

Surface factors b, constant k, factors c and d, exponent, shares and rated diversity factors come in as figures
(tables.assemblies). IEC TR 60890 holds for enclosures without forced ventilation, losses about evenly spread and at
most three horizontal partitions; it and IEC 61439-1 are from memory.
"""

from __future__ import annotations

from collections.abc import Sequence
from typing import Final, NamedTuple

from relet.electrical.impedance import total
from relet.working import Figure, Formula

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
WIRES_SHARE = Formula("Pwires = s * P", "W", s="", P="W", source="wiring as a share of the devices' losses")
WITH_RDF = Formula("I = RDF * Inc", "A", RDF="", Inc="A", source=_ASSEMBLY)

INC = Formula("Inc = s * In", "A", s="", In="A", source=_ASSEMBLY)


class Faces(NamedTuple):
    """Surface factor b of each face, by how the enclosure stands (tables.assemblies.surface_factor)."""

    top: Figure
    front: Figure
    rear: Figure
    left: Figure
    right: Figure
    floor: Figure


# ---------- losses ----------


def pole_losses(poles: Figure, per_pole_w: Figure, current_a: Figure, in_a: Figure) -> Figure:
    """Losses of a device, W: its loaded poles at the loaded current, (I / In) squared."""
    return POLES(poles, per_pole_w, current_a, in_a)


def wiring_share(device_w: Figure, share: Figure) -> Figure:
    """Losses of the wiring as a share of the devices', where lengths are not known, W."""
    return WIRES_SHARE(share, device_w)


def all_losses(parts: Sequence[Figure]) -> Figure:
    """Sum of losses inside, W."""
    return total(parts, "P", "sum of the losses inside")


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


# ---------- ratings inside ----------


def rated_there(in_a: Figure, share: Figure, declared_a: Figure | None = None) -> Figure:
    """Rated current Inc of a circuit of an assembly, A: the maker's figure, or a share of the free-air rating.

    share  0.8 in the table of IEC 61439-1; then its conductors are sized for more than Inc
    """
    return declared_a if declared_a is not None else INC(share, in_a)


def loaded_limit(inc_a: Figure, rdf: Figure) -> Figure:
    """Greatest Ib of circuits that run together, A: Inc x RDF."""
    return WITH_RDF(rdf, inc_a)
