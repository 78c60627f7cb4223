"""A page as a reader meets it: parsed into elements, with the few questions that tests ask."""

from __future__ import annotations

import xml.etree.ElementTree as ElementTree
from collections.abc import Iterator
from html.parser import HTMLParser

VOID = frozenset({"meta", "link", "br", "hr", "img", "input", "area", "base", "col", "embed", "source", "track", "wbr"})


class _Builder(HTMLParser):
    """Builds a tree and insists that what is opened is closed."""

    def __init__(self) -> None:
        super().__init__(convert_charrefs=True)
        self.builder = ElementTree.TreeBuilder()
        self.open: list[str] = []

    def handle_starttag(self, tag, attrs):
        self.builder.start(tag, {k: v or "" for k, v in attrs})
        if tag in VOID:
            self.builder.end(tag)
        else:
            self.open.append(tag)

    def handle_startendtag(self, tag, attrs):
        self.builder.start(tag, {k: v or "" for k, v in attrs})
        self.builder.end(tag)

    def handle_endtag(self, tag):
        assert self.open and self.open[-1] == tag, f"</{tag}> closes {self.open[-1:]}"
        self.open.pop()
        self.builder.end(tag)

    def handle_data(self, data):
        if self.open:
            self.builder.data(data)


class Page:
    """One parsed page."""

    def __init__(self, text: str) -> None:
        builder = _Builder()
        builder.feed(text)
        builder.close()
        assert builder.open == [], f"not closed: {builder.open}"
        self.root = builder.builder.close()

    def all(self, tag: str, cls: str = "", **attributes: str) -> list[ElementTree.Element]:
        """Elements of a tag, with a class and attributes."""
        return [
            e
            for e in self.root.iter(tag)
            if (not cls or cls in e.get("class", "").split()) and all(e.get(k) == v for k, v in attributes.items())
        ]

    def one(self, tag: str, cls: str = "", **attributes: str) -> ElementTree.Element:
        """The only element of its kind."""
        found = self.all(tag, cls, **attributes)
        assert len(found) == 1, f"{len(found)} elements {tag}.{cls} {attributes}"
        return found[0]

    @property
    def links(self) -> list[str]:
        """Where its links lead."""
        return [e.get("href", "") for e in self.root.iter("a")]

    @property
    def ids(self) -> list[str]:
        """Every id."""
        return [e.get("id", "") for e in self.root.iter() if e.get("id")]


def _texts(e: ElementTree.Element) -> Iterator[str]:
    yield " " if e.tag == "br" else e.text or ""
    for child in e:
        yield from _texts(child)
        yield child.tail or ""


def text(e: ElementTree.Element) -> str:
    """Text of an element, spaces made one."""
    return " ".join("".join(_texts(e)).split())


def rows(e: ElementTree.Element) -> Iterator[list[str]]:
    """Rows of a table's body as texts."""
    for row in e.iter("tr"):
        if any(c.tag == "td" for c in row):
            yield [text(c) for c in row]
