"""The proposal: every part is there, every page says on which basis it stands, and nothing is half-written."""

from __future__ import annotations

import io
import os
import re
import sys
from dataclasses import replace as replaced

import msgspec
import pytest
from limekiln_sample import dossiers
from pypdf import PdfReader

from relet.documents import PaperFailed, Pictures, proposal
from relet.documents.data import proposal_data
from relet.documents.paper import compiled
from relet.documents.pictures import on_a_sheet
from relet.errors import InputError
from relet.model import Map

SVG = (
    '<svg xmlns="http://www.w3.org/2000/svg" width="{w}mm" height="{h}mm" viewBox="0 0 {w} {h}">'
    "<title>Plan</title><desc>{desc}</desc>"
    '<rect width="{w}" height="{h}" fill="none" stroke="#111" stroke-width="1"/></svg>'
)


def drawing(w=180, h=120, desc="four walls"):
    return SVG.format(w=w, h=h, desc=desc)


@pytest.fixture(scope="module")
def paper(tmp_path_factory):
    path = tmp_path_factory.mktemp("paper") / "proposal.pdf"
    faces = Map({"A1": drawing(80, 60, "face of A1")})
    proposal(path, dossiers()[1], Pictures(plan=drawing(), single_line=(drawing(400, 240),), faces=faces))
    return path


@pytest.fixture(scope="module")
def pages(paper):
    # words that are broken for a narrow column carry a mark that is not seen
    return [p.extract_text().replace("\u200b", "").replace("\u00a0", " ") for p in PdfReader(paper).pages]


def flat(text):
    return re.sub(r"\s+", " ", text)


def test_every_page_bears_its_number_basis_and_draft_mark(pages):
    assert len(pages) > 6
    for n, text in enumerate(pages, 1):
        text = flat(text)
        assert f"page {n} of {len(pages)}" in text
        assert "BS 7671:2018+A4:2026; figures from memory that decide: 4; edition unconfirmed: 2; draft" in text
        assert "DRAFT" in text and "Isolate, lock off, prove dead" in text


def test_every_part_is_there(pages):
    text = flat(" ".join(pages))
    for words in (
        "Harbour & Husk", "Limekiln Yard, Unit 7", "25 November 2026", "Outlet assemblies", "the worst margin first",
        "What was judged, and what was not", "a 13 A outlet needs no interlock", "Circuits and machines", "Price",
        "Paid by the landlord", "Paid by the tenant", "Parts to order", "Changeover from as it stands",
        "Prove dead at:", "Loses supply:", "Isolated at:", "Who is without supply", "Test results on record",
        "Assumptions and unknowns", "Measure next", "Ze at the origin", "Tabulated figures that decide", "Cautions",
        "meets if Ze is 0.32 ohm or less", "What stands in the way of signing", "2 findings fail",
    ):  # fmt: skip
        assert words in text, words


def test_findings_come_worst_first_with_value_limit_margin_clause_and_status(pages):
    text = flat(next(p for p in pages if "Findings, the worst margin" in p and "Values and limits" in p))
    places = [
        text.index(w) for w in ("Ingress for the zone", "Heat in the enclosure", "Disconnection in time", "Room to")
    ]
    assert places == sorted(places)
    for words in ("21.6 K", "21 K", "−2.7 %", "EN 61439-1 10.10", "from memory", "edition unconfirmed"):
        assert words in text, words


def test_the_paper_is_tagged_titled_and_drawings_have_words(paper):
    reader = PdfReader(paper)
    assert reader.trailer["/Root"]["/MarkInfo"]["/Marked"].value
    assert reader.metadata.title == "Proposal: Limekiln Yard, Unit 7, Harbour & Husk"
    assert str(reader.trailer["/Root"]["/Lang"]).startswith("en")
    alts: set[str] = set()
    stack, seen = [reader.trailer["/Root"]["/StructTreeRoot"]], 0
    while stack and seen < 200_000:
        node = stack.pop()
        seen += 1
        node = node.get_object() if hasattr(node, "get_object") else node
        if isinstance(node, list):
            stack.extend(node)
        elif isinstance(node, dict):
            if "/Alt" in node:
                alts.add(str(node["/Alt"]))
            if "/K" in node:
                stack.append(node["/K"])
    assert {"Plan. four walls", "Plan. face of A1"} <= alts


def test_only_the_shipped_font_is_in_it(paper):
    names = set()
    for page in PdfReader(paper).pages:
        for font in page["/Resources"].get("/Font", {}).values():
            names.add(str(font.get_object()["/BaseFont"]))
    assert names and all("IBMPlexSans" in n for n in names)


def test_a_plan_keeps_its_scale_where_a_sheet_holds_it():
    fits = on_a_sheet(drawing(252, 170), "Plan", to_scale=True)
    assert (fits["paper"], fits["width_mm"], fits["note"]) == ("a4", 252, "")
    assert on_a_sheet(drawing(300, 200), "Plan", to_scale=True)["paper"] == "a3"
    large = on_a_sheet(drawing(800, 300), "Plan", to_scale=True)
    assert large["paper"] == "a3" and large["width_mm"] <= 392 and "scale bar holds" in large["note"]


def test_the_plan_stands_on_the_page_in_its_own_size(paper):
    landscape = [p for p in PdfReader(paper).pages if p.mediabox.width > p.mediabox.height]
    assert len(landscape) == 2
    assert float(landscape[0].mediabox.width) == pytest.approx(297 / 25.4 * 72, abs=0.5)
    assert float(landscape[1].mediabox.width) == pytest.approx(420 / 25.4 * 72, abs=0.5)


def test_no_text_leaves_its_page(paper):
    for n, page in enumerate(PdfReader(paper).pages, 1):
        wide, high = float(page.mediabox.width), float(page.mediabox.height)
        out = []

        def visit(text, cm, tm, font, size, wide=wide, high=high, out=out):
            x, y = tm[4] * cm[0] + cm[4], tm[5] * cm[3] + cm[5]
            if text.strip() and not (0 <= x <= wide and 0 <= y <= high):
                out.append(text)

        page.extract_text(visitor_text=visit)
        assert not out, (n, out[:3])


def test_the_same_data_give_the_same_bytes(tmp_path, paper):
    faces = Map({"A1": drawing(80, 60, "face of A1")})
    pictures = Pictures(plan=drawing(), single_line=(drawing(400, 240),), faces=faces)
    again = proposal(tmp_path / "again.pdf", dossiers()[1], pictures)
    assert again.read_bytes() == paper.read_bytes()


def test_a_case_without_price_job_or_pictures_still_makes_a_paper(tmp_path):
    bare = msgspec.structs.replace(dossiers()[0], price=None, readings=())
    text = flat(" ".join(p.extract_text() for p in PdfReader(proposal(tmp_path / "bare.pdf", bare)).pages))
    assert "as it stands" in text and "Changeover" not in text and "Cautions" in text


def test_text_of_the_user_is_never_read_as_markup(tmp_path):
    d = dossiers()[1]
    evil = '#panic(1) *bold* $x$ <label> @ref \\ "quoted" ]['
    unit = msgspec.structs.replace(d.case.unit, name=evil)
    case = msgspec.structs.replace(d.case, unit=unit)
    found = replaced(d.found, findings=tuple(replaced(f, sentence=evil) for f in d.found.findings))
    path = proposal(tmp_path / "evil.pdf", msgspec.structs.replace(d, case=case, found=found))
    assert "#panic(1) *bold* $x$ <label>" in flat(PdfReader(path).pages[0].extract_text())


@pytest.mark.parametrize("where, words", [
    ("missing/p.pdf", "there is no folder "), ("file.txt/p.pdf", "there is no folder "), (".", "this is a folder"),
])  # fmt: skip
def test_a_place_that_cannot_be_written_is_one_clear_error(tmp_path, where, words):
    (tmp_path / "file.txt").write_text("x", encoding="utf-8")
    with pytest.raises(InputError, match=re.escape(words)):
        proposal(tmp_path / where, dossiers()[0])


def test_a_place_is_looked_at_before_the_paper_is_set(tmp_path, monkeypatch):
    def never(*_):
        raise AssertionError("the paper was set")

    monkeypatch.setattr(sys.modules["relet.documents.proposal"], "compiled", never)
    with pytest.raises(InputError, match="there is no folder"):
        proposal(tmp_path / "missing" / "p.pdf", dossiers()[0])


@pytest.mark.parametrize("fault", [OSError(28, "No space left on device"), KeyboardInterrupt()])
def test_a_write_that_breaks_off_keeps_the_older_file_whole(tmp_path, monkeypatch, fault):
    target = tmp_path / "p.pdf"
    target.write_bytes(b"older")

    def breaks(descriptor):
        raise fault

    monkeypatch.setattr(os, "fsync", breaks)
    with pytest.raises((InputError, KeyboardInterrupt)):
        proposal(target, dossiers()[0])
    assert target.read_bytes() == b"older" and [p.name for p in tmp_path.iterdir()] == ["p.pdf"]


def test_a_drawing_that_cannot_be_read_is_named(tmp_path):
    with pytest.raises(InputError, match="Plan"):
        proposal(tmp_path / "p.pdf", dossiers()[0], Pictures(plan="<svg"))
    with pytest.raises(InputError, match="width and height in mm"):
        on_a_sheet('<svg xmlns="http://www.w3.org/2000/svg" width="3in" height="2in"/>', "Plan", to_scale=True)


def test_a_missing_font_stops_the_paper(monkeypatch):
    import typst

    from relet.documents import paper as module

    none = typst.Fonts(include_system_fonts=False, include_embedded_fonts=True, font_paths=[])
    monkeypatch.setattr(module, "_fonts", lambda: none)
    with pytest.raises(PaperFailed, match="font"):
        compiled("proposal.typ", proposal_data(dossiers()[0], Pictures()))


def test_the_basis_is_that_of_the_findings():
    d = dossiers()[1]
    other = replaced(d.found, basis=replaced(d.found.basis, memory_decides=17))
    raw = compiled("proposal.typ", proposal_data(msgspec.structs.replace(d, found=other), Pictures()))
    assert all("decide: 17" in flat(p.extract_text().replace("\u00a0", " ")) for p in PdfReader(io.BytesIO(raw)).pages)
