"""A style change tried on the page of a pattern and recorded: any kind, as the command does it."""

import shlex

import pytest
from playwright.sync_api import expect

from tests.cli.conftest import Trueup
from tests.live.running import running
from tests.live.test_recording import files, told
from tests.live.test_trying import press_until_focused, shown_verdicts, verdicts
from tests.live.window import WAITS, window
from tests.sharing.copied import copied
from trueup.geometry.changes import kinds

PHONE = {"viewport": {"width": 360, "height": 740}, "is_mobile": True, "has_touch": True}

SIZES = """() => Array.from(document.querySelectorAll('.pick text'), (text) => {
  const drawn = text.getScreenCTM();
  return parseFloat(getComputedStyle(text).fontSize) * Math.hypot(drawn.a, drawn.b);
})"""


def test_from_the_page_of_a_pattern_to_a_recorded_style_change(browser, live, trueup: Trueup):
    with window(browser, live, viewport={"width": 1400, "height": 1000}) as seen:
        page = seen.page
        seen.turn_to("pattern/easy")
        page.get_by_role("link", name="Try a style change").click()
        expect(page.get_by_role("heading", level=1)).to_have_text("Try a style change of easy")
        page.locator("select[name=line]").select_option("front.neck")
        # What changes no neck is offered as well, by what it is about, and each kind once.
        expect(page.locator("optgroup[label='Made for this line']")).to_have_count(1, timeout=WAITS)
        assert page.locator("optgroup[label='Skirt and pleat']").count() == 1
        offered = page.locator("select[name=kind] option[value]:not([value=''])")
        names = offered.evaluate_all("all => all.map(each => each.value)")
        assert sorted(names) == sorted(kinds())
        first = page.locator("select[name=kind] optgroup").first.locator("option")
        assert "lower-neck" in first.evaluate_all("all => all.map(each => each.value)")
        page.get_by_label("Change").select_option("lower-neck")
        seen.wait_until_told()
        page.get_by_role("textbox", name="by").fill("1.5")
        seen.wait_until_told()
        words = ("style", "easy", "lower-neck", "--piece", "front", "--by", "1.5cm")
        previewed = trueup.made(*words, "--preview", "--json").document
        assert shown_verdicts(page) == verdicts(previewed)
        # The pattern itself is drawn as it would become, and no note is offered to be mended.
        expect(page.locator(".own .picture")).to_have_count(1, timeout=WAITS)
        expect(page.locator(".mends")).to_have_count(0)
        page.get_by_label("Why").fill("it sat too high")
        page.get_by_role("button", name="Record this style change").click()
        expect(page.locator(".meanwhile")).to_contain_text("Recorded as", timeout=WAITS)
        expect(page.locator(".meanwhile")).to_contain_text(
            shlex.join(("trueup", *words, "--why", "it sat too high"))
        )


def test_a_change_of_no_line_is_made_by_keys_alone(browser, live, trueup: Trueup):
    with window(browser, live) as seen:
        page = seen.page
        seen.turn_to("style/blouse")
        expect(page.get_by_label("Change")).to_be_enabled(timeout=WAITS)
        press_until_focused(page, page.get_by_label("Change"))
        page.keyboard.type("release")
        dart = page.get_by_label("dart", exact=True)
        expect(dart).to_be_visible(timeout=WAITS)
        press_until_focused(page, dart)
        page.keyboard.type("front.bust")
        press_until_focused(page, page.get_by_label("Why"))
        page.keyboard.type("gathers")
        seen.wait_until_told()
        press_until_focused(page, page.get_by_role("button", name="Record this style change"))
        page.keyboard.press("Enter")
        expect(page.locator(".meanwhile")).to_be_focused(timeout=WAITS)
    assert "gathers" in trueup.made("history", "blouse").out


@pytest.mark.parametrize("line", ["", "front.armhole"])
def test_every_kind_of_change_can_be_chosen_with_controls_of_its_own(shared, line):
    groups = shared.ask("kinds", node="blouse", line=line).line["groups"]
    offered = [name for _, found in groups for name, _ in found]
    assert sorted(offered) == sorted(kinds())
    for name in offered:
        told_form = shared.ask("form", node="blouse", line=line, kind=name).line
        assert "refused" not in told_form, (name, told_form)


@pytest.mark.parametrize(
    "change",
    [
        {"node": "blouse", "kind": "lower-neck", "values": {"piece": "front", "by": "1"}},
        {"node": "village", "kind": "lengthen", "values": {"by": "2", "flare": "1"}},
        {"node": "own", "kind": "lengthen", "values": {"by": "1/2in"}, "why": "-shorter; `rm`"},
        {"node": "vest", "kind": "release-dart", "values": {"dart": "back.shoulder"}},
    ],
    ids=str,
)
def test_a_recorded_style_change_equals_that_of_the_command_shown(wardrobe, change, tmp_path):
    copy = tmp_path / "copy"
    copied(wardrobe, copy)
    asked = {**change, "is_style": True}
    with running(wardrobe, "--no-browser") as live:
        version = live.ask("preview", change=asked).lines[0]["version"]
        answer = live.ask("record", change=asked, version=version).line
    assert "recorded" in answer, answer
    words = shlex.split(answer["command"])
    assert words[:2] == ["trueup", "style"]
    Trueup(copy).made(*words[1:])
    assert files(wardrobe) == files(copy)
    assert told(wardrobe) == told(copy)


def test_what_cannot_be_done_is_told_in_the_command_s_sentence(live, trueup):
    values = {"piece": "front", "by": "60cm"}
    change = {"node": "blouse", "kind": "lower-neck", "values": values, "is_style": True}
    lines = live.ask("preview", change=change).lines
    answer = trueup("style", "blouse", "lower-neck", "--piece", "front", "--by", "60cm")
    assert lines[-1]["refused"] == answer.err.strip()
    assert not any("row" in line for line in lines)


@pytest.mark.parametrize("page", ["try", "style"])
@pytest.mark.parametrize("how", [PHONE, {"viewport": {"width": 1400, "height": 900}}], ids=str)
def test_names_of_pieces_are_never_under_eleven_pixels(browser, shared, page, how):
    with window(browser, shared, **how) as seen:
        seen.turn_to(f"{page}/blouse/sleeve.cap")
        sizes = seen.page.evaluate(SIZES)
        assert len(sizes) >= 3
        assert min(sizes) >= 11
        # The piece whose line was picked is in view.
        expect(seen.page.locator(".pick path.marked").first).to_be_in_viewport(timeout=WAITS)
