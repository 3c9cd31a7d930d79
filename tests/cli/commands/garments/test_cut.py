"""trueup cut: cloth, cut from one exact version of a pattern."""

import subprocess
from pathlib import Path
from typing import Any

import pytest
import tomli

from tests.cli.trouble.test_bad_input import refused
from trueup.geometry.cloth.cutting_line import cutting_line
from trueup.lineage.drawings.outline import read_outline
from trueup.lineage.wardrobe import Wardrobe


def head(folder: Path) -> str:
    return (folder / ".git/refs/heads/main").read_text().strip()


def test_a_garment_is_cut_from_the_exact_version(trueup: Any) -> None:
    version = head(trueup.folder)
    answer = trueup.made(
        *("cut", "blouse", "--name", "ada-blouse", "--fabric", "linen", "--wearer", "Ada"),
        *("--date", "2025-03-01", "--stitched-down", "front.neck", "--json"),
    )
    garment = answer.document["garment"]
    assert garment["cut_from"] == version
    assert (garment["pattern"], garment["status"]) == ("blouse", "cut")
    assert (garment["fabric"], garment["wearer"]) == ("linen", "Ada")
    assert garment["cut_on"] == "2025-03-01"
    assert garment["stitched_down"] == ["front.neck"]
    assert answer.document["recorded"]["commit"] == head(trueup.folder)
    written = tomli.loads((trueup.folder / "garments/ada-blouse.toml").read_text())
    assert written["cut_from"] == version
    assert answer.err == ""


def test_cutting_is_one_step_that_undo_takes_back(trueup: Any) -> None:
    before = trueup.contents()
    trueup.made("cut", "blouse")
    log = subprocess.run(
        ["git", "log", "--format=%s", "-2"],
        check=True,
        cwd=trueup.folder,
        capture_output=True,
        text=True,
    )
    assert log.stdout.splitlines()[0] == "Cut blouse-1 from blouse"
    trueup.made("undo")
    after = trueup.contents()
    assert {**after, "HEAD": b""} == {**before, "HEAD": b""}


def test_the_outline_it_was_cut_by_is_kept_with_its_allowances(trueup: Any) -> None:
    for piece in ("front", "back"):
        trueup.made("style", "vest", "seam-allowance", "--piece", piece, "--by", "15mm")
        trueup.made("style", "vest", "hem-allowance", "--piece", piece, "--by", "40mm")
    garment = trueup.made("cut", "vest", "--json").document["garment"]
    allowances = {each["edge"]: each["amount_mm"] for each in garment["allowances"]}
    assert allowances["front.side"] == 15
    assert allowances["back.hem"] == 40
    assert "front.centre" not in allowances
    cloth = read_outline((trueup.folder / "garments/vest-1.svg").read_bytes())
    with Wardrobe.open(trueup.folder) as wardrobe:
        draft = wardrobe.evaluator.draft("vest")
        assert cloth.keys() == set(draft.piece_names)
        for name, outline in cloth.items():
            assert outline.hausdorff_distance(cutting_line(draft.piece(name))) < 1e-5
            assert outline.area > draft.piece(name).area
    assert "1.5 cm on" in trueup.made("garment", "vest-1").out


def test_a_correction_since_does_not_touch_what_is_cut(trueup: Any) -> None:
    trueup.made("cut", "vest")
    cut = {name: text for name, text in trueup.contents().items() if "garments" in name}
    trueup.made("correct", "village", "scoop-armhole", "--piece", "back", "--by", "5mm")
    after = trueup.contents()
    assert {name: after[name] for name in cut} == cut


def test_an_earlier_version_can_be_cut(corrected: Any) -> None:
    with Wardrobe.open(corrected.folder) as wardrobe:
        before = wardrobe.resolve("HEAD~1")
    answer = corrected("cut", "village", "--as-of", "HEAD~1", "--json")
    assert answer.document["garment"]["cut_from"] == before
    assert answer.err == ""


def test_open_conflicts_are_told_and_do_not_stand_in_the_way(corrected: Any) -> None:
    answer = corrected.made("cut", "village")
    assert "conflicts that wait for a decision" in answer.err
    assert answer.err.count("\n") == 1
    inherited = corrected.made("cut", "blouse", "--json")
    assert "conflicts that wait for a decision" in inherited.err
    assert inherited.document["garment"]["name"] == "blouse-1"


def test_a_garment_is_named_after_its_pattern_with_a_number(trueup: Any) -> None:
    trueup.made("derive", "blouse-2", "--from", "blouse")
    names = [trueup.made("cut", "blouse", "--json").document["garment"]["name"] for _ in range(3)]
    assert names == ["blouse-1", "blouse-3", "blouse-4"]


def test_garments_and_nodes_share_their_names(trueup: Any) -> None:
    trueup.made("cut", "blouse", "--name", "tunic")
    assert "garments/tunic.toml" in refused(trueup, "derive", "tunic", "--from", "blouse")
    assert "garments/tunic.toml" in refused(
        trueup,
        *("draft", "tunic", "--bust", "88", "--waist", "68", "--back-length", "38"),
        *("--sleeve-length", "54"),
    )
    assert "garments/tunic.toml" in refused(trueup, "cut", "vest", "--name", "tunic")
    assert "patterns/vest.toml" in refused(trueup, "cut", "vest", "--name", "vest")


def test_edits_by_hand_are_taken_up_first(trueup: Any) -> None:
    file = trueup.folder / "patterns/blouse.toml"
    file.write_text(file.read_text().replace('by = "20mm"', 'by = "25mm"'))
    answer = trueup.made("cut", "blouse", "--json")
    assert "taken up" in answer.err
    with Wardrobe.open(trueup.folder) as wardrobe:
        then = wardrobe.evaluator_at(answer.document["garment"]["cut_from"])
        assert then.state.node("blouse").steps[-1].values["by"] == "25mm"


@pytest.mark.parametrize(
    ("words", "told"),
    [
        (("blous",), "try blouse"),
        (("blouse", "--as-of", "nosuch"), "no version"),
        (("own", "--as-of", "HEAD~8"), "no block or pattern"),
        (("blouse", "--date", "2999-01-01"), "lies in the future"),
        (("blouse", "--date", "1025-01-01"), "before the year 1900"),
        (("blouse", "--date", "2025-02-30"), "no such day"),
        (("blouse", "--date", "yesterday"), "year, month and day"),
        (("blouse", "--date", "20250301"), "year, month and day"),
        (("blouse", "--date", ""), "year, month and day"),
        (("blouse", "--name", "Ada's blouse"), "cannot be a name"),
        (("blouse", "--name", "../blouse"), "cannot be a name"),
        (("blouse", "--stitched-down", "front.nek"), "try front.neck"),
        (("blouse", "--stitched-down", "front"), "try front"),
        (("vest", "--stitched-down", "sleeve.cap"), "is not an edge"),
        (("blouse", "--wearer", "x" * 500), "120 is the most"),
        (("blouse", "--fabric", "\udcff"), "no UTF-8"),
        (("blouse", "--fabric", "a\x1b[31mb"), "cannot be printed"),
    ],
)
def test_what_cannot_be_cut_is_refused(trueup: Any, words: tuple[str, ...], told: str) -> None:
    assert told in refused(trueup, "cut", *words)
