"""A pattern whose left and right differ, by the command: corrected, decided, cut and printed."""

import re

import pytest

from tests.cli.conftest import Trueup, run

BODY = ("--bust", "88", "--waist", "68", "--back-length", "38", "--sleeve-length", "54")


@pytest.fixture
def store(tmp_path_factory: pytest.TempPathFactory) -> Trueup:
    """A store with a block, and a blouse whose neck is drawn otherwise on the left."""
    made = Trueup(tmp_path_factory.mktemp("sides") / "store")
    assert run("start", str(made.folder), "--unit", "cm").code == 0
    made.made("draft", "village", *BODY)
    made.made("derive", "blouse", "--from", "village")
    neck = ("--edge", "front.neck", "--through", "50%:1.5cm")
    made.made("style", "blouse", "redraw-edge", *neck, "--side", "left")
    return made


def measured(store: Trueup, *names: str, node: str = "blouse") -> list[float]:
    found = store.made("measure", node, *names, "--json").document["measures"]
    return [found[name] for name in names]


def test_a_correction_of_the_block_reaches_both_sides(store: Trueup) -> None:
    names = ("left-front.shoulder", "right-front.shoulder", "left-front.neck", "right-front.neck")
    before = measured(store, *names)
    told = store.made("correct", "village", "shorten-shoulder", "--by", "6mm", "--json").document
    (pattern,) = told["patterns"]
    assert pattern["verdict"] == "carried"
    assert {each["name"] for each in pattern["measures"]} == {*names[:2], "back.shoulder"}
    changes = [now - then for now, then in zip(measured(store, *names), before, strict=True)]
    assert changes == pytest.approx([-6, -6, 0, 0], abs=0.02)


def test_what_one_side_overwrote_is_carried_in_part(store: Trueup) -> None:
    armhole = ("--edge", "front.armhole", "--through", "30%:20mm 70%:36mm")
    store.made("style", "blouse", "redraw-edge", *armhole, "--side", "right")
    hollow = ("scoop-armhole", "--piece", "front", "--by", "6mm")
    told = store("correct", "village", *hollow, "--json").document
    (pattern,) = told["patterns"]
    got = {each["name"]: each["got_mm"] for each in pattern["measures"]}
    assert got["left-front.armhole.line"] == pytest.approx(-6, abs=0.1)
    assert got["right-front.armhole.line"] == pytest.approx(0, abs=0.1)
    assert pattern["verdict"] == "partly"


def test_a_conflict_of_one_side_is_settled_on_that_side(store: Trueup) -> None:
    left, right = measured(store, "left-front.armhole", "right-front.armhole")
    hollow = ("scoop-armhole", "--piece", "front", "--by", "10mm", "--side", "left")
    store.made("correct", "blouse", *hollow)
    (conflict,) = store("conflicts", "--json").document["conflicts"]
    assert (conflict["piece"], conflict["edge"]) == ("left-sleeve", "cap")
    assert "on the left" in store("conflicts").out
    store.made("decide", conflict["id"], "refit-cap", "--why", "the left arm is forward")
    store.made("check", "blouse")
    now = measured(store, "left-sleeve.cap-ease", "right-sleeve.cap-ease")
    assert now == pytest.approx(now[:1] * 2, abs=0.2)
    assert measured(store, "right-front.armhole") == [right]
    assert measured(store, "left-front.armhole")[0] > left + 5


def test_an_acceptance_stands_when_left_and_right_are_parted(store: Trueup) -> None:
    store.made("derive", "tunic", "--from", "village")
    store.made("style", "tunic", "true-hem", "--piece", "back", "--by", "2cm")
    (found,) = store("check", "tunic", "--json").document["findings"]
    store.made("decide", found["id"], "accept", "--why", "over a vent")
    neck = ("widen-neck", "--by", "1cm", "--side", "right")
    store.made("style", "tunic", *neck)
    told = store.made("check", "tunic").out
    assert told.count("over a vent") == 2
    assert store("conflicts", "tunic", "--json").document["conflicts"] == []

    parting = store("history", "tunic", "--json").document["history"][0]["steps"][0]
    store.made("drop", "tunic", parting)
    assert store.made("check", "tunic").out.count("over a vent") == 1


def test_cloth_cut_for_both_sides_alike_is_answered_for_each(store: Trueup) -> None:
    store.made("derive", "vest", "--from", "village:front,back")
    store.made("style", "vest", "seam-allowance", "--piece", "front", "--by", "1.5cm")
    store.made("cut", "vest", "--wearer", "Ada")
    store.made("style", "vest", "lower-neck", "--piece", "front", "--by", "1cm", "--side", "left")
    found = store.made("alter", "vest-1", "--json").document
    edges = {each["edge"]: each for piece in found["pieces"] for each in piece["edges"]}
    assert edges["left-front.neck"]["taken_in_mm"] == pytest.approx(10, abs=0.5)
    assert edges["right-front.neck"]["stays"]
    assert all("left" in step["says"] for step in found["steps"])
    store.made("garment", "vest-1", "--status", "altered")
    assert "nothing to alter" in store.made("alter", "vest-1").out


def test_it_is_compared_with_how_it_was_before_it_was_parted(store: Trueup) -> None:
    told = store.made("compare", "blouse").out
    assert "left-front.neck" in told
    assert "Only in" not in told


def test_the_sheet_says_which_way_up_each_side_is_cut(store: Trueup) -> None:
    told = store.made("sheet", "blouse", "--cut-list").out
    rows = dict(re.split(r"  +", line)[:2] for line in told.splitlines() if "cut " in line)
    assert rows["left-front"] == "cut 1, print down, in one with right-front"
    assert rows["right-front"] == "cut 1, print up, in one with left-front"
    assert rows["back"] == "cut 2, a pair"
    told = store.made("sheet", "blouse", "--cut-list", "--cloth-width", "140").out
    assert "left and right differ" in told


def test_asked_by_the_shared_name_it_answers_for_both(store: Trueup) -> None:
    assert store.made("measure", "blouse", "front.neck").out.count("front.neck") == 2
    assert store.made("origin", "blouse", "front.neck").out.count("front.neck") >= 2
    assert store.made("walk", "blouse", "side-seam").out.count("-side-seam") == 2
    over_time = store.made("measure", "blouse", "front.neck", "--over-time").out
    assert "left-front.neck" in over_time
    assert "gone" not in over_time


def test_pins_on_one_side_are_corrected_there(store: Trueup) -> None:
    told = store.made("fit-from", "blouse", "--pinned", "left-front.side=8mm").out
    assert "add-ease --by -32mm --side left" in told
    both = ("--pinned", "left-front.side=8mm", "--pinned", "right-front.side=5mm")
    refused = store("fit-from", "blouse", *both)
    assert refused.code == 2
    assert "each by itself" in refused.err


def test_a_child_takes_both_sides_of_a_piece(store: Trueup) -> None:
    store.made("derive", "top", "--from", "blouse:front,back")
    neck = measured(store, "left-front.neck", "right-front.neck", node="top")
    assert neck == measured(store, "left-front.neck", "right-front.neck")
    refused = store("derive", "half", "--from", "blouse:left-front")
    assert refused.code == 2
    assert "Traceback" not in refused.err


def test_a_refusal_names_the_side(store: Trueup) -> None:
    deep = ("lower-neck", "--piece", "front", "--by", "30cm", "--side", "left")
    refused = store("style", "blouse", *deep)
    assert refused.code == 2
    assert "left-front" in refused.err
    unknown = store(
        "style", "blouse", "lower-neck", "--piece", "front", "--by", "1", "--side", "up"
    )
    assert unknown.code == 2
    assert "left" in unknown.err


def test_a_piece_named_by_its_side_is_changed_on_that_side(store: Trueup) -> None:
    before = measured(store, "left-front.neck-depth", "right-front.neck-depth")
    store.made("style", "blouse", "lower-neck", "--piece", "right-front", "--by", "4mm")
    after = measured(store, "left-front.neck-depth", "right-front.neck-depth")
    assert [b - a for a, b in zip(before, after, strict=True)] == pytest.approx([0, 4], abs=0.01)
    told = store.made("history", "blouse").out
    assert "piece front, by 0.4 cm, side right" in told
    assert store("style", "blouse", "lower-neck", "--piece", "left-collar", "--by", "4mm").code == 2
