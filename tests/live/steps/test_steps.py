"""Steps on a block, a pattern or a garment by its page: each is the step of the command."""

import pytest

from tests.live.steps.live_page import PHONE, files, last_message, steps


def ask_for(show, address, action, **how):
    opened = show(address, **how)
    opened.page.click(f"button.{action}")
    opened.page.wait_for_selector("form.step:not([hidden]) .record")
    return opened


def record(opened):
    opened.page.wait_for_selector("form.step .record:not([aria-disabled=true])")
    opened.require_accessible()
    opened.page.click("form.step .record")
    opened.page.wait_for_selector(".meanwhile .command")


def same(trueup, other):
    assert files(trueup) == files(other)
    assert last_message(trueup) == last_message(other)
    return True


def test_amending(show, trueup, other):
    step = trueup.step_of("blouse")
    opened = ask_for(show, "pattern/blouse", "amend")
    opened.page.select_option("[name=step]", step)
    opened.page.fill(f"[name='{step}-by']", "2.5cm")
    opened.page.fill("[name=why]", "too high")
    record(opened)
    other.made("amend", "blouse", step, "--by", "2.5cm", "--why", "too high")
    assert same(trueup, other)
    assert f"trueup amend blouse {step} --by 2.5cm --why 'too high'" in opened.said


def test_amending_nothing_is_refused_beside_the_form(show, trueup):
    before = trueup.contents()
    page = ask_for(show, "pattern/blouse", "amend").page
    page.click("form.step .record")
    refused = page.wait_for_selector("form.step .refused:not(:empty)").inner_text()
    assert refused.startswith("Say what shall be otherwise")
    assert trueup.contents() == before


def test_a_step_is_without_an_option_that_was_emptied(live, trueup, other):
    step = trueup.step_of("vest")
    version = live.ask("view", address="start").line["version"]
    asked = {"node": "vest", "step": step, "version": version}
    refused = live.ask("amend", values={"through": None}, **asked).line["refused"]
    said = other("amend", "vest", step, "--without", "through").err
    assert refused in " ".join(said.split())


def test_taking_a_step_out(show, trueup, other):
    step = trueup.step_of("blouse")
    opened = ask_for(show, "pattern/blouse", "drop", **PHONE)
    opened.page.select_option("[name=step]", step)
    opened.page.fill("[name=why]", "not wanted")
    opened.require_no_sideways_scrolling()
    record(opened)
    other.made("drop", "blouse", step, "--why", "not wanted")
    assert same(trueup, other)


def test_where_there_is_no_step_none_can_be_taken_out(live, trueup):
    trueup.made("derive", "bare", "--from", "blouse")
    assert live.ask("drop-form", node="bare").line["refused"] == "bare has no step of its own yet."


def test_deriving(show, trueup, other):
    opened = ask_for(show, "pattern/blouse", "derive")
    opened.page.fill("form.step [name=name]", "tunic")
    opened.page.check("[name=piece][value=front]")
    opened.page.check("[name=piece][value=back]")
    record(opened)
    other.made("derive", "tunic", "--from", "blouse:front,back")
    assert same(trueup, other)


def test_a_name_that_is_taken_is_refused_in_the_command_s_sentence(show, trueup, other):
    before = trueup.contents()
    page = ask_for(show, "pattern/blouse", "derive").page
    page.fill("form.step [name=name]", "vest")
    page.click("form.step .record")
    refused = page.wait_for_selector("form.step .refused:not(:empty)").inner_text()
    said = other("derive", "vest", "--from", "blouse").err
    assert refused in " ".join(said.split())
    assert trueup.contents() == before


def test_cutting(show, trueup, other):
    opened = ask_for(show, "pattern/blouse", "cut")
    opened.page.fill("form.step [name=fabric]", "lawn")
    opened.page.fill("form.step [name=wearer]", "Ada")
    opened.page.click("text=Edges that cannot be opened")
    opened.page.check("[name=edge][value='front.neck']")
    record(opened)
    other.made(
        *("cut", "blouse", "--fabric", "lawn", "--wearer", "Ada"),
        *("--stitched-down", "front.neck"),
    )
    assert same(trueup, other)


def test_how_far_a_garment_has_come(show, trueup, other):
    opened = ask_for(show, "garment/tea-blouse", "status")
    opened.page.select_option("[name=status]", "worn")
    opened.page.fill("form.step [name=why]", "opening night")
    record(opened)
    other.made("garment", "tea-blouse", "--status", "worn", "--why", "opening night")
    assert same(trueup, other)


def test_going_back_without_a_reason_is_refused_in_the_command_s_sentence(live, trueup, other):
    for each in (trueup, other):
        each.made("garment", "tea-blouse", "--status", "worn")
    version = live.ask("view", address="start").line["version"]
    asked = {"garment": "tea-blouse", "status": "cut", "version": version}
    refused = live.ask("status", **asked).line["refused"]
    assert refused in " ".join(other("garment", "tea-blouse", "--status", "cut").err.split())


def test_a_sheet_is_handed_over_and_nothing_is_written(show, trueup, tmp_path):
    before = trueup.contents()
    opened = show("pattern/blouse")
    page = opened.page
    page.click("button.sheet")
    page.fill("[name=paper]", "letter")
    with page.expect_download() as found:
        page.click("text=Make the PDF")
    page.wait_for_selector("text=was handed over")
    opened.require_accessible()
    assert found.value.suggested_filename == "blouse.pdf"
    here = tmp_path / "here.pdf"
    found.value.save_as(here)
    there = tmp_path / "there.pdf"
    trueup.made("sheet", "blouse", str(there), "--paper", "letter")
    assert here.read_bytes() == there.read_bytes()
    assert trueup.contents() == before


def test_a_paper_there_is_not_is_refused_in_the_command_s_sentence(live, other, tmp_path):
    refused = live.ask("sheet", node="blouse", paper="large").line["refused"]
    said = other("sheet", "blouse", str(tmp_path / "x.pdf"), "--paper", "large").err
    assert refused in " ".join(said.split())


@pytest.mark.parametrize(
    ("action", "told"),
    [
        ("drop", {"node": "blouse", "step": "x"}),
        ("amend", {"node": "blouse", "step": "x", "values": {"by": "1cm"}}),
        ("derive", {"node": "blouse", "name": "tunic"}),
        ("cut", {"node": "blouse"}),
        ("status", {"garment": "tea-blouse", "status": "worn"}),
        ("note", {"garment": "tea-blouse", "symptom": "armhole-binds", "place": "bust"}),
        ("resolve", {"garment": "tea-blouse", "note": "x"}),
        ("decide", {"conflict": "x", "remedy": "accept"}),
    ],
)
def test_no_step_is_taken_on_a_version_that_was_not_shown(live, trueup, action, told):
    before, made = trueup.contents(), steps(trueup)
    old = live.ask("view", address="start").line["version"]
    trueup.made("style", "own", "lower-neck", "--piece", "front", "--by", "3mm")
    answer = live.ask(action, version=old, **told).line
    assert "own" in answer["moved"]
    assert steps(trueup) == made + 1
    assert trueup.contents() != before
