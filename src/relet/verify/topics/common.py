"""What several topics share: pairs of resistance and reactance, turns of unit, made sizes."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from typing import Final

from relet.electrical.faults import IN_KA
from relet.electrical.impedance import Impedance
from relet.verify.case import Example
from relet.working import Figure, Formula, fact

Values = Iterator[tuple[str, Figure]]

_MILLI: Final = Formula("Zm = 1000 * Z", "mohm", Z="ohm", source="turn of unit")
_RATIO: Final = Formula("u = U / Un", "", U="V", Un="V", source="share of the nominal voltage")


def in_ka(current_a: Figure) -> Figure:
    """A current in kA, as it is printed."""
    return IN_KA(current_a)


def in_mohm(z_ohm: Figure) -> Figure:
    """An impedance in mohm, as it is printed."""
    return _MILLI(z_ohm)


def per_unit(voltage_v: Figure, nominal_v: Figure) -> Figure:
    """A voltage as a share of the nominal, as it is printed."""
    return _RATIO(voltage_v, nominal_v)


def impedance(ex: Example, r: str, x: str, at: int | None = None) -> Impedance:
    """Resistance and reactance, ohm, by their keys."""
    return Impedance(ex.figure(r, "ohm", at), ex.figure(x, "ohm", at))


def purely(ex: Example, r: str) -> Impedance:
    """A resistance without reactance, ohm."""
    return Impedance(ex.figure(r, "ohm"), nought("ohm"))


def nought(unit: str) -> Figure:
    """What an example leaves out, as 0."""
    return fact("example.left_out", 0.0, unit, "chosen", "the example leaves it out")


def here() -> Impedance:
    """No path: a fault at the source itself."""
    return Impedance(nought("ohm"), nought("ohm"))


def made(values: Sequence[float], unit: str) -> list[Figure]:
    """Made ratings or sizes as figures."""
    return [fact(f"made.{v:g}", v, unit, "published", "made sizes") for v in values]


def as_size(found: tuple[float, Figure] | None) -> Figure:
    """The size that was chosen, mm2, resting on the rating that it was chosen by."""
    if found is None:
        raise ValueError("no size is enough")
    size, rating = found
    return Figure(size, "mm2", rating.origin, rating.given, "S")
