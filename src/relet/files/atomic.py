"""Writing a file whole or not at all."""

from __future__ import annotations

import os
import stat
from pathlib import Path

from relet.errors import InputError


def check_place(path: str | Path) -> None:
    """See that a file could be written here, before long work is done for it. Raises InputError."""
    name, at = str(path), Path(path)
    if at.is_dir():
        raise InputError("this is a folder. Allowed: the name of a file to write.", file=name)
    if not at.parent.is_dir():
        raise InputError(f"there is no folder {at.parent} to write it in.", file=name)
    if at.exists() and not at.is_file():
        raise InputError("this is no plain file and is left alone.", file=name)
    if not os.access(at.parent, os.W_OK):
        raise InputError(f"the folder {at.parent} is read-only. Nothing was changed.", file=name)


def write_text(path: str | Path, text: str, *, over: bool = True) -> None:
    """Write a text file whole or not at all, as `write_bytes` does."""
    write_bytes(path, text.encode(), over=over)


def write_bytes(path: str | Path, content: bytes, *, over: bool = True) -> None:
    """Write a file beside itself, then put it in place: a reader sees the old file or the new one, never half.

    over    False: refuse where a file stands already
    raises  InputError: a folder, no such folder, a place that cannot be written, a full disk
    """
    name, at = str(path), Path(path)
    check_place(at)
    if at.exists() and not over:
        raise InputError("there is a file of that name already and it is left alone. Choose another name.", file=name)
    at = at.resolve()
    beside = at.with_name(f".{at.name}.{os.getpid()}.part")
    try:
        mode = stat.S_IMODE(at.stat().st_mode) if at.exists() else None
        if mode is not None and not os.access(at, os.W_OK):
            raise PermissionError(13, "the file is read-only")
        with beside.open("xb") as f:
            f.write(content)
            f.flush()
            os.fsync(f.fileno())
        if mode is not None:
            beside.chmod(mode)
        beside.replace(at)
    except OSError as e:
        raise InputError(f"cannot be written: {e.strerror or e}. Nothing was changed.", file=name) from None
    finally:
        beside.unlink(missing_ok=True)
