"""The pages' common ground: the cases, the templates, and how a context becomes a page."""

from __future__ import annotations

from functools import partial
from pathlib import Path
from typing import Any, Final

from fastapi import HTTPException
from fastapi.responses import HTMLResponse
from jinja2 import Environment, FileSystemLoader, StrictUndefined
from markupsafe import Markup

from relet.model.values import Value
from relet.web.frame import Frame, frame
from relet.web.links import link, of
from relet.web.showcase import CaseView, Showcase

HERE: Final = Path(__file__).parent


def environment() -> Environment:
    """Templates: escaped, and a name that a context does not hold is an error."""
    env = Environment(
        loader=FileSystemLoader([HERE / "pages", HERE / "shared"]), autoescape=True, undefined=StrictUndefined,
        trim_blocks=True, lstrip_blocks=True,
    )  # fmt: skip
    env.filters["drawn"] = Markup  # a drawing of ours: its texts are escaped by its writer
    env.globals["way"] = of
    return env


class Site:
    """The unit that is shown."""

    def __init__(self, shown: Showcase) -> None:
        self.shown = shown
        self.views = tuple(CaseView(d) for d in shown.dossiers)
        self._by_id = {v.id: v for v in self.views}
        self._env = environment()

    def view(self, case: str) -> CaseView:
        """One case, or a clean 404."""
        if case not in self._by_id:
            names = ", ".join(self._by_id)
            raise HTTPException(404, f'This unit has no case called "{case}". It has: {names}.')
        return self._by_id[case]

    def frame(self, view: CaseView, head: str, way: str = "") -> Frame:
        """What stands round a page."""
        return frame(self.views, view, head, way)

    def page(self, template: str, view: CaseView, context: Value, status: int = 200) -> HTMLResponse:
        """A template with exactly the fields of its context, and the way from a printed text to its working."""
        fields: dict[str, Any] = {f: getattr(context, f) for f in context.__struct_fields__}
        text = self._env.get_template(template).render(**fields, link=partial(link, view))
        return HTMLResponse(text, status_code=status)

    def plain(self, template: str, context: Value, status: int) -> HTMLResponse:
        """A page outside any case."""
        fields: dict[str, Any] = {f: getattr(context, f) for f in context.__struct_fields__}
        return HTMLResponse(self._env.get_template(template).render(**fields), status_code=status)
