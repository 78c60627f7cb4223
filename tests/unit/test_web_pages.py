"""The pages through an in-process client: what a reader finds on them, and that every figure leads to its working."""

from __future__ import annotations

import json
import re
import sys
from collections import deque
from functools import cache
from urllib.parse import unquote, urldefrag, urljoin

import msgspec
import pytest
from html_page import Page, rows, text
from limekiln_sample import dossiers
from starlette.testclient import TestClient

from relet.errors import InputError
from relet.web import address, create_app, serve, showcase
from relet.web.safety import HEADERS

LIMIT = 250_000
FIGURE = re.compile(r"\d+(\.\d+)?\u00a0(A|V|W|kW|Ω|mΩ|m|mm²|mA|kA|kVA|%|K|GBP)\b")


@cache
def client():
    return TestClient(create_app(showcase(*dossiers())), base_url="http://127.0.0.1", raise_server_exceptions=False)


def page(path):
    answer = client().get(path)
    assert answer.status_code == 200, (path, answer.status_code, answer.text[:200])
    return Page(answer.text)


@cache
def crawled():
    """Every page that can be reached from the start, by path."""
    out, queue = {}, deque(["/of/standing"])
    while queue:
        path = queue.popleft()
        if path in out:
            continue
        out[path] = page(path)
        for href in out[path].links:
            there, _ = urldefrag(urljoin(path, href))
            assert there.startswith("/"), f"{path} leads outside: {href}"
            if there not in out:
                queue.append(there)
    return out


def test_the_start_leads_to_what_stands():
    answer = client().get("/", follow_redirects=False)
    assert (answer.status_code, answer.headers["location"]) == (307, "/of/standing")


def test_every_link_of_every_page_leads_somewhere():
    pages = crawled()
    kinds = {p.split("/")[3].split("?")[0] for p in pages if p.count("/") > 2}
    assert kinds == {
        "findings", "finding", "assembly", "change", "step", "price", "fact", "figures", "figure", "planned"
    }  # fmt: skip
    for path, p in pages.items():
        for href in p.links:
            there, anchor = urldefrag(urljoin(path, href))
            if anchor:
                # the page behind /price is that of its first kind
                assert anchor in pages[there or path].ids, (path, href)


def test_every_page_is_small_whole_and_headed_once():
    for path, p in crawled().items():
        assert len(client().get(path).content) <= LIMIT, path
        assert len(p.all("h1")) == 1 and text(p.one("h1")), path
        assert len(p.ids) == len(set(p.ids)), (path, [i for i in p.ids if p.ids.count(i) > 1][:3])
        assert text(p.root.find("head/title")).endswith("Limekiln Yard, Unit 7"), path
        assert p.root.get("lang") == "en-GB"
        p.one("main", id="content")


def test_every_page_bears_basis_and_caution():
    for path, p in crawled().items():
        foot = text(p.one("footer"))
        assert "BS 7671:2018+A4:2026" in foot and "figures from memory that decide" in foot, path
        assert "Nothing here says that a conductor is dead" in foot, path


def test_nothing_is_loaded_from_another_host_and_nothing_runs():
    for path, p in crawled().items():
        assert not p.all("script") and not p.all("style") and not p.all("form"), path
        for e in p.root.iter():
            assert "style" not in e.attrib and not any(a.startswith("on") for a in e.attrib), (path, e.tag)
            for a in ("src", "href"):
                assert e.get(a, "/").startswith(("/", "#", "?")), (path, e.get(a))
    css = client().get("/static/style.css").text
    assert set(re.findall(r'url\("?([^")]+)', css)) == {"/static/plex.woff2"}


def test_figures_are_links_to_their_working():
    seen = 0
    for path, p in crawled().items():
        if "/fact/" in path or "/figure/" in path or "/price/" in path or "/step/" in path:
            continue  # these are the workings themselves
        for cell in [c for tag in ("td", "dd") for c in p.all(tag)]:
            inside = [a for a in cell.iter("a") if a.get("class", "").startswith("figure")]
            if "n" in cell.get("class", "").split() and text(cell):
                assert inside or [*cell.iter("a")], (path, text(cell))
                seen += 1
    assert seen > 100
    unit = page("/of/harbour")
    for table in unit.all("table", "rows"):
        for cell in table.iter("td"):
            bare = "".join(t for e in cell.iter() for t in _own(e) if e.tag not in ("a", "span"))
            assert not FIGURE.search(bare), bare


def _own(e):
    """Texts that stand in an element itself, not in what is inside it."""
    return [e.text or "", *[(c.tail or "") for c in e]]


def test_the_unit_page_shows_tenancies_counts_worst_first_plan_and_price():
    p = page("/of/harbour")
    assert [text(a) for a in p.one("nav", "cases").iter("a")] == [
        "as it stands", "Harbour & Husk January 2027 to December 2029", "Slipwell Studio February 2030 to June 2032"
    ]  # fmt: skip
    assert [a.get("aria-current") for a in p.one("nav", "cases").iter("a")] == [None, "true", None]
    assert [text(li) for li in p.one("section", "counts").iter("li")] == [
        "fails 2", "depends 1", "refer 1", "advice 1", "meets 5", "not applicable 1"
    ]  # fmt: skip
    first, *_ = rows(p.one("table", "findings"))
    assert first[0] == "fails" and first[1].startswith("Ingress for the zone A3/face/1")
    assert first[2:5] == ["44", "55", "−20 %"]
    assert len(p.all("svg", "relet-drawing")) == 2
    whole = text(p.one("main"))
    for words in ("Ze at the origin", "Price of the change", "In the way of signing", "All: 11 findings", "0.69 %"):
        assert words in whole, words


def test_a_finding_shows_value_limit_need_working_and_what_is_beside():
    p = page("/of/harbour/finding/fault.disconnection/R7")
    whole = text(p.one("main"))
    for words in (
        "Disconnection in time", "depends", "0.0719 to 0.822 Ω", "0.346 Ω", "−140 %", "meets if Ze is 0.32 ohm or less",
        "411.3.2", "wiring rules", "unknown", "edition unconfirmed", "Zs = Ze + R12", "Zs = 0.8 + 0.02185", "0.82185 Ω",
        "at the best of what is not known", "Zs = 0.05 + 0.02185", "What else decides", "S17, 17th; one published copy",
        "Beside it", "Overload of conductors",
    ):  # fmt: skip
        assert words in whole, words
    assert "/of/harbour/fact/supply.ze_ohm" in p.links
    assert "/of/harbour/fact/design.harbour.runs.R7.length_m" in p.links
    assert any(h.startswith("/of/harbour/figure/") for h in p.links)


def test_a_fact_says_how_it_is_known_and_what_it_decides():
    ze = text(page("/of/harbour/fact/supply.ze_ohm").one("main"))
    assert "not known" in ze and "told by somebody" in ze and "Decides 1 finding" in ze and "read, 5 min" in ze
    made = text(page("/of/harbour/fact/policy.u0_v").one("main"))
    assert "230 V" in made and "published" in made


def test_a_table_row_names_source_status_and_verdicts():
    p = page("/of/harbour/figures")
    first, *_ = rows(p.one("table", "rows"))
    assert first[0].startswith("method C, 16 mm2") and first[2] == "M from memory"
    there = next(h for h in p.links if "/figure/" in h)
    row = text(page(there).one("main"))
    assert "85 A" in row and "Decides 3 findings" in row and "from memory" in row


def test_a_price_line_tells_how_it_came_about():
    sheet = page("/of/harbour/price/change")
    total = next(iter(rows(sheet.all("table", "rows")[0])))
    assert total[1:4] == ["3 each", "156.00", "468.00"]
    line = text(page("/of/harbour/price/change/1").one("main"))
    assert "total = quantity * each" in line and "3 * 156" in line and "price book, edition invented 2026.1" in line
    work = text(page("/of/harbour/price/change/2").one("main"))
    assert "total = time / 60 * each" in work


def test_the_change_shows_isolation_loss_and_fallen_results():
    p = page("/of/harbour/change")
    steps = p.one("ol", "steps")
    assert len([li for li in steps if li.tag == "li"]) == len(dossiers()[1].job.steps)
    grave = [text(li) for li in p.all("li", "grave")]
    assert any("isolate" in g and "loses supply" in g for g in grave) and any("prove dead" in g for g in grave)
    whole = text(p.one("main"))
    assert "Isolated on the record is no proof" in whole and "falls" in whole
    n = next(s.n for s in dossiers()[1].job.steps if s.opens)
    assert "joints opened or made" in text(page(f"/of/harbour/step/{n}").one("main"))


def test_an_assembly_shows_face_contents_and_its_findings():
    p = page("/of/harbour/assembly/A3")
    assert p.all("svg", "relet-face")
    whole = text(p.one("main"))
    for words in ("tasting espresso set", "24.5 m", "4 of 6", "Ingress for the zone", "Overload of conductors"):
        assert words in whole, words


def test_findings_are_filtered_by_verdict_and_family():
    fails = page("/of/harbour/findings?verdict=fails")
    assert [r[0] for r in rows(fails.one("table", "findings"))] == ["fails", "fails"]
    both = page("/of/harbour/findings?verdict=meets&family=conductor")
    assert "4 findings" in text(both.one("main"))
    none = page("/of/harbour/findings?verdict=nonsense")
    assert "0 findings" in text(none.one("main")) and not none.all("table", "findings")


def test_many_findings_are_given_in_pages_that_stay_small():
    d = dossiers()[1]
    from dataclasses import replace

    many = tuple(replace(f, subject=f"{f.subject}-{n}") for n in range(400) for f in d.found.findings)
    big = msgspec.structs.replace(d, found=replace(d.found, findings=many))
    c = TestClient(create_app(showcase(big)), base_url="http://127.0.0.1")
    for path in (
        "/of/harbour",
        "/of/harbour/findings",
        "/of/harbour/findings?page=2",
        "/of/harbour/fact/supply.ze_ohm",
    ):
        answer = c.get(path)
        assert answer.status_code == 200 and len(answer.content) <= LIMIT, (path, len(answer.content))
    second = Page(c.get("/of/harbour/findings?page=2").text)
    assert "4400 findings, 101 to 200" in text(second.one("main").find(".//h2[@id='rows']"))
    assert c.get("/of/harbour/findings?page=99").status_code == 404


@pytest.mark.parametrize("path", [
    "/nowhere", "/of/nobody", "/of/harbour/finding/none", "/of/harbour/assembly/A9", "/of/harbour/step/999",
    "/of/harbour/price/change/0", "/of/harbour/price/other", "/of/harbour/fact/none.at_all", "/of/harbour/figure/none",
    "/of/standing/change", "/of/standing/planned", "/of/harbour/findings?page=7",
])  # fmt: skip
def test_what_is_not_there_is_a_clean_page_with_a_way_back(path):
    answer = client().get(path)
    p = Page(answer.text)
    assert answer.status_code == 404 and text(p.one("h1")) == "Not here"
    assert {"/of/standing", "/of/harbour"} <= set(p.links) and "Traceback" not in answer.text


def test_what_is_not_understood_is_told_in_one_sentence():
    answer = client().get("/of/harbour/step/three")
    assert answer.status_code == 422 and "n: input should be a valid integer" in text(Page(answer.text).one("main"))


def test_the_pages_are_read_only():
    for method in ("post", "put", "delete", "patch"):
        answer = getattr(client(), method)("/of/harbour")
        assert answer.status_code == 405 and text(Page(answer.text).one("h1")) == "Read only"
    assert client().head("/of/harbour").status_code == 200


def test_a_fault_of_ours_is_a_clean_page_without_a_traceback(monkeypatch):
    module = sys.modules["relet.web.pages.figures.context"]

    def breaks(*_):
        raise ZeroDivisionError("secret detail")

    monkeypatch.setattr(module, "basis_row", breaks)
    answer = client().get("/of/harbour/figures")
    assert answer.status_code == 500 and "secret detail" not in answer.text and "fault of the tool" in answer.text
    assert answer.headers["content-security-policy"] == HEADERS["content-security-policy"]


@pytest.mark.parametrize("path", ["/of/harbour", "/nowhere", "/api/findings", "/static/style.css"])
def test_every_answer_carries_the_safety_headers(path):
    answer = client().get(path)
    for name, value in HEADERS.items():
        assert answer.headers[name] == value, name
    policy = HEADERS["content-security-policy"]
    assert "default-src 'none'" in policy and "unsafe" not in policy and "script-src" not in policy


@pytest.mark.parametrize("host", ["example.org", "127.0.0.1.example.org", "", "192.168.1.10:8017"])
def test_another_host_is_refused(host):
    answer = client().get("/of/harbour", headers={"host": host})
    assert answer.status_code == 400 and "Harbour" not in answer.text


@pytest.mark.parametrize("host", ["127.0.0.1:8017", "localhost:8017", "localhost"])
def test_this_machine_is_answered(host):
    assert client().get("/of/harbour", headers={"host": host}).status_code == 200


def test_names_of_the_user_are_only_text():
    evil = "<script>alert(1)</script> & \"quoted\" 'single'"
    d = dossiers()[1]
    case = msgspec.structs.replace(d.case, unit=msgspec.structs.replace(d.case.unit, name=evil))
    c = TestClient(create_app(showcase(msgspec.structs.replace(d, case=case))), base_url="http://127.0.0.1")
    for path in ("/of/harbour", "/of/harbour/findings", "/nowhere"):
        answer = c.get(path)
        assert "<script>" not in answer.text and evil in text(Page(answer.text).root.find("head/title")), path


def test_the_forms_are_those_of_the_commands():
    found = client().get("/api/findings?of=harbour").json()
    assert found["format"] == "relet/findings/1" and found["findings"][0]["verdict"] == "fails"
    assert found["findings"][0]["working"] and {"basis", "coverage", "findings"} <= set(found)
    assert "working" not in client().get("/api/findings?of=harbour&working=false").json()["findings"][0]
    change = client().get("/api/change?of=harbour").json()
    assert change["format"] == "relet/change/1" and len(change["steps"]) == len(dossiers()[1].job.steps)
    one = client().get("/api/case?of=harbour").json()
    assert one["format"] == "relet/case/1" and one["solved"]["places"] == 44
    json.dumps([found, change, one], allow_nan=False)


@pytest.mark.parametrize("path, status", [
    ("/api/findings?of=nobody", 404), ("/api/change?of=standing", 404), ("/api/nothing", 404),
    ("/api/findings?of=harbour&working=perhaps", 422),
])  # fmt: skip
def test_there_is_one_shape_of_error_in_the_data(path, status):
    answer = client().get(path)
    assert answer.status_code == status and answer.headers["content-type"] == "application/json"
    error = answer.json()["error"]
    assert set(answer.json()) == {"error"} and error["status"] == status and error["what"]


def test_the_data_is_described():
    described = client().get("/api/openapi.json").json()
    assert set(described["paths"]) == {"/api/findings", "/api/change", "/api/case"}
    assert client().get("/docs").status_code == 404


def test_the_font_comes_from_the_package_and_may_be_kept():
    font = client().get("/static/plex.woff2")
    assert font.headers["content-type"] == "font/woff2" and font.content[:4] == b"wOF2"
    assert "max-age" in font.headers["cache-control"]
    assert client().get("/of/harbour").headers["cache-control"] == "no-store"
    assert client().get("/favicon.ico").status_code == 200


def test_a_showcase_needs_cases_of_one_unit_with_names_of_their_own():
    d = dossiers()[1]
    with pytest.raises(InputError, match="nothing to show"):
        showcase()
    with pytest.raises(InputError, match='two cases are called "harbour"'):
        showcase(d, d)
    unit = msgspec.structs.replace(d.case.unit, id="another")
    other = msgspec.structs.replace(dossiers()[2], case=msgspec.structs.replace(dossiers()[2].case, unit=unit))
    with pytest.raises(InputError, match="different units"):
        showcase(d, other)


def test_a_port_that_is_taken_is_one_clear_error():
    import socket

    with socket.socket() as taken:
        taken.bind(("127.0.0.1", 0))
        taken.listen()
        with pytest.raises(InputError, match="cannot be used"):
            serve(showcase(*dossiers()), port=taken.getsockname()[1])
    assert address(8017) == "http://127.0.0.1:8017/"


def test_an_address_with_odd_letters_finds_its_way():
    d = dossiers()[1]
    from dataclasses import replace

    odd = replace(d.found.findings[0], subject="A 1/face ü?#3")
    c = TestClient(
        create_app(showcase(msgspec.structs.replace(d, found=replace(d.found, findings=(odd,))))),
        base_url="http://127.0.0.1",
    )
    href = next(h for h in Page(c.get("/of/harbour").text).links if "/finding/" in h)
    assert unquote(href).endswith("A 1/face ü?#3") and c.get(href).status_code == 200
