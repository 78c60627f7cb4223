"""Write a file whole or not at all."""

from __future__ import annotations

import os
import tempfile
from collections.abc import Callable, Iterator
from contextlib import contextmanager
from pathlib import Path

from relet.errors import InputError


@contextmanager
def written(target: Path) -> Iterator[Callable[[bytes], None]]:
    """Give a function that takes the content; the file takes its place when the block ends well, else nothing changes.

    raises  InputError: the folder is missing, is no folder or cannot be written, or the target is a folder
    """
    folder = target.parent
    if target.is_dir():
        raise InputError("this is a folder. A name for a file is needed.", file=str(target))
    if not folder.exists():
        raise InputError(f'there is no folder "{folder}". Make it first, or name another.', file=str(target))
    if not folder.is_dir():
        raise InputError(f'"{folder}" is a file, not a folder.', file=str(target))
    try:
        handle, name = tempfile.mkstemp(prefix=f".{target.name}.", suffix=".part", dir=folder)
    except OSError as e:
        raise InputError(_refused(folder, e), file=str(target)) from e
    part = Path(name)
    try:
        with os.fdopen(handle, "wb") as f:
            yield lambda content: _put(f, content)
            f.flush()
            os.fsync(f.fileno())
        part.chmod(0o644)
        part.replace(target)
    except OSError as e:
        raise InputError(_refused(folder, e), file=str(target)) from e
    finally:
        part.unlink(missing_ok=True)


def _put(f: object, content: bytes) -> None:
    f.write(content)  # type: ignore[attr-defined]


def _refused(folder: Path, e: OSError) -> str:
    why = (e.strerror or str(e)).lower()
    return f'the folder "{folder}" cannot be written ({why}). Choose another folder or its permissions.'
