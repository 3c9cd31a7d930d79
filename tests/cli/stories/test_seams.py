"""Seams as they are sewn, through the real command: by halves, over a vent, gathered."""

from pathlib import Path

import pytest

from tests.cli.conftest import Trueup, run

BODY = ("--bust", "88", "--waist", "68", "--back-length", "38", "--sleeve-length", "54")
SCOOP = ("correct", "village", "scoop-armhole", "--piece", "front")


@pytest.fixture
def village(tmp_path: Path) -> Trueup:
    """A wardrobe in centimetres with a drafted block and a blouse derived from it."""
    folder = tmp_path / "wardrobe"
    assert run("start", str(folder), "--unit", "cm").code == 0
    trueup = Trueup(folder)
    trueup.made("draft", "village", *BODY)
    trueup.made("derive", "blouse", "--from", "village")
    return trueup


def halves(trueup: Trueup, node: str) -> dict[str, float]:
    (cap,) = trueup.made("walk", node, "armhole-seam", "--json").document["seams"]
    return {part["name"]: part["ease_mm"] for part in cap["sections"]}


def test_each_half_of_the_cap_is_walked_and_refitted_to_its_half_of_the_armhole(village: Trueup):
    drafted = halves(village, "village")
    village.made(*SCOOP, "--by", "12mm")
    walked = village.made("walk", "village").out
    assert "front" in walked
    assert "! outside" in walked
    assert halves(village, "village")["back"] == pytest.approx(drafted["back"], abs=0.01)

    (conflict,) = village("conflicts", "village", "--json").document["conflicts"]
    assert conflict["section"] == "front"
    assert conflict["allowed_mm"] == [10.0, 18.0]
    remedy = conflict["remedies"][0]
    promised = {each["name"]: each["after_mm"] for each in remedy["effects"]}
    village.made("decide", conflict["id"], remedy["name"])
    now = halves(village, "village")
    assert now["front"] == pytest.approx(promised["ease of front"], abs=0.01)
    assert now["back"] == pytest.approx(promised["ease of back"], abs=0.01)
    assert now["front"] == pytest.approx(drafted["front"], abs=1.5)
    (biceps,) = (
        village.made("measure", "village", "sleeve.biceps-width", "--json")
        .document["measures"]
        .values()
    )
    assert biceps == pytest.approx(promised["sleeve.biceps-width"], abs=0.01)
    for node in ("village", "blouse"):
        assert village("check", node).code == 0


def test_a_cap_right_in_all_but_not_in_front_is_not_called_true(village: Trueup):
    village.made(*SCOOP, "--by", "8mm")
    cap = village.made("walk", "village", "armhole-seam", "--json").document["seams"][0]
    assert cap["matches"]
    answer = village("check", "village")
    assert answer.code == 1
    assert "Its front part" in answer.out


def test_a_crown_notch_moved_leaves_the_cap_as_it_is(village: Trueup):
    village.made(*SCOOP, "--by", "6mm")
    before = village.made("measure", "village", "sleeve.cap", "--json").document
    whole = sum(halves(village, "village").values())
    village.made("correct", "village", "refit-cap", "--notch")
    assert village.made("measure", "village", "sleeve.cap", "--json").document == before
    assert sum(halves(village, "village").values()) == pytest.approx(whole, abs=0.01)
    assert village("check", "village").code == 0


def test_a_back_longer_over_a_vent_is_meant_and_still_checked(village: Trueup):
    village.made("style", "blouse", "true-hem", "--piece", "back", "--by", "1cm")
    assert village("check", "blouse").code == 1
    vent = ("--seam", "side-seam", "--low", "-2cm", "--high", "0cm")
    village.made("style", "blouse", "state-ease", *vent, "--why", "it falls over a vent")
    assert village("check", "blouse").code == 0
    walked = village.made("walk", "blouse", "side-seam").out
    assert "-2 cm to 0 cm" in walked
    assert "+ matches" in walked
    assert "it falls over a vent" in village.made("history", "blouse").out
    # What a correction of the block makes of it is asked about where it goes beyond.
    village.made("correct", "village", "true-hem", "--piece", "back", "--by", "20mm")
    assert village("check", "blouse").code == 1


def test_a_correction_that_eats_the_gathers_is_a_conflict(village: Trueup):
    village.made("derive", "puff", "--from", "village")
    gathers = ("--by", "60mm", "--gathers", "45mm")
    village.made("style", "puff", "widen-sleeve", *gathers)
    assert village("check", "puff").code == 0
    village.made("correct", "village", "lower-armhole", "--by", "20mm")
    (cap,) = village.made("walk", "puff", "armhole-seam", "--json").document["seams"]
    # As much as a plain cap may have at the least, yet less than what is to be gathered.
    assert 25 < cap["ease_mm"] < cap["allowed_mm"][0] - 1.6
    assert cap["allowed_mm"][0] == pytest.approx(25 + 45, abs=3)
    (conflict,) = village("conflicts", "puff", "--json").document["conflicts"]
    assert conflict["arose_at"] == "puff"
    village.made("decide", village_conflict(village), "refit-cap")
    assert village("check", "puff").code == 0


def village_conflict(trueup: Trueup) -> str:
    (conflict,) = trueup("conflicts", "village", "--json").document["conflicts"]
    return str(conflict["id"])


def test_what_lies_within_tolerance_is_said_as_such(village: Trueup):
    village.made("style", "blouse", "true-hem", "--piece", "back", "--by", "1mm")
    walked = village.made("walk", "blouse", "side-seam").out
    assert "within tolerance" in walked
    (side,) = village.made("walk", "blouse", "side-seam", "--json").document["seams"]
    assert side["within_tolerance"]
    assert side["tolerance_mm"] == pytest.approx(1.6)
