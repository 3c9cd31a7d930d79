"""Every form of the live page, read by all: phone, large print, dark, forced colours, on paper."""

import pytest
from playwright.sync_api import expect

from tests.cli.commands.begin.drawn import drawn
from tests.live.steps.live_page import PHONE
from trueup.lineage.wardrobe import Wardrobe

WAITS = 60_000
LETTERS = """() => Array.from(document.querySelectorAll('main svg text'))
  .filter((text) => text.checkVisibility())
  .map((text) => {
    const drawn = text.getScreenCTM();
    return parseFloat(getComputedStyle(text).fontSize) * Math.hypot(drawn.a, drawn.b);
  })"""
MANNERS = {
    "desktop": {"viewport": {"width": 1400, "height": 900}},
    "phone": PHONE,
    "dark": {"viewport": {"width": 1280, "height": 900}, "color_scheme": "dark"},
    "forced colours": {"viewport": {"width": 1280, "height": 900}, "forced_colors": "active"},
    "phone in the dark": {**PHONE, "color_scheme": "dark"},
}


def turn_to(page, address):
    if page.evaluate("location.hash.slice(2)") == address:
        return
    page.evaluate(
        """address => {
          document.querySelector('main h1').dataset.turnedFrom = '';
          location.hash = '/' + address;
        }""",
        address,
    )
    page.wait_for_selector("main h1:not([data-turned-from])", timeout=WAITS)


def pressed(action):
    def open_form(page):
        page.click(f"button.{action}")
        page.wait_for_selector("form.step:not([hidden]) button", timeout=WAITS)
        waiting = page.locator("form.foretold [aria-disabled=true]")
        expect(waiting).to_have_count(0, timeout=WAITS)

    return open_form


def tried(kind, line):
    def pick(page):
        page.wait_for_selector("select[name=kind]:not([disabled])", timeout=WAITS)
        page.select_option("select[name=line]", line)
        made = "optgroup[label='Made for this line']"
        page.wait_for_selector(made, state="attached", timeout=WAITS)
        page.select_option("select[name=kind]", kind)
        page.wait_for_selector(".record[aria-disabled=false]", timeout=WAITS)

    return pick


def asked(button, action):
    def ask(page):
        pressed(action)(page)
        page.click(f"text={button}")
        page.wait_for_selector(".answer .command", timeout=WAITS)

    return ask


def pinned(page):
    pressed("fit")(page)
    page.fill(".pin [name=place]", "front.side")
    page.fill(".pin [name=amount]", "0.8")
    page.wait_for_selector(".also button", timeout=WAITS)
    page.wait_for_selector("form.step .record[aria-disabled=false]", timeout=WAITS)


def looked_over(drawing):
    def look(page):
        page.set_input_files("[name=file]", drawing)
        page.click("text=Look it over")
        page.wait_for_selector(".traced:not([hidden])", timeout=WAITS)
        page.click("text=Every line, piece and seam")

    return look


@pytest.fixture
def forms(trueup, tmp_path):
    """Every form by the address of its page, and how it is opened."""
    with Wardrobe.open(trueup.folder) as wardrobe:
        draft = wardrobe.evaluator.draft("village")
    drawing = tmp_path / "paper.svg"
    drawing.write_bytes(drawn(draft))
    found = trueup("conflicts", "--json").document["conflicts"]
    conflict = next(each["id"] for each in found if each["state"] == "open" and each["remedies"])
    return [
        ("try/village", tried("scoop-armhole", "front.armhole")),
        ("style/easy", tried("lower-neck", "front.neck")),
        ("block/village", pressed("amend")),
        ("block/village", pressed("drop")),
        ("pattern/blouse", pressed("derive")),
        ("pattern/blouse", pressed("cut")),
        ("pattern/blouse", pinned),
        ("pattern/blouse", asked("Make the PDF", "sheet")),
        (f"conflict/{conflict}", pressed("decide")),
        ("garment/tea-blouse", pressed("note")),
        ("garment/tea-blouse", pressed("resolve")),
        ("garment/tea-blouse", pressed("status")),
        ("garment/tea-blouse", asked("Work it out", "alter")),
        ("trace", looked_over(drawing)),
    ]


@pytest.mark.parametrize("manner", MANNERS)
def test_every_form_hinders_no_reader_and_its_drawings_can_be_read(show, forms, manner):
    opened = show("start", **MANNERS[manner])
    page = opened.page
    for address, open_form in forms:
        turn_to(page, "start")
        turn_to(page, address)
        open_form(page)
        opened.require_accessible()
        opened.require_no_sideways_scrolling()
        small = [each for each in page.evaluate(LETTERS) if each < 11]
        assert small == [], address


@pytest.mark.parametrize("width", [390, 1280])
def test_every_form_holds_letters_twice_as_large(show, forms, width):
    opened = show("start", viewport={"width": width, "height": 900})
    page = opened.page
    page.evaluate("document.documentElement.style.fontSize = '200%'")
    for address, open_form in forms:
        turn_to(page, "start")
        turn_to(page, address)
        open_form(page)
        opened.require_no_sideways_scrolling()
        for button in page.locator("form.step:visible button:visible").all():
            box = button.bounding_box()
            assert box["x"] >= 0, address
            assert box["x"] + box["width"] <= width + 1, address


def test_on_paper_no_form_is_printed_and_what_was_found_is(show, forms):
    opened = show("start", viewport={"width": 1280, "height": 900})
    page = opened.page
    for address, open_form in forms:
        turn_to(page, "start")
        turn_to(page, address)
        open_form(page)
        page.emulate_media(media="print")
        assert page.locator("main h1").is_visible()
        assert page.locator("main input:visible, main select:visible").count() == 0, address
        opened.require_accessible()
        if address.startswith(("try/", "style/")):
            assert page.locator(".rows .verdict").first.is_visible()
        page.emulate_media(media="screen")


def test_a_step_is_undone_and_a_sheet_made_by_keys_alone(show, trueup):
    before = {k: v for k, v in trueup.contents().items() if k != "HEAD"}
    opened = show("pattern/blouse")
    page = opened.page
    page.focus("button.sheet")
    page.keyboard.press("Enter")
    page.wait_for_selector("form.step [name=paper]")
    page.keyboard.press("Control+A")
    page.keyboard.type("letter")
    with page.expect_download():
        page.keyboard.press("Enter")
    page.focus("button.drop")
    page.keyboard.press("Enter")
    page.wait_for_selector("form.step .record[aria-disabled=false]", timeout=WAITS)
    page.locator("form.step .record:visible").focus()
    page.keyboard.press("Enter")
    page.wait_for_selector(".meanwhile .command", timeout=WAITS)
    assert page.evaluate("document.activeElement.className") == "meanwhile"
    for _ in range(6):
        page.keyboard.press("Tab")
        if page.evaluate("document.activeElement.textContent") == "Undo this step":
            break
    page.keyboard.press("Enter")
    page.wait_for_selector("text=Taken back as", timeout=WAITS)
    assert {k: v for k, v in trueup.contents().items() if k != "HEAD"} == before
