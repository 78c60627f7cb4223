"""Conductors against their devices: rating needed, rating installed, limit of overload.

Ib design current, In rated current of the device, It tabulated rating, Iz rating as installed, I2 conventional
operating current. Rating factors, multipliers and shares come in as figures of a table or a code pack.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from functools import lru_cache
from typing import Final

from relet.working import Figure, Formula, choose

_RATING: Final = "rating factors, IEC 60364-5-52 Annex B, BS 7671 Appendix 4 (from memory)"
_OVERLOAD: Final = "IEC 60364-4-43 433.1, BS 7671 433.1.1 (from memory)"

OVERLOAD_LIMIT = Formula("I2max = f * Iz", "A", f="", Iz="A", source=_OVERLOAD)
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


def working_temperature(ambient_c: Figure, insulation_c: Figure, ib_a: Figure, iz_a: Figure) -> Figure:
    """Temperature of a conductor in service, C: ambient plus the full rise times (Ib / Iz) squared.

    iz_a  rating as installed at that ambient, at which the insulation is at its limit
    """
    return CONDUCTOR_C(ambient_c, insulation_c, ib_a, iz_a)
