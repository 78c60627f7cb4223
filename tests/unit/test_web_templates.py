"""Templates only show: no arithmetic, no rounding, no comparing, and nothing but the fields of their context."""

from __future__ import annotations

import importlib
import inspect

import pytest
from jinja2 import meta, nodes

import relet.web
from relet.model.values import Value
from relet.web.site import HERE, environment

ENV = environment()
PAGES = sorted(p.parent.name for p in HERE.glob("pages/*/page.html"))
SHARED = sorted(p.name for p in HERE.glob("shared/*.html"))
COMPUTES = (
    nodes.Add, nodes.Sub, nodes.Mul, nodes.Div, nodes.FloorDiv, nodes.Mod, nodes.Pow, nodes.Neg, nodes.Pos,
    nodes.Compare,
)  # fmt: skip
FILTERS = {"drawn", "join", "replace", "urlencode"}
GIVEN = {"link", "way"}
"""What every template may use beside its context: the way to a working, and to a page."""


def source(name):
    return ENV.loader.get_source(ENV, name)[0]


def context_of(page):
    """The one context class of a page: in context.py, or beside its route."""
    for name in (f"relet.web.pages.{page}.context", f"relet.web.pages.{page}"):
        try:
            module = importlib.import_module(name)
        except ModuleNotFoundError:
            continue
        own = [
            c for _, c in inspect.getmembers(module, inspect.isclass)
            if issubclass(c, Value) and c.__module__ == module.__name__ and c.__name__.endswith("Page")
        ]  # fmt: skip
        if own:
            assert len(own) == 1
            return own[0]
    raise AssertionError(f"page {page} has no context")


@pytest.mark.parametrize("name", [*(f"{p}/page.html" for p in PAGES), *SHARED])
def test_a_template_computes_nothing(name):
    tree = ENV.parse(source(name))
    found = [type(n).__name__ for n in tree.find_all(COMPUTES)]
    assert found == [], f"{name} computes: {found}"
    used = {f.name for f in tree.find_all(nodes.Filter)}
    assert used <= FILTERS, f"{name} uses filters {used - FILTERS}"
    assert not list(tree.find_all(nodes.Test)), f"{name} tests values"


def test_the_scan_would_see_a_computing_template():
    for text in ("{{ a + 1 }}", "{{ a / b }}", "{% if a > b %}x{% endif %}", "{{ -a }}"):
        assert list(ENV.parse(text).find_all(COMPUTES)), text


def included(name, seen=None):
    seen = set() if seen is None else seen
    if name in seen:
        return seen
    seen.add(name)
    for other in meta.find_referenced_templates(ENV.parse(source(name))):
        if other and other != "_shown.html":
            included(other, seen)
    return seen


@pytest.mark.parametrize("page", PAGES)
def test_a_page_uses_only_the_fields_of_its_context_and_all_of_them(page):
    name = f"{page}/page.html"
    used: set[str] = set()
    for template in included(name):
        used |= meta.find_undeclared_variables(ENV.parse(source(template)))
    fields = set(context_of(page).__struct_fields__)
    # `rows` and `steps` are set by the page before a partial is included, where they are no field of the context
    local = {n.name for t in ENV.parse(source(name)).find_all(nodes.Assign) for n in t.find_all(nodes.Name)}
    macros = {"figure", "verdict", "link_to"}
    assert used - GIVEN - local - macros <= fields, used - GIVEN - local - macros - fields
    assert fields <= used, f"{page} holds fields that its page does not show: {fields - used}"


def test_every_page_has_one_folder_with_route_context_and_template():
    from relet.web.pages import PAGES as ROUTES

    assert len(ROUTES) == len(PAGES) - 1  # the page for problems has no route of its own
    for page in PAGES:
        assert context_of(page).__doc__
        assert importlib.import_module(f"relet.web.pages.{page}").__doc__


def test_modules_stay_small():
    for path in HERE.rglob("*.py"):
        assert len(path.read_text(encoding="utf-8").splitlines()) < 300, path
    assert relet.web.__doc__
