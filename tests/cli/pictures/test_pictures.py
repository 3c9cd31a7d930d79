"""Pictures of walked seams and of the graph, by the whole command."""

import re
from itertools import combinations
from pathlib import Path
from typing import Any
from xml.etree import ElementTree

import pytest
import shapely
from PIL import Image

from tests.cli.drawing.legible import assert_legible
from trueup.geometry.measuring.walk import walk
from trueup.lineage.wardrobe import Wardrobe

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
    typed = line.replace("\N{MINUS SIGN}", "-")
    amounts = [float(n) for n in re.findall(r"[+ ](-?[\d.]+) cm to", typed)]
    stretches = re.findall(r"cm to ([\w -]+)[,.]", line)
    assert stretches == ["front", "crown", "back-upper", "back-lower", "the end"]
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
    assert words(file).count("+ matches") == 4 + 2  # and the two halves of the cap


def test_a_pattern_with_one_piece_has_a_picture_of_no_seam(trueup: Any, tmp_path: Path) -> None:
    trueup.made("derive", "only-front", "--from", "village:front")
    file = tmp_path / "walk.svg"
    trueup.made("walk", "only-front", "--picture", str(file))
    assert "No seams." in words(file)


def test_the_tree_is_drawn_with_children_right_of_their_parents_and_conflicts_in_words(
    corrected: Any, tmp_path: Path
) -> None:
    corrected.made("derive", "mix", "--from", "blouse:front,back", "--from", "own:sleeve")
    file = tmp_path / "tree.svg"
    corrected.made("tree", "--picture", str(file))
    found = drawn(file)
    lefts = {
        name: float(found[f"node.{name}"].attrib["d"].split()[1].split(",")[0])
        for name in ("village", "easy", "blouse", "own", "vest", "mix")
    }
    assert lefts["village"] < lefts["easy"] < lefts["blouse"] < lefts["mix"]
    assert lefts["village"] < lefts["own"] < lefts["mix"]
    assert {"from.blouse.to.mix", "from.own.to.mix", "from.village.to.vest"} <= set(found)
    said = words(file)
    assert "! 2 open conflicts" in said
    assert "corrected last" in said
    assert "+ carried" in said


def frames(file: Path) -> dict[str, shapely.Polygon]:
    return {
        name.removeprefix("node."): shapely.Polygon(points(path))
        for name, path in drawn(file).items()
        if name.startswith("node.")
    }


def points(path: ElementTree.Element) -> list[tuple[float, float]]:
    found = re.findall(r"(-?[\d.]+),(-?[\d.]+)", path.attrib["d"])
    return [(float(x), float(y)) for x, y in found]


def test_no_frame_of_the_tree_covers_another_and_no_line_runs_behind_one(
    corrected: Any, tmp_path: Path
) -> None:
    for number in range(8):
        corrected.made("derive", f"pattern-{number}", "--from", "easy")
    for name, other in (("far", "own"), ("farther", "village"), ("farthest", "vest")):
        parts = ("pattern-3:front", f"{other}:back")
        corrected.made("derive", name, "--from", parts[0], "--from", parts[1])
    file = tmp_path / "tree.svg"
    corrected.made("tree", "--picture", str(file))
    found = frames(file)
    assert len(found) == 16
    for one, other in combinations(found.values(), 2):
        assert not one.intersects(other)
    lines = [name for name in drawn(file) if name.startswith("from.")]
    assert len(lines) == 18
    for name in lines:
        line = shapely.LineString(points(drawn(file)[name]))
        parent, child = name.removeprefix("from.").split(".to.")
        touched = {each for each, frame in found.items() if frame.intersects(line)}
        assert touched == {parent, child}, name
        assert all(frame.buffer(-0.1).disjoint(line) for frame in found.values()), name
    assert_legible(ElementTree.parse(file).getroot())


def test_two_lines_of_the_tree_never_run_on_each_other_but_from_one_parent(
    corrected: Any, tmp_path: Path
) -> None:
    corrected.made("derive", "mix", "--from", "blouse:front,back", "--from", "own:sleeve")
    corrected.made("derive", "mixed", "--from", "easy:front", "--from", "own:sleeve")
    file = tmp_path / "tree.svg"
    corrected.made("tree", "--picture", str(file))
    lines = {n: shapely.LineString(points(e)) for n, e in drawn(file).items() if "from." in n}
    for (one, a), (other, b) in combinations(lines.items(), 2):
        if one.split(".to.")[0] != other.split(".to.")[0]:
            assert a.intersection(b).length < 0.1, (one, other)


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
