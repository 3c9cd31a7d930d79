"""Every page of the book is on the live page, word for word, and as the wardrobe is now."""

from collections.abc import Iterator
from pathlib import Path

import pytest
from playwright.sync_api import expect

from tests.browser.accessibility import serious_findings
from tests.browser.theatre import bind
from tests.cli.book.opened import Book, opened
from tests.cli.conftest import Trueup
from tests.live.running import Running, running
from tests.live.window import WAITS, window


@pytest.fixture(scope="module")
def bound(tmp_path_factory) -> tuple[Book, Path]:
    """A wardrobe in which all is that a book shows, and its book."""
    folder = tmp_path_factory.mktemp("bound")
    return opened(bind(folder)), folder / "theatre"


@pytest.fixture(scope="module")
def whole(bound) -> Iterator[Running]:
    with running(bound[1], "--no-browser", "--versions", "9") as served:
        yield served


def test_every_page_of_the_book_is_served_as_it_stands_there(bound, whole):
    book, _ = bound
    for address, page in book.pages.items():
        served = whole.ask("view", address=address).line
        assert (served["title"], served["content"]) == (page["title"], page["content"]), address
    assert [tuple(each) for each in whole.ask("names").line["names"]] == book.names


def test_every_page_opens_in_a_browser_and_hinders_no_reader(browser, bound, whole):
    book, _ = bound
    nodes = [name for name, address in book.names if address.startswith(("block/", "pattern/"))]
    with window(browser, whole) as seen:
        expect(seen.page.locator(".wardrobe")).to_contain_text("theatre 20")
        for address in [*book.pages, *(f"try/{name}" for name in nodes)]:
            seen.turn_to(address)
            expect(seen.page.locator("main h1")).to_be_visible()
            assert serious_findings(seen.page) == [], address


def test_an_address_of_no_page_is_told(browser, whole):
    with window(browser, whole) as seen:
        seen.page.evaluate("location.hash = '/pattern/<b>none'")
        expect(seen.page.locator("main p").first).to_contain_text("none")
        assert seen.page.locator("main b").count() == 0


def test_found_by_name_it_is_turned_to(browser, whole):
    with window(browser, whole) as seen:
        seen.page.get_by_label("Find").fill("tea-blouse")
        seen.page.keyboard.press("Enter")
        expect(seen.page.get_by_role("heading", level=1, name="tea-blouse")).to_be_visible()


def test_what_another_records_shows_with_the_next_page_and_is_told_at_once(
    browser, live, trueup: Trueup
):
    with window(browser, live) as seen:
        seen.turn_to("pattern/blouse")
        trueup.made("style", "blouse", "lengthen", "--by", "1cm", "--why", "it rode up")
        told = seen.page.locator(".meanwhile")
        expect(told).to_contain_text("Meanwhile the wardrobe moved on: ", timeout=WAITS)
        expect(told).to_contain_text("blouse")
        assert "it rode up" not in seen.page.locator("main").inner_text()
        told.get_by_role("button").click()
        expect(seen.page.locator(".versions")).to_contain_text("it rode up", timeout=WAITS)
        expect(told).to_be_empty()


def test_the_menu_counts_what_waits_and_counts_anew_when_another_records(
    browser, live, trueup: Trueup
):
    with window(browser, live) as seen:
        menu = seen.page.get_by_role("navigation", name="Pages")
        expect(menu.get_by_role("link", name="Conflicts", exact=True)).to_be_visible()
        expect(seen.page.get_by_text("Nothing needs attention")).to_be_visible()
        trueup.made("correct", "village", "scoop-armhole", "--piece", "front", "--by", "20mm")
        open_now = len(trueup("conflicts", "--json").document["conflicts"])
        counted = menu.get_by_role("link", name=f"Conflicts {open_now} open")
        expect(counted).to_be_visible(timeout=WAITS)
        seen.page.locator(".meanwhile").get_by_role("button").click()
        waits = seen.page.get_by_role("region", name="wait for a decision")
        expect(waits.locator(".matter")).to_have_count(open_now, timeout=WAITS)
        expect(seen.page.locator(".graph svg text", has_text="open conflict").first).to_be_visible()


def test_a_file_edited_by_hand_is_told_and_shown(browser, live, wardrobe):
    with window(browser, live) as seen:
        seen.turn_to("pattern/blouse")
        file = wardrobe / "patterns" / "blouse.toml"
        file.write_text(file.read_text().replace('by = "20mm"', 'by = "31mm"'))
        told = seen.page.locator(".meanwhile")
        expect(told).to_contain_text("edited", timeout=WAITS)
        expect(seen.page.locator(".stands")).to_contain_text("edits by hand since")
        told.get_by_role("button").click()
        expect(seen.page.locator(".chain")).to_contain_text("3.1 cm", timeout=WAITS)


def test_a_page_loaded_again_or_opened_anew_needs_the_token(browser, whole):
    with window(browser, whole) as seen:
        assert "token" not in seen.page.url
        seen.page.reload()
        expect(seen.page.locator("main h1")).to_be_visible()
        other = seen.context.new_page()
        other.goto(f"{whole.origin}/")
        expect(other.locator("main")).to_contain_text("open that address")
        assert "village" not in other.content()
