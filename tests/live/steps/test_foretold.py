"""What amending a step or taking one out would do is shown before it is recorded, worst first."""

import pytest
from playwright.sync_api import expect

from tests.live.slow import slowly
from tests.live.steps.live_page import PHONE, files, last_message, live_page
from tests.live.steps.test_steps import ask_for, same
from tests.live.test_trying import shown_verdicts, verdicts
from tests.live.window import WAITS, hold_back_following

URGENT = ("conflict", "lost", "partly", "doubled", "held", "carried")


def wait_until_told(page):
    page.wait_for_selector("form.step .record[aria-disabled=false]", timeout=WAITS)
    expect(page.locator(".rows .unfinished")).to_have_count(0)


@pytest.fixture
def scoop(trueup):
    """The correction of the block that was made last."""
    return trueup.step_of("village")


def test_amending_shows_what_becomes_of_every_pattern_the_worst_first(show, trueup, other, scoop):
    before = trueup.contents()
    opened = ask_for(show, "block/village", "amend", viewport={"width": 1400, "height": 900})
    page = opened.page
    page.select_option("[name=step]", scoop)
    assert page.locator(".tally").inner_text() == "Change an amount to see it."
    page.fill(f"[name='{scoop}-by']", "2.5cm")
    wait_until_told(page)
    words = ("amend", "village", scoop, "--by", "2.5cm")
    previewed = trueup.made(*words, "--preview", "--json").document
    shown = shown_verdicts(page)
    assert shown == verdicts(previewed)
    assert len(set(shown.values())) > 1
    assert list(shown.values()) == sorted(shown.values(), key=URGENT.index)
    assert page.locator(".own table tr").count() > 1
    expect(page.locator(".own .picture")).to_have_count(1, timeout=WAITS)
    opened.require_accessible()
    assert trueup.contents() == before
    page.fill("form.step [name=why]", "still binds")
    page.click("form.step .record")
    page.wait_for_selector(".meanwhile .command")
    other.made(*words, "--why", "still binds")
    assert same(trueup, other)


def test_taking_out_shows_what_becomes_of_every_pattern_on_a_phone(show, trueup, other, scoop):
    opened = ask_for(show, "block/village", "drop", **PHONE)
    page = opened.page
    page.select_option("[name=step]", scoop)
    wait_until_told(page)
    previewed = trueup.made("drop", "village", scoop, "--preview", "--json").document
    assert shown_verdicts(page) == verdicts(previewed)
    opened.require_accessible()
    opened.require_no_sideways_scrolling()
    page.click("form.step .record")
    page.wait_for_selector(".meanwhile .command")
    other.made("drop", "village", scoop)
    assert same(trueup, other)


def test_what_cannot_be_done_is_told_in_the_command_s_sentence(show, trueup, other, scoop):
    page = ask_for(show, "block/village", "amend").page
    page.select_option("[name=step]", scoop)
    page.fill(f"[name='{scoop}-by']", "9cm")
    refused = page.wait_for_selector("form.step .refused:not(:empty)").inner_text()
    assert refused in " ".join(other("amend", "village", scoop, "--by", "9cm").err.split())
    assert page.locator(".rows > li").count() == 0
    assert page.get_attribute("form.step .record", "aria-disabled") == "true"
    page.fill(f"[name='{scoop}-by']", "1.8cm")
    wait_until_told(page)
    assert page.locator("form.step .refused").inner_text() == ""


def test_of_an_earlier_amount_nothing_is_shown_and_nothing_recorded(browser, wardrobe, trueup):
    """However slowly it is worked out: rows of what is not written any more are grey."""
    step = trueup.step_of("village")
    with slowly(wardrobe, 0.4) as live, live_page(browser, live, "block/village") as opened:
        page = opened.page
        page.click("button.amend")
        page.wait_for_selector("form.step .record")
        page.select_option("[name=step]", step)
        page.fill(f"[name='{step}-by']", "2.5cm")
        wait_until_told(page)
        before = files(trueup)
        page.fill(f"[name='{step}-by']", "1cm")
        assert page.locator(".rows > li:not(.unfinished)").count() == 0
        page.focus("form.step .record")
        page.keyboard.press("Enter")
        assert page.locator(".meanwhile").inner_text() == ""
        wait_until_told(page)
        told = page.locator(".rows .amounts").all_inner_texts()
        assert told
        assert all(each.endswith("of +1 cm") for each in told), told
        assert files(trueup) == before


def test_when_another_wrote_it_is_shown_anew_and_recorded_on_that(show, trueup, other, scoop):
    page = ask_for(show, "block/village", "drop").page
    page.select_option("[name=step]", scoop)
    wait_until_told(page)
    for each in (trueup, other):
        each.made("derive", "gown", "--from", "village")
    page.wait_for_selector(".meanwhile >> text=Meanwhile the wardrobe moved on")
    expect(page.locator(".rows h3", has_text="gown")).to_have_count(1, timeout=WAITS)
    wait_until_told(page)
    assert "On the wardrobe as it is now" in page.inner_text("form.step")
    page.click("form.step .record")
    page.wait_for_selector(".meanwhile .command")
    other.made("drop", "village", scoop)
    assert same(trueup, other)


def test_recorded_before_the_page_knew_of_another_step_it_is_asked_again(show, trueup, scoop):
    opened = show("block/village")
    page = opened.page
    hold_back_following(page)
    page.click("button.drop")
    page.wait_for_selector("form.step .record")
    page.select_option("[name=step]", scoop)
    page.fill("form.step [name=why]", "not wanted")
    wait_until_told(page)
    trueup.made("derive", "gown", "--from", "village")
    page.click("form.step .record")
    page.wait_for_selector("text=nothing was recorded")
    # It is asked again with what was written, and shown on the wardrobe as it is.
    expect(page.locator(".rows h3", has_text="gown")).to_have_count(1, timeout=WAITS)
    assert page.input_value("form.step [name=why]") == "not wanted"
    wait_until_told(page)
    page.click("form.step .record")
    page.wait_for_selector("text=Recorded as")
    assert "not wanted" in last_message(trueup)


def test_that_the_program_has_stopped_hides_no_step_it_recorded(show, scoop):
    page = show("block/village").page
    held = []

    def hold(route):
        held.append(route)

    page.click("button.drop")
    page.wait_for_selector("form.step .record")
    page.select_option("[name=step]", scoop)
    wait_until_told(page)
    page.route("**/now", hold)
    with page.expect_request("**/now", timeout=WAITS):
        pass
    page.click("form.step .record")
    page.wait_for_selector("text=Recorded as")
    held[0].fulfill(status=204)  # as it answers who waits, when it ends
    page.wait_for_selector("text=The live page has stopped")
    assert page.is_visible("text=Recorded as")
    assert page.inner_text(".meanwhile .command").endswith(f"drop village {scoop}")


def test_pieces_that_were_chosen_are_chosen_when_it_is_asked_again(show, trueup, other):
    opened = show("pattern/blouse")
    page = opened.page
    page.click("button.derive")
    page.wait_for_selector("form.step .record")
    page.fill("form.step [name=name]", "tunic")
    page.check("[name=piece][value=front]")
    for each in (trueup, other):
        each.made("style", "own", "lower-neck", "--piece", "front", "--by", "3mm")
    page.click("form.step .record")
    page.wait_for_selector("text=nothing was recorded")
    page.wait_for_selector("form.step .record")
    assert page.is_checked("[name=piece][value=front]")
    assert not page.is_checked("[name=piece][value=back]")
    page.click("form.step .record")
    page.wait_for_selector("text=Recorded as")
    other.made("derive", "tunic", "--from", "blouse:front")
    assert same(trueup, other)
