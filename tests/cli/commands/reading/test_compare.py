"""trueup compare: which edges moved, told, drawn and as JSON."""

import re
from pathlib import Path
from typing import Any
from xml.etree import ElementTree

import pytest
from PIL import Image

SVG = "{http://www.w3.org/2000/svg}"


def texts(file: Path) -> list[str]:
    return [each.text or "" for each in ElementTree.parse(file).getroot().iter(f"{SVG}text")]


def test_the_armhole_that_was_scooped_is_named_and_nothing_else(corrected: Any) -> None:
    out = corrected.made("compare", "village").out
    assert re.search(r"front\.armhole +2 cm +9\.3 cm from the underarm", out)
    assert "front.side" not in out
    assert "back." not in out
    assert "front.bust" in out


def test_it_starts_before_the_last_step_that_changed_the_node(corrected: Any) -> None:
    steps = corrected("history", "--json").document["history"]
    document = corrected.made("compare", "blouse", "--json").document
    assert document["from"]["commit"] == steps[1]["commit"]
    assert document["to"]["commit"] == steps[0]["commit"]
    assert [edge["edge"] for edge in document["edges"]] == ["front.armhole"]
    earlier = corrected.made("compare", "blouse", "--to", "HEAD~1", "--json").document
    assert {edge["edge"] for edge in earlier["edges"]} == {"front.neck", "front.centre"}


def test_lengths_before_and_after_are_those_that_measure_tells(corrected: Any) -> None:
    (edge,) = corrected.made("compare", "village", "--json").document["edges"]
    for revision, length in (("HEAD~1", "before_mm"), ("HEAD", "after_mm")):
        measured = corrected.made(
            "measure", "village", "front.armhole", "--as-of", revision, "--json"
        ).document["measures"]
        assert edge[length] == pytest.approx(measured["front.armhole"])


def test_versions_of_choice(corrected: Any) -> None:
    same = corrected.made("compare", "village", "--from", "HEAD")
    assert "Nothing moved." in same.out
    back = corrected.made("compare", "village", "--from", "HEAD", "--to", "HEAD~1", "--json")
    (edge,) = back.document["edges"]
    assert edge["after_mm"] < edge["before_mm"]


def test_two_patterns_are_compared(corrected: Any) -> None:
    out = corrected.made("compare", "village", "easy").out
    assert "front.shoulder" in out
    document = corrected.made("compare", "village", "vest", "--json").document
    assert {name.partition(".")[0] for name in document["only_from"]} == {"sleeve"}
    assert document["only_to"] == []


def test_every_edge_that_moved_is_named_in_the_table(corrected: Any) -> None:
    document = corrected.made("compare", "village", "easy", "--json").document
    out = corrected.made("compare", "village", "easy").out
    named = re.findall(r"^(\w+\.[-\w]+) +\S+ (?:cm|mm)", out, re.MULTILINE)
    assert named == [edge["edge"] for edge in document["edges"]]
    assert len(named) > 2


def test_what_lies_on_itself_does_not_move(corrected: Any) -> None:
    document = corrected.made(
        "compare", "village", "easy", "--align", "front.shoulder-point", "--json"
    ).document
    front = {e["edge"]: e["moved_mm"] for e in document["edges"] if e["edge"].startswith("front.")}
    assert front["front.side"] == pytest.approx(5, abs=0.2)
    assert front["front.armhole"] < 5.5


def test_a_corner_that_is_not_there_is_refused(corrected: Any) -> None:
    for name in ("front.nowhere", "nowhere"):
        answer = corrected("compare", "village", "--align", name)
        assert answer.code == 2
        assert "nowhere" in answer.err
        assert answer.out == ""


def test_a_node_that_never_changed_is_told(trueup: Any) -> None:
    answer = trueup("compare", "village")
    assert answer.code == 2
    assert "--from" in answer.err


def test_edits_by_hand_are_compared_with_the_last_step(trueup: Any) -> None:
    file = trueup.folder / "patterns" / "blouse.toml"
    file.write_text(file.read_text().replace('"20 mm"', '"30 mm"').replace('"20mm"', '"30mm"'))
    answer = trueup.made("compare", "blouse", "--json")
    assert answer.document["to"]["edited_by_hand"]
    moved = {edge["edge"]: edge["moved_mm"] for edge in answer.document["edges"]}
    assert moved["front.centre"] == pytest.approx(10, abs=0.01)


def test_the_picture_shows_old_and_new_and_lists_every_move(corrected: Any, tmp_path: Path) -> None:
    file = tmp_path / "moved.svg"
    corrected.made("compare", "blouse", "village", "--picture", str(file))
    root = ElementTree.parse(file).getroot()
    ids = [each.attrib["id"] for each in root.iter() if "id" in each.attrib]
    assert len(ids) == len(set(ids))
    document = corrected("compare", "blouse", "village", "--json").document
    said = " ".join(texts(file))
    for number, edge in enumerate(document["edges"], start=1):
        assert f"{edge['edge']} moved" in said
        assert f"move.{number}" in ids
        assert f"mark.{number}" in ids
        assert any(each.startswith(f"{edge['edge']}.") and "before" in each for each in ids) or (
            f"{edge['edge']}.before" in ids
        )
    assert "front.side.before" not in ids
    assert {"front.gained", "front.lost"} <= set(ids)
    title = root.findtext(f"{SVG}title") or ""
    assert re.fullmatch(r"blouse \(\S+ [0-9a-f]{10}\) → village \(\S+ [0-9a-f]{10}\)", title)


def test_nothing_in_the_picture_is_told_by_colour(corrected: Any, tmp_path: Path) -> None:
    file = tmp_path / "moved.svg"
    corrected.made("compare", "village", "--picture", str(file))
    text = file.read_text()
    inks = set(re.findall(r'(?:fill|stroke)="([^"]*)"', text))
    assert inks == {"none", "currentColor", "white"}
    assert "prefers-color-scheme" in text


def test_the_picture_as_png(corrected: Any, tmp_path: Path) -> None:
    file = tmp_path / "moved.png"
    corrected.made("compare", "village", "--picture", str(file))
    with Image.open(file) as image:
        assert image.width > 1500
        dark = sum(image.convert("L").histogram()[:128])
        assert 0.001 < dark / (image.width * image.height) < 0.2


def test_a_picture_is_not_written_over_another_file(corrected: Any, tmp_path: Path) -> None:
    file = tmp_path / "moved.svg"
    file.write_text("mine")
    answer = corrected("compare", "village", "--picture", str(file))
    assert (answer.code, file.read_text()) == (2, "mine")
    corrected.made("compare", "village", "--picture", str(file), "--force")
    assert file.read_text() != "mine"
    answer = corrected("compare", "village", "--picture", str(tmp_path / "moved.doc"))
    assert answer.code == 2
    assert "moved.svg or moved.png" in answer.err


def test_comparing_writes_nothing_in_the_wardrobe(corrected: Any) -> None:
    before = corrected.contents()
    corrected.made("compare", "village")
    assert corrected.contents() == before
