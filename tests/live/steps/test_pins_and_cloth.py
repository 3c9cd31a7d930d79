"""From pins to corrections, what cloth allows, and pages printed anew: as the commands have it."""

import html
import re
import shlex

import pytest
from playwright.sync_api import expect

from tests.live.steps.live_page import PHONE, steps
from tests.live.steps.test_foretold import wait_until_told
from tests.live.steps.test_steps import ask_for, same
from tests.live.test_trying import shown_verdicts, verdicts
from tests.live.window import WAITS, hold_back_following

DESK = {"viewport": {"width": 1400, "height": 900}}


def fill_pin(page, number, how, place, amount, at=""):
    row = page.locator(".pin").nth(number)
    row.locator("[name=how]").select_option(how)
    row.locator("[name=place]").fill(place)
    row.locator("[name=amount]").fill(amount)
    row.locator("[name=at]").fill(at)


def words_of(text):
    return " ".join(re.sub(r"<[^>]+>", " ", text).split())


def test_pins_become_corrections_that_are_shown_and_recorded_as_one_step(
    show, trueup, other, tmp_path
):
    before = steps(trueup)
    opened = ask_for(show, "pattern/blouse", "fit", **DESK)
    page = opened.page
    fill_pin(page, 0, "chalked", "front.armhole", "0.5", "50%")
    page.click("text=Another one")
    fill_pin(page, 1, "pinned", "front.side", "0.8")
    page.select_option("[name=on]", "easy")
    wait_until_told(page)
    page.fill("form.step [name=why]", "binds and gapes")
    fitting = tmp_path / "blouse-fitting.toml"
    pinned = ("--pinned", "front.side=0.8", "--chalked", "front.armhole=0.5@50%")
    other.made(
        *("fit-from", "blouse", *pinned, "--on", "easy", "--why", "binds and gapes"),
        *("--write", str(fitting)),
    )
    previewed = other.made(*("correct", "easy", "--from", str(fitting)), "--preview", "--json")
    assert shown_verdicts(page) == verdicts(previewed.document)
    assert "front.side pinned 0.8 cm" in _read(page, ".also")
    opened.require_accessible()
    with page.expect_download() as found:
        page.click("text=Hand over the fitting")
    handed = tmp_path / "handed.toml"
    found.value.save_as(handed)
    assert found.value.suggested_filename == "blouse-fitting.toml"
    page.click("form.step .record")
    page.wait_for_selector(".meanwhile .command")
    other.made("correct", "easy", "--from", str(fitting))
    assert same(trueup, other)
    assert steps(trueup) == before + 1
    # The file is of the moment it was handed over, before the reason was told to the preview.
    assert handed.read_text().split("\n", 1)[1] == fitting.read_text().split("\n", 1)[1]
    first, second = page.inner_text(".meanwhile .command").strip().split("\n")
    assert shlex.split(first)[1:3] == ["fit-from", "blouse"]
    assert shlex.split(second)[1:] == ["correct", "easy", "--from", "blouse-fitting.toml"]


def test_with_the_keyboard_alone_on_a_phone(show, trueup, other, tmp_path):
    opened = ask_for(show, "pattern/blouse", "fit", **PHONE)
    page = opened.page
    page.locator(".pin [name=place]").focus()
    page.keyboard.type("side-seam")
    page.keyboard.press("Tab")
    page.keyboard.type("1.6")
    wait_until_told(page)
    opened.require_accessible()
    opened.require_no_sideways_scrolling()
    page.locator("form.step .record").focus()
    page.keyboard.press("Enter")
    page.wait_for_selector(".meanwhile .command")
    fitting = tmp_path / "blouse-fitting.toml"
    other.made("fit-from", "blouse", "--pinned", "side-seam=1.6", "--write", str(fitting))
    other.made("correct", "blouse", "--from", str(fitting))
    assert same(trueup, other)


@pytest.mark.parametrize(
    ("place", "amount"), [("front.sleeve", "1"), ("front.side", "far"), ("front.side", "-1")]
)
def test_pins_that_stand_for_nothing_are_refused_in_the_command_s_sentence(
    live, trueup, place, amount
):
    pins = [{"how": "pinned", "place": place, "amount": amount}]
    refused = live.ask("fit-preview", node="blouse", pins=pins).lines[-1]["refused"]
    said = trueup("fit-from", "blouse", "--pinned", f"{place}={amount}").err
    assert refused in " ".join(said.split())


def test_pins_are_there_when_it_is_asked_again(show, trueup):
    page = ask_for(show, "pattern/blouse", "fit").page
    hold_back_following(page)
    fill_pin(page, 0, "pinned", "front.side", "0.8")
    page.click("text=Another one")
    fill_pin(page, 1, "chalked", "front.armhole", "0.5", "50%")
    wait_until_told(page)
    trueup.made("derive", "gown", "--from", "blouse")
    page.click("form.step .record")
    page.wait_for_selector("text=nothing was recorded")
    page.wait_for_selector("form.step .record")
    assert page.locator(".pin").count() == 2
    assert page.locator(".pin [name=place]").nth(1).input_value() == "front.armhole"
    assert page.locator(".pin [name=how]").nth(1).input_value() == "chalked"


def test_what_cloth_allows_is_told_as_by_the_command_also_as_if_a_fitting_were_made(
    show, trueup, tmp_path
):
    before = trueup.contents()
    opened = show("garment/tea-blouse", **DESK)
    page = opened.page
    page.click("button.alter")
    page.wait_for_selector("form.step")
    page.fill("[name=least]", "0.5")
    page.click("text=Work it out")
    page.wait_for_selector(".answer .command")
    opened.require_accessible()
    assert page.locator(".answer .picture svg").count() > 0
    first = trueup.made("alter", "tea-blouse", "--least", "0.5").out
    told = _told_of_edges(page)
    assert told
    assert all(edge in first for edge in told)
    fitting = tmp_path / "fitting.toml"
    trueup.made("fit-from", "blouse", "--let-out", "front.side=6cm", "--write", str(fitting))
    page.click("text=As if a fitting were made")
    page.set_input_files("[name=fitting]", fitting)
    page.click("text=Work it out")
    page.wait_for_selector(".answer >> text=As if the fitting were made")
    words = ("alter", "tea-blouse", "--least", "0.5", "--from", str(fitting))
    assert "front.side" in _told_of_edges(page)
    answer = trueup.made(*words, "--json").document
    lacking = re.search(r"lacks ([\d.]+) cm", _read(page, ".answer"))
    assert lacking
    assert "lacking" in str(answer)
    assert lacking[0] in " ".join(trueup.made(*words).out.split())
    assert page.locator(".answer .command").last.inner_text().strip().endswith("--from FILE")
    assert trueup.contents() == before


def _read(page, part):
    """Return what is read there, whatever holds a measure and its unit together."""
    return " ".join(page.inner_text(part).split())


def _told_of_edges(page):
    heads = page.locator(".answer table tbody th").all_inner_texts()
    return [each.split()[-1] for each in heads]


def test_what_cannot_be_asked_of_cloth_is_refused_in_the_command_s_sentence(live, trueup, tmp_path):
    told = live.ask("alter", garment="tea-blouse", least="20cm").line["refused"]
    assert told in " ".join(trueup("alter", "tea-blouse", "--least", "20cm").err.split())
    broken = tmp_path / "fitting.toml"
    broken.write_text("why = 3\n")
    refused = live.ask("alter", garment="tea-blouse", fitting=broken.read_text()).line["refused"]
    said = " ".join(trueup("alter", "tea-blouse", "--from", str(broken)).err.split())
    assert refused.split(":", 1)[1] in said


def test_no_file_of_this_machine_is_read_for_a_fitting(live, tmp_path):
    secret = tmp_path / "fitting.toml"
    secret.write_text('why = "secret"\n[[corrections]]\nkind = "add-ease"\nby = "1cm"\n')
    answer = live.ask("alter", garment="tea-blouse", fitting=str(secret)).line
    assert "secret" not in str(answer)
    assert "refused" in answer


@pytest.mark.parametrize("since", ["", "first"])
def test_only_the_pages_on_which_a_line_moved_are_printed(show, trueup, tmp_path, since):
    log = trueup.made("history", "--json").document
    version = log["history"][1]["commit"][:10] if since else ""
    opened = show("pattern/blouse")
    page = opened.page
    page.click("button.sheet")
    page.check("[name=moved]")
    page.fill("[name=since]", version)
    with page.expect_download() as found:
        page.click("text=Make the PDF")
    page.wait_for_selector(".answer >> text=was handed over")
    opened.require_accessible()
    here, there = tmp_path / "here.pdf", tmp_path / "blouse.pdf"
    found.value.save_as(here)
    words = ["sheet", "blouse", str(there), "--only-moved"]
    said = trueup.made(*words, *(["--since", version] if since else [])).out
    assert here.read_bytes() == there.read_bytes()
    drew = re.search(r"Drew (pages? .*?) of blouse", " ".join(said.split()))
    assert drew
    assert drew[1] in page.inner_text(".answer")


def test_where_no_line_moved_nothing_is_handed_over_and_it_is_said(show, trueup):
    head = trueup.made("history", "--json").document["history"][0]["commit"][:10]
    page = show("pattern/blouse").page
    page.click("button.sheet")
    page.check("[name=moved]")
    page.fill("[name=since]", head)
    page.click("text=Make the PDF")
    expect(page.locator(".answer")).to_contain_text("No line of blouse has moved", timeout=WAITS)
    assert "was handed over" not in page.inner_text(".answer")


def test_pages_printed_anew_are_refused_in_the_command_s_sentence(live, other, tmp_path):
    asked = {"node": "blouse", "paper": "a0", "only_moved": True}
    refused = live.ask("sheet", **asked).line["refused"]
    said = other("sheet", "blouse", str(tmp_path / "x.pdf"), "--paper", "a0", "--only-moved").err
    assert html.unescape(refused) in " ".join(said.split())
