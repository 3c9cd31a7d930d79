"""The page of a pattern: its picture looked at closely, a line chosen in it, and its story told."""

import io
import re
from pathlib import Path

import pdfplumber
import pytest
from playwright.sync_api import Locator, Page, expect

from tests.browser.accessibility import serious_findings
from tests.browser.leafing import heading, on_the_line, press_until_focused
from tests.browser.theatre import bind

PHONE = 390
SECTIONS = (
    *("Picture", "What needs attention", "Last change", "The story of a line", "Seams, walked"),
    *("Measures", "Versions", "How it came to be", "Its family"),
)


@pytest.fixture(scope="module")
def book(tmp_path_factory) -> Path:
    return bind(tmp_path_factory.mktemp("book"))


@pytest.fixture
def page(open_book, book) -> Page:
    page = open_book(book, fragment="/pattern/blouse", width=1440).page
    expect(heading(page, "blouse")).to_be_visible()
    return page


def line(page: Page, edge: str) -> Locator:
    """Return what a pointer meets of an edge of the picture."""
    return page.locator(f'.drawn svg [data-edge="{edge}"] .touch').first


def story(page: Page) -> Locator:
    return page.get_by_role("region", name="The story of a line")


def told(page: Page) -> Locator:
    return story(page).locator("article:not([hidden])")


def chosen(page: Page, edge: str) -> None:
    expect(told(page).get_by_role("heading", level=3)).to_have_text(re.compile(f"^{edge} "))
    expect(page.get_by_role("combobox", name="Line")).to_have_value(edge)
    thick = page.locator(".drawn svg .marked")
    expect(thick).to_have_count(1)
    expect(thick).to_have_attribute("data-edge", edge)


def click_on(page: Page, edge: str) -> None:
    drawn = page.locator(f'.drawn svg [data-edge="{edge}"] path:not(.touch)').first
    line(page, edge).click(force=True, position=on_the_line(drawn))


# --- a line is chosen ---------------------------------------------------------------------------


def test_a_line_is_chosen_by_mouse_and_its_story_told(page):
    expect(story(page).get_by_role("status")).to_contain_text("choose it")
    click_on(page, "front.neck")
    chosen(page, "front.neck")
    steps = told(page).get_by_role("listitem")
    expect(steps.first).to_contain_text("As it was drafted, at village")
    expect(steps.last).to_contain_text("Lower the neck of the front by 2 cm")
    expect(steps.last).to_contain_text("at blouse")
    expect(
        told(page).get_by_role("img", name=re.compile(r"front\.neck: \d+ steps? from"))
    ).to_be_visible()
    click_on(page, "front.armhole")
    chosen(page, "front.armhole")
    assert told(page).count() == 1


def test_the_lengths_of_a_story_add_up_to_the_length_of_the_line(page):
    for edge in ("front.neck", "front.armhole", "sleeve.cap"):
        page.get_by_role("combobox", name="Line").select_option(edge)
        chosen(page, edge)
        lengths = [_number(each) for each in told(page).locator(".length").all_inner_texts()]
        changes = [_number(each) for each in told(page).locator(".change").all_inner_texts()[1:]]
        assert lengths[0] + sum(changes) == pytest.approx(lengths[-1], abs=0.051)
        assert _number(told(page).locator("h3 .now").inner_text()) == lengths[-1]
        measured = page.locator("#measures ~ dl div", has_text=edge).first.locator("dd")
        assert _number(measured.inner_text()) == lengths[-1]


def _number(text: str) -> float:
    return float(text.replace("\N{MINUS SIGN}", "-").removesuffix(" cm"))


def test_the_story_stays_in_view_wherever_the_line_is_chosen(page):
    for place in ("#attention", "#seams", "#measures"):
        page.locator(place).evaluate("each => each.scrollIntoView()")
        before = page.evaluate("scrollY")
        click_on(page, "front.neck")
        expect(told(page).get_by_role("heading", level=3)).to_be_in_viewport()
        assert page.evaluate("scrollY") == before, place
        story(page).get_by_role("button", name="Choose none").click()
        expect(told(page)).to_have_count(0)
        expect(page.locator(".drawn svg .marked")).to_have_count(0)


def test_a_line_is_chosen_by_keys_alone(page):
    choice = page.get_by_role("combobox", name="Line")
    press_until_focused(page, choice)
    page.keyboard.press("ArrowDown")
    expect(told(page)).to_have_count(1)
    first = choice.input_value()
    page.keyboard.press("ArrowDown")
    assert choice.input_value() != first
    chosen(page, choice.input_value())
    close = story(page).get_by_role("button", name="Choose none")
    press_until_focused(page, close)
    page.keyboard.press("Enter")
    expect(told(page)).to_have_count(0)
    expect(choice).to_be_focused()


def test_the_list_of_edges_chooses_as_well(page):
    page.get_by_text("Every edge, and where it comes from").click()
    page.get_by_role("button", name="sleeve.cap", exact=True).click()
    chosen(page, "sleeve.cap")
    expect(story(page).get_by_role("status")).to_contain_text("sleeve.cap, ")


def test_every_edge_of_the_picture_has_its_story_and_its_row(page):
    drawn = page.eval_on_selector_all(
        ".drawn svg [data-edge]", "all => all.map(each => each.dataset.edge)"
    )
    assert len(drawn) == len(set(drawn)) > 15
    assert "front.armhole" in drawn
    for kind in ("article", "tr"):
        assert drawn == page.eval_on_selector_all(
            f"{kind}[data-edge]", "all => all.map(each => each.dataset.edge)"
        )


def test_whoever_listens_is_told_which_line_is_chosen(page):
    page.evaluate(
        """() => {
          window.heard = [];
          document.querySelector("main").addEventListener("edge-chosen", (event) =>
            window.heard.push(event.detail.edge));
        }"""
    )
    click_on(page, "front.neck")
    page.get_by_role("combobox", name="Line").select_option("sleeve.cap")
    story(page).get_by_role("button", name="Choose none").click()
    assert page.evaluate("window.heard") == ["front.neck", "sleeve.cap", ""]


# --- the picture is looked at closely -----------------------------------------------------------


@pytest.mark.parametrize(
    ("label", "layer", "at_first"),
    [
        ("seam line", "seam", True),
        ("cutting line", "cut", True),
        ("what moved last", "moved", False),
        ("notches", "notch", True),
        ("names", "name", True),
    ],
)
def test_a_layer_is_switched(page, label, layer, at_first):
    switch = page.get_by_role("checkbox", name=label)
    drawn = page.locator(f'.drawn svg [data-layer="{layer}"]').first
    expect(switch).to_be_checked(checked=at_first)
    for is_on in (not at_first, at_first):
        switch.focus()
        page.keyboard.press("Space")
        expect(switch).to_be_checked(checked=is_on)
        shown = drawn.evaluate("each => getComputedStyle(each).display !== 'none'")
        assert shown == is_on


def test_what_moved_last_is_the_line_before_under_the_line_as_it_is(page):
    page.get_by_role("checkbox", name="what moved last").check()
    before = page.locator(
        ".drawn svg [id$='front.armhole.before'], .drawn svg [id*='front.armhole.1.before']"
    )
    expect(before.first).to_be_visible()
    expect(page.locator(".drawn svg [id$='front.lost']")).to_be_visible()


def test_the_picture_is_made_larger_without_moving_the_page(page):
    frame, svg = page.locator(".drawn .picture"), page.locator(".drawn .picture svg")
    whole, room = svg.bounding_box(), frame.bounding_box()
    place = page.evaluate("scrollY")
    page.get_by_role("button", name="Larger").click()
    page.get_by_role("button", name="Larger").click()
    assert svg.bounding_box()["width"] == pytest.approx(whole["width"] * 2.25, rel=0.01)
    assert frame.bounding_box() == pytest.approx(room, abs=1)
    middle = frame.evaluate("each => (each.scrollLeft + each.clientWidth / 2) / each.scrollWidth")
    assert middle == pytest.approx(0.5, abs=0.02)
    page.get_by_role("button", name="Smaller").click()
    assert svg.bounding_box()["width"] == pytest.approx(whole["width"] * 1.5, rel=0.01)
    page.get_by_role("button", name="Whole").click()
    assert svg.bounding_box() == pytest.approx(whole, abs=1)
    page.get_by_role("button", name="Whole").click(force=True)
    assert page.evaluate("scrollY") == place
    assert page.evaluate("document.documentElement.scrollWidth") <= 1440


def test_keys_make_the_picture_larger_and_leave_the_browser_its_own(page):
    frame, svg = page.locator(".drawn .picture"), page.locator(".drawn .picture svg")
    press_until_focused(page, frame)
    whole = svg.bounding_box()["width"]
    page.keyboard.press("+")
    assert svg.bounding_box()["width"] == pytest.approx(whole * 1.5, rel=0.01)
    left = frame.evaluate("each => each.scrollLeft")
    page.keyboard.press("ArrowRight")
    page.wait_for_function("left => document.activeElement.scrollLeft > left", arg=left)
    page.keyboard.press("-")
    assert svg.bounding_box()["width"] == pytest.approx(whole, rel=0.01)
    page.keyboard.press("+")
    page.keyboard.press("0")
    assert svg.bounding_box()["width"] == pytest.approx(whole, rel=0.01)
    taken = frame.evaluate(
        """each => {
          const event = new KeyboardEvent("keydown", {key: "+", ctrlKey: true, cancelable: true});
          return !each.dispatchEvent(event);
        }"""
    )
    assert not taken


def test_a_wheel_over_the_whole_picture_scrolls_the_page(page):
    page.locator(".drawn .picture svg").hover()
    page.mouse.wheel(0, 300)
    page.wait_for_function("() => scrollY > 100")


# --- two columns, one column, large letters -----------------------------------------------------


def test_on_a_wide_screen_the_picture_stays_while_what_is_told_goes_by(page):
    picture = page.locator(".drawn .picture")
    page.locator("#measures").evaluate("each => each.scrollIntoView()")
    expect(page.locator("#measures")).to_be_in_viewport()
    expect(picture).to_be_in_viewport(ratio=0.8)
    assert page.locator(".told-of").bounding_box()["x"] > picture.bounding_box()["x"] + 300


def test_on_a_phone_it_is_one_column_and_nothing_is_hidden(open_book, book):
    page = open_book(book, fragment="/pattern/blouse", width=PHONE, height=700, phone=True).page
    expect(heading(page, "blouse")).to_be_visible()
    for name in SECTIONS:
        expect(page.get_by_role("heading", level=2, name=name)).to_be_visible()
    assert page.evaluate("document.documentElement.scrollWidth") <= PHONE
    edge = page.locator('.drawn svg [data-edge="front.neck"] path:not(.touch)')
    page.locator(".drawn .picture").evaluate("each => each.scrollIntoView()")
    line(page, "front.neck").tap(force=True, position=on_the_line(edge))
    chosen(page, "front.neck")
    expect(told(page).get_by_role("heading", level=3)).to_be_in_viewport()
    expect(page.locator(".drawn .picture svg")).to_be_in_viewport()
    for button in page.locator(".zoom button").all():
        assert button.bounding_box()["height"] >= 24  # WCAG 2.2, 2.5.8 Target Size (Minimum)


@pytest.mark.parametrize("width", [PHONE, 1280])
def test_letters_twice_as_large_hide_nothing(open_book, book, width):
    page = open_book(book, fragment="/pattern/blouse", width=width).page
    expect(heading(page, "blouse")).to_be_visible()
    page.evaluate("document.documentElement.style.fontSize = '200%'")
    choice = page.get_by_role("combobox", name="Line")
    choice.scroll_into_view_if_needed()
    choice.select_option("front.armhole")
    expect(told(page).get_by_role("heading", level=3)).to_be_in_viewport()
    expect(choice).to_be_in_viewport()
    above, below = choice.bounding_box(), story(page).bounding_box()
    apart = above["x"] + above["width"] <= below["x"]
    assert apart or above["y"] + above["height"] <= below["y"]
    assert page.evaluate("document.documentElement.scrollWidth") <= width
    for name in SECTIONS:
        expect(page.get_by_role("heading", level=2, name=name)).to_be_visible()


@pytest.mark.parametrize("scheme", ["light", "dark"])
@pytest.mark.parametrize("phone", [False, True])
def test_with_a_line_chosen_it_has_no_serious_finding(open_book, book, scheme, phone):
    how = {"width": PHONE, "phone": True} if phone else {"width": 1440}
    page = open_book(book, fragment="/pattern/blouse", colour_scheme=scheme, **how).page
    expect(heading(page, "blouse")).to_be_visible()
    page.get_by_role("combobox", name="Line").select_option("front.armhole")
    page.get_by_role("checkbox", name="what moved last").check()
    page.get_by_role("button", name="Larger").click()
    assert serious_findings(page) == []


def test_where_colours_are_forced_the_plot_and_the_chosen_line_are_seen(open_book, book):
    page = open_book(book, fragment="/pattern/blouse", width=1440).page
    page.emulate_media(forced_colors="active")
    expect(heading(page, "blouse")).to_be_visible()
    page.get_by_role("combobox", name="Line").select_option("front.armhole")
    ground = page.evaluate("getComputedStyle(document.body).backgroundColor")
    for drawn in (".plot .now", ".drawn svg .marked path:not(.touch)"):
        ink = page.locator(f"article:not([hidden]) {drawn}, .drawn > {drawn}, {drawn}").first
        assert ink.evaluate("each => getComputedStyle(each).stroke") != ground
    wide = page.locator(".drawn svg .marked path:not(.touch)").first
    assert wide.evaluate("each => getComputedStyle(each).strokeWidth") == "4px"


def test_a_sign_in_the_picture_has_the_number_of_what_is_listed(page):
    listed = page.get_by_role("region", name="What needs attention").locator("ol > li")
    assert listed.count() == page.locator(".drawn svg [id*='.conflict.']").count() > 0
    for each in listed.all():
        style = each.evaluate("each => getComputedStyle(each).listStyleType")
        assert style == "decimal"


def test_the_way_back_up_leads_to_the_block(page):
    above = page.get_by_role("navigation", name="Above blouse").first
    assert above.get_by_role("link").all_inner_texts() == ["village", "easy"]
    above.get_by_role("link", name="easy").click()
    expect(heading(page, "easy")).to_be_visible()
    page.get_by_role("navigation", name="Above easy").get_by_role("link", name="village").click()
    expect(heading(page, "village")).to_be_visible()
    expect(page.get_by_role("navigation", name="Above village")).to_have_count(0)


def test_what_is_chosen_is_printed_whole(page):
    page.get_by_role("combobox", name="Line").select_option("front.armhole")
    page.get_by_role("button", name="Larger").click()
    page.emulate_media(media="print")
    with pdfplumber.open(io.BytesIO(page.pdf(format="A4"))) as pdf:
        said = "\n".join(each.extract_text() for each in pdf.pages)
    for step in told(page).get_by_role("listitem").all():
        first = step.locator("div").inner_text().split(",")[0].split()
        assert " ".join(first[:3]) in said
    assert "Choose none" not in said
