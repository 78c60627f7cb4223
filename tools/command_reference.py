"""Make docs/commands.md from the help texts. A test checks that it has not drifted."""

from __future__ import annotations

import subprocess
import sys
from pathlib import Path

from relet.cli.app import app

COMMANDS = tuple(c.name or c.callback.__name__ for c in app.registered_commands)
PAGE = Path(__file__).parents[1] / "docs" / "commands.md"


def reference() -> str:
    """The whole page."""
    relet = Path(sys.executable).with_name("relet")
    parts = ["# Commands\n", "Made from the help texts by `python tools/command_reference.py`.\n"]
    for name in COMMANDS:
        out = subprocess.run(
            [str(relet), name, "--help"], capture_output=True, text=True, check=True,
            env={"COLUMNS": "100", "NO_COLOR": "1", "TERM": "dumb", "PATH": "/usr/bin:/bin"},
        ).stdout  # fmt: skip
        text = "\n".join(line.rstrip() for line in out.strip().splitlines())
        parts.append(f"## relet {name}\n\n```\n{text}\n```\n")
    return "\n".join(parts)


if __name__ == "__main__":
    PAGE.write_text(reference(), encoding="utf-8")
