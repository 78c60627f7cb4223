"""Third harmonics: what the neutral carries, and whether line or neutral sizes the cable.

Source: IEC 60364-5-52:2009 Annex E, BS 7671 Appendix 4 section 5.5 (from memory). Holds for four- and five-core cables
with a neutral of the lines' section and material, and for balanced loads. Factors and bands are rows of the table of
the annex (tables.cables.harmonic_neutral_factor).
"""

from __future__ import annotations

from typing import Final, Literal, NamedTuple

from relet.working import Figure, Formula, choose

_ANNEX: Final = "IEC 60364-5-52 Annex E (from memory)"

NEUTRAL = Formula("IN = 3 * h / 100 * Ib", "A", h="%", Ib="A", source=_ANNEX)
ON_LINE = Formula("Isize = Ib / F", "A", Ib="A", F="", source=f"{_ANNEX}: line current governs")
ON_NEUTRAL = Formula("Isize = IN / F", "A", IN="A", F="", source=f"{_ANNEX}: neutral current governs")
OF_LINE = Formula(
    "h = 100 * (d / 100) / sqrt(1 + (d / 100) ** 2)", "%", d="%",
    source="r.m.s. of fundamental and third harmonic: share of the whole from share of the fundamental",
)  # fmt: skip
RMS = Formula(
    "I = I1 * sqrt(1 + (d / 100) ** 2)", "A", I1="A", d="%", source="r.m.s. of fundamental and third harmonic"
)
COMBINED = Formula(
    "IN = hypot(IN1, IN3)", "A", IN1="A", IN3="A", source="r.m.s. of fundamental and third harmonic in the neutral"
)
OF_ALL = Formula("h = 100 * IN3 / (3 * I)", "%", IN3="A", I="A", source="third harmonic of the mean line of many loads")
EXCESS = Formula("share = 100 * IN / Ib", "%", IN="A", Ib="A", source="neutral current, of the line current")

Governs = Literal["line", "neutral"]


class Sizing(NamedTuple):
    """What a cable with a loaded neutral is sized on.

    size_a     current that its tabulated rating (three loaded conductors) must carry before other factors, A
    neutral_a  current in the neutral, A
    governs    which conductor
    """

    size_a: Figure
    neutral_a: Figure
    governs: Governs


def neutral_current(ib_a: Figure, third_percent: Figure) -> Figure:
    """Neutral current of a balanced load, A: three times the third harmonic of one line.

    third_percent  of the line current's r.m.s. (of_line_current if it is known of the fundamental)
    """
    return NEUTRAL(third_percent, ib_a)


def sizing(ib_a: Figure, third_percent: Figure, size_on: Governs, factor: Figure) -> Sizing:
    """Current to size on, by the row of the annex for this share: the line's over the factor, or the neutral's.

    size_on, factor  of that row; sizing on the line current where the neutral governs is the usual mistake
    """
    neutral = neutral_current(ib_a, third_percent)
    size = ON_NEUTRAL(neutral, factor) if size_on == "neutral" else ON_LINE(ib_a, factor)
    return Sizing(size, neutral, size_on)


def worst_sizing(several: list[Sizing]) -> Sizing:
    """The sizing that asks for the largest cable, where a range of shares must hold."""
    worst = choose([s.size_a for s in several], max, "largest over the range of third harmonics", name="Isize")
    at = max(several, key=lambda s: s.size_a)
    return Sizing(worst, at.neutral_a, at.governs)


def of_line_current(of_fundamental_percent: Figure) -> Figure:
    """Third harmonic in % of the whole line current, from % of its fundamental (other harmonics neglected)."""
    return OF_LINE(of_fundamental_percent)


def line_rms(fundamental_a: Figure, of_fundamental_percent: Figure) -> Figure:
    """R.m.s. of a line current from its fundamental and the third harmonic in % of it, A."""
    return RMS(fundamental_a, of_fundamental_percent)


def neutral_rms(fundamental_a: Figure, third_a: Figure) -> Figure:
    """R.m.s. of a neutral current from its unbalanced fundamental and the arithmetic sum of third harmonics, A."""
    return COMBINED(fundamental_a, third_a)


def share_of_many(third_in_neutral_a: Figure, line_a: Figure) -> Figure:
    """Third harmonic in % of the line current of a feed: a third of what the neutral carries of it, of one line."""
    return OF_ALL(third_in_neutral_a, line_a)


def neutral_of_line(neutral_a: Figure, ib_a: Figure) -> Figure:
    """Neutral current in % of the line current. Far above the line's, lines of a cable sized on it run cool."""
    return EXCESS(neutral_a, ib_a)
