"""A correction tried and recorded in a browser: by mouse, by keys, on a phone, in large print."""

import shlex

import pytest
from playwright.sync_api import Locator, Page, expect

from tests.browser.accessibility import serious_findings
from tests.cli.conftest import Trueup
from tests.live.slow import slowly
from tests.live.window import WAITS, hold_back_following, window


def on_the_line(path: Locator) -> dict[str, float]:
    """Return a place on a drawn line, in pixels of the window."""
    return path.evaluate(
        """path => {
          const at = path.getPointAtLength(path.getTotalLength() / 3);
          const on = at.matrixTransform(path.getScreenCTM());
          return {x: on.x, y: on.y};
        }"""
    )


def press_until_focused(page: Page, wanted: Locator, key: str = "Tab", most: int = 200) -> None:
    for _ in range(most):
        page.keyboard.press(key)
        if wanted.evaluate("element => element === document.activeElement"):
            return
    raise AssertionError(f"{wanted} is not reached by {key}")


def verdicts(document) -> dict[str, str]:
    """Return the verdict on every pattern, by the command's own preview."""
    return {each["name"]: each["verdict"] for each in document["patterns"]}


def shown_verdicts(page: Page) -> dict[str, str]:
    rows = page.locator(".rows > li")
    names, told = rows.locator("h3").all_inner_texts(), rows.locator(".verdict").all_inner_texts()
    return {name: words.split()[-1] for name, words in zip(names, told, strict=True)}


def test_by_mouse_from_the_page_of_a_block_to_a_recorded_correction(
    browser, live, trueup: Trueup, wardrobe
):
    with window(browser, live, viewport={"width": 1400, "height": 1000}) as seen:
        page = seen.page
        seen.turn_to("block/village")
        line = page.locator(".pattern svg [data-edge='front.armhole'] path").first
        line.scroll_into_view_if_needed()
        at = on_the_line(line)
        page.mouse.click(at["x"], at["y"])
        page.get_by_role("link", name="Try a correction on front.armhole").click()
        expect(page.get_by_role("heading", level=1)).to_have_text("Try a correction of village")
        expect(page.locator("select[name=line]")).to_have_value("front.armhole", timeout=WAITS)
        # Another line is picked in the picture, and then the first one again.
        neck = page.locator(".pick path[id$='.front.neck']")
        at = on_the_line(neck)
        page.mouse.click(at["x"], at["y"])
        expect(page.locator("select[name=line]")).to_have_value("front.neck")
        page.locator("select[name=line]").select_option("front.armhole")
        expect(page.locator("option[value=scoop-armhole]")).to_have_count(1, timeout=WAITS)
        page.get_by_label("Change").select_option("scoop-armhole")
        expect(page.get_by_role("slider")).to_be_visible(timeout=WAITS)
        seen.wait_until_told()
        slider = page.get_by_role("slider")
        box = slider.bounding_box()
        assert box
        page.mouse.move(box["x"] + box["width"] / 2, box["y"] + box["height"] / 2)
        page.mouse.down()
        page.mouse.move(box["x"] + 0.8 * box["width"], box["y"] + box["height"] / 2, steps=5)
        page.mouse.up()
        field = page.get_by_role("textbox", name="by")
        by = field.input_value()
        assert float(by) > 0.5
        seen.wait_until_told()
        expect(page.locator(".rows .picture")).not_to_have_count(0, timeout=WAITS)
        words = ("correct", "village", "scoop-armhole", "--piece", "front", "--by", f"{by}cm")
        previewed = trueup.made(*words, "--preview", "--json").document
        assert shown_verdicts(page) == verdicts(previewed)
        page.get_by_label("Why").fill("it binds")
        expect(page.locator(".keeping code")).to_have_text(
            shlex.join(("trueup", *words, "--why", "it binds")), timeout=WAITS
        )
        page.get_by_role("button", name="Record this correction").click()
        told = page.locator(".meanwhile")
        expect(told).to_contain_text("Recorded as", timeout=WAITS)
        expect(told).to_contain_text("--why 'it binds'")
        told.get_by_role("link", name="What became of it").click()
        expect(page.get_by_role("heading", level=1)).to_contain_text("village", timeout=WAITS)
        expect(page.locator(".why")).to_have_text("it binds")
    assert "it binds" in trueup.made("history").out


def test_by_keys_alone(browser, live, trueup: Trueup):
    with window(browser, live) as seen:
        page = seen.page
        seen.turn_to("block/village")
        press_until_focused(page, page.get_by_role("link", name="Try a correction"))
        page.keyboard.press("Enter")
        expect(page.get_by_role("heading", level=1)).to_have_text("Try a correction of village")
        press_until_focused(page, page.locator("select[name=line]"))
        page.keyboard.type("front.arm")
        expect(page.locator("select[name=line]")).to_have_value("front.armhole")
        expect(page.locator("option[value=scoop-armhole]")).to_have_count(1, timeout=WAITS)
        press_until_focused(page, page.get_by_label("Change"))
        page.keyboard.type("scoop")
        expect(page.get_by_role("slider")).to_be_visible(timeout=WAITS)
        press_until_focused(page, page.get_by_role("slider"))
        page.keyboard.press("ArrowRight")
        field = page.get_by_role("textbox", name="by")
        expect(field).to_have_value("0.6")
        press_until_focused(page, field)
        page.keyboard.press("ArrowUp")
        expect(field).to_have_value("0.7")
        page.keyboard.press("ArrowDown")
        page.keyboard.press("ArrowDown")
        expect(field).to_have_value("0.5")
        press_until_focused(page, page.get_by_label("Why"))
        page.keyboard.type("keys")
        seen.wait_until_told()
        press_until_focused(page, page.get_by_role("button", name="Record this correction"))
        page.keyboard.press("Enter")
        expect(page.locator(".meanwhile")).to_be_focused(timeout=WAITS)
    assert "keys" in trueup.made("history").out


@pytest.mark.parametrize(
    "how",
    [
        {"viewport": {"width": 390, "height": 800}, "is_mobile": True, "has_touch": True},
        {"viewport": {"width": 1280, "height": 900}, "color_scheme": "dark"},
        {"viewport": {"width": 1280, "height": 900}, "forced_colors": "active"},
        {"viewport": {"width": 1400, "height": 900}},
    ],
    ids=["phone", "dark", "forced colours", "desktop"],
)
@pytest.mark.parametrize("letters", ["100%", "200%"])
def test_it_can_be_read_and_used_by_all(browser, shared, how, letters):
    with window(browser, shared, **how) as seen:
        seen.page.evaluate("size => document.documentElement.style.fontSize = size", letters)
        seen.pick("village", "front.armhole", "scoop-armhole")
        page = seen.page
        expect(page.locator(".rows .unfinished")).to_have_count(0)
        assert serious_findings(page) == []
        across = page.evaluate("[document.documentElement.scrollWidth, innerWidth]")
        assert across[0] <= across[1] + 1
        for control in page.locator(".control:visible, .record").all():
            box = control.bounding_box()
            assert box
            assert box["x"] >= 0
            assert box["x"] + box["width"] <= across[1] + 1


@pytest.mark.parametrize("width", [1280, 1400, 1600])
def test_on_a_desk_every_piece_is_seen_at_once_to_one_scale_with_the_choice_below(
    browser, shared, width
):
    with window(browser, shared, viewport={"width": width, "height": 900}) as seen:
        seen.turn_to("try/village")
        drawn = seen.page.locator(".pick svg")
        shown = [each.bounding_box() for each in drawn.all()]
        assert len(shown) == 3
        assert len({round(box["y"] + box["height"]) for box in shown}) == 1
        assert max(box["x"] + box["width"] for box in shown) < width / 2 + 50
        scales = drawn.evaluate_all("drawn => drawn.map(each => each.getScreenCTM().a)")
        assert max(scales) - min(scales) < 1e-3
        expect(seen.page.locator("select[name=line]")).to_be_in_viewport()


def test_a_refusal_stands_beside_the_control_and_nothing_else_is_shown(browser, shared):
    with window(browser, shared) as seen:
        seen.pick("village", "front.armhole", "scoop-armhole")
        seen.page.get_by_role("textbox", name="by").fill("5.9")
        refused = seen.page.locator(".refused")
        expect(refused).to_contain_text("scoop-armhole cannot be done", timeout=WAITS)
        assert seen.page.locator(".rows > li").count() == 0
        assert seen.page.locator(".own").inner_text() == ""
        expect(seen.page.locator("button.record")).to_have_attribute("aria-disabled", "true")
        seen.page.get_by_role("textbox", name="by").fill("0.3")
        seen.wait_until_told()
        expect(refused).to_be_empty()


WATCHING = """() => {
  window.stale = [];
  window.looks = 0;
  window.drawn = 0;
  const look = () => {
    window.looks += 1;
    const by = Number(document.querySelector('input[name=by]')?.value);
    for (const row of document.querySelectorAll('.rows > li:not(.unfinished)')) {
      window.drawn += 1;
      const told = row.querySelector('.amounts')?.textContent;
      const wanted = Number(/ of ([+−-][\\d.]+) cm/.exec(told)?.[1].replace('−', '-'));
      if (wanted !== -by) window.stale.push(`${row.innerText} while ${by}`);
    }
    for (const row of document.querySelectorAll('.rows > li.unfinished')) {
      if (row.querySelector('.verdict, .picture, .amounts')) window.stale.push(row.outerHTML);
    }
    requestAnimationFrame(look);
  };
  look();
}"""


def test_a_stale_answer_is_never_shown_however_slow_it_is_worked_out(browser, wardrobe):
    """Every frame drawn is looked at: a row is of the amount in the field, or it is grey."""
    with slowly(wardrobe, 0.15) as live, window(browser, live) as seen:
        seen.pick("village", "front.armhole", "scoop-armhole")
        page = seen.page
        page.evaluate(WATCHING)
        field = page.get_by_role("textbox", name="by")
        for amount in ("0.6", "0.7", "0.8", "0.9", "0.6", "1.1"):
            field.fill(amount)
            page.wait_for_timeout(350)
        for amount in ("1.2", "0.3", "1.4"):
            field.fill(amount)
        seen.wait_until_told()
        expect(page.locator(".rows .unfinished")).to_have_count(0)
        assert page.evaluate("window.stale") == []
        assert page.evaluate("window.drawn") > 0
        assert page.evaluate("window.looks") > 10


def test_when_another_wrote_it_is_worked_out_anew_and_recorded_on_that(
    browser, live, trueup: Trueup
):
    with window(browser, live) as seen:
        seen.pick("village", "front.armhole", "scoop-armhole")
        page = seen.page
        trueup.made("derive", "gown", "--from", "village")
        expect(page.locator(".meanwhile")).to_contain_text("gown", timeout=WAITS)
        expect(page.locator(".rows h3", has_text="gown")).to_have_count(1, timeout=WAITS)
        seen.wait_until_told()
        page.get_by_role("button", name="Record this correction").click()
        expect(page.locator(".meanwhile")).to_contain_text("Recorded as", timeout=WAITS)


def test_recorded_before_the_page_knew_of_another_step_it_is_refused_and_tried_again(
    browser, live, trueup: Trueup
):
    with window(browser, live) as seen:
        page = seen.page
        hold_back_following(seen.page)
        seen.pick("village", "front.armhole", "scoop-armhole")
        trueup.made("derive", "gown", "--from", "village")
        page.get_by_role("button", name="Record this correction").click()
        expect(page.locator(".refused")).to_contain_text("nothing was recorded", timeout=WAITS)
        expect(page.locator(".rows h3", has_text="gown")).to_have_count(1, timeout=WAITS)
    assert "Correct village" not in trueup.made("history").out
