"""The commented unit file that somebody starts from."""

from __future__ import annotations

from pathlib import Path

from relet.files.atomic import write_text


def starter(path: str | Path) -> Path:
    """Write the starter unit file; a file that stands there is left alone.

    raises  InputError: a file of that name, or a place that cannot be written
    """
    write_text(path, Path(__file__).with_name("starter.toml").read_text(encoding="utf-8"), over=False)
    return Path(path)
