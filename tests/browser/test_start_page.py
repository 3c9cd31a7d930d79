"""The start page: what needs attention is led to, and the graph is read by mouse, keys and finger.

What of it is drawn is judged by where it lies on the screen.
"""

import io
import re
from itertools import pairwise
from pathlib import Path

import pdfplumber
import pytest
from playwright.sync_api import Page, expect

from tests.browser.accessibility import serious_findings
from tests.browser.leafing import heading, press_until_focused
from tests.browser.theatre import bind
from tests.cli.conftest import Trueup, run

PHONE = 390
LEAST_LETTERS = 11  # pixels
LEAST_TARGET = 24  # pixels; WCAG 2.2, 2.5.8 Target Size (Minimum)


@pytest.fixture(scope="module")
def book(tmp_path_factory) -> Path:
    """A book in which one conflict was settled, one pattern stays behind and lines cross."""
    folder = tmp_path_factory.mktemp("start")
    bind(folder)
    trueup = Trueup(folder / "theatre")
    waiting = trueup("conflicts", "--json").document["conflicts"]
    settled = next(e for e in waiting if e["arose_at"] == "easy" and e["kind"] == "seam")
    trueup.made("decide", settled["id"], "refit-cap", "--why", "as it was")
    held = next(e for e in waiting if e["arose_at"] == "vest" and e["kind"] == "both-shaped")
    trueup.made("decide", held["id"], "hold", "--why", "it is cut")
    trueup.made("draft", "another", *(f"--{n}={s}" for n, s in SIZES.items()))
    trueup.made("derive", "aside", "--from", "another")
    trueup.made("derive", "mix", "--from", "own:front,back", "--from", "another:sleeve")
    file = folder / "start.html"
    trueup.made("book", str(file))
    return file


SIZES = {"bust": "92cm", "waist": "70cm", "back-length": "40cm", "sleeve-length": "56cm"}


@pytest.fixture
def page(open_book, book) -> Page:
    page = open_book(book).page
    expect(heading(page, "theatre")).to_be_visible()
    return page


# --- by mouse -----------------------------------------------------------------------------------


def test_a_row_leads_to_the_page_of_its_matter(page):
    needed = page.get_by_role("region", name="What needs attention", exact=True)
    said = needed.get_by_role("heading", level=3).all_inner_texts()
    assert [re.sub(r"^\W+|\d+", "", each).strip() for each in said] == [
        "conflicts wait for a decision",
        "pattern is held",
        "fit note is not resolved",
        "garment was cut before its pattern changed",
    ]
    needed.get_by_role("link", name=re.compile("^village: the front part")).click()
    expect(heading(page, "village: the front part of the sleeve cap holds")).to_be_visible()
    page.go_back()
    needed.get_by_role("link", name=re.compile("^vest: stays on an earlier village")).click()
    expect(page.get_by_text("It stays on its parent as that was.")).to_be_visible()
    page.go_back()
    needed.get_by_role("link", name=re.compile("^tea-blouse: front armhole binds")).click()
    expect(heading(page, "tea-blouse")).to_be_visible()


def test_the_first_screen_shows_what_waits_for_a_decision(page):
    waits = page.get_by_role("region", name="wait for a decision")
    for link in waits.get_by_role("link").all():
        expect(link).to_be_in_viewport()


def test_the_menu_counts_on_every_page(page):
    menu = page.get_by_role("navigation", name="Pages")
    listed = page.get_by_role("region", name="wait for a decision").locator(".matter").count()
    expect(menu.get_by_role("link", name=f"Conflicts {listed} open")).to_be_visible()
    menu.get_by_role("link", name="Garments 1 note").click()
    expect(heading(page, "Garments")).to_be_visible()
    expect(menu.get_by_role("link", name=f"Conflicts {listed} open")).to_be_visible()


def test_the_correction_above_the_graph_leads_to_its_page(page):
    graph = page.get_by_role("region", name="Blocks and patterns")
    graph.get_by_role("link", name=re.compile("^village: hollow the armhole")).click()
    expect(heading(page, re.compile("village: hollow the armhole"))).to_be_visible()
    expect(page.get_by_role("heading", name="What became of it below")).to_be_visible()


def test_what_was_settled_is_not_shown_as_open(page):
    graph = page.locator(".graph svg")
    assert "+ settled" in graph.locator("a[href='#/block/easy']").text_content()
    assert "!" not in graph.locator("a[href='#/block/easy']").text_content()
    assert "!" in graph.locator("a[href='#/block/village']").text_content()


# --- by keys ------------------------------------------------------------------------------------


def test_keys_lead_through_the_graph_as_it_is_drawn(page):
    links = page.locator(".graph svg a")
    count = links.count()
    assert count == 8
    press_until_focused(page, links.first)
    places = []
    for number in range(count):
        expect(links.nth(number)).to_be_focused()
        box = links.nth(number).bounding_box()
        places.append((round(box["y"]), round(box["x"])))
        assert (
            page.evaluate(
                "getComputedStyle(document.activeElement.querySelector('path')).strokeWidth"
            )
            == "4px"
        )
        page.keyboard.press("Tab")
    assert all(y > upper or x > left for (upper, left), (y, x) in pairwise(places))
    page.keyboard.press("Shift+Tab")
    page.keyboard.press("Enter")
    expect(page.get_by_role("heading", level=1)).to_be_focused()


def test_the_list_of_who_derives_from_whom_is_unfolded_by_keys(page):
    summary = page.locator(".nested > summary")
    press_until_focused(page, summary)
    page.keyboard.press("Enter")
    expect(page.locator(".nested").get_by_role("link", name="mix")).to_be_visible()
    expect(page.locator(".nested")).to_contain_text("sleeve from another")


# --- what is drawn ------------------------------------------------------------------------------


def test_every_sign_in_the_graph_stands_in_the_key_beside_it(page):
    words = page.locator(".graph svg text").all_text_contents()
    key = page.locator(".derivation .key li").all_inner_texts()
    told = {each for each in words if re.match(r"[!+~\-2=] ", each)}
    assert told
    for each in told:
        word = "open conflict" if each[0] == "!" and "open" in each else each[2:]
        for part in word.split(", "):
            assert any(part in one for one in key), each
    assert any("cross and do not join" in each for each in key)
    assert any("stays on an earlier version" in each for each in key)


def test_a_line_that_crosses_another_goes_over_it_in_an_arc(page):
    """A line across that is higher than its pen in the middle of the page has an arc in it."""
    highest = page.locator(".graph svg [id$='from.village.to.vest']").evaluate(
        """line => {
          const points = Array.from({length: 400}, (_, n) =>
            line.getPointAtLength((n / 400) * line.getTotalLength()));
          const start = points[0].y;
          return Math.max(...points.map(p => start - p.y));
        }"""
    )
    assert 3 <= highest <= 8


@pytest.mark.parametrize("scheme", ["light", "dark"])
def test_words_of_the_graph_stand_out_from_what_they_stand_on(open_book, book, scheme):
    page = open_book(book, colour_scheme=scheme).page
    expect(heading(page, "theatre")).to_be_visible()
    ink, paper = page.locator(".graph svg").evaluate(
        """svg => [getComputedStyle(svg.querySelector('text')).fill,
                   getComputedStyle(svg.querySelector('.paper')).fill]"""
    )
    assert contrast(ink, paper) >= 7  # WCAG 2.2, 1.4.6 Contrast (Enhanced)


def contrast(one: str, other: str) -> float:
    """Return the contrast of two colours as WCAG 2.2 defines it."""

    def luminance(colour: str) -> float:
        parts = [int(each) / 255 for each in re.findall(r"\d+", colour)[:3]]
        linear = [p / 12.92 if p <= 0.04045 else ((p + 0.055) / 1.055) ** 2.4 for p in parts]
        return 0.2126 * linear[0] + 0.7152 * linear[1] + 0.0722 * linear[2]

    high, low = sorted((luminance(one), luminance(other)), reverse=True)
    return (high + 0.05) / (low + 0.05)


def test_forced_colours_leave_every_sign_and_frame(open_book, book):
    page = open_book(book).page
    page.emulate_media(forced_colors="active")
    expect(heading(page, "theatre")).to_be_visible()
    expect(page.locator(".graph svg text", has_text="+ settled").first).to_be_visible()
    strokes = page.locator(".graph svg path").evaluate_all(
        "all => new Set(all.map(e => getComputedStyle(e).stroke)).size"
    )
    assert strokes == 1
    assert serious_findings(page) == []


# --- on a phone, and with large letters ----------------------------------------------------------


def test_on_a_phone_a_list_stands_in_for_the_graph_and_hides_nothing(open_book, book):
    wide = open_book(book).page
    expect(heading(wide, "theatre")).to_be_visible()
    drawn = {
        each.get_attribute("href"): each.text_content()
        for each in wide.locator(".graph svg a").all()
    }
    page = open_book(book, width=PHONE, height=700, phone=True).page
    expect(heading(page, "theatre")).to_be_visible()
    expect(page.locator(".graph")).to_be_hidden()
    for address, words in drawn.items():
        link = page.locator(f".tree a[href='{address}']").first
        expect(link).to_be_visible()
        said = link.evaluate(
            """link => {
              const row = link.closest('li').cloneNode(true);
              row.querySelectorAll('ul').forEach(each => each.remove());
              return row.textContent;
            }"""
        )
        for sign in re.findall(r"[!+~=-] [a-z0-9 ]+", words):
            assert sign.strip() in said, address
    assert page.evaluate("document.documentElement.scrollWidth") <= PHONE
    for row in page.locator(".matter a, .about a").all():
        assert row.bounding_box()["height"] >= LEAST_TARGET
    signs = page.locator(".derivation .key li:visible").all_inner_texts()
    assert any("open conflict" in each for each in signs)
    assert not any("do not join" in each for each in signs)


def test_turned_to_the_side_the_graph_is_there_again(open_book, book):
    page = open_book(book, width=PHONE, height=700).page
    expect(page.locator(".nested .tree")).to_be_visible()
    page.set_viewport_size({"width": 900, "height": 700})
    expect(page.locator(".graph svg")).to_be_visible()
    expect(page.locator(".nested .tree")).to_be_hidden()


@pytest.mark.parametrize("width", [PHONE, 1280])
def test_letters_twice_as_large_hide_nothing_and_run_out_of_no_page(open_book, book, width):
    page = open_book(book, width=width).page
    expect(heading(page, "theatre")).to_be_visible()
    page.evaluate("document.documentElement.style.fontSize = '200%'")
    assert page.evaluate("document.documentElement.scrollWidth") <= width
    for each in page.locator(".matter:visible, .needs h3, .key li:visible").all():
        box = each.bounding_box()
        assert box["x"] >= 0
        assert box["x"] + box["width"] <= width + 1


def test_letters_of_the_graph_are_large_enough(page):
    smallest = page.locator(".graph svg text, .key svg text").evaluate_all(
        """all => Math.min(...all.map(e =>
          parseFloat(getComputedStyle(e).fontSize) * e.getScreenCTM().a))"""
    )
    assert smallest >= LEAST_LETTERS


# --- by ear, on paper, and with nothing to say ----------------------------------------------------


@pytest.mark.parametrize("scheme", ["light", "dark"])
@pytest.mark.parametrize("phone", [False, True])
def test_nothing_of_it_hinders_a_reader(open_book, book, scheme, phone):
    how = {"width": PHONE, "phone": True} if phone else {}
    page = open_book(book, colour_scheme=scheme, **how).page
    expect(heading(page, "theatre")).to_be_visible()
    page.eval_on_selector_all("details", "all => all.forEach(each => each.open = true)")
    assert serious_findings(page) == []


def test_it_prints_with_all_that_needs_attention_and_the_graph(page):
    with pdfplumber.open(io.BytesIO(page.pdf(format="A4"))) as pdf:
        said = "\n".join(each.extract_text() for each in pdf.pages)
        lines = sum(len(each.curves) + len(each.lines) for each in pdf.pages)
    assert "wait for a decision" in said
    assert "+ settled" in said
    assert lines > 15


def test_where_nothing_needs_attention_it_says_what_comes_next(open_book, tmp_path):
    assert run("start", str(tmp_path / "new")).code == 0
    file = tmp_path / "new.html"
    Trueup(tmp_path / "new").made("book", str(file))
    page = open_book(file).page
    expect(page.get_by_text("Nothing is here yet.")).to_be_visible()
    expect(page.locator(".command")).to_contain_text("trueup draft")
    assert serious_findings(page) == []
