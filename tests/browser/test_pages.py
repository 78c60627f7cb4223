"""Every page in a real browser: accessible, without side scroll at 360 px, in light and dark, by keyboard, on paper."""

from __future__ import annotations

import pytest
from axe_playwright_python.sync_playwright import Axe

pytestmark = pytest.mark.browser

ROUTES = {
    "unit": "/of/harbour",
    "unit, standing": "/of/standing",
    "findings": "/of/harbour/findings",
    "findings, filtered": "/of/harbour/findings?verdict=depends",
    "finding": "/of/harbour/finding/fault.disconnection/R7",
    "finding, refer": "/of/harbour/finding/place.explosive/spray_bay",
    "assembly": "/of/harbour/assembly/A1",
    "change": "/of/harbour/change",
    "step": "/of/harbour/step/21",
    "price": "/of/harbour/price/change",
    "line": "/of/harbour/price/change/2",
    "fact": "/of/harbour/fact/supply.ze_ohm",
    "figures": "/of/harbour/figures",
    "figure": "",
    "planned": "/of/harbour/planned",
    "problem": "/of/nobody",
}
RULES = {"runOnly": ["wcag2a", "wcag2aa", "wcag21a", "wcag21aa", "wcag22aa", "best-practice"]}


def path_of(name):
    if name != "figure":
        return ROUTES[name]
    from limekiln_sample import dossiers

    from relet.schedules import figure_rows

    return f"/of/harbour/figure/{figure_rows(dossiers()[1].found)[0].id}"


@pytest.mark.parametrize("width", [1280, 360])
@pytest.mark.parametrize("scheme", ["light", "dark"])
@pytest.mark.parametrize("name", ROUTES)
def test_a_page_is_accessible_and_fits_its_width(open_page, name, scheme, width):
    page = open_page(path_of(name), width, scheme)
    found = Axe().run(page, options=RULES)
    assert found.violations_count == 0, found.generate_report()
    assert page.evaluate("document.documentElement.scrollWidth") <= width
    assert page.evaluate("document.fonts.check('16px \"IBM Plex Sans\"')")


@pytest.mark.parametrize("name", ROUTES)
def test_a_page_asks_nothing_of_another_host_and_says_nothing(open_page, address, name):
    page = open_page(path_of(name))
    assert all(url.startswith(address + "/") for url in page.asked), page.asked
    # the browser itself notes the 404 of the page for what is not there
    assert [s for s in page.said if "404" not in s] == []


@pytest.mark.parametrize("name", ROUTES)
def test_no_text_is_clipped_or_laid_over_another_at_360_px(open_page, name):
    page = open_page(path_of(name), 360)
    out = page.evaluate(
        """() => {
          const wide = document.documentElement.clientWidth, bad = [];
          for (const e of document.querySelectorAll('body *')) {
            if (e.closest('.drawing, .sprite, .skip, thead') || !e.textContent.trim() || e.children.length) continue;
            const r = e.getBoundingClientRect();
            if (r.width && (r.left < -0.5 || r.right > wide + 0.5)) bad.push([e.tagName, e.textContent.trim()]);
          }
          return bad;
        }"""
    )
    assert out == []
    strayed = page.evaluate(
        """() => [...document.querySelectorAll('td[data-name] > *')].filter(e => e.textContent.trim() &&
            e.getBoundingClientRect().left < e.parentElement.getBoundingClientRect().left + 100)
            .map(e => e.textContent.trim())"""
    )
    assert strayed == [], "a value stands under the names of the values"
    over = page.evaluate(
        """() => {
          const boxes = [...document.querySelectorAll('main dd, main td, main th, main h1, main h2, main li > p')]
            .filter(e => !e.closest('.drawing, thead') && e.textContent.trim())
            .map(e => [e, e.getBoundingClientRect()]).filter(([, r]) => r.width > 0);
          const bad = [];
          for (let i = 0; i < boxes.length; i++) for (let j = i + 1; j < boxes.length; j++) {
            const [a, r] = boxes[i], [b, s] = boxes[j];
            if (a.contains(b) || b.contains(a)) continue;
            const w = Math.min(r.right, s.right) - Math.max(r.left, s.left);
            const h = Math.min(r.bottom, s.bottom) - Math.max(r.top, s.top);
            if (w > 1 && h > 2) bad.push([a.textContent.trim().slice(0, 40), b.textContent.trim().slice(0, 40)]);
          }
          return bad;
        }"""
    )
    assert over == []


def test_the_keyboard_reaches_the_content_and_a_finding(open_page, address):
    page = open_page("/of/harbour")
    page.keyboard.press("Tab")
    assert page.evaluate("document.activeElement.textContent") == "To the content"
    assert page.evaluate("document.activeElement.getBoundingClientRect().left") >= 0
    page.keyboard.press("Enter")
    assert page.evaluate("document.activeElement.id") == "content"
    page.locator("table.findings a").first.focus()
    ring = page.evaluate("getComputedStyle(document.activeElement).outlineStyle")
    assert ring == "solid"
    page.keyboard.press("Enter")
    page.wait_for_url("**/finding/**")
    assert page.locator("h1").inner_text() == "Ingress for the zone"


def test_a_figure_leads_to_its_working_and_on_to_its_fact(open_page):
    page = open_page("/of/harbour")
    page.locator("table.findings tr.v-depends a.figure").first.click()
    assert page.locator(".working li").count() > 8
    page.locator(".working a.figure", has_text="0.8").first.click()
    assert "ze" in page.locator("h1").inner_text() and "not known" in page.locator("main").inner_text()


def test_verdicts_differ_by_word_and_shape_not_by_colour_alone(open_page):
    page = open_page("/of/harbour")
    seen = page.evaluate(
        "() => [...document.querySelectorAll('.counts li')].map(e => "
        "[e.textContent.trim(), e.querySelector('use').getAttribute('href')])"
    )
    assert len({shape for _, shape in seen}) == len(seen) == 6
    assert all(word[0].isalpha() for word, _ in seen)


def test_the_plan_can_be_scrolled_by_keyboard_on_a_phone(open_page):
    page = open_page("/of/harbour", 360)
    box = page.locator(".drawing").first
    box.focus()
    assert box.evaluate("e => e.scrollWidth > e.clientWidth")
    page.keyboard.press("ArrowRight")
    moved = box.evaluate(
        """e => new Promise(done => {
          let frames = 0;
          const look = () => e.scrollLeft > 0 || ++frames > 120 ? done(e.scrollLeft) : requestAnimationFrame(look);
          look();
        })"""
    )
    assert moved > 0


def test_the_dark_page_is_dark_and_its_drawing_too(open_page):
    for scheme, dark in (("light", False), ("dark", True)):
        page = open_page("/of/harbour", scheme=scheme)
        shade = page.evaluate("getComputedStyle(document.body).backgroundColor.match(/\\d+/g).map(Number)[0]")
        ink = page.evaluate(
            "getComputedStyle(document.querySelector('.drawing .d-wall')).stroke.match(/\\d+/g).map(Number)[0]"
        )
        assert (shade < 128) == dark and (ink > 128) == dark, (scheme, shade, ink)


def test_paper_has_no_navigation_and_no_clipped_drawing(open_page):
    page = open_page("/of/harbour", 794, media="print")
    assert not page.locator("nav.ways").is_visible() and page.locator("footer").is_visible()
    assert page.evaluate("[...document.querySelectorAll('.drawing')].every(e => e.scrollWidth <= e.clientWidth + 1)")
    assert page.pdf(format="A4")[:4] == b"%PDF"
