"""trueup trace: a drawing becomes a block, by the real command."""

import json
from pathlib import Path
from typing import Any

import pytest

from trueup.cli.book.source import BookSource
from trueup.cli.book.views import view
from trueup.cli.opening import reading

SQUARE = """<svg xmlns="http://www.w3.org/2000/svg" width="200mm" height="100mm"
 viewBox="0 0 200 100"><path id="p1" d="M 10 10 H 60"/><path id="p2" d="M 60 10 V 70"/>
 <path id="pocket.bottom" d="M 60 70 H 10"/><path id="pocket.left" d="M 10 70 V 10"/></svg>"""


def fingerprint(trueup: Any, node: str, tmp_path: Path, *more: str) -> str:
    file = tmp_path / f"{node}.json"
    trueup.made("export", node, str(file), "--force", *more)
    return str(json.loads(file.read_text("utf-8"))["fingerprint"])


@pytest.mark.parametrize("node", ["village", "blouse", "own", "vest"])
def test_our_own_export_comes_back_as_the_same_block(
    corrected: Any, tmp_path: Path, node: str
) -> None:
    corrected.made("export", node, str(tmp_path / "out.svg"))
    answer = corrected.made("trace", str(tmp_path / "out.svg"), "again")
    assert answer.err == ""
    assert fingerprint(corrected, "again", tmp_path) == fingerprint(corrected, node, tmp_path)
    assert {"blocks/again.toml", "blocks/again.svg"} <= set(corrected.contents())
    assert b'from = "out.svg"' in corrected.contents()["blocks/again.toml"]


def test_a_traced_block_is_corrected_derived_from_and_undone(trueup: Any, tmp_path: Path) -> None:
    before = trueup.contents()
    trueup.made("export", "village", str(tmp_path / "out.svg"))
    trueup.made("trace", str(tmp_path / "out.svg"), "again")
    kept = trueup.contents()["blocks/again.svg"]
    first = fingerprint(trueup, "again", tmp_path)
    trueup.made("derive", "shirt", "--from", "again")
    derived = trueup.made("history", "--json").document["history"][0]["commit"]
    trueup.made("correct", "again", "scoop-armhole", "--piece", "front", "--by", "6mm")
    assert trueup.contents()["blocks/again.svg"] == kept
    assert fingerprint(trueup, "again", tmp_path) != first
    assert fingerprint(trueup, "shirt", tmp_path) == fingerprint(trueup, "again", tmp_path)
    assert fingerprint(trueup, "again", tmp_path, "--as-of", derived) == first
    assert "Traced from out.svg" in " ".join(trueup.made("explain", "again").out.split())
    for _ in range(3):
        trueup.made("undo")
    assert {k: v for k, v in trueup.contents().items() if k != "HEAD"} == {
        k: v for k, v in before.items() if k != "HEAD"
    }


def test_a_preview_writes_nothing(trueup: Any, tmp_path: Path) -> None:
    trueup.made("export", "village", str(tmp_path / "out.svg"))
    before = trueup.contents()
    assert (
        "nothing is written"
        in trueup.made("trace", str(tmp_path / "out.svg"), "again", "--preview").out
    )
    assert trueup.contents() == before


def test_a_drawing_redrawn_by_hand_is_the_makers_own_step(trueup: Any, tmp_path: Path) -> None:
    trueup.made("export", "village", str(tmp_path / "out.svg"))
    trueup.made("trace", str(tmp_path / "out.svg"), "again")
    first = fingerprint(trueup, "again", tmp_path)
    kept = trueup.folder / "blocks/again.svg"
    trueup.made("style", "blouse", "lower-neck", "--piece", "front", "--by", "10mm")
    other = tmp_path / "scooped.svg"
    trueup.made("correct", "village", "scoop-armhole", "--piece", "front", "--by", "6mm")
    trueup.made("export", "village", str(other))
    trueup.made("trace", str(other), "third")
    kept.write_bytes((trueup.folder / "blocks/third.svg").read_bytes())
    assert fingerprint(trueup, "again", tmp_path) != first
    assert fingerprint(trueup, "again", tmp_path) == fingerprint(trueup, "third", tmp_path)
    assert fingerprint(trueup, "again", tmp_path, "--as-of", "HEAD") == first


def test_a_drawing_that_is_gone_is_a_damaged_wardrobe(trueup: Any, tmp_path: Path) -> None:
    trueup.made("export", "village", str(tmp_path / "out.svg"))
    trueup.made("trace", str(tmp_path / "out.svg"), "again")
    (trueup.folder / "blocks/again.svg").unlink()
    answer = trueup("check", "again")
    assert answer.code == 3
    assert "blocks/again.svg" in answer.err


def test_lines_without_a_name_are_listed_and_named(trueup: Any, tmp_path: Path) -> None:
    file = tmp_path / "pocket.svg"
    file.write_text(SQUARE)
    before = trueup.contents()
    answer = trueup("trace", str(file), "pocket")
    assert answer.code == 2
    assert "pocket.bottom" in answer.out
    assert "--name" in answer.err
    listed = trueup("trace", str(file), "pocket", "--json").document["unnamed"]
    assert [(line["id"], line["length_mm"], line["as_long_as"]) for line in listed] == [
        ("p1", 50.0, ["pocket.bottom"]),
        ("p2", 60.0, ["pocket.left"]),
    ]
    assert trueup.contents() == before
    answer = trueup.made(
        *("trace", str(file), "pocket", "--name", "p1=pocket.top", "--name", "p2=pocket.right")
    )
    assert "no seams" in answer.err
    measured = trueup.made("measure", "pocket", "--json").document["measures"]
    assert measured["pocket.top"] == 50.0


@pytest.mark.parametrize(
    ("words", "told"),
    [
        (("nosuch.svg", "new"), "no such file"),
        ((".", "new"), "it is a folder"),
        (("pocket.svg", "village"), "village"),
        (("pocket.svg", "Bad Name"), "Bad Name"),
        (("pocket.svg", "new", "--only-named"), "pocket"),
        (("pocket.svg", "new", "--name", "p1"), "ID=PIECE.EDGE"),
        (("pocket.svg", "new", "--name", "p9=a.b"), "p9"),
        (("bad.svg", "new"), "not XML"),
    ],
)
def test_what_cannot_be_traced_is_told_in_a_sentence(
    trueup: Any, tmp_path: Path, words: tuple[str, ...], told: str
) -> None:
    (tmp_path / "pocket.svg").write_text(
        SQUARE
        if "--only-named" in words or "--name" in words
        else SQUARE.replace('"p1"', '"pocket.top"').replace('"p2"', '"pocket.right"')
    )
    (tmp_path / "bad.svg").write_text("<svg")
    before = trueup.contents()
    answer = trueup("trace", str(tmp_path / words[0]), *words[1:])
    assert answer.code == 2
    assert told in answer.err
    assert len(answer.err.strip().splitlines()) == 1
    assert trueup.contents() == before


def pocket(trueup: Any, tmp_path: Path) -> None:
    """Trace a pocket: four lines, and no word of what they are sewn to."""
    file = tmp_path / "pocket.svg"
    file.write_text(SQUARE)
    names = ("--name", "p1=pocket.top", "--name", "p2=pocket.right")
    trueup.made("trace", str(file), "pocket", *names)
    trueup.made("derive", "flap", "--from", "pocket")


def test_a_piece_without_stated_seams_is_never_called_true(trueup: Any, tmp_path: Path) -> None:
    pocket(trueup, tmp_path)
    for node in ("pocket", "flap"):
        answer = trueup("check", node)
        assert answer.code == 1
        assert f"{node} cannot be called true: no seam is stated for pocket" in answer.out
        assert f"{node} is true" not in answer.out
        document = trueup("check", node, "--json").document
        assert (document["true"], document["unchecked"]) == (False, ["pocket"])
    assert trueup("conflicts").code == 0
    village = trueup.made("check", "village", "--json").document
    assert (village["true"], village["unchecked"]) == (True, [])


def test_a_verdict_that_rests_on_unstated_seams_says_so(trueup: Any, tmp_path: Path) -> None:
    pocket(trueup, tmp_path)
    words = ("correct", "pocket", "redraw-edge", "--edge", "pocket.top", "--through", "50%:5mm")
    answer = trueup.made(*words, "--preview")
    assert "Not checked at pocket: no seam is stated for pocket" in answer.out
    assert "not checked: no seam is stated for pocket" in " ".join(answer.out.split())
    document = trueup.made(*words, "--json").document
    assert document["unchecked"] == ["pocket"]
    assert [each["unchecked"] for each in document["patterns"]] == [["pocket"]]
    with reading(trueup.folder) as opened:
        assert "cannot be called true" in view(BookSource(opened, 2), "pattern/flap").content


def test_a_piece_that_is_sewn_to_nothing_is_accepted_as_it_is(trueup: Any, tmp_path: Path) -> None:
    pocket(trueup, tmp_path)
    (found,) = trueup("check", "pocket", "--json").document["findings"]
    trueup.made("decide", found["id"], "accept", "--why", "it is sewn on top")
    for node in ("pocket", "flap"):
        assert "it is sewn on top" in trueup.made("check", node).out
        assert trueup.made("check", node, "--json").document["unchecked"] == []
    trueup.made("correct", "pocket", "redraw-edge", "--edge", "pocket.top", "--through", "50%:3mm")
    trueup.made("check", "flap")
