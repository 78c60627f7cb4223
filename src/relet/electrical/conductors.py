"""Conductors against their devices: rating needed, rating installed, coordination, leaving a group.

Ib design current, In rated current of the device, It tabulated rating, Iz rating as installed, I2 conventional
operating current. Rating factors, multipliers and shares come in as figures of a table or a code pack.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from functools import lru_cache
from typing import Final, NamedTuple

from relet.working import Figure, Formula, choose

_RATING: Final = "rating factors, IEC 60364-5-52 Annex B, BS 7671 Appendix 4 (from memory)"
_OVERLOAD: Final = "IEC 60364-4-43 433.1, BS 7671 433.1.1 (from memory)"

PARALLEL = Formula("Iz = n * Iz1", "A", n="", Iz1="A", source="n equal conductors sharing alike, BS 7671 433.4")
EACH = Formula("I1 = I / n", "A", I="A", n="", source="n equal conductors sharing alike")
OPERATING = Formula("I2 = k2 * In", "A", k2="", In="A", source=f"conventional operating current, {_OVERLOAD}")
OVERLOAD_LIMIT = Formula("I2max = f * Iz", "A", f="", Iz="A", source=_OVERLOAD)
OVERLOAD_RATED = Formula(
    "Inmax = f * Iz / k2", "A", f="", Iz="A", k2="", source=f"I2 = k2 In not above f Iz, {_OVERLOAD}"
)
GROUP_SHARE = Formula("share = I / Iz", "", I="A", Iz="A", source="current held, of the grouped rating")
HEADROOM = Formula("spare = Iz - Ib", "A", Iz="A", Ib="A", source="installed rating above the current it carries")
CONDUCTOR_C = Formula(
    "theta = ta + (tp - ta) * (Ib / Iz) ** 2", "degC", ta="degC", tp="degC", Ib="A", Iz="A",
    source="heat in steady state goes with the square of the current; IEC 60287 in its simplest form",
)  # fmt: skip


@dataclass(frozen=True, slots=True)
class Factors:
    """Rating factors of a circuit where it lies; None: does not apply.

    ca  ambient       cg  grouping      ci  thermal insulation      cc  buried      cs  soil
    ch  loaded neutral (third harmonics)      cf  semi-enclosed fuse: raises the rating needed, not the one installed
    """

    ca: Figure | None = None
    cg: Figure | None = None
    ci: Figure | None = None
    cc: Figure | None = None
    cs: Figure | None = None
    ch: Figure | None = None
    cf: Figure | None = None

    def present(self, *, with_fuse: bool) -> dict[str, Figure]:
        """Those that apply, by symbol."""
        held = {
            "Ca": self.ca, "Cg": self.cg, "Ci": self.ci, "Cc": self.cc, "Cs": self.cs, "Ch": self.ch,
            "Cf": self.cf if with_fuse else None,
        }  # fmt: skip
        return {k: f for k, f in held.items() if f is not None}


NO_FACTORS: Final = Factors()


@lru_cache(maxsize=128)
def _needed(symbols: tuple[str, ...]) -> Formula:
    return Formula(f"It = In / ({' * '.join(symbols)})", "A", In="A", **dict.fromkeys(symbols, ""), source=_RATING)


@lru_cache(maxsize=128)
def _installed(symbols: tuple[str, ...]) -> Formula:
    return Formula(f"Iz = It * {' * '.join(symbols)}", "A", It="A", **dict.fromkeys(symbols, ""), source=_RATING)


def needed_rating(in_a: Figure, factors: Factors) -> Figure:
    """Least tabulated rating: It = In / (Ca Cg Ci Cc Cs Ch Cf) of the factors that apply.

    in_a  rated current of the device; the current of the circuit where overload cannot occur
    """
    held = factors.present(with_fuse=True)
    return _needed(tuple(held))(in_a, *held.values()) if held else in_a


def installed_rating(it_a: Figure, factors: Factors) -> Figure:
    """Rating where the conductor lies: Iz = It Ca Cg Ci Cc Cs Ch. Cf is no property of the conductor."""
    held = factors.present(with_fuse=False)
    return _installed(tuple(held))(it_a, *held.values()) if held else it_a


def in_parallel(iz_a: Figure, conductors: Figure) -> Figure:
    """Rating of n equal parallel conductors, A.

    iz_a   of one of them, with a grouping factor that counts each as a circuit
    valid  same material, section, length and lie, no branches along the way
    """
    return PARALLEL(conductors, iz_a)


def share_each(current_a: Figure, conductors: Figure) -> Figure:
    """Current in each of n equal parallel conductors, A."""
    return EACH(current_a, conductors)


class Coordination(NamedTuple):
    """The figures of overload protection: Ib <= In <= Iz and I2 <= f Iz. Whoever judges compares them unrounded."""

    ib_a: Figure
    in_a: Figure
    iz_a: Figure
    i2_a: Figure
    i2_limit_a: Figure

    @property
    def load_within_device(self) -> bool:
        """Ib <= In."""
        return self.ib_a <= self.in_a

    @property
    def device_within_conductor(self) -> bool:
        """In <= Iz."""
        return self.in_a <= self.iz_a

    @property
    def trips_in_time(self) -> bool:
        """I2 <= f Iz."""
        return self.i2_a <= self.i2_limit_a


def coordination(ib_a: Figure, in_a: Figure, iz_a: Figure, operating: Figure, overload_factor: Figure) -> Coordination:
    """Figures of IEC 60364-4-43 433.1.

    operating        conventional operating current as a multiple of In (device's standard)
    overload_factor  the factor of the rule (1.45 in the code packs)
    """
    return Coordination(ib_a, in_a, iz_a, OPERATING(operating, in_a), OVERLOAD_LIMIT(overload_factor, iz_a))


def largest_device(iz_a: Figure, operating: Figure, overload_factor: Figure) -> Figure:
    """Greatest rated current that I2 <= f Iz lets stand before a conductor, A; In <= Iz is judged beside it."""
    return OVERLOAD_RATED(overload_factor, iz_a, operating)


def smallest_adequate(ratings: Mapping[float, Figure], needed: Figure) -> tuple[float, Figure] | None:
    """The smallest made size whose rating is not below what is needed, with its rating; None when none is enough.

    ratings  by size (csa in mm2, or rated current in A); the smallest size is meant, not the smallest rating
    """
    size = min((s for s, rating in ratings.items() if rating >= needed), default=None)
    if size is None:
        return None
    rating = ratings[size]
    tried = [ratings[s] for s in sorted(ratings) if s <= size]
    why = f"smallest made size with at least {float(needed):.6g} {needed.unit}: {size:g}"
    return size, choose([*tried, needed], lambda _: rating, why, name=rating.name)


def next_rated(ratings: Sequence[Figure], at_least: Figure) -> Figure | None:
    """The smallest made rated current not below a design current; None above the largest."""
    enough = [r for r in ratings if r >= at_least]
    why = f"smallest made rated current not below {float(at_least):.6g} {at_least.unit}"
    return choose([*ratings, at_least], lambda _: min(enough), why, name="In") if enough else None


def grouped_current(ib_a: Figure, in_a: Figure, *, ends_in_outlets: bool) -> Figure:
    """Current at which a circuit counts in its group: at its device's where it ends in socket-outlets, whatever is
    plugged in today; otherwise at its design current."""
    if ends_in_outlets:
        return choose([in_a, ib_a], lambda _: in_a, "ends in socket-outlets: counted at its device", name="I")
    return ib_a


def group_share(held_a: Figure, grouped_iz_a: Figure) -> Figure:
    """Current that a circuit can reach, as a share of its rating in the group."""
    return GROUP_SHARE(held_a, grouped_iz_a)


def leaves_group(held_a: Figure, grouped_iz_a: Figure, limit_share: Figure, *, held_by_something_built: bool) -> bool:
    """True if a circuit need not be counted in its group: something built keeps its current to the share of its
    grouped rating (0.3 in the code packs). A habit or today's small load is nothing built.

    source  note to BS 7671 Table 4C1, IEC 60364-5-52 523.5 (from memory)
    """
    return held_by_something_built and group_share(held_a, grouped_iz_a) <= limit_share


def headroom(iz_a: Figure, ib_a: Figure) -> Figure:
    """What a conductor or device has to spare, A; negative when it is overloaded."""
    return HEADROOM(iz_a, ib_a)


def working_temperature(ambient_c: Figure, insulation_c: Figure, ib_a: Figure, iz_a: Figure) -> Figure:
    """Temperature of a conductor in service, C: ambient plus the full rise times (Ib / Iz) squared.

    iz_a  rating as installed at that ambient, at which the insulation is at its limit
    """
    return CONDUCTOR_C(ambient_c, insulation_c, ib_a, iz_a)
