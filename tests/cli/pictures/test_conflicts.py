"""Pictures of conflicts, by the whole command."""

import re
from pathlib import Path
from typing import Any
from xml.etree import ElementTree

import pytest

from tests.cli.drawing.legible import SVG, assert_legible
from trueup.cli.drawing.scene.writer import svg_text
from trueup.cli.opening import reading
from trueup.cli.pictures.conflicts import conflict_scene
from trueup.geometry.units import Unit, format_length
from trueup.lineage.files.records import replace


def drawn(file: Path) -> dict[str, ElementTree.Element]:
    root = ElementTree.parse(file).getroot()
    assert_legible(root)
    return {each.attrib["id"]: each for each in root.iter() if "id" in each.attrib}


def words(file: Path) -> str:
    texts = ElementTree.parse(file).getroot().iter(f"{SVG}text")
    return " ".join(each.text or "" for each in texts)


def in_cm(sentence: str) -> str:
    """Return a sentence as the pictures of this wardrobe tell it, which is in cm."""
    lengths = r"(-?[0-9.]+) mm\b"
    return re.sub(lengths, lambda mm: format_length(float(mm[1]), Unit.CENTIMETRE), sentence)


def listed(trueup: Any, *names: str) -> list[Any]:
    found: list[Any] = trueup("conflicts", *names, "--json").document["conflicts"]
    return found


def pictured(trueup: Any, name: str, file: Path) -> str:
    answer = trueup("conflicts", name, "--picture", str(file))
    assert answer.code == 1, answer.err
    assert str(file) in answer.out
    return str(answer.out)


def test_a_pattern_is_drawn_with_its_conflicts_numbered_as_they_are_listed(
    corrected: Any, tmp_path: Path
) -> None:
    file = tmp_path / "own.svg"
    out = pictured(corrected, "own", file)
    found = drawn(file)
    own = listed(corrected, "own")
    assert len(own) == 2
    for number, conflict in enumerate(own, start=1):
        assert re.search(rf"^{number}\. own: .*\({conflict['id']}\)$", out, re.MULTILINE)
        assert found[f"conflict.{number}"].findtext(f"{SVG}text") == str(number)
        assert in_cm(conflict["says"]) in words(file)
    assert f"conflict.{len(own) + 1}" not in found


def test_inherited_conflicts_are_numbered_after_its_own(corrected: Any, tmp_path: Path) -> None:
    file = tmp_path / "heir.svg"
    corrected.made("derive", "heir", "--from", "village")
    (above,) = listed(corrected, "village")
    out = pictured(corrected, "heir", file)
    assert re.search(rf"^1\. inherited of village: .*\({above['id']}\);", out, re.MULTILINE)
    assert f"village: {in_cm(above['says'])}" in words(file)
    assert "conflict.1" in drawn(file)


def test_what_was_accepted_has_no_number(corrected: Any, tmp_path: Path) -> None:
    first, second = listed(corrected, "own")
    corrected.made("decide", first["id"], "accept")
    file = tmp_path / "own.svg"
    out = corrected("conflicts", "own", "--all", "--picture", str(file)).out
    assert re.search(rf"^1\. own: .*\({second['id']}\)$", out, re.MULTILINE)
    assert re.search(rf"^own: .*\({first['id']}, accepted\)$", out, re.MULTILINE)
    assert "conflict.2" not in drawn(file)


def test_nothing_is_numbered_without_a_picture(corrected: Any) -> None:
    assert not re.search(r"^\d+\. ", corrected("conflicts", "own").out, re.MULTILINE)


def test_one_conflict_is_listed_by_its_id_and_drawn_before_and_now(
    corrected: Any, tmp_path: Path
) -> None:
    (conflict,) = listed(corrected, "village")
    assert listed(corrected, conflict["id"]) == [conflict]
    file = tmp_path / "cap.svg"
    out = pictured(corrected, conflict["id"], file)
    assert "own" not in out
    found = drawn(file)
    assert {"before.seam.armhole-seam", "now.seam.armhole-seam", "conflict.1"} <= set(found)
    assert any(name.startswith("front.armhole") and name.endswith(".before") for name in found)
    said = words(file)
    assert in_cm(conflict["says"]) in said
    for remedy in conflict["remedies"]:
        assert in_cm(remedy["says"]) in said


def test_a_settled_conflict_is_still_listed_and_drawn_by_its_id(
    corrected: Any, tmp_path: Path
) -> None:
    (conflict,) = listed(corrected, "village")
    corrected.made("decide", conflict["id"], "refit-cap")
    file = tmp_path / "cap.svg"
    answer = corrected.made("conflicts", conflict["id"], "--picture", str(file))
    assert f"({conflict['id']}, settled)" in answer.out
    assert "settled" in words(file)


def test_every_conflict_there_is_can_be_drawn(corrected: Any, tmp_path: Path) -> None:
    for conflict in listed(corrected):
        file = tmp_path / f"{conflict['id']}.svg"
        pictured(corrected, conflict["id"], file)
        assert in_cm(conflict["says"]) in words(file)
        drawn(file)


def test_a_line_drawn_anew_is_shown_over_that_of_the_corrected_block(
    corrected: Any, tmp_path: Path
) -> None:
    (conflict,) = [each for each in listed(corrected, "vest") if each["kind"] == "both-shaped"]
    file = tmp_path / "vest.svg"
    pictured(corrected, conflict["id"], file)
    assert "village, as corrected" in words(file)
    assert any(name.startswith("front.armhole") and name.endswith("before") for name in drawn(file))


@pytest.mark.parametrize("since", ["", "f" * 40])
def test_where_no_version_before_it_is_to_be_had_it_is_drawn_as_it_is(
    corrected: Any, since: str
) -> None:
    with reading(corrected.folder) as wardrobe:
        (record,) = wardrobe.state.node("village").open_conflicts
        scene = conflict_scene(wardrobe, replace(record, since=since), number=4)
    text = svg_text(scene)
    assert 'id="conflict.4"' in text
    assert "before" not in text
    assert 'id="now.seam.armhole-seam"' in text


def test_a_picture_needs_one_block_pattern_or_conflict(corrected: Any, tmp_path: Path) -> None:
    file = tmp_path / "all.svg"
    answer = corrected("conflicts", "--picture", str(file))
    assert (answer.code, answer.out, file.exists()) == (2, "", False)
    assert "conflicts PATTERN --picture" in answer.err


@pytest.mark.parametrize(
    ("name", "says"),
    [("nowhere", "no block or pattern"), ("seam-00000000", "no conflict")],
)
def test_a_name_that_is_neither_is_told(corrected: Any, name: str, says: str) -> None:
    answer = corrected("conflicts", name)
    assert (answer.code, answer.out) == (2, "")
    assert says in answer.err


def test_a_picture_is_not_written_over_another_unless_forced(
    corrected: Any, tmp_path: Path
) -> None:
    file = tmp_path / "own.png"
    pictured(corrected, "own", file)
    assert corrected("conflicts", "own", "--picture", str(file)).code == 2
    assert corrected("conflicts", "own", "--picture", str(file), "--force").code == 1
