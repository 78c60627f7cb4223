"""Which ink a role takes: names of colours and line widths. The writers turn names into colours of their palette."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Final

from relet.drawing.sizes import size

FINE, THIN = size("line_fine"), size("line_thin")
MEDIUM, BOLD, HEAVY, WIDE = size("line_medium"), size("line_bold"), size("line_heavy"), size("line_wide")


@dataclass(frozen=True, slots=True)
class Ink:
    """Stroke and fill by name of colour ("" for none), width in mm, dashes in mm.

    halo  a text with a rim of the ground behind it, so that a line under it does not cross the letters
    """

    stroke: str = ""
    fill: str = ""
    width: float = THIN
    dash: tuple[float, ...] = ()
    halo: bool = False
    butt: bool = False


def _line(colour: str, width: float, *dash: float) -> Ink:
    return Ink(stroke=colour, width=width, dash=dash)


_TEXT: Final[dict[str, Ink]] = {
    "label": Ink(fill="ink", halo=True),
    "caption": Ink(fill="soft", halo=True),
    "title": Ink(fill="ink"),
    "note": Ink(fill="soft"),
    "face-label": Ink(fill="ink"),
    "face-caption": Ink(fill="soft"),
    "zone-name": Ink(fill="soft", halo=True),
    "warning-text": Ink(fill="alert", halo=True),
    "unknown-text": Ink(fill="open", halo=True),
}

_LINES: Final[dict[str, Ink]] = {
    # the room
    "wall": Ink(stroke="ink", fill="poche", width=BOLD),
    "opening": _line("ink", MEDIUM),
    "swing": _line("soft", FINE),
    "overhead": _line("ink", THIN, 1.6, 0.8),
    "zone": _line("soft", THIN, 2.4, 0.7, 0.5, 0.7),
    "hatch": _line("faint", FINE),
    "hatch-dash": _line("faint", FINE, 1.6, 1.4),
    "hatch-dot": _line("soft", THIN, 0.2, 1.7),
    "keep-clear": _line("soft", THIN, 1.6, 0.9),
    "column": Ink(stroke="ink", fill="poche", width=MEDIUM),
    "pendant": _line("ink", MEDIUM, 0.8, 0.6),
    # machines
    "machine": Ink(stroke="soft", fill="tint", width=MEDIUM),
    "machine-unknown": Ink(stroke="soft", fill="tint", width=THIN, dash=(1.0, 0.7)),
    "lead": _line("soft", THIN, 1.2, 0.7),
    # the installation
    "assembly": Ink(stroke="ink", fill="ink", width=MEDIUM),
    "board": Ink(stroke="ink", fill="ground", width=HEAVY),
    "board-half": Ink(fill="ink"),
    "supply": Ink(stroke="ink", fill="ground", width=BOLD),
    "outlet": Ink(stroke="ink", width=BOLD),
    "containment": _line("faint", WIDE * 2),
    "run": _line("ink", MEDIUM),
    "tapped-run": _line("ink", WIDE),
    "drop": _line("ink", MEDIUM),
    "tap": Ink(stroke="ink", fill="ground", width=MEDIUM),
    # diagrams
    "conductor": _line("ink", MEDIUM),
    "busbar": Ink(stroke="ink", width=WIDE * 1.4, butt=True),
    "device": Ink(stroke="ink", width=BOLD),
    "device-body": Ink(stroke="ink", fill="ground", width=BOLD),
    "device-fill": Ink(stroke="ink", fill="ink", width=THIN),
    "residual": _line("ink", MEDIUM),
    "link": _line("ink", THIN, 0.7, 0.5),
    "node": Ink(fill="ink"),
    "enclosure": Ink(stroke="soft", width=THIN, dash=(2.4, 0.8, 0.5, 0.8)),
    "spare": _line("soft", THIN, 0.9, 0.7),
    # faces
    "case": Ink(stroke="ink", fill="ground", width=HEAVY),
    "case-inner": Ink(stroke="soft", width=FINE),
    "aperture": Ink(stroke="soft", fill="tint", width=THIN),
    "aperture-spare": Ink(stroke="soft", width=THIN, dash=(1.0, 0.7)),
    "socket": Ink(stroke="ink", fill="ground", width=MEDIUM),
    "pin": Ink(fill="ink"),
    "pin-earth": Ink(stroke="ink", fill="ground", width=BOLD),
    "rail": Ink(stroke="faint", fill="tint", width=FINE),
    "module": Ink(stroke="ink", fill="ground", width=THIN),
    "module-nose": Ink(stroke="soft", fill="tint", width=FINE),
    "module-spare": Ink(stroke="soft", width=FINE, dash=(0.8, 0.6)),
    # sheet and marks
    "dimension": _line("soft", FINE),
    "leader": _line("soft", FINE),
    "frame": _line("ink", HEAVY),
    "rule": _line("soft", FINE),
    "scale-dark": Ink(stroke="ink", fill="ink", width=FINE),
    "scale-light": Ink(stroke="ink", fill="ground", width=FINE),
    "north": Ink(stroke="ink", fill="ink", width=THIN),
    "changed": _line("accent", HEAVY, 1.6, 0.8),
    "added": _line("accent", HEAVY),
    "removed": _line("alert", HEAVY, 0.6, 0.6),
    "warning": Ink(stroke="alert", fill="ground", width=BOLD),
    "mark-meets": Ink(stroke="good", fill="ground", width=BOLD),
    "mark-depends": Ink(stroke="doubt", fill="ground", width=BOLD),
    "mark-depends-fill": Ink(fill="doubt"),
    "mark-fails": Ink(stroke="alert", fill="alert", width=BOLD),
    "mark-refer": Ink(stroke="alert", fill="ground", width=BOLD),
    "mark-stroke": _line("ground", BOLD),
    "mark-meets-stroke": _line("good", BOLD),
    "mark-refer-stroke": _line("alert", BOLD),
    "mark-advice": Ink(stroke="soft", fill="ground", width=BOLD),
    "target": Ink(),
}

SOCKET_COLOURS: Final = ("violet", "white", "yellow", "blue", "red", "black", "green", "grey")
"""Voltage colours of industrial outlets (IEC 60309-1), used beside their words."""

INKS: Final[dict[str, Ink]] = {
    **_TEXT,
    **_LINES,
    **{f"socket-{c}": Ink(stroke="ink", fill=f"socket-{c}", width=THIN) for c in SOCKET_COLOURS},
}
"""Every role there is."""

PAPER: Final[dict[str, str]] = {
    "ink": "#111416", "soft": "#565c62", "faint": "#a4aab0", "ground": "#ffffff", "poche": "#8d949b", "tint": "#f0f2f3",
    "accent": "#111416", "alert": "#111416", "doubt": "#565c62", "good": "#565c62", "open": "#111416",
}  # fmt: skip
"""Colours of the paper palette: black and greys; outlets keep the colour of their voltage."""

PAGE_LIGHT: Final[dict[str, str]] = {
    "ink": "#1d2327", "soft": "#59626a", "faint": "#a9b1b8", "ground": "#ffffff", "poche": "#9aa3aa", "tint": "#eff2f4",
    "accent": "#0b5c8a", "alert": "#a3261b", "doubt": "#8a5a00", "good": "#25693c", "open": "#8a5a00",
}  # fmt: skip
PAGE_DARK: Final[dict[str, str]] = {
    "ink": "#e8ecef", "soft": "#a5afb7", "faint": "#5f6a72", "ground": "#14191d", "poche": "#69737b", "tint": "#20272c",
    "accent": "#6cbdf0", "alert": "#ff9a8c", "doubt": "#f0bd62", "good": "#7fd39b", "open": "#f0bd62",
}  # fmt: skip
SOCKET_HEX: Final[dict[str, str]] = {
    "violet": "#7d4fa3", "white": "#fafafa", "yellow": "#e9c11d", "blue": "#2b63b5", "red": "#c5302a",
    "black": "#26282a", "green": "#3a8a4a", "grey": "#8a8f94",
}  # fmt: skip
"""Near to the colours of the standard, the same on every palette: they tell of a real thing."""
