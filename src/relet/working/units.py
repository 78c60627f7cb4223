"""The unit in a name: the house writes `length_m` and `csa_mm2`, so a name tells its unit, here and nowhere else."""

from __future__ import annotations

from typing import Final

_ENDINGS: Final = {
    "_a_s05_per_mm2": "A s^0.5/mm2", "_mohm_per_m": "mohm/m", "_mv_per_a_m": "mV/A/m", "_per_hour": "",
    "_percent": "%", "_w_per_k": "W/K", "_w_per_m": "W/m",
    "_mohm": "mohm", "_kvar": "kvar", "_a2s": "A2s", "_deg": "deg", "_kva": "kVA",
    "_mm2": "mm2", "_ohm": "ohm", "_ka": "kA", "_kg": "kg", "_kw": "kW", "_m2": "m2", "_ma": "mA", "_mm": "mm",
    "_ms": "ms", "_pu": "", "_a": "A", "_c": "degC", "_h": "h", "_m": "m", "_s": "s", "_v": "V", "_w": "W",
}  # fmt: skip
"""Longest first."""


def unit_of(name: str) -> str:
    """The unit at the end of a name: "mm2" for "csa_mm2"; "" for a ratio, a count or a word."""
    return _ENDINGS.get(_ending(name), "")


def without_unit(name: str) -> str:
    """A name in words, its unit left to the number: "csa" for "csa_mm2", "power" for "power_w"."""
    ending = _ending(name)
    return name.removesuffix(ending if _ENDINGS.get(ending) else "").replace("_", " ").replace(".", ", ")


def _ending(name: str) -> str:
    return next((e for e in _ENDINGS if name.endswith(e)), "")
