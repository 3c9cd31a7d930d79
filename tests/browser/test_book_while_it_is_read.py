"""A book is open before the whole of it is read, and says so if a part never comes."""

import re
from collections.abc import Callable, Iterator
from pathlib import Path

import pytest
from playwright.sync_api import Browser, Page, expect

from tests.browser.leafing import heading
from tests.cli.conftest import Trueup, build

CUT_OFF = re.compile("^Only a part of the file is here")


@pytest.fixture(scope="module")
def book(tmp_path_factory) -> Path:
    folder = tmp_path_factory.mktemp("read")
    build(folder / "theatre")
    file = folder / "book.html"
    Trueup(folder / "theatre").made("book", str(file))
    return file


def before(book: Path, address: str) -> str:
    """Return what comes before the page of an address, and the first letters of that page."""
    written = book.read_text("utf-8")
    found = re.search(f'data-address="{address}">.{{40}}', written)
    assert found
    return written[: found.end()]


@pytest.fixture
def read_so_far(browser: Browser) -> Iterator[Callable[[str], Page]]:
    """Let a browser read the beginning of a file, and wait for more."""
    page = browser.new_page()

    def begin(written: str, fragment: str = "") -> Page:
        page.goto(f"about:blank#{fragment}")
        page.evaluate("written => { document.open(); document.write(written); }", written)
        return page

    yield begin
    page.close()


def read_on(page: Page, written: str) -> None:
    """Let the browser read the rest."""
    page.evaluate("written => { document.write(written); document.close(); }", written)


def test_the_first_page_stands_before_the_others_are_read(read_so_far, book):
    page = read_so_far(before(book, "pattern/blouse"))
    expect(heading(page, "theatre")).to_be_visible()
    page.get_by_role("link", name="History").click()
    expect(heading(page, "History")).to_be_visible()
    assert page.evaluate("document.readyState") == "loading"
    assert page.get_by_text(CUT_OFF).count() == 0


@pytest.mark.parametrize("asked", ["block/village", "pattern/blouse"])
def test_a_page_that_is_not_read_yet_is_waited_for(read_so_far, book, asked):
    first = before(book, "block/village")
    page = read_so_far(first, fragment=f"/{asked}")
    page.wait_for_timeout(100)
    assert page.get_by_role("heading", level=1).count() == 0
    read_on(page, book.read_text("utf-8")[len(first) :])
    expect(heading(page, asked.partition("/")[2])).to_be_visible()
    assert page.get_by_text(CUT_OFF).count() == 0


def test_names_are_found_before_the_pages_are_read(read_so_far, book):
    page = read_so_far(before(book, "pattern/blouse"))
    expect(heading(page, "theatre")).to_be_visible()
    page.get_by_label("Find").fill("l")
    page.get_by_role("button", name="Go").click()
    expect(heading(page, re.compile("found for"))).to_be_visible()


def test_of_a_book_that_is_cut_off_what_is_there_opens_and_it_is_told(open_book, book, tmp_path):
    cut = tmp_path / "cut.html"
    cut.write_text(before(book, "pattern/blouse"), "utf-8")
    page = open_book(cut).page
    expect(heading(page, "theatre")).to_be_visible()
    expect(page.get_by_role("alert")).to_have_text(CUT_OFF)
    page.evaluate("location.hash = '/pattern/blouse'")
    expect(page.get_by_text(re.compile("the file is damaged"))).to_be_visible()
    page.get_by_role("link", name="History").click()
    expect(heading(page, "History")).to_be_visible()


def test_of_a_book_cut_between_two_pages_it_is_told(open_book, book, tmp_path):
    cut = tmp_path / "cut.html"
    pages = before(book, "pattern/blouse").split("<script type=")
    cut.write_text("<script type=".join(pages[:-1]), "utf-8")
    page = open_book(cut).page
    expect(heading(page, "theatre")).to_be_visible()
    expect(page.get_by_role("alert")).to_have_text(CUT_OFF)


def test_of_a_book_that_is_whole_nothing_is_told(open_book, book):
    page = open_book(book).page
    expect(heading(page, "theatre")).to_be_visible()
    expect(page.get_by_role("alert")).to_have_count(0)
