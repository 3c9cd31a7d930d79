"""A blouse with a princess line and a yoke: what a maker does with it, through the real command."""

from pathlib import Path

import pytest

from tests.cli.conftest import Trueup, run

BODY = ("--bust", "88cm", "--waist", "68cm", "--back-length", "41cm", "--sleeve-length", "58cm")
PRINCESS = (
    *("cut-apart", "--piece", "front", "--line", "princess"),
    *("--begins", "armhole", "--ends", "hem", "--through", "bust waist"),
)
YOKE = (
    *("cut-apart", "--piece", "back", "--line", "yoke"),
    *("--begins", "armhole", "--at", "40% from shoulder-point"),
    *("--ends", "centre", "--ends-at", "25% from neck-centre"),
)


@pytest.fixture
def village(tmp_path: Path) -> Trueup:
    """A wardrobe in millimetres: a block, a blouse in four parts of a bodice, a dress below it."""
    folder = tmp_path / "wardrobe"
    assert run("start", str(folder), "--unit", "mm").code == 0
    trueup = Trueup(folder)
    trueup.made("draft", "village", *BODY)
    trueup.made("derive", "blouse", "--from", "village")
    trueup.made("style", "blouse", *PRINCESS)
    trueup.made("style", "blouse", *YOKE)
    trueup.made("derive", "dress", "--from", "blouse")
    return trueup


def verdicts(trueup: Trueup, *words: str) -> dict[str, str]:
    found = trueup("correct", "village", *words, "--preview", "--json")
    return {each["name"]: each["verdict"] for each in found.document["patterns"]}


def measured(trueup: Trueup, node: str, name: str) -> float:
    (value,) = trueup.made("measure", node, name, "--json").document["measures"].values()
    return float(value)


def test_a_cut_pattern_is_true_and_measured_across_its_seams(village: Trueup):
    assert village.made("check", "blouse").code == 0
    for name in ("front.armhole", "back.armhole", "front.bust.intake", "back.chest-width"):
        assert measured(village, "blouse", name) == pytest.approx(
            measured(village, "village", name)
        )
    parts = (
        measured(village, "blouse", "front-side.armhole"),
        measured(village, "blouse", "front-centre.armhole"),
    )
    assert sum(parts) == pytest.approx(measured(village, "blouse", "front.armhole"))


@pytest.mark.parametrize(
    ("words", "measure", "by"),
    [
        (("shorten-shoulder", "--by", "5mm"), "front.shoulder", -5.0),
        (("deepen-dart", "--dart", "front.bust", "--by", "4mm"), "front.bust.intake", 4.0),
        (("deepen-dart", "--dart", "front.waist", "--by", "4mm"), "front.waist.intake", 4.0),
        (("lower-armhole", "--by", "6mm"), "back.side", -6.0),
        (("lower-neck", "--piece", "front", "--by", "6mm"), "front.neck-depth", 6.0),
    ],
)
def test_corrections_of_the_block_reach_the_parts(
    village: Trueup, words: tuple[str, ...], measure: str, by: float
):
    before = measured(village, "dress", measure)
    village.made("correct", "village", *words, "--why", "seen on the body")
    assert measured(village, "dress", measure) == pytest.approx(before + by, abs=0.05)


def test_what_a_parts_own_line_overwrites_is_lost_and_says_so(village: Trueup):
    drawn = ("redraw-edge", "--edge", "front.side", "--through", "50%:4mm")
    assert verdicts(village, *drawn) == {"blouse": "carried", "dress": "carried"}
    own = ("redraw-edge", "--edge", "front-side.side", "--through", "50%:-3mm")
    village.made("style", "dress", *own)
    found = verdicts(village, *drawn)
    assert found["blouse"] == "carried"
    assert found["dress"] in ("lost", "conflict")
    document = village("correct", "village", *drawn, "--preview", "--json").document
    (dress,) = (each for each in document["patterns"] if each["name"] == "dress")
    assert [each["verdict"] for each in dress["corrections"]] == ["lost"]


def test_a_step_of_the_whole_below_the_cut_is_made_on_both_parts(village: Trueup):
    side, centre = (measured(village, "dress", f"front-{p}.hem") for p in ("side", "centre"))
    village.made("style", "dress", "add-ease", "--by", "20mm")
    assert measured(village, "dress", "front-side.hem") == pytest.approx(side + 5.0, abs=0.05)
    assert measured(village, "dress", "front-centre.hem") == pytest.approx(centre)
    assert village("check", "dress").code == 0


def test_cut_cloth_is_altered_along_the_seam_of_its_parts(village: Trueup):
    village.made("style", "dress", "seam-allowance", "--piece", "front", "--by", "15mm")
    village.made("cut", "dress", "--name", "linen", "--wearer", "A")
    deeper = ("deepen-dart", "--dart", "front.bust", "--by", "6mm", "--why", "gapes")
    village.made("correct", "village", *deeper)
    answer = village("alter", "linen", "--json").document
    asked = {each["edge"] for piece in answer["pieces"] for each in piece["edges"]}
    assert {"front-side.princess", "front-side.armhole"} <= asked
    told = village("alter", "linen").out
    assert "Open the front princess seam." in told
    assert "Sew the front princess seam." in told


def test_cloth_that_was_cut_whole_is_compared_with_the_whole(village: Trueup):
    village.made("derive", "plain", "--from", "village")
    village.made("style", "plain", "seam-allowance", "--piece", "front", "--by", "15mm")
    village.made("cut", "plain", "--name", "silk", "--wearer", "B")
    village.made("style", "plain", *PRINCESS)
    village.made(
        "correct", "plain", "lower-neck", "--piece", "front", "--by", "6mm", "--why", "tight"
    )
    answer = village("alter", "silk", "--json").document
    asked = {each["edge"] for piece in answer["pieces"] for each in piece["edges"]}
    assert "front.neck" in asked
    assert (answer["not_cut"], answer["not_wanted"]) == ([], [])
    assert village("alter", "silk", "--picture", str(village.folder.parent / "silk.svg")).code == 0


def test_a_style_seam_that_came_out_uneven_is_decided_and_trued(village: Trueup):
    own = ("redraw-edge", "--edge", "front-centre.princess", "--through", "50%:3mm")
    village.made("style", "blouse", *own)
    (found,) = village("check", "blouse", "--json").document["findings"]
    (conflict,) = village("conflicts", found["id"], "--json").document["conflicts"]
    assert [each["name"] for each in conflict["remedies"]] == [
        "true-line", "true-line-of-front-side", "accept",
    ]  # fmt: skip
    village.made("decide", found["id"], "true-line", "--why", "the hem takes it up")
    assert village("check", "blouse").code == 0
    assert village("check", "dress").code == 0


def test_side_seams_of_cut_pieces_are_trued_at_the_hem_of_the_whole(village: Trueup):
    village.made("style", "blouse", "true-hem", "--piece", "front", "--by", "6mm")
    (found,) = village("check", "blouse", "--json").document["findings"]
    assert (found["piece"], found["edge"]) == ("front-side", "side")
    (conflict,) = village("conflicts", found["id"], "--json").document["conflicts"]
    assert "true-hem" in [each["name"] for each in conflict["remedies"]]
    village.made("decide", found["id"], "true-hem", "--why", "both as long")
    assert village("check", "blouse").code == 0


def test_where_a_line_came_from_is_found_above_the_cut(village: Trueup):
    origins = {
        each["edge"]: each["node"]
        for each in village.made("origin", "dress", "--json").document["edges"]
    }
    assert origins["front-centre.neck"] == "village"
    assert origins["front-side.princess"] == "blouse"
    assert origins["back-upper.shoulder"] == "village"


def test_what_shaped_a_line_of_a_part_is_told_anywhere(village: Trueup):
    told = village("history", "front-side.princess").out
    assert told.startswith("Style blouse: cut apart")
    nothing = village("history", "front-side.nose")
    assert nothing.code != 0
    assert "not an edge of any block or pattern" in nothing.err


def test_it_is_drawn_exported_and_printed_in_its_parts(village: Trueup, tmp_path: Path):
    for name in ("dress.svg", "dress.dxf", "dress.json"):
        village.made("export", "dress", str(tmp_path / name))
        text = (tmp_path / name).read_text(errors="replace")
        assert "front-side" in text
        assert "back-upper" in text
    village.made("trace", str(tmp_path / "dress.svg"), "copied")
    assert village.made("check", "copied").code == 0
    assert measured(village, "copied", "front.armhole") == pytest.approx(
        measured(village, "dress", "front.armhole")
    )
