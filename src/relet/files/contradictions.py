"""Two things said of one machine or piece that cannot both be true."""

from __future__ import annotations

from collections.abc import Mapping

from relet.files.claims import Said
from relet.files.mistakes import Mistakes, Where
from relet.files.sections import Sections
from relet.files.unit_rows import TenancyRow
from relet.files.words import number_text
from relet.model import Between, Exactly, Scalar


def check_machines(where: Where, tenancy: TenancyRow, mistakes: Mistakes) -> None:
    """Phases against plug and start, input against shaft power."""
    for m, machine in tenancy.machines.items():
        at = (*where, "machines", m)
        said = machine.facts
        phases, plug, start = (_value(said, f) for f in ("phases", "plug", "start"))
        if phases is not None and isinstance(plug, str) and plug[-3:-2] in "13" and plug.endswith("ph"):
            if int(plug[-3]) != phases:
                mistakes.note((*at, "plug"), f'"{plug}" contradicts phases = {phases}. Keep the one that is so.')
        elif phases == 3 and plug == "13 A":
            mistakes.note((*at, "plug"), '"13 A" contradicts phases = 3. Keep the one that is so.')
        if phases == 1 and start == "star-delta":
            mistakes.note((*at, "start"), '"star-delta" needs three phases and contradicts phases = 1.')
        if phases == 3 and _value(said, "two_lines") is True:
            mistakes.note((*at, "two_lines"), "true contradicts phases = 3: between two lines it takes one phase.")
        least_shaft, most_input = _least(said.get("shaft_kw")), _most(said.get("power_w"))
        if least_shaft is not None and most_input is not None and most_input < least_shaft * 1000:
            what = (
                f"{number_text(most_input)} W taken in is less than the {number_text(least_shaft)} kW given at the "
                "shaft. Keep the one that is so, or give both as ranges."
            )
            mistakes.note((*at, "power_w"), what)


def check_taps(s: Sections, mistakes: Mistakes) -> None:
    """A tap lies on its run."""
    runs = s.group("runs")
    for seat, tap, where in s.mine("taps"):
        run = runs.get(seat.split("/", 1)[0])
        if run is None or "along_m" not in tap.facts or "length_m" not in run.facts:
            continue
        along, length = tap.facts["along_m"].holds, run.facts["length_m"].holds
        most = length.high if isinstance(length, Between) else getattr(length, "value", None)
        if isinstance(along, Exactly) and isinstance(most, int | float) and float(along.value) > most:
            ends = f"the end of {seat.split('/')[0]}, {number_text(most)} m long."
            told = f"{number_text(float(along.value))} m lies past {ends}"
            mistakes.note((*where, "along_m"), told)


def _value(said: Mapping[str, Said], field: str) -> Scalar | None:
    one = said.get(field)
    return one.holds.value if one is not None and isinstance(one.holds, Exactly) else None


def _least(said: Said | None) -> float | None:
    if said is None:
        return None
    if isinstance(said.holds, Between):
        return said.holds.low
    value = getattr(said.holds, "value", None)
    return value if isinstance(value, int | float) else None


def _most(said: Said | None) -> float | None:
    if said is None:
        return None
    if isinstance(said.holds, Between):
        return said.holds.high
    value = getattr(said.holds, "value", None)
    return value if isinstance(value, int | float) else None
