"""Pictures of walked seams and of the graph, by the whole command."""

import re
from pathlib import Path
from typing import Any
from xml.etree import ElementTree

import pytest
from PIL import Image

from geometry.walk import walk
from lineage.wardrobe import Wardrobe
from tests.cli.drawing.legible import assert_legible

SVG = "{http://www.w3.org/2000/svg}"


def drawn(file: Path) -> dict[str, ElementTree.Element]:
    found = [each for each in ElementTree.parse(file).getroot().iter() if "id" in each.attrib]
    names = [each.attrib["id"] for each in found]
    assert len(names) == len(set(names))
    return dict(zip(names, found, strict=True))


def words(file: Path) -> str:
    texts = ElementTree.parse(file).getroot().iter(f"{SVG}text")
    return "\n".join(each.text or "" for each in texts)


def extent(path: ElementTree.Element) -> tuple[float, float]:
    places = [p.split(",") for p in path.attrib["d"].replace("M", "").replace("L", "").split()]
    across = [float(x) for x, _ in places]
    return min(across), max(across)


def test_two_seam_lines_are_laid_along_each_other_and_the_rest_measured(
    corrected: Any, tmp_path: Path
) -> None:
    file = tmp_path / "walk.svg"
    out = corrected.made("walk", "village", "armhole-seam", "--picture", str(file)).out
    assert str(file.name) in out
    found = drawn(file)
    with Wardrobe.open(corrected.folder) as wardrobe:
        draft = wardrobe.evaluator.draft("village")
    walked = walk(draft, draft.seam("armhole-seam"))
    cap = extent(found["walk.sleeve.cap"])
    mate = [extent(found[f"walk.{name}"]) for name in ("front.armhole", "back.armhole")]
    assert cap[1] - cap[0] == pytest.approx(walked.side, abs=0.02)
    assert mate[0][0] == pytest.approx(cap[0])
    assert mate[1][0] == pytest.approx(mate[0][1], abs=0.02)
    assert cap[1] - mate[1][1] == pytest.approx(walked.ease, abs=0.02)
    assert "seam.armhole-seam.left-over" in found
    assert "! outside" in words(file)
    assert "seam.side-seam" not in found


def test_notches_that_are_sewn_together_are_joined_and_the_ease_between_them_said(
    corrected: Any, tmp_path: Path
) -> None:
    file = tmp_path / "walk.svg"
    corrected.made("walk", "village", "armhole-seam", "--picture", str(file))
    (line,) = [each for each in words(file).splitlines() if each.startswith("Ease from notch")]
    amounts = [float(n) for n in re.findall(r"[+ ](-?[\d.]+) cm to", line)]
    stretches = re.findall(r"cm to ([\w -]+)[,.]", line)
    assert stretches == ["front", "back-upper", "back-lower", "the end"]
    with Wardrobe.open(corrected.folder) as wardrobe:
        draft = wardrobe.evaluator.draft("village")
    walked = walk(draft, draft.seam("armhole-seam"))
    assert sum(amounts) * 10 == pytest.approx(walked.ease, abs=2)
    assert_legible(ElementTree.parse(file).getroot())


def test_two_sides_of_one_length_leave_nothing_over(trueup: Any, tmp_path: Path) -> None:
    file = tmp_path / "walk.svg"
    trueup.made("walk", "village", "shoulder-seam", "--picture", str(file))
    assert "seam.shoulder-seam.left-over" not in drawn(file)
    assert "Ease from notch" not in words(file)


def test_all_seams_are_drawn_unless_one_is_named(trueup: Any, tmp_path: Path) -> None:
    file = tmp_path / "walk.svg"
    trueup.made("walk", "blouse", "--picture", str(file))
    names = {name for name in drawn(file) if name.count(".") == 1 and name.startswith("seam.")}
    assert names == {f"seam.{n}-seam" for n in ("shoulder", "side", "armhole", "sleeve")}
    assert words(file).count("+ matches") == 4


def test_a_pattern_with_one_piece_has_a_picture_of_no_seam(trueup: Any, tmp_path: Path) -> None:
    trueup.made("derive", "only-front", "--from", "village:front")
    file = tmp_path / "walk.svg"
    trueup.made("walk", "only-front", "--picture", str(file))
    assert "No seams." in words(file)


def test_the_tree_is_drawn_with_parents_above_and_conflicts_in_words(
    corrected: Any, tmp_path: Path
) -> None:
    corrected.made("derive", "mix", "--from", "blouse:front,back", "--from", "own:sleeve")
    file = tmp_path / "tree.svg"
    corrected.made("tree", "--picture", str(file))
    found = drawn(file)
    tops = {
        name: float(found[f"node.{name}"].attrib["d"].split()[1].split(",")[1])
        for name in ("village", "easy", "blouse", "own", "vest", "mix")
    }
    assert tops["village"] < tops["easy"] < tops["blouse"] < tops["mix"]
    assert tops["village"] < tops["own"] < tops["mix"]
    assert {"from.blouse.to.mix", "from.own.to.mix", "from.village.to.vest"} <= set(found)
    said = words(file)
    assert "! 2 open conflicts" in said
    assert "corrected last" in said
    assert "+ carried" in said


def test_no_frame_of_the_tree_covers_another(corrected: Any, tmp_path: Path) -> None:
    for number in range(8):
        corrected.made("derive", f"pattern-{number}", "--from", "easy")
    file = tmp_path / "tree.svg"
    corrected.made("tree", "--picture", str(file))
    frames = []
    for name, path in drawn(file).items():
        if name.startswith("node."):
            places = [p for p in path.attrib["d"].split() if "," in p]
            numbers = [tuple(map(float, place.split(","))) for place in places]
            across, down = zip(*numbers, strict=True)
            frames.append((min(across), max(across), min(down), max(down)))
    assert len(frames) == 13
    for index, (left, right, top, bottom) in enumerate(frames):
        for other in frames[:index]:
            apart_across = right < other[0] or other[1] < left
            assert apart_across or bottom < other[2] or other[3] < top


def test_an_empty_wardrobe_has_a_picture(anywhere: Any, tmp_path: Path) -> None:
    folder = tmp_path / "new"
    assert anywhere("start", str(folder), "--unit", "cm").code == 0
    file = tmp_path / "tree.svg"
    assert anywhere("-C", str(folder), "tree", "--picture", str(file)).code == 0
    assert drawn(file) == {}


@pytest.mark.parametrize("verb", [("walk", "village"), ("tree",)])
def test_pictures_come_as_png_and_are_not_written_over_others(
    trueup: Any, tmp_path: Path, verb: tuple[str, ...]
) -> None:
    file = tmp_path / "picture.png"
    trueup.made(*verb, "--picture", str(file), "--json")
    with Image.open(file) as image:
        assert image.width > 500
        shades = image.convert("L").histogram()
        assert sum(shades[:128]) > 500
    kept = file.read_bytes()
    answer = trueup(*verb, "--picture", str(file))
    assert (answer.code, answer.out) == (2, "")
    assert file.read_bytes() == kept
