"""trueup sheet: the whole command."""

import json
import re
import shlex
from itertools import pairwise
from pathlib import Path
from typing import Any

import pytest

from tests.cli.sheet.pdf import metadata, read
from tests.cli.trouble.test_bad_input import refused
from trueup.cli.sheet.ink.drawn import InkPen


def head(folder: Path) -> str:
    return (folder / ".git/refs/heads/main").read_text().strip()


def test_a_pattern_is_printed_with_block_and_version(trueup: Any, tmp_path: Path) -> None:
    file = tmp_path / "blouse.pdf"
    answer = trueup.made("sheet", "blouse", str(file), "--fabric", "blue linen")
    assert "Print it at 100 %" in answer.out
    found = read(file.read_bytes())
    assert len(found) > 5
    for page in found:
        assert "block easy" in page.text
        assert head(trueup.folder)[:8] in page.text
        assert "CONFLICTS" not in page.text
    assert "fabric blue linen" in found[0].text
    assert head(trueup.folder)[:8] in metadata(file.read_bytes())["Subject"]


def test_the_wardrobe_is_left_as_it_is(trueup: Any, tmp_path: Path) -> None:
    before = trueup.contents()
    trueup.made("sheet", "vest", str(tmp_path / "vest.pdf"))
    assert trueup.contents() == before


def test_open_conflicts_are_on_every_page_in_words(corrected: Any, tmp_path: Path) -> None:
    file = tmp_path / "blouse.pdf"
    answer = corrected.made("sheet", "blouse", str(file), "--json")
    assert answer.document["open_conflicts"]
    found = read(file.read_bytes())
    assert len(answer.document["pages"]) == len(found)
    assert all("OPEN CONFLICTS: 1 inherited" in page.text for page in found)
    assert "inherited from easy" in found[0].text
    assert "the ease is" in found[0].text


@pytest.mark.parametrize(("unit", "said"), [("cm", r"\d cm"), ("in", r"\d in"), ("mm", r"\d mm")])
def test_it_is_true_to_scale_in_every_unit_and_with_conflicts_open(
    corrected: Any, tmp_path: Path, unit: str, said: str
) -> None:
    settings = corrected.folder / "wardrobe.toml"
    settings.write_text(settings.read_text().replace('unit = "cm"', f'unit = "{unit}"'))
    file, known = tmp_path / "blouse.pdf", tmp_path / "blouse.json"
    corrected.made("sheet", "blouse", str(file), "--paper", "36in")
    corrected.made("export", "blouse", str(known))
    pieces = json.loads(known.read_text("utf-8"))["pieces"]
    (page,) = read(file.read_bytes())
    assert "OPEN CONFLICTS" in page.text
    assert re.search(rf"front\.armhole [\d ./]*{said}", page.text)
    edges = [
        edge["length_mm"]
        for piece in pieces
        for edge in piece["edges"]
        if edge["name"] != piece["fold"] and not edge["darts"]
    ]
    lengths = [line.length for line in page.in_pen(InkPen.SEAM)]
    assert edges
    for length in edges:
        assert min(abs(length - found) for found in lengths) < 0.1
    sides = [abs(b - a) for square in page.in_pen(InkPen.TEST) for a, b in pairwise(square.points)]
    assert sorted(sides) == pytest.approx([50.0] * 4 + [50.8] * 4, abs=0.001)


def test_an_earlier_version_is_printed_as_it_was(corrected: Any, tmp_path: Path) -> None:
    file = tmp_path / "before.pdf"
    document = corrected.made("sheet", "blouse", str(file), "--as-of", "HEAD~1", "--json").document
    assert document["open_conflicts"] == []
    assert document["version"]["commit"] != head(corrected.folder)
    assert not any("CONFLICTS" in page.text for page in read(file.read_bytes()))


def test_what_moved_since_a_version_is_listed_and_hatched(corrected: Any, tmp_path: Path) -> None:
    file = tmp_path / "blouse.pdf"
    document = corrected.made(
        *("sheet", "blouse", str(file), "--since", "HEAD~1", "--paper", "36in", "--json")
    ).document
    assert document["lines"] == ["seam", "cutting", "changes"]
    (page,) = read(file.read_bytes())
    assert "Moved since version" in page.text
    assert "front.armhole: by up to" in page.text
    hatch = [line for line in page.lines if abs(line.width - 0.2) < 0.01]
    assert len(hatch) > 10


def test_edits_by_hand_are_named_beside_the_version(trueup: Any, tmp_path: Path) -> None:
    record = trueup.folder / "patterns/blouse.toml"
    record.write_text(record.read_text().replace('"20mm"', '"25mm"'))
    file = tmp_path / "blouse.pdf"
    document = trueup.made("sheet", "blouse", str(file), "--json").document
    assert document["version"]["edited_by_hand"] is True
    assert all("with edits by hand" in page.text for page in read(file.read_bytes()))


def test_the_same_version_gives_the_same_bytes(trueup: Any, tmp_path: Path) -> None:
    one, other = tmp_path / "one.pdf", tmp_path / "other.pdf"
    for file in (one, other):
        trueup.made("sheet", "blouse", str(file))
    assert one.read_bytes() == other.read_bytes()


def test_a_file_is_not_written_over_unless_asked(trueup: Any, tmp_path: Path) -> None:
    file = tmp_path / "blouse.pdf"
    file.write_text("mine")
    assert "is there already" in refused(trueup, "sheet", "blouse", str(file))
    assert file.read_text() == "mine"
    trueup.made("sheet", "blouse", str(file), "--force")
    assert file.read_bytes().startswith(b"%PDF")


@pytest.mark.parametrize(
    ("words", "says"),
    [
        (("nosuch", "x.pdf"), "There is no block or pattern"),
        (("blouse",), "Name the file to write"),
        (("blouse", "x.txt"), "call it x.pdf"),
        (("blouse", "x.pdf", "--paper", "a5"), '"a5" is no paper'),
        (("blouse", "x.pdf", "--paper", "25cm"), "There is no room for"),
        (("blouse", "x.pdf", "--lines", "foo"), '"foo" are no lines'),
        (("blouse", "x.pdf", "--lines", ""), "needs seam or cutting lines"),
        (("blouse", "x.pdf", "--lines", "seam,changes"), "--since"),
        (("blouse", "x.pdf", "--lines", "seam", "--since", "HEAD~1"), "add them to --lines"),
        (("blouse", "x.pdf", "--since", "nosuch"), "There is no version"),
        (("own", "x.pdf", "--since", "HEAD~8"), "There was no own at version"),
        (("blouse", "x.pdf", "--cloth-width", "140cm"), "belongs to --cut-list"),
        (("blouse", "x.pdf", "--cut-list"), "draws no sheet"),
        (("blouse", "--cut-list", "--cloth-width", "20cm"), "There is no room for"),
    ],
)
def test_what_cannot_be_done_is_told_and_nothing_written(
    trueup: Any,
    tmp_path: Path,
    monkeypatch: pytest.MonkeyPatch,
    words: tuple[str, ...],
    says: str,
) -> None:
    monkeypatch.chdir(tmp_path)
    assert says in refused(trueup, "sheet", *words)
    assert not list(tmp_path.glob("x*"))


def test_a_letter_that_cannot_be_written_is_told(trueup: Any, tmp_path: Path) -> None:
    answer = trueup.made("sheet", "vest", str(tmp_path / "vest.pdf"), "--fabric", "絹 silk")
    assert "lacks 絹" in answer.err


def test_the_cut_list_counts_pieces_and_cloth(trueup: Any) -> None:
    answer = trueup.made("sheet", "blouse", "--cut-list", "--cloth-width", "140cm", "--json")
    document = answer.document
    assert [(each["name"], each["cut"]) for each in document["pieces"]] == [
        ("front", 1),
        ("back", 2),
        ("sleeve", 2),
    ]
    whole = sum(each["whole_area_cm2"] for each in document["pieces"])
    assert document["whole_area_cm2"] == pytest.approx(whole, abs=0.05)
    assert document["whole_area_m2"] == pytest.approx(whole / 1e4, abs=1e-4)
    assert [each["layers"] for each in document["estimates"]] == [2, 1]
    for each in document["estimates"]:
        assert each["length_mm"] * 1400 >= whole * 100


def test_the_cut_list_says_how_the_cloth_lies(trueup: Any) -> None:
    plain = trueup.made("sheet", "blouse", "--cut-list").out
    assert "cm²" in plain
    assert "m²" in plain
    assert "--cloth-width 140cm" in plain
    out = trueup.made("sheet", "blouse", "--cut-list", "--cloth-width", "140cm").out
    assert "folded lengthwise, two layers" in out
    assert "open, one layer" in out
    narrow = trueup.made("sheet", "blouse", "--cut-list", "--cloth-width", "60cm").out
    assert "It can be laid out only so" in narrow


def test_cloth_is_told_in_yards_where_inches_are_read(tmp_path: Path, anywhere: Any) -> None:
    folder = str(tmp_path / "inches")
    started = anywhere("start", folder, "--unit", "in")
    example = shlex.split(started.out.splitlines()[-1])
    assert anywhere(*["village" if word == "BLOCK" else word for word in example[1:]]).code == 0
    plain = anywhere("-C", folder, "sheet", "village", "--cut-list").out
    assert "in²" in plain
    assert "yd²" in plain
    assert "--cloth-width 54in" in plain
    out = anywhere("-C", folder, "sheet", "village", "--cut-list", "--cloth-width", "54").out
    assert re.search(r"About \d+( \d/\d)? yd \(\d+.* in\) of cloth 54 in wide", out)
    for metric in ("cm", "mm", " m²"):
        assert metric not in plain.replace(folder, "") + out
