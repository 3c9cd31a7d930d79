"""The page of a conflict in a real browser: by keys, on a phone, in the dark, on paper."""

import io
import re
from pathlib import Path

import pdfplumber
import pytest
from playwright.sync_api import Page, expect

from tests.browser.accessibility import serious_findings
from tests.browser.leafing import addresses, heading, turn_to
from tests.browser.theatre import bind

PHONE = 390
LEAST = 11.0
PICTURED = ("conflict", "correction", "garment")


@pytest.fixture(scope="module")
def book(tmp_path_factory) -> Path:
    return bind(tmp_path_factory.mktemp("book"))


def conflicts(page: Page) -> list[str]:
    expect(heading(page, "theatre")).to_be_visible()
    return [each for each in addresses(page) if each.startswith("conflict/")]


def cap(page: Page) -> str:
    """Turn to the conflict of the block's sleeve cap."""
    for address in conflicts(page):
        turn_to(page, address)
        if "village: the front part of the sleeve cap" in page.locator("main h1").inner_text():
            return address
    raise AssertionError("no conflict of the cap")


def test_the_remedies_stand_beside_each_other_on_the_first_screen(open_book, book):
    page = open_book(book, width=1280, height=900).page
    cap(page)
    cards = page.locator("article.remedy")
    boxes = [each.bounding_box() for each in cards.all()]
    assert len(boxes) >= 3
    assert len({round(box["y"]) for box in boxes}) == 1
    assert len({round(box["x"]) for box in boxes}) == len(boxes)
    # Title, line, ease and the first of what follows are seen without scrolling.
    for card in cards.all():
        for part in ("h3", "svg, .stays", ".bands"):
            box = card.locator(part).first.bounding_box()
            assert box["y"] + box["height"] <= 900, part


def test_on_a_phone_the_first_remedy_begins_on_the_first_screen(open_book, book):
    page = open_book(book, width=PHONE, height=844, phone=True).page
    cap(page)
    assert page.locator("article.remedy h3").first.bounding_box()["y"] < 844 - 100
    boxes = [each.bounding_box() for each in page.locator("article.remedy").all()]
    assert all(box["x"] + box["width"] <= PHONE for box in boxes)
    assert [box["y"] for box in boxes] == sorted(box["y"] for box in boxes)


def test_a_card_shows_the_line_and_names_the_remedy_it_is_of(open_book, book):
    page = open_book(book).page
    address = cap(page)
    card = page.locator('article.remedy[data-remedy="refit-cap"]')
    assert card.get_attribute("data-conflict") == address.partition("/")[2]
    expect(card.get_by_role("img", name="What moves")).to_be_visible()
    assert card.locator("[id$='sleeve.cap.before']").count() == 1
    colour = "line => getComputedStyle(line).stroke"
    moved = card.locator("path.moved").first.evaluate(colour)
    stays = card.locator("[id$='sleeve.hem']").evaluate(colour)
    assert moved != stays
    expect(page.locator('[data-remedy="accept"]')).to_contain_text("No line moves.")


@pytest.mark.parametrize("how", ["light", "dark", "forced"])
def test_the_offending_line_is_thick_from_end_to_end_in_any_colours(open_book, book, how):
    page = open_book(book, colour_scheme="dark" if how == "dark" else "light").page
    cap(page)
    if how == "forced":
        page.emulate_media(forced_colors="active")
    wide = "line => parseFloat(getComputedStyle(line).strokeWidth) * line.getScreenCTM().a"
    picture = page.locator(".pieces")
    thick = picture.locator("[id$='.sleeve.cap']")
    thin = picture.locator("[id$='.sleeve.hem']")
    assert thick.evaluate(wide) > 2.5 * thin.evaluate(wide)
    paper = page.locator("body").evaluate("b => getComputedStyle(b).backgroundColor")
    assert thick.evaluate("line => getComputedStyle(line).stroke") != paper


@pytest.mark.parametrize(
    ("width", "phone"), [(1280, False), (800, False), (390, True), (320, True)]
)
@pytest.mark.parametrize("letters", ["100%", "200%"])
def test_no_text_of_a_picture_is_too_small_to_be_read(open_book, book, width, phone, letters):
    page = open_book(book, width=width, phone=phone).page
    expect(heading(page, "theatre")).to_be_visible()
    page.evaluate("size => { document.documentElement.style.fontSize = size; }", letters)
    sizes = """all => all.map(text =>
      parseFloat(getComputedStyle(text).fontSize) * text.getScreenCTM().a)"""
    seen = 0
    for address in addresses(page):
        if address.partition("/")[0] in PICTURED:
            turn_to(page, address)
            found = page.locator("main svg text").evaluate_all(sizes)
            assert all(size >= LEAST for size in found), (address, min(found))
            boxes = page.locator("main svg text").evaluate_all(
                "all => all.map(text => text.getBoundingClientRect().height)"
            )
            assert all(height >= LEAST for height in boxes), address
            seen += len(found)
    assert seen > 20


def test_a_page_has_three_sizes_of_letters_besides_its_pictures(open_book, book):
    page = open_book(book).page
    sizes = """() => {
      const found = new Set();
      const walker = document.createTreeWalker(document.body, NodeFilter.SHOW_TEXT);
      while (walker.nextNode()) {
        const parent = walker.currentNode.parentElement;
        if (walker.currentNode.data.trim() && !parent.closest('svg, script, style, datalist')
            && parent.getClientRects().length) {
          found.add(getComputedStyle(parent).fontSize);
        }
      }
      return [...found];
    }"""
    for address in (*conflicts(page)[:2], "conflicts", "history", "garment/tea-blouse"):
        turn_to(page, address)
        assert set(page.evaluate(sizes)) <= {"14px", "16px", "24px"}, address


def test_on_a_phone_a_table_becomes_rows_that_hide_nothing(open_book, book):
    page = open_book(book, width=PHONE, phone=True).page
    expect(heading(page, "theatre")).to_be_visible()
    tables = cells = 0
    for address in addresses(page):
        turn_to(page, address)
        page.eval_on_selector_all("details", "all => all.forEach(each => each.open = true)")
        for table in page.locator("main table.rows").all():
            if not table.is_visible():
                continue
            tables += 1
            assert re.match("Table of ", table.get_attribute("aria-label"))
            for cell in table.locator("tbody th, tbody td").all():
                if not cell.inner_text().strip():
                    continue
                box = cell.bounding_box()
                assert box["x"] >= 0, address
                assert box["x"] + box["width"] <= PHONE + 1, address
                assert cell.evaluate("e => e.scrollWidth <= e.clientWidth + 1"), address
                head = cell.get_attribute("data-head")
                if head:
                    shown = cell.evaluate("e => getComputedStyle(e, '::before').content")
                    assert head in shown
                cells += 1
            roles = table.get_by_role("columnheader").count(), table.get_by_role("row").count()
            assert min(roles) > 0, address
    assert tables > 3
    assert cells > 20


def test_the_cards_are_reached_and_read_by_keys_alone(open_book, book):
    page = open_book(book).page
    cap(page)
    reached = []
    for _ in range(60):
        page.keyboard.press("Tab")
        reached.append(
            page.evaluate("document.activeElement.closest('article')?.dataset.remedy ?? ''")
        )
    cards = page.locator("article.remedy")
    names = [each.get_attribute("data-remedy") for each in cards.all()]
    assert [each for each in dict.fromkeys(reached) if each] == names
    for card in cards.all():
        labelled = card.get_attribute("aria-labelledby")
        assert card.locator(f"[id='{labelled}']").inner_text()


@pytest.mark.parametrize("scheme", ["light", "dark"])
@pytest.mark.parametrize("phone", [False, True])
@pytest.mark.parametrize("forced", [False, True])
def test_nothing_serious_is_found_however_it_is_looked_at(open_book, book, scheme, phone, forced):
    how = {"width": PHONE, "phone": True} if phone else {}
    page = open_book(book, colour_scheme=scheme, **how).page
    if forced:
        page.emulate_media(forced_colors="active")
    for address in conflicts(page):
        turn_to(page, address)
        page.eval_on_selector_all("details", "all => all.forEach(each => each.open = true)")
        assert serious_findings(page) == [], address


def test_on_paper_nothing_is_cut_off_and_the_remedies_stand_with_their_figures(open_book, book):
    page = open_book(book, media="print", colour_scheme="dark").page
    cap(page)
    with pdfplumber.open(io.BytesIO(page.pdf(format="A4"))) as pdf:
        texts = [each.extract_text() for each in pdf.pages]
        beyond = [c for each in pdf.pages for c in each.chars if c["x1"] > each.width]
        ink = {str(c["non_stroking_color"]) for each in pdf.pages for c in each.chars}
    said = "\n".join(texts)
    assert not beyond
    assert "What it is" in said
    assert "trueup decide" in said
    assert "the line that does not fit" in said
    assert not ink & {"(1.0, 1.0, 1.0)", "(1,)", "(1.0,)", "(0.929, 0.918, 0.89)"}
