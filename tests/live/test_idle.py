"""What may be asked for next is worked out while nothing is asked, and keeps nobody waiting."""

import json
import time

import pytest
from playwright.sync_api import expect

from tests.live.running import HANGS
from tests.live.slow import slowly
from tests.live.window import WAITS, window

BELOW = {"easy", "blouse", "vest", "own"}


def scoop(by):
    values = {"piece": "front", "by": by}
    return {"node": "village", "kind": "scoop-armhole", "values": values}


def near(*amounts):
    return [scoop(by)["values"] for by in amounts]


class Judged:
    """How often it was worked out what becomes of a step in a pattern."""

    def __init__(self, file):
        self.file = file

    @property
    def times(self):
        return len(self.file.read_text().split()) if self.file.exists() else 0

    def wait_for(self, times):
        for _ in range(int(HANGS * 20)):
            if self.times >= times:
                return
            time.sleep(0.05)
        raise AssertionError(f"{self.times} instead of {times}")


@pytest.fixture
def judged(tmp_path):
    return Judged(tmp_path / "judged")


def rows(lines):
    return {line["row"] for line in lines if "row" in line}


def test_a_neighbouring_amount_is_there_already_when_it_is_asked_for(wardrobe, judged):
    with slowly(wardrobe, 0.0, judged.file) as live:
        live.ask("preview", change=scoop("0.5"))
        once = judged.times
        assert once == len(BELOW)
        live.ask("preview", change=scoop("0.6"), near=near("0.7", "0.8"))
        judged.wait_for(4 * once)
        plain = live.ask("preview", change=scoop("0.7")).lines
        assert judged.times == 4 * once
        assert rows(plain) == BELOW
        assert plain[-1] == {"whole": True}
        # One that was not near has to be worked out.
        live.ask("preview", change=scoop("0.9"))
        assert judged.times == 5 * once


def test_what_was_worked_out_before_says_what_is_worked_out_now(wardrobe, judged, tmp_path):
    with slowly(wardrobe, 0.0, judged.file) as live:
        live.ask("preview", change=scoop("0.6"), near=near("0.7"))
        judged.wait_for(2 * len(BELOW))
        before = live.ask("preview", change=scoop("0.7")).lines
    with slowly(wardrobe, 0.0) as live:
        now = live.ask("preview", change=scoop("0.7")).lines
    assert before == now


def test_whoever_asks_for_something_else_does_not_wait_for_it(wardrobe, judged):
    with slowly(wardrobe, 0.3, judged.file) as live:
        amounts = ("0.7", "0.8", "0.9", "1", "1.1", "1.2")
        live.ask("preview", change=scoop("0.6"), near=near(*amounts))
        judged.wait_for(len(BELOW) + 1)
        assert "village" in live.ask("view", address="start").line["content"]
        seen = judged.times
        assert seen < 3 * len(BELOW)
        # It was given up, and is not taken up again by itself.
        live.ask("now", version="")
        time.sleep(1.0)
        assert judged.times <= seen + 1


def test_a_page_that_follows_the_wardrobe_lets_it_be_worked_out(wardrobe, judged):
    with slowly(wardrobe, 0.3, judged.file) as live:
        live.ask("preview", change=scoop("0.6"), near=near("0.7", "0.8"))
        judged.wait_for(len(BELOW) + 1)
        live.ask("now", version="")
        judged.wait_for(3 * len(BELOW))


def test_of_a_wardrobe_that_moved_on_nothing_worked_out_before_is_shown(wardrobe, trueup, judged):
    with slowly(wardrobe, 0.0, judged.file) as live:
        live.ask("preview", change=scoop("0.6"), near=near("0.7"))
        judged.wait_for(2 * len(BELOW))
        trueup.made("derive", "gown", "--from", "village")
        lines = live.ask("preview", change=scoop("0.7")).lines
        assert rows(lines) == {*BELOW, "gown"}


def test_the_page_asks_for_the_steps_on_both_sides_of_its_slider(browser, wardrobe, judged):
    with slowly(wardrobe, 0.0, judged.file) as live, window(browser, live) as seen:
        seen.pick("village", "front.armhole", "scoop-armhole")
        with seen.page.expect_request("**/preview") as asked:
            seen.page.get_by_role("textbox", name="by").fill("0.6")
        told = json.loads(asked.value.post_data)
        assert [each["by"] for each in told["near"]] == ["0.7", "0.5", "0.8", "0.4"]
        expect(seen.page.locator(".rows .unfinished")).to_have_count(0, timeout=WAITS)
        judged.wait_for(5 * len(BELOW))
        before = judged.times
        seen.page.get_by_role("textbox", name="by").press("ArrowUp")
        expect(seen.page.get_by_role("textbox", name="by")).to_have_value("0.7")
        seen.wait_until_told()
        expect(seen.page.locator(".rows .unfinished")).to_have_count(0, timeout=WAITS)
        rows_told = seen.page.locator(".rows .amounts").all_inner_texts()
        assert any("0.7 cm" in each for each in rows_told)
        assert before >= 5 * len(BELOW)
