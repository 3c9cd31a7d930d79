"""What became of a correction, through the real command, where it was once told wrongly."""

import re
from pathlib import Path
from typing import Any

import pytest

from tests.cli.conftest import Trueup, run

BODY = ("--bust", "88", "--waist", "68", "--back-length", "38", "--sleeve-length", "54")
SCOOP = ("scoop-armhole", "--piece", "front", "--by")
OWN_LINE = "15%:19.9mm 35%:40.1mm 55%:56.8mm 75%:54.1mm 90%:39.0mm"


@pytest.fixture
def store(tmp_path: Path) -> Trueup:
    """A wardrobe in centimetres with a drafted block."""
    folder = tmp_path / "wardrobe"
    assert run("start", str(folder), "--unit", "cm").code == 0
    trueup = Trueup(folder)
    trueup.made("draft", "village", *BODY)
    return trueup


def correct(store: Trueup, *words: str) -> dict[str, Any]:
    """Return by name what became of a correction of the block."""
    document = store.made("correct", "village", *words, "--json").document
    return {each["name"]: each for each in document["patterns"]}


def kinds_open(store: Trueup, node: str) -> list[str]:
    document = store("conflicts", node, "--json").document
    return [each["kind"] for each in document["conflicts"]]


def test_a_hollow_under_a_line_of_its_own_is_not_lost_in_silence(store: Trueup):
    store.made("derive", "blouse", "--from", "village")
    store.made("style", "blouse", "refit-cap", "--to", "30mm")
    store.made("style", "blouse", "redraw-edge", "--edge", "front.armhole", "--through", OWN_LINE)
    blouse = correct(store, *SCOOP, "6mm", "--at", "88% from shoulder-point")["blouse"]
    assert [each["verdict"] for each in blouse["corrections"]] == ["lost"]
    assert blouse["verdict"] == "lost"
    assert "both-shaped" in kinds_open(store, "blouse")


def test_a_tip_that_moved_on_a_longer_pattern_is_carried_and_nothing_doubles_it(store: Trueup):
    store.made("derive", "tunic", "--from", "village")
    store.made("style", "tunic", "lengthen", "--by", "20")
    moved = correct(store, "move-apex", "--dart", "front.waist", "--by", "1")["tunic"]
    assert (moved["verdict"], moved["conflicts"]) == ("carried", [])
    released = correct(store, "release-dart", "--dart", "back.waist")["tunic"]
    assert (released["verdict"], released["conflicts"]) == ("carried", [])
    assert store("check", "tunic").code in (0, 3)


def test_a_dart_deepened_where_it_was_turned_to_the_shoulder_is_carried(store: Trueup):
    store.made("derive", "turned", "--from", "village")
    to = ("--edge", "front.shoulder", "--at", "50% from neck-point")
    store.made("style", "turned", "rotate-dart", "--dart", "front.bust", *to)
    deeper = correct(store, "deepen-dart", "--dart", "front.bust", "--by", "8mm")["turned"]
    assert [each["verdict"] for each in deeper["corrections"]] == ["carried"]


def test_what_two_blocks_both_scoop_is_doubled_only_where_it_comes_from(store: Trueup):
    store.made("derive", "puff", "--from", "village")
    store.made("derive", "dress", "--from", "village:front,back", "--from", "puff:sleeve")
    store.made("correct", "dress", *SCOOP, "5mm")
    (dress,) = store.made("correct", "puff", *SCOOP, "5mm", "--json").document["patterns"]
    assert dress["verdict"] != "doubled"
    assert "doubled" not in kinds_open(store, "dress")
    assert correct(store, *SCOOP, "3mm")["dress"]["verdict"] == "doubled"
    assert "doubled" in kinds_open(store, "dress")


def test_a_dart_turned_to_where_the_tape_lies_stops_no_step(store: Trueup):
    store.made("derive", "low", "--from", "village")
    to = ("--edge", "front.side", "--at", "25% from underarm")
    store.made("style", "low", "rotate-dart", "--dart", "front.bust", *to)
    store.made("correct", "low", "lower-armhole", "--by", "1")
    low = correct(store, "lower-armhole", "--by", "1")["low"]
    assert low["verdict"] in ("carried", "doubled", "conflict")


def test_a_promotion_that_moves_nothing_to_be_seen_is_not_refused(store: Trueup):
    store.made("derive", "turned", "--from", "village")
    to = ("--edge", "front.side", "--at", "35% from underarm")
    store.made("style", "turned", "rotate-dart", "--dart", "front.bust", *to)
    store.made("correct", "turned", *SCOOP, "1mm")
    step = store.step_of("turned")
    said = store.made("promote", "turned", step, "--to", "village").out
    assert "0.00" not in said
    assert "comes out as it was" in said


def test_shoulder_seams_made_uneven_are_evened_by_the_remedy_that_comes_first(store: Trueup):
    store.made("correct", "village", "deepen-dart", "--dart", "back.shoulder", "--by", "5mm")
    (conflict,) = store("conflicts", "village", "--json").document["conflicts"]
    assert conflict["kind"] == "seam"
    store.made("decide", conflict["id"], conflict["remedies"][0]["name"])
    assert store("check", "village").code == 0


def drawn_out_as_it_once_was(store: Trueup, node: str, by: str) -> None:
    """Make its longer shoulder one that an earlier trueup drew, so long that the armhole waves."""
    file = store.folder / f"patterns/{node}.toml"
    was = re.search(r'version = 3\nby = "-[0-9.]+ ?[a-z]+"', file.read_text().split("shorten")[1])
    assert was
    file.write_text(file.read_text().replace(was.group(), f'version = 2\nby = "-{by}"'))


def test_what_arrives_in_part_is_asked_about_though_repeating_brings_no_more(store: Trueup):
    store.made("derive", "tabard", "--from", "village")
    for kind, by in (
        ("slope-shoulder", "-25mm"),
        ("shorten-shoulder", "-40mm"),
        ("lower-armhole", "40mm"),
    ):
        store.made("style", "tabard", kind, "--by", by)
    drawn_out_as_it_once_was(store, "tabard", "60mm")
    tabard = correct(store, *SCOOP, "10mm")["tabard"]
    assert [each["verdict"] for each in tabard["corrections"]] == ["partly"]
    found = store("conflicts", "tabard", "--json").document["conflicts"]
    (conflict,) = (each for each in found if each["kind"] == "both-shaped")
    assert [each["name"] for each in conflict["remedies"]] == ["accept", "hold"]
    store.made("decide", conflict["id"], "accept", "--why", "its own line is wide enough")
    assert "both-shaped" not in kinds_open(store, "tabard")


def test_of_a_line_drawn_anew_every_correction_has_a_conflict_or_a_reason(store: Trueup):
    # A fitting of an armhole drawn by hand, a shorter shoulder and a scoop, over lines of its own.
    store.made("derive", "smock", "--from", "village")
    store.made("style", "smock", "lower-armhole", "--by", "12mm")
    store.made("style", "smock", "shorten-shoulder", "--by", "-8mm")
    fitting = store.folder.parent / "fitting.toml"
    fitting.write_text(
        '[[corrections]]\nkind = "redraw-edge"\nedge = "front.armhole"\n'
        'through = "30%:20mm 70%:34mm"\n'
        '[[corrections]]\nkind = "shorten-shoulder"\nby = "4mm"\n'
        '[[corrections]]\nkind = "scoop-armhole"\npiece = "front"\nby = "3mm"\n'
    )
    smock = correct(store, "--from", str(fitting))["smock"]
    for each in smock["corrections"]:
        assert each["verdict"] == "carried" or each["note"]
