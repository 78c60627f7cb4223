"""From data to PDF bytes: our template, our font, and no warning let pass."""

from __future__ import annotations

import json
from datetime import UTC, date, datetime
from functools import cache
from importlib import resources
from pathlib import Path
from typing import Any

from relet.errors import ReletError


class PaperFailed(ReletError):
    """A paper could not be set. That is a fault of the tool, told in one sentence."""


@cache
def _fonts() -> Any:
    import typst

    folder = resources.files("relet.drawing.fonts")
    return typst.Fonts(include_system_fonts=False, include_embedded_fonts=False, font_paths=[str(folder)])


def compiled(template: str, data: dict[str, Any], on: date | None = None) -> bytes:
    """Set a template with its data.

    template  name of a file beside this one
    on        day that the file bears: the same data give the same bytes
    raises    PaperFailed: the template does not compile, or a warning was given (a character without a font, say)
    """
    import typst

    when = datetime(on.year, on.month, on.day, tzinfo=UTC) if on is not None else None
    folder = Path(__file__).parent
    try:
        pdf, warnings = typst.compile_with_warnings(
            str(folder / template), root=str(folder), font_paths=_fonts(), format="pdf",
            sys_inputs={"data": json.dumps(data, ensure_ascii=False)}, timestamp=when,
        )  # fmt: skip
    except typst.TypstError as e:
        raise PaperFailed(f"the paper could not be set: {e}") from e
    if warnings:
        raise PaperFailed("the paper could not be set: " + "; ".join(str(w) for w in warnings))
    return bytes(pdf)
