"""The book in a real browser: led through by mouse, finger and keys, on a screen and on paper."""

import io
import itertools
import re
from pathlib import Path

import pdfplumber
import pytest
from playwright.sync_api import Locator, expect

from tests.browser.accessibility import serious_findings
from tests.browser.leafing import addresses, heading, on_the_line, press_until_focused, turn_to
from tests.browser.theatre import HOSTILE, bind

PHONE = 390


@pytest.fixture(scope="module")
def book(tmp_path_factory) -> Path:
    return bind(tmp_path_factory.mktemp("book"))


def conflict_of(link: Locator) -> str:
    """Return the id of the conflict that a link leads to."""
    return (link.get_attribute("href") or "").rpartition("/")[2]


# --- by mouse -----------------------------------------------------------------------------------


def test_from_the_graph_to_a_conflict_its_overlay_and_its_remedies(open_book, book):
    page = open_book(book).page
    expect(heading(page, "theatre")).to_be_visible()
    graph = page.locator(".graph svg")
    graph.get_by_role("link", name="village").click()
    expect(heading(page, "village")).to_be_visible()
    waiting = page.get_by_role("region", name="What needs attention").get_by_role("link")
    conflict = conflict_of(waiting.first)
    waiting.first.click()
    expect(heading(page, "village: the front part of the sleeve cap holds")).to_be_visible()
    expect(page.get_by_text(conflict, exact=True)).to_be_visible()
    picture = page.get_by_role("img", name=re.compile(f"^{conflict}.*: front$"))
    expect(picture).to_be_visible()
    assert picture.locator("[id$='front.armhole.before'], [id*='front.armhole.1.before']").count()
    remedies = page.locator(".remedy .command")
    expect(remedies.filter(has_text=f"trueup decide {conflict} refit-cap").first).to_be_visible()
    cards = page.locator("article.remedy")
    expect(cards.first).to_contain_text(re.compile(r"Redraw the cap by \+[\d.]+ cm"))


def test_versions_are_stepped_through_with_what_moved_laid_over(open_book, book):
    page = open_book(book, fragment="/pattern/blouse").page
    part = page.get_by_role("region", name="Versions")
    versions, place = part.locator(".version"), part.locator(".place")
    count = versions.count()
    assert count == 7
    expect(versions.nth(0).get_by_role("img").first).to_be_visible()
    expect(place).to_have_text(f"{count} of {count}")
    assert "village: hollow the armhole of the front by 2 cm" in versions.nth(0).inner_text()
    newest = versions.nth(0).get_by_role("img", name=re.compile(": front$"))
    assert newest.locator("[id$='front.armhole'], [id*='front.armhole.']").count() >= 2
    assert newest.locator("[id*='front.armhole'][id$='.before']").count() >= 1
    expect(newest.locator("[id$='front.lost']")).to_be_visible()
    shown = part.locator(".version:not([hidden])")
    # Nothing newer there is, and nothing happens.
    part.get_by_role("button", name="Newer").click(force=True)
    expect(place).to_have_text(f"{count} of {count}")
    for index in range(1, count):
        part.get_by_role("button", name="Older").click()
        expect(place).to_have_text(f"{count - index} of {count}")
        expect(versions.nth(index)).to_be_visible()
        expect(shown).to_have_count(1)
        expect(shown.get_by_role("img").first).to_be_visible()
    part.get_by_role("button", name="Older").click(force=True)
    expect(place).to_have_text(f"1 of {count}")
    shown.locator("summary").click()
    expect(shown.get_by_text("blouse was made.")).to_be_visible()
    part.get_by_role("combobox").select_option(index=0)
    expect(versions.nth(0)).to_be_visible()
    moved = versions.nth(0).get_by_role("table", name="Table of edge, moved")
    versions.nth(0).locator("summary").click()
    expect(moved.get_by_role("rowheader", name="front.armhole")).to_be_visible()


def test_back_forward_and_an_address_kept_lead_to_the_same_page(open_book, book):
    page = open_book(book, fragment="/garment/tea-blouse").page
    expect(heading(page, "tea-blouse")).to_be_visible()
    page.get_by_role("link", name="blouse", exact=True).first.click()
    expect(heading(page, "blouse")).to_be_visible()
    expect(page).to_have_title("blouse - theatre")
    page.go_back()
    expect(heading(page, "tea-blouse")).to_be_visible()
    page.go_forward()
    expect(heading(page, "blouse")).to_be_visible()
    page.reload()
    expect(heading(page, "blouse")).to_be_visible()


def test_an_address_of_no_page_is_told_and_the_book_stays_open(open_book, book):
    page = open_book(book, fragment="/pattern/<b>none").page
    expect(page.get_by_text('This book has no page "pattern/<b>none"')).to_be_visible()
    page.get_by_role("link", name="Garments").click()
    expect(heading(page, "Garments")).to_be_visible()


def test_a_page_is_found_by_its_name(open_book, book):
    page = open_book(book).page
    field = page.get_by_label("Find")
    field.fill("tea")
    field.press("Enter")
    expect(heading(page, "tea-blouse")).to_be_visible()
    field.fill("blouse")
    field.press("Enter")  # the whole name of one, though another holds it as well
    expect(heading(page, "blouse")).to_be_visible()
    field.fill("ves")
    field.press("Enter")
    expect(heading(page, "vest")).to_be_visible()
    field.fill("e")
    field.press("Enter")
    expect(heading(page, re.compile('found for "e"'))).to_be_focused()
    page.get_by_role("main").get_by_role("link", name="village", exact=True).click()
    expect(heading(page, "village")).to_be_visible()
    field.fill(HOSTILE)
    field.press("Enter")
    expect(heading(page, f'Nothing found for "{HOSTILE}"')).to_be_visible()


def test_every_page_of_the_menu_has_what_it_names(open_book, book):
    page = open_book(book).page
    for name in ("Conflicts", "Garments", "Shared faults", "History", "Blocks and patterns"):
        link = page.get_by_role("navigation", name="Pages").get_by_role("link", name=name)
        link.click()
        expect(link).to_have_attribute("aria-current", "page")
        expect(page.locator("nav [aria-current]")).to_have_count(1)
        expect(page.locator("main h1")).to_be_focused()


def test_a_long_page_lists_its_sections_and_each_has_an_address(open_book, book):
    page = open_book(book, fragment="/pattern/blouse").page
    sections = page.get_by_role("navigation", name="On this page").get_by_role("link")
    titles = page.get_by_role("main").get_by_role("heading", level=2)
    assert sections.all_inner_texts() == titles.all_inner_texts()
    page.get_by_role("button", name="Older").click()
    sections.filter(has_text="Versions").click()
    versions = page.get_by_role("heading", name="Versions")
    expect(versions).to_be_focused()
    expect(versions).to_be_in_viewport()
    expect(page.locator(".place")).to_have_text("6 of 7")  # the page was not made anew
    page.go_back()
    expect(page.get_by_role("heading", level=1)).to_be_in_viewport()
    page.goto(f"{book.as_uri()}#/pattern/blouse/measures")
    page.reload()
    expect(page.get_by_role("heading", name="Measures")).to_be_in_viewport()


# --- by keys and by ear -------------------------------------------------------------------------


def test_all_of_it_is_reached_by_keys_alone(open_book, book):
    page = open_book(book).page
    expect(heading(page, "theatre")).to_be_visible()
    press_until_focused(page, page.locator(".graph svg").get_by_role("link", name="blouse"))
    page.keyboard.press("Enter")
    expect(heading(page, "blouse")).to_be_focused()
    edges = page.locator("summary", has_text="Every edge")
    press_until_focused(page, edges)
    page.keyboard.press("Enter")
    press_until_focused(page, page.get_by_role("button", name="front.neck", exact=True))
    page.keyboard.press("Enter")
    expect(page.locator(".told")).to_contain_text("front.neck,")
    press_until_focused(page, page.get_by_role("button", name="Older"))
    page.keyboard.press("Enter")
    page.keyboard.press("Space")
    expect(page.locator(".place")).to_have_text("5 of 7")
    press_until_focused(page, page.get_by_role("combobox", name="Version"))
    page.keyboard.press("ArrowDown")
    expect(page.locator(".place")).to_have_text("4 of 7")
    conflict = page.get_by_role("region", name="What needs attention").get_by_role("link").first
    name = conflict_of(conflict)
    press_until_focused(page, conflict, "Shift+Tab")
    page.keyboard.press("Enter")
    expect(heading(page, re.compile("sleeve cap holds"))).to_be_focused()
    expect(page.get_by_text(name, exact=True)).to_be_visible()


def test_the_first_key_offers_to_skip_what_stands_on_every_page(open_book, book):
    page = open_book(book, fragment="/pattern/blouse").page
    expect(heading(page, "blouse")).to_be_visible()
    page.keyboard.press("Tab")
    skip = page.get_by_role("link", name="To the page")
    expect(skip).to_be_focused()
    page.keyboard.press("Enter")
    expect(page.get_by_role("main")).to_be_focused()
    expect(heading(page, "blouse")).to_be_visible()


def test_every_picture_has_a_name_and_every_section_a_heading(open_book, book):
    page = open_book(book).page
    expect(heading(page, "theatre")).to_be_visible()
    for address in addresses(page):
        turn_to(page, address)
        # A bar, and a sample of a key, repeat what stands beside them, and are not read out.
        assert page.locator("main svg[aria-hidden]:not(.bar, .shows svg)").count() == 0, address
        for svg in page.locator("main svg:not(.bar, .shows svg)").all():
            role = svg.get_attribute("role")
            assert role in ("img", "group"), address
            assert svg.locator("> title").text_content(), address
        levels = page.eval_on_selector_all(
            "main h1, main h2, main h3", "all => all.map(e => Number(e.tagName[1]))"
        )
        assert levels[0] == 1, address
        assert levels.count(1) == 1, address
        assert all(b - a <= 1 for a, b in itertools.pairwise(levels)), address


@pytest.mark.parametrize("scheme", ["light", "dark"])
@pytest.mark.parametrize("phone", [False, True])
def test_no_page_has_a_serious_finding(open_book, book, scheme, phone):
    how = {"width": PHONE, "phone": True} if phone else {}
    page = open_book(book, colour_scheme=scheme, **how).page
    expect(heading(page, "theatre")).to_be_visible()
    for address in addresses(page):
        turn_to(page, address)
        page.eval_on_selector_all("details", "all => all.forEach(each => each.open = true)")
        assert serious_findings(page) == [], address


# --- on a phone ---------------------------------------------------------------------------------


def test_no_page_is_wider_than_a_phone(open_book, book):
    page = open_book(book, width=PHONE, height=700, phone=True).page
    expect(heading(page, "theatre")).to_be_visible()
    for address in addresses(page):
        turn_to(page, address)
        page.eval_on_selector_all("details", "all => all.forEach(each => each.open = true)")
        assert page.evaluate("document.documentElement.scrollWidth") <= PHONE, address


def test_a_finger_leads_through_the_book_as_well(open_book, book):
    page = open_book(book, width=PHONE, height=700, phone=True).page
    page.locator(".tree").get_by_role("link", name="blouse").tap()
    expect(heading(page, "blouse")).to_be_visible()
    page.get_by_role("button", name="Older").tap()
    expect(page.locator(".place")).to_have_text("6 of 7")
    neck = page.locator(".drawn [id$='.front.neck']")
    neck.locator("xpath=following-sibling::*[1]").tap(force=True, position=on_the_line(neck))
    expect(page.locator(".told")).to_contain_text("front.neck,")
    for button in page.locator(".steps button").all():
        assert button.bounding_box()["height"] >= 24  # WCAG 2.2, 2.5.8 Target Size (Minimum)


def test_words_in_a_picture_can_be_read_on_a_phone(open_book, book):
    page = open_book(book, fragment="/pattern/blouse", width=PHONE, phone=True).page
    expect(heading(page, "blouse")).to_be_visible()
    smallest = page.eval_on_selector_all(
        ".drawn text", "all => Math.min(...all.map(e => e.getBoundingClientRect().height))"
    )
    assert smallest >= 11


# --- on paper -----------------------------------------------------------------------------------


def test_a_page_prints_with_its_picture_and_without_what_only_a_screen_needs(open_book, book):
    page = open_book(book, fragment="/pattern/blouse", colour_scheme="dark", media="print").page
    expect(heading(page, "blouse")).to_be_visible()
    with pdfplumber.open(io.BytesIO(page.pdf(format="A4"))) as pdf:
        texts = [each.extract_text() for each in pdf.pages]
        lines = sum(len(each.curves) + len(each.lines) for each in pdf.pages)
        ink = {str(c["non_stroking_color"]) for each in pdf.pages for c in each.chars}
    said = "\n".join(texts)
    assert "blouse" in texts[0]
    assert "Lower the neck of the front by 2 cm" in said
    assert "sleeve.cap-ease" in said
    assert "Go" not in said.split()
    assert "Shared faults" not in said
    assert lines > 30
    assert not ink & {"(1.0, 1.0, 1.0)", "(1,)", "(1.0,)", "(0.933, 0.933, 0.933)"}


def test_in_print_the_menu_goes_and_the_edges_come(open_book, book):
    page = open_book(book, fragment="/pattern/blouse", media="print").page
    expect(heading(page, "blouse")).to_be_visible()
    expect(page.get_by_role("navigation", name="Pages")).to_be_hidden()
    expect(page.get_by_role("navigation", name="On this page")).to_be_hidden()
    page.evaluate("dispatchEvent(new Event('beforeprint'))")
    expect(page.get_by_role("row", name=re.compile(r"front\.neck"))).to_be_visible()
    page.evaluate("dispatchEvent(new Event('afterprint'))")
    expect(page.locator("details.edges")).not_to_have_attribute("open", "")


def test_every_printed_page_has_a_head_and_its_number(open_book, book):
    page = open_book(book, fragment="/pattern/blouse").page
    expect(heading(page, "blouse")).to_be_visible()
    with pdfplumber.open(io.BytesIO(page.pdf(format="A4", prefer_css_page_size=True))) as pdf:
        texts = [each.extract_text() for each in pdf.pages]
    assert len(texts) > 1
    for number, text in enumerate(texts, start=1):
        first, *_, last = text.splitlines()
        assert first == "blouse, pattern - theatre" or first.startswith("blouse")
        assert last.endswith(f"page {number} of {len(texts)}")


def test_a_list_that_is_folded_stays_so_on_paper(open_book, book):
    page = open_book(book, fragment="/history").page
    address = page.locator("main a[href^='#/correction/']").first.get_attribute("href")
    page.goto(page.url.partition("#")[0] + address)
    expect(page.get_by_role("heading", level=1)).to_be_visible()
    lists = page.locator("main details.list")
    lists.evaluate_all("all => all.forEach((each) => (each.open = false))")
    page.evaluate("dispatchEvent(new Event('beforeprint'))")
    expect(page.locator("main details.list[open]")).to_have_count(0)
    page.evaluate("dispatchEvent(new Event('afterprint'))")


# --- what a stranger wrote ----------------------------------------------------------------------


def test_whatever_was_written_stays_text(open_book, book):
    page = open_book(book).page
    expect(heading(page, "theatre")).to_be_visible()
    for address in addresses(page):
        turn_to(page, address)
        assert page.locator("main script, main iframe, main [onerror]").count() == 0, address
        sources = page.eval_on_selector_all("main img", "all => all.map(each => each.src)")
        assert all(source.startswith("data:image/") for source in sources), address
    turn_to(page, "garment/tea-blouse")
    expect(page.get_by_text(HOSTILE, exact=True).first).to_be_visible()
    turn_to(page, "block/village")
    page.locator("summary", has_text="Every edge").click()
    page.get_by_role("button", name="front.armhole", exact=True).click()
    expect(page.locator(".told")).to_contain_text(HOSTILE)
    turn_to(page, "history")
    expect(page.get_by_text(HOSTILE).first).to_be_visible()


def test_photos_are_shown_with_words_for_them(open_book, book):
    page = open_book(book, fragment="/garment/tea-blouse").page
    photo = page.get_by_role("img", name=re.compile("Front armhole binds, 0.8 cm"))
    expect(photo).to_be_visible()
    assert photo.evaluate("photo => photo.naturalWidth") > 0


def test_not_even_a_script_that_got_into_a_page_would_run(browser, book):
    page = browser.new_page()
    page.goto(book.as_uri())
    expect(heading(page, "theatre")).to_be_visible()
    page.evaluate(
        """() => {
          const script = document.createElement('script');
          script.textContent = 'window.ran = true';
          document.body.append(script);
          const image = '<img src="data:," onerror="window.ran = true">';
          document.querySelector('main').innerHTML = image;
        }"""
    )
    page.wait_for_timeout(200)
    assert page.evaluate("window.ran") is None
    page.close()
