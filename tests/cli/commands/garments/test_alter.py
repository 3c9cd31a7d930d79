"""trueup alter: what can still be done on a garment that is cut."""

import re
from pathlib import Path
from typing import Any

import pytest

from tests.cli.trouble.test_bad_input import refused
from tests.sharing.beginnings import Beginnings


@pytest.fixture
def cut(trueup: Any, beginnings: Beginnings) -> Any:
    """The wardrobe with a blouse cut from it with allowances, its neck bound."""

    def begin() -> None:
        for piece in ("front", "back", "sleeve"):
            trueup.made("style", "blouse", "seam-allowance", "--piece", piece, "--by", "15mm")
            trueup.made("style", "blouse", "hem-allowance", "--piece", piece, "--by", "40mm")
        trueup.made("cut", "blouse", "--stitched-down", "front.neck")

    beginnings.begin(trueup.folder, begin)
    return trueup


def edges(answer: Any) -> dict[str, Any]:
    return {each["edge"]: each for piece in answer.document["pieces"] for each in piece["edges"]}


def fitting(tmp_path: Path, *corrections: str) -> str:
    file = tmp_path / "fitting.toml"
    file.write_text("\n".join(f"[[corrections]]\n{each}\n" for each in corrections))
    return str(file)


def test_a_garment_of_an_unchanged_pattern_needs_nothing(cut: Any) -> None:
    assert "nothing to alter" in cut.made("alter", "blouse-1").out
    document = cut.made("alter", "blouse-1", "--json").document
    assert document["as_wanted"]
    assert document["steps"] == []


def test_a_corrected_block_reaches_the_cloth(cut: Any) -> None:
    cut.made("correct", "village", "scoop-armhole", "--piece", "front", "--by", "8mm")
    before = cut.contents()
    answer = cut.made("alter", "blouse-1", "--json")
    found = edges(answer)
    assert found["front.armhole"]["possible"] == "can"
    assert found["front.armhole"]["taken_in_mm"] == pytest.approx(8, rel=0.2)
    assert found["back.armhole"]["stays"]
    cap = answer.document["cap"]
    assert cap["ease_before_mm"] - cap["ease_after_mm"] == pytest.approx(
        cap["armhole_after_mm"] - cap["armhole_before_mm"]
    )
    measured = cut.made("measure", "blouse", "sleeve.cap-ease", "--json").document["measures"]
    assert cap["ease_after_mm"] == pytest.approx(measured["sleeve.cap-ease"], abs=1e-5)
    said = cut.made("alter", "blouse-1").out
    assert "front.armhole  + can" in said
    assert "cut away 0." in said
    assert "take in" not in said
    assert "Take the sleeve out of the armhole." in said
    assert said.splitlines()[-1].endswith("garment blouse-1 --status altered")
    assert cut.contents() == before


def test_what_the_seam_cannot_give_is_told_with_its_place(cut: Any) -> None:
    cut.made("correct", "village", "add-ease", "--by", "60mm")
    answer = cut.made("alter", "blouse-1", "--json")
    side = edges(answer)["back.side"]
    assert (side["possible"], side["reason"]) == ("partly", "cloth")
    assert side["lacking_mm"] == pytest.approx(6, abs=0.1)
    assert side["measured_from"] == "underarm"
    assert "lacks 0.6 cm at worst, 0 cm to 17 cm from underarm" in cut.made("alter", "blouse-1").out
    more = edges(cut.made("alter", "blouse-1", "--least", "1cm", "--json"))["back.side"]
    assert more["lacking_mm"] == pytest.approx(10, abs=0.1)


def test_a_seam_is_taken_in_and_a_hem_let_down(cut: Any) -> None:
    cut.made("correct", "village", "add-ease", "--by", "-20mm")
    cut.made("style", "blouse", "lengthen", "--by", "3cm")
    said = cut.made("alter", "blouse-1").out
    assert re.search(r"front\.side .*take in 0\.", said)
    assert re.search(r"front\.hem .*let down 3", said)


def test_what_is_stitched_down_cannot_move(cut: Any) -> None:
    cut.made("correct", "blouse", "lower-neck", "--piece", "front", "--by", "5mm")
    neck = edges(cut.made("alter", "blouse-1", "--json"))["front.neck"]
    assert (neck["possible"], neck["reason"]) == ("cannot", "stitched-down")
    assert "stitched down" in cut.made("alter", "blouse-1").out


def test_a_fitting_is_answered_before_it_is_recorded(cut: Any, tmp_path: Path) -> None:
    file = fitting(tmp_path, 'kind = "scoop-armhole"\npiece = "front"\nby = "25mm"')
    before = cut.contents()
    answer = cut.made("alter", "blouse-1", "--from", file, "--on", "village", "--json")
    assert not answer.document["cap"]["fits"]
    assert not edges(answer)["front.armhole"]["stays"]
    said = cut.made("alter", "blouse-1", "--from", file).out
    assert "As if the fitting were made" in said
    assert "does not fit" in said
    assert cut.contents() == before
    assert cut.made("alter", "blouse-1", "--json").document["as_wanted"]


def test_a_cap_is_answered_for_by_halves(cut: Any) -> None:
    cut.made("correct", "village", "scoop-armhole", "--piece", "front", "--by", "8mm")
    cap = cut.made("alter", "blouse-1", "--json").document["cap"]
    low, high = cap["allowed_mm"]
    assert low < cap["ease_after_mm"] < high
    front, back = cap["sections"]
    assert (front["section"], back["section"]) == ("front", "back")
    assert (front["holds"], back["holds"], cap["fits"]) == (False, True, False)
    assert front["ease_after_mm"] + back["ease_after_mm"] == pytest.approx(cap["ease_after_mm"])
    walked = cut.made("walk", "blouse", "armhole-seam", "--json").document["seams"][0]
    eases = [each["ease_after_mm"] for each in cap["sections"]]
    assert eases == pytest.approx([each["ease_mm"] for each in walked["sections"]])
    said = cut.made("alter", "blouse-1").out
    assert "The sleeve cap as it was sewn does not fit" in said
    assert "! its front part: ease" in said
    assert "it fits once its crown notch is moved by" in said
    assert "towards the back" in said


def test_a_longer_front_is_flagged(cut: Any, tmp_path: Path) -> None:
    file = fitting(tmp_path, 'kind = "true-hem"\npiece = "front"\nby = "20mm"')
    answer = cut.made("alter", "blouse-1", "--from", file, "--json")
    (uneven,) = answer.document["uneven"]
    assert (uneven["shorter"], uneven["with_a_vent"]) == ("back.side", False)
    assert uneven["by_mm"] == pytest.approx(20, abs=0.1)
    assert "front that hangs longer" in cut.made("alter", "blouse-1", "--from", file).out
    file = fitting(tmp_path, 'kind = "true-hem"\npiece = "back"\nby = "20mm"')
    assert "with a vent" in cut.made("alter", "blouse-1", "--from", file).out


def test_a_narrow_page_cuts_off_nothing(cut: Any, monkeypatch: pytest.MonkeyPatch) -> None:
    cut.made("correct", "village", "add-ease", "--by", "60mm")
    monkeypatch.setenv("COLUMNS", "40")
    said = cut.made("alter", "blouse-1").out
    assert "from underarm" in said.replace("\n", " ").replace("  ", " ")


def test_what_cannot_be_answered_is_one_sentence(cut: Any, tmp_path: Path) -> None:
    assert "try blouse-1" in refused(cut, "alter", "blouse-9")
    assert "--from" in refused(cut, "alter", "blouse-1", "--on", "village")
    assert "0 cm and 10 cm" in refused(cut, "alter", "blouse-1", "--least=-1mm")
    assert "no such file" in refused(cut, "alter", "blouse-1", "--from", "nowhere.toml").lower()
    file = fitting(
        tmp_path,
        'kind = "rotate-dart"\ndart = "front.none"\nedge = "front.side"\nat = "50% from underarm"',
    )
    assert "front.none" in refused(cut, "alter", "blouse-1", "--from", file)


def test_a_garment_of_a_deleted_pattern_is_refused(cut: Any) -> None:
    (cut.folder / "patterns/blouse.toml").unlink()
    assert "was deleted since" in refused(cut, "alter", "blouse-1")


def test_a_spoilt_drawing_is_refused(cut: Any) -> None:
    drawing = cut.folder / "garments/blouse-1.svg"
    drawing.write_text(drawing.read_text().replace("sleeve.cut", "sleeve.lost"))
    cut.made("keep", "garments/blouse-1.svg", "--why", "the sleeves were cut from other cloth")
    assert "no outline of sleeve" in refused(cut, "alter", "blouse-1", code=3)


def test_ease_that_only_a_tolerance_allows_is_said_to_be_so(cut: Any) -> None:
    met = 0
    for _ in range(6):
        cut.made("correct", "village", "scoop-armhole", "--piece", "front", "--by", "1mm")
        sections = cut.made("alter", "blouse-1", "--json").document["cap"]["sections"]
        said = cut.made("alter", "blouse-1").out.splitlines()
        for each in sections:
            (line,) = [line for line in said if f"its {each['section']} part: ease" in line]
            low, high = each["allowed_mm"]
            is_outside = not low <= each["ease_after_mm"] <= high
            assert line.startswith("! ") == (not each["holds"])
            assert line.endswith(", within tolerance") == (is_outside and each["holds"])
            met += is_outside and each["holds"]
    assert met


def test_a_piece_renamed_since_is_told_of_by_its_name_and_lies_on_the_cloth_it_was_cut_from(
    cut: Any,
) -> None:
    cut.made("note", "blouse-1", "armhole-binds", "--place", "front.armhole", "--amount", "1cm")
    cut.made("style", "blouse", "rename-piece", "--piece", "front", "--to", "over-front")
    assert "nothing to alter" in cut.made("alter", "blouse-1").out
    cut.made("correct", "village", "scoop-armhole", "--piece", "front", "--by", "8mm")
    answer = cut.made("alter", "blouse-1", "--json")
    found = edges(answer)
    assert found["over-front.armhole"]["possible"] == "can"
    assert "over-front.neck" in found  # stitched down under its name of before
    assert answer.document["not_cut"] == []
    cut.made("garment", "blouse-1", "--status", "altered")
    cut.made("correct", "village", "scoop-armhole", "--piece", "front", "--by", "2mm")
    assert "over-front.armhole" in edges(cut.made("alter", "blouse-1", "--json"))
    assert "over-front.armhole" in cut.made("shared", "blouse", "over-front.armhole").out
    assert "armhole" in cut.made("shared", "blouse-1").out
    measured = cut.made("measure", "blouse", "--json").document["measures"]
    assert "over-front.armhole" in measured
    assert not [name for name in measured if name.startswith("front.")]
    for words in (
        ("compare", "village", "blouse"), ("tree",), ("explain", "blouse"), ("history", "blouse"),
        ("origin", "blouse"), ("check", "blouse"), ("walk", "blouse"), ("diagnose", "blouse-1"),
        ("report", "blouse"),
    ):  # fmt: skip
        told = cut(*words)
        assert told.code in (0, 1), told
        assert not re.search(r"(?<![\w-])front\.(armhole|neck|side)", told.out) or words[0] in (
            "compare", "explain", "history", "diagnose", "report",
        ), (words, told.out)  # fmt: skip
