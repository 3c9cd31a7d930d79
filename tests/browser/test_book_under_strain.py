"""The book where it is hard to be one: odd addresses, old browsers, long words, small phones."""

import re
import shutil
from pathlib import Path

import pytest
from PIL import Image
from playwright.sync_api import Page, expect

from tests.browser.leafing import addresses, heading, turn_to
from tests.cli.conftest import Trueup, build

LONG = "a-" + "very-" * 8 + "long-name-blouse"
UNBROKEN = "unbreakable" * 10
SMALL_PHONE = 320


@pytest.fixture(scope="module")
def book(tmp_path_factory) -> Path:
    """A book with long names, words without a space, and a garment named as a pattern is."""
    folder = tmp_path_factory.mktemp("strained")
    build(folder / "theatre")
    trueup = Trueup(folder / "theatre")
    trueup.made("derive", LONG, "--from", "blouse")
    trueup.made(
        *("style", LONG, "lower-neck", "--piece", "front", "--by", "3mm", "--why", UNBROKEN),
    )
    for piece in ("front", "back", "sleeve"):
        trueup.made("style", "village", "seam-allowance", "--piece", piece, "--by", "15mm")
    trueup.made(
        "cut", LONG, "--name", "tea", "--wearer", "\u0627\u0646\u0627", "--fabric", UNBROKEN
    )
    photo = folder / "worn.jpg"
    Image.new("RGB", (400, 300), "grey").save(photo)
    trueup.made(
        *("note", "tea", "other", "--place", "front.armhole", "--words", UNBROKEN),
        *("--photo", str(photo)),
    )
    trueup.made("correct", "village", "scoop-armhole", "--piece", "front", "--by", "20mm")
    garments = trueup.folder / "garments"
    twin = (garments / "tea.toml").read_text().replace('name = "tea"', 'name = "vest"')
    (garments / "vest.toml").write_text(twin)
    shutil.copy(garments / "tea.svg", garments / "vest.svg")
    file = folder / "book.html"
    trueup.made("book", str(file))
    return file


# --- what keeps a page from being shown ---------------------------------------------------------


@pytest.mark.parametrize("address", ["/%E0%A4%A", "/%", "measures", "/pattern/none", "//"])
def test_an_address_of_no_page_is_told_however_it_is_written(open_book, book, address):
    page = open_book(book, fragment=address).page
    expect(page.get_by_text(re.compile("^This book has no page "))).to_be_visible()
    page.get_by_role("link", name="Garments").click()
    expect(heading(page, "Garments")).to_be_visible()


def test_a_browser_that_cannot_unpack_pages_is_told_so(open_book, book):
    page = open_book(book, first="delete window.DecompressionStream").page
    expect(page.get_by_role("main")).to_have_text(re.compile("^This browser is too old"))
    expect(page.get_by_role("search")).to_be_hidden()


def test_without_scripts_the_book_says_what_it_needs(open_book, book):
    page = open_book(book, scripts=False).page
    expect(page.get_by_text(re.compile("open the file in a browser with scripts"))).to_be_visible()


def test_with_scripts_nothing_is_said_of_them(open_book, book):
    page = open_book(book).page
    expect(heading(page, "theatre")).to_be_visible()
    expect(page.get_by_text("scripts")).to_have_count(0)


def test_a_page_that_was_damaged_is_told_and_the_others_still_open(open_book, book, tmp_path):
    damaged = tmp_path / "damaged.html"
    spoilt = r"\g<1>" + "A" * 40
    start = r'(data-address="start">).{40}'
    damaged.write_text(re.sub(start, spoilt, book.read_text("utf-8")), "utf-8")
    page = open_book(damaged).page
    expect(page.get_by_text(re.compile("the file is damaged"))).to_be_visible()
    page.get_by_role("link", name="History").click()
    expect(heading(page, "History")).to_be_visible()


# --- turning pages ------------------------------------------------------------------------------


def scroll_to(page: Page, depth: int) -> None:
    page.evaluate("depth => scrollTo(0, depth)", depth)
    page.wait_for_function("depth => history.state?.scrolled === depth", arg=depth)


def test_turning_back_returns_to_the_place_that_was_read(open_book, book):
    page = open_book(book, fragment="/pattern/blouse").page
    expect(heading(page, "blouse")).to_be_visible()
    scroll_to(page, 900)
    turn_to(page, "history")
    assert page.evaluate("scrollY") == 0
    scroll_to(page, 300)
    page.go_back()
    expect(heading(page, "blouse")).to_be_focused()
    page.wait_for_function("() => scrollY === 900")
    page.go_forward()
    expect(heading(page, "History")).to_be_focused()
    page.wait_for_function("() => scrollY === 300")
    page.reload()
    expect(heading(page, "History")).to_be_visible()
    page.wait_for_function("() => scrollY === 300")


def test_a_page_turned_back_to_is_as_the_reader_left_it(open_book, book):
    page = open_book(book, fragment="/pattern/blouse").page
    expect(heading(page, "blouse")).to_be_visible()
    folded = page.locator("main details:not([open])").count()
    page.locator("summary", has_text="Every edge").click()
    page.get_by_role("button", name="front.armhole", exact=True).click()
    listed = page.locator("nav.sections").count()
    lines = page.locator("main svg path").count()
    turn_to(page, "start")
    expect(page.locator(".story")).to_have_count(0)
    turn_to(page, "pattern/blouse")
    assert page.locator("main details:not([open])").count() == folded - 1
    expect(page.locator("tr.marked")).to_contain_text("front.armhole")
    assert page.locator("nav.sections").count() == listed == 1
    assert page.locator("main svg path").count() == lines
    page.get_by_role("button", name="Choose none").click()
    expect(page.locator(".marked")).to_have_count(0)
    expect(page).to_have_title("blouse - theatre")


def test_pages_left_long_ago_are_unpacked_anew(open_book, book):
    page = open_book(book, fragment="/pattern/blouse").page
    expect(heading(page, "blouse")).to_be_visible()
    page.locator("summary", has_text="Every edge").click()
    turn_to(page, "start")
    page.evaluate("for (let n = 0; n < 25; n += 1) leave(`other/${n}`, null)")
    turn_to(page, "pattern/blouse")
    expect(page.locator("summary", has_text="Every edge")).to_be_visible()
    expect(page.locator("details.edges")).not_to_have_attribute("open", "")


def test_pages_turned_fast_end_at_the_last(open_book, book):
    page = open_book(book).page
    expect(heading(page, "theatre")).to_be_visible()
    turned = [each for each in addresses(page) if each != "history"] + ["history"]
    page.evaluate("all => all.forEach(each => { location.hash = '/' + each; })", turned)
    expect(heading(page, "History")).to_be_focused()
    expect(page).to_have_title("History - theatre")
    expect(page.locator("nav [aria-current]")).to_have_text("History")
    expect(page.locator("main h1")).to_have_count(1)


def test_skipping_to_the_page_keeps_its_address(open_book, book):
    page = open_book(book, fragment="/pattern/blouse").page
    expect(heading(page, "blouse")).to_be_visible()
    page.keyboard.press("Tab")
    page.keyboard.press("Enter")
    expect(page.get_by_role("main")).to_be_focused()
    page.reload()
    expect(heading(page, "blouse")).to_be_visible()


# --- finding ------------------------------------------------------------------------------------


@pytest.mark.parametrize("asked", ["Vést", "  VEST ", "a very very very", "long náme"])
def test_a_name_is_found_as_it_is_spoken(open_book, book, asked):
    page = open_book(book).page
    page.get_by_label("Find").fill(asked)
    page.get_by_role("button", name="Go").click()
    name = "vest" if "V" in asked else LONG
    # The page of what was found, or a list of all that was.
    expect(page.locator("main h1, main a").filter(has_text=name).first).to_be_visible()


def test_of_two_things_of_one_name_both_are_found(open_book, book):
    page = open_book(book).page
    page.get_by_label("Find").fill("vest")
    page.get_by_label("Find").press("Enter")
    expect(heading(page, '2 found for "vest"')).to_be_focused()
    found = page.get_by_role("main").get_by_role("listitem")
    expect(found).to_have_text(["vest (pattern)", "vest (garment)"])
    found.nth(1).get_by_role("link").click()
    expect(page.get_by_text("Garment, cut from")).to_be_visible()


def test_what_was_found_is_a_page_to_come_back_to(open_book, book):
    page = open_book(book).page
    page.get_by_role("navigation", name="Pages").get_by_role("link", name="Conflicts").click()
    page.get_by_label("Find").fill("100 % wool/e")
    page.get_by_label("Find").press("Enter")
    nothing = heading(page, 'Nothing found for "100 % wool/e"')
    expect(nothing).to_be_visible()
    page.reload()
    expect(nothing).to_be_visible()
    page.get_by_role("navigation", name="Pages").get_by_role("link", name="Conflicts").click()
    expect(heading(page, "Conflicts")).to_be_visible()
    page.go_back()
    expect(nothing).to_be_visible()


# --- small, large, and in the reader's own colours ----------------------------------------------


@pytest.mark.parametrize("size", ["100%", "200%"])
def test_no_page_is_wider_than_a_small_phone(open_book, book, size):
    page = open_book(book, width=SMALL_PHONE, height=600, phone=True).page
    expect(heading(page, "theatre")).to_be_visible()
    page.evaluate("size => { document.documentElement.style.fontSize = size; }", size)
    for address in addresses(page):
        turn_to(page, address)
        page.eval_on_selector_all("details", "all => all.forEach(each => each.open = true)")
        assert page.evaluate("document.documentElement.scrollWidth") <= SMALL_PHONE, address


def test_no_word_of_a_table_is_broken_on_a_phone(open_book, book):
    page = open_book(book, fragment="/pattern/blouse", width=SMALL_PHONE, phone=True).page
    page.get_by_text("Every edge, and where it comes from").tap()
    names = page.get_by_role("group").get_by_role("rowheader")
    expect(names.first).to_be_visible()
    assert names.count() > 10
    lines = """all => all.map(name => {
      const words = document.createRange();
      words.selectNodeContents(name.querySelector('button') || name);
      return words.getClientRects().length;
    })"""
    assert set(names.evaluate_all(lines)) == {1}


def test_what_every_page_has_can_be_hit_with_a_finger(open_book, book):
    page = open_book(book, fragment="/pattern/blouse", width=390, phone=True).page
    expect(heading(page, "blouse")).to_be_visible()
    for each in page.locator("nav a, header button, header input, .steps button, summary").all():
        if each.is_visible():
            assert each.bounding_box()["height"] >= 44, each  # WCAG 2.2, 2.5.5 Target Size


def test_a_picture_takes_the_colours_the_reader_has_forced(open_book, book):
    page = open_book(book, fragment="/pattern/blouse", colour_scheme="dark").page
    expect(heading(page, "blouse")).to_be_visible()
    page.emulate_media(forced_colors="active")
    colours = """element => {
      const style = getComputedStyle(element);
      return [style.color, style.backgroundColor];
    }"""
    canvas = page.locator("body").evaluate(colours)
    for picture in page.locator("main svg").all():
        assert picture.evaluate(colours) == canvas


def test_wherever_the_keys_lead_one_sees_where_one_is(open_book, book):
    page = open_book(book).page
    expect(heading(page, "theatre")).to_be_visible()
    for address in ("pattern/blouse", "garment/tea", "start"):
        turn_to(page, address)
        plain = [seen(page)]
        for _ in range(120):
            page.keyboard.press("Tab")
            where = page.evaluate("document.activeElement.tagName")
            if where == "BODY":
                break
            plain.append(seen(page))
        assert len(plain) > 10
        assert all(plain[1:]), f"{address}: {plain.index(False, 1)}"


def seen(page: Page) -> bool:
    """Return whether what has the focus is marked: by an outline, or in a picture by its stroke."""
    return page.evaluate(
        """() => {
          const at = document.activeElement;
          const line = at.closest('svg') ? at.querySelector('path') : null;
          const style = getComputedStyle(line || at);
          return line ? style.strokeWidth === '4px'
            : style.outlineStyle !== 'none' && parseFloat(style.outlineWidth) >= 2;
        }"""
    )


# --- on paper -----------------------------------------------------------------------------------


def test_on_paper_everything_is_unfolded_and_on_the_screen_folded_again(open_book, book):
    page = open_book(book, fragment="/pattern/blouse").page
    expect(heading(page, "blouse")).to_be_visible()
    folded = page.locator("main details:not([open])")
    count = folded.count()
    assert count > 2
    page.evaluate("dispatchEvent(new Event('beforeprint'))")
    expect(folded).to_have_count(0)
    page.evaluate("dispatchEvent(new Event('afterprint'))")
    expect(folded).to_have_count(count)
