"""A fit note with a photo, and what mended it: the same steps as by the commands."""

import base64
import io
import re

import pytest
from PIL import Image

from tests.live.steps.live_page import PHONE, files, last_message, steps

WORDS = "pulls when she reaches up"
GARMENT = "garment/tea-blouse"

PASTE = """async ([bytes, how]) => {
  const data = Uint8Array.from(atob(bytes), (each) => each.charCodeAt(0));
  const transfer = new DataTransfer();
  transfer.items.add(new File([data], 'x.jpg', { type: 'image/jpeg' }));
  const event = how === 'paste'
    ? new ClipboardEvent('paste', { clipboardData: transfer, bubbles: true })
    : new DragEvent('drop', { dataTransfer: transfer, bubbles: true, cancelable: true });
  document.querySelector('.photo').dispatchEvent(event);
}"""


def opened_form(show, **how):
    opened = show(GARMENT, **how)
    opened.page.click("button.note")
    opened.page.wait_for_selector("form.step select[name=symptom]")
    return opened


def record(page):
    page.click("form.step .record")
    page.wait_for_selector(".meanwhile .command")


def test_a_note_with_a_photo_is_the_step_of_the_command(show, trueup, other, photo):
    before = steps(trueup)
    opened = opened_form(show)
    page = opened.page
    page.select_option("[name=symptom]", "armhole-binds")
    page.select_option("[name=place]", "back.armhole")
    page.fill("[name=amount]", "0.8")
    page.select_option("[name=side]", "left")
    page.fill("[name=words]", WORDS)
    page.set_input_files("[name=photo]", photo)
    page.wait_for_selector(".photo img")
    opened.require_accessible()
    record(page)
    other.made(
        *("note", "tea-blouse", "armhole-binds", "--place", "back.armhole", "--amount", "0.8"),
        *("--side", "left", "--words", WORDS, "--photo", str(photo)),
    )
    assert files(trueup) == files(other)
    assert last_message(trueup) == last_message(other)
    assert steps(trueup) == before + 1
    assert f"--side left --photo FILE --words '{WORDS}'" in opened.said
    page.wait_for_selector("figure img")
    opened.require_accessible()


def test_the_place_is_pointed_at_in_the_drawing(show):
    page = opened_form(show).page
    line = page.locator(".point path[id$='.front.side']").first
    page.locator(".point .touch").evaluate_all(
        """(all, d) => all.find((each) => each.getAttribute('d') === d)
             .dispatchEvent(new MouseEvent('click', { bubbles: true }))""",
        line.get_attribute("d"),
    )
    assert page.input_value("[name=place]") == "front.side"
    assert "marked" in line.get_attribute("class")


@pytest.mark.parametrize("way", ["paste", "drop"])
def test_a_photo_comes_from_the_clipboard_or_is_dropped(show, trueup, photo, way):
    page = opened_form(show).page
    page.evaluate(PASTE, [base64.b64encode(photo.read_bytes()).decode(), way])
    page.wait_for_selector(".photo img")
    page.select_option("[name=symptom]", "armhole-binds")
    page.select_option("[name=place]", "bust")
    record(page)
    (kept,) = [each for each in files(trueup) if each.startswith("photos/")]
    with Image.open(io.BytesIO(files(trueup)[kept])) as picture:
        assert max(picture.size) == 2000
        assert not picture.getexif()


def test_with_the_keyboard_alone_on_a_phone(show, trueup):
    opened = show(GARMENT, **PHONE)
    page = opened.page
    page.locator("button.note").focus()
    page.keyboard.press("Enter")
    page.wait_for_selector("form.step select[name=symptom]")
    page.keyboard.type("armhole-b")
    page.keyboard.press("Tab")
    page.keyboard.type("back.arm")
    for _ in range(3):
        page.keyboard.press("Tab")
    page.keyboard.type(WORDS)
    opened.require_no_sideways_scrolling()
    page.locator("form.step .record").focus()
    page.keyboard.press("Enter")
    page.wait_for_selector(".meanwhile .command")
    opened.require_no_sideways_scrolling()
    assert last_message(trueup).startswith("Note on tea-blouse: armhole-binds at back.armhole")
    assert WORDS in last_message(trueup)


@pytest.mark.parametrize(
    "content", [b"GIF89a no picture", b"\x89PNG\r\n\x1a\n", b"<svg/>"], ids=["gif", "png", "svg"]
)
def test_what_is_no_picture_is_refused_beside_the_form_and_nothing_is_lost(
    show, trueup, other, tmp_path, content
):
    before = trueup.contents()
    wrong = tmp_path / "wrong.jpg"
    wrong.write_bytes(content)
    opened = opened_form(show)
    page = opened.page
    page.select_option("[name=symptom]", "armhole-binds")
    page.select_option("[name=place]", "bust")
    page.fill("[name=words]", WORDS)
    page.set_input_files("[name=photo]", wrong)
    page.wait_for_selector(".photo img", state="attached")
    page.click("form.step .record")
    refused = page.wait_for_selector("form.step > .refused:not(:empty)").inner_text()
    said = other(
        "note", "tea-blouse", "armhole-binds", "--place", "bust", "--photo", str(wrong)
    ).err
    assert refused.split(" cannot ", 1)[1] in " ".join(said.split())
    assert page.input_value("[name=words]") == WORDS
    assert trueup.contents() == before


def test_a_photo_that_is_too_large_is_not_sent(show, tmp_path, trueup):
    before = trueup.contents()
    large = tmp_path / "large.jpg"
    large.write_bytes(b"\xff\xd8" + bytes(20_000_001))
    page = opened_form(show).page
    page.set_input_files("[name=photo]", large)
    page.wait_for_selector(".photo .refused:not(:empty)")
    assert "larger than 20 MB" in page.inner_text(".photo .refused")
    assert page.locator(".photo img").count() == 0
    assert trueup.contents() == before


def test_more_than_a_photo_is_not_read(live, trueup):
    before = trueup.contents()
    answer = live.send("POST", "/note", Content_Length="30000000")
    assert answer.status == 413
    assert trueup.contents() == before


def test_no_path_is_taken(live, trueup):
    before = trueup.contents()
    version = live.ask("view", address="start").line["version"]
    asked = {
        "garment": "tea-blouse", "symptom": "armhole-binds", "place": "bust", "version": version
    }  # fmt: skip
    for more in ({"path": "/etc/passwd"}, {"photo": "/etc/passwd"}, {"photo": "../x.jpg"}):
        answer = live.ask("note", **asked, **more)
        assert answer.status == 400 or "refused" in answer.line
    assert trueup.contents() == before


@pytest.mark.parametrize(
    "change",
    [
        {"garment": "../../x"},
        {"symptom": "sings"},
        {"place": "nowhere"},
        {"amount": "much"},
        {"date": "2999-01-01"},
        {"side": "under"},
        {"symptom": "other"},
    ],
    ids=str,
)
def test_a_refusal_is_the_sentence_of_the_command(live, trueup, other, change):
    before = trueup.contents()
    version = live.ask("view", address="start").line["version"]
    asked = {"garment": "tea-blouse", "symptom": "armhole-binds", "place": "bust", **change}
    refused = live.ask("note", version=version, **asked).line["refused"]
    options = [w for n in ("place", "amount", "date", "side") for w in _option(asked, n)]
    said = other("note", asked["garment"], asked["symptom"], *options).err
    assert refused in " ".join(said.split())
    assert trueup.contents() == before


def _option(asked, name):
    return (f"--{name}", asked[name]) if name in asked else ()


def test_what_was_written_is_asked_again_where_another_wrote_meanwhile(show, trueup, photo):
    opened = opened_form(show)
    page = opened.page
    page.select_option("[name=symptom]", "armhole-binds")
    page.select_option("[name=place]", "bust")
    page.fill("[name=words]", WORDS)
    page.set_input_files("[name=photo]", photo)
    page.wait_for_selector(".photo img")
    trueup.made("style", "own", "lower-neck", "--piece", "front", "--by", "3mm")
    after = trueup.contents()
    page.click("form.step .record")
    page.wait_for_selector("text=nothing was recorded")
    assert trueup.contents() == after
    page.wait_for_selector(".photo img")
    assert page.input_value("[name=place]") == "bust"
    assert page.input_value("[name=words]") == WORDS
    record(page)
    assert any(each.startswith("photos/") for each in files(trueup))


def test_resolving_and_opening_again_are_the_steps_of_the_command(show, trueup, other):
    note = re.search(r"note-\w+", trueup("garment", "tea-blouse").out)[0]
    made = trueup.step_of("village")
    opened = show(GARMENT)
    page = opened.page
    page.click("button.resolve")
    page.wait_for_selector("form.step select[name=step]")
    page.fill("[name=why]", "worn again")
    opened.require_accessible()
    record(page)
    other.made("resolve", note, "--by", made, "--why", "worn again")
    assert files(trueup) == files(other)
    assert last_message(trueup) == last_message(other)

    page.click("button.resolve")
    page.wait_for_selector("form.step select[name=step]")
    assert page.input_value("[name=step]") == ""
    page.click("form.step .record")
    page.wait_for_selector("text=--reopen")
    other.made("resolve", note, "--reopen")
    assert files(trueup) == files(other)
    assert last_message(trueup) == last_message(other)
