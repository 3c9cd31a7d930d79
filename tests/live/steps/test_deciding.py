"""A conflict is settled by a button on its page: the same step as by the command."""

import re

import pytest
from playwright.sync_api import expect

from tests.live.steps.live_page import PHONE, files, last_message, steps
from tests.live.window import WAITS

WHY = "the cap was made for the old armhole"


@pytest.fixture
def waiting(trueup):
    """The first conflict that waits, and its first remedy."""
    found = trueup("conflicts", "--json").document["conflicts"]
    first = next(each for each in found if each["state"] == "open" and each["remedies"])
    return first["id"], first["remedies"][0]["name"]


def card_of(waiting):
    return f'[data-conflict="{waiting[0]}"][data-remedy="{waiting[1]}"]'


def test_deciding_with_a_button_is_the_step_of_the_command(show, trueup, other, waiting):
    conflict, remedy = waiting
    before = steps(trueup)
    opened = show(f"conflict/{conflict}")
    page, card = opened.page, card_of(waiting)
    page.click(f"{card} .decide")
    page.fill(f"{card} [name=why]", WHY)
    opened.require_accessible()
    page.click(f"{card} .record")
    page.wait_for_selector(".meanwhile .command")
    other.made("decide", conflict, remedy, "--why", WHY)
    assert files(trueup) == files(other)
    assert last_message(trueup) == last_message(other)
    assert steps(trueup) == before + 1
    assert f"trueup decide {conflict} {remedy} --why '{WHY}'" in opened.said
    assert page.evaluate("document.activeElement.className") == "meanwhile"
    opened.require_accessible()


def test_what_was_decided_is_undone_by_the_message_that_follows(show, trueup, other, waiting):
    conflict, remedy = waiting
    as_it_was = files(trueup)
    opened = show(f"conflict/{conflict}")
    opened.page.click(f"{card_of(waiting)} .decide")
    opened.page.click(f"{card_of(waiting)} .record")
    opened.page.click("text=Undo this step")
    opened.page.wait_for_selector("text=Taken back as")
    other.made("decide", conflict, remedy)
    other.made("undo")
    assert files(trueup) == files(other) == as_it_was
    assert re.sub(r"[0-9a-f]{40}", "", last_message(trueup)) == re.sub(
        r"[0-9a-f]{40}", "", last_message(other)
    )
    assert "trueup undo" in opened.said
    # The conflict waits again, and can be decided.
    assert opened.page.locator(f"{card_of(waiting)} .decide").is_visible()


def test_what_was_recorded_stays_told_when_another_writes_after_it(show, trueup, waiting):
    opened = show(f"conflict/{waiting[0]}")
    page, told = opened.page, opened.page.locator(".meanwhile")
    page.click(f"{card_of(waiting)} .decide")
    page.click(f"{card_of(waiting)} .record")
    page.wait_for_selector(".meanwhile .command")
    for name in ("gown", "robe"):
        trueup.made("derive", name, "--from", "village")
        expect(told).to_contain_text(name, timeout=WAITS)
    expect(told).to_contain_text("Recorded as")
    expect(told.get_by_text("Meanwhile the wardrobe moved on")).to_have_count(1)
    told.get_by_role("button", name="Undo this step").click()
    expect(told.get_by_role("alert")).not_to_be_empty(timeout=WAITS)
    opened.require_accessible()


def test_with_the_keyboard_alone_on_a_phone(show, trueup, waiting):
    before = steps(trueup)
    opened = show(f"conflict/{waiting[0]}", **PHONE)
    page = opened.page
    page.locator(f"{card_of(waiting)} .decide").focus()
    page.keyboard.press("Enter")
    page.keyboard.type("kept short")
    opened.require_no_sideways_scrolling()
    page.keyboard.press("Tab")
    page.keyboard.press("Enter")
    page.wait_for_selector(".meanwhile .command")
    opened.require_no_sideways_scrolling()
    assert steps(trueup) == before + 1
    assert "kept short" in last_message(trueup)


def test_leaving_it_writes_nothing_and_gives_the_button_back(show, trueup, waiting):
    before = trueup.contents()
    page = show(f"conflict/{waiting[0]}").page
    page.click(f"{card_of(waiting)} .decide")
    page.click("text=Leave it")
    assert page.evaluate("document.activeElement.className") == "decide"
    assert trueup.contents() == before


def test_what_was_not_seen_is_not_decided_on(show, trueup, waiting):
    opened = show(f"conflict/{waiting[0]}")
    page = opened.page
    page.click(f"{card_of(waiting)} .decide")
    page.fill(f"{card_of(waiting)} [name=why]", WHY)
    trueup.made("style", "own", "lower-neck", "--piece", "front", "--by", "3mm")
    after = trueup.contents()
    page.click(f"{card_of(waiting)} .record")
    page.wait_for_selector("text=nothing was recorded")
    assert "own" in opened.said
    assert trueup.contents() == after
    # It is asked again, with what was written.
    assert page.input_value(f"{card_of(waiting)} [name=why]") == WHY
    page.click(f"{card_of(waiting)} .record")
    page.wait_for_selector("text=Recorded as")
    assert WHY in last_message(trueup)


def test_an_undo_takes_no_step_of_another_back(live, trueup, waiting):
    conflict, remedy = waiting
    version = live.ask("view", address="start").line["version"]
    decided = live.ask("decide", conflict=conflict, remedy=remedy, version=version).line
    trueup.made("style", "own", "lower-neck", "--piece", "front", "--by", "3mm")
    after = trueup.contents()
    answer = live.ask("undo", version=decided["version"]).line
    assert "nothing was recorded" in answer["moved"]
    assert "own" in answer["moved"]
    assert trueup.contents() == after


def test_a_refusal_is_the_sentence_of_the_command(live, other, waiting):
    conflict = waiting[0]
    version = live.ask("view", address="start").lines[0]["version"]
    asked = {"conflict": conflict, "remedy": "wish", "version": version}
    refused = live.ask("decide", **asked).line["refused"]
    said = other("decide", conflict, "wish").err
    assert refused in " ".join(said.split())


def test_a_step_on_a_version_nobody_was_shown_is_not_taken(live, trueup, waiting):
    before = trueup.contents()
    conflict, remedy = waiting
    answer = live.ask("decide", conflict=conflict, remedy=remedy, version="0" * 64).line
    assert "moved" in answer
    assert live.ask("undo", version="").line["moved"]
    assert trueup.contents() == before
