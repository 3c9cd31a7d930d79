"""trueup garment --status altered: what was done to the cloth, and what it still gives after it."""

import re
import shutil
import subprocess
import tomllib
from pathlib import Path
from typing import Any

import pytest
from shapely.geometry import Point, Polygon

from tests.cli.commands.garments.test_alter import edges
from tests.cli.conftest import Trueup
from tests.cli.trouble.test_bad_input import refused
from tests.sharing.beginnings import Beginnings

SCOOP = ("correct", "village", "scoop-armhole", "--piece", "front", "--by", "12mm")
RECORD, CUT, ALTERED = (f"garments/blouse-1{end}" for end in (".toml", ".svg", ".altered.svg"))


@pytest.fixture
def cut(trueup: Any, beginnings: Beginnings) -> Any:
    """The wardrobe with a blouse cut from it with allowances."""

    def begin() -> None:
        for piece in ("front", "back", "sleeve"):
            trueup.made("style", "blouse", "seam-allowance", "--piece", piece, "--by", "15mm")
            trueup.made("style", "blouse", "hem-allowance", "--piece", piece, "--by", "40mm")
        trueup.made("cut", "blouse")

    beginnings.begin(trueup.folder, begin)
    return trueup


@pytest.fixture
def altered(cut: Any, beginnings: Beginnings) -> Any:
    """The same after its armhole was hollowed by 12 mm, on the block and on the cloth."""

    def begin() -> None:
        cut.made(*SCOOP)
        cut.made("garment", "blouse-1", "--status", "altered")

    beginnings.begin(cut.folder, begin)
    return cut


def outline(file: Path, piece: str) -> Polygon:
    """Return the outline of a piece as a drawing has it, read by its numbers alone."""
    (drawn,) = re.findall(rf'id="{piece}\.cut" d="([^"]*)"', file.read_text())
    numbers = [float(each) for each in re.findall(r"-?\d+(?:\.\d+)?", drawn)]
    return Polygon(zip(numbers[::2], numbers[1::2], strict=True))


def record(wardrobe: Any) -> dict[str, Any]:
    return tomllib.loads((wardrobe.folder / RECORD).read_text())


def test_the_cloth_as_it_is_altered_is_drawn_beside_the_cloth_as_it_was_cut(cut: Any) -> None:
    as_cut = (cut.folder / CUT).read_bytes()
    cut.made(*SCOOP)
    version = (cut.folder / ".git/refs/heads/main").read_text().strip()
    cut.made("garment", "blouse-1", "--status", "altered")
    assert (cut.folder / CUT).read_bytes() == as_cut
    assert record(cut)["altered_to"] == version
    before, after = (outline(cut.folder / name, "front") for name in (CUT, ALTERED))
    assert after.difference(before.buffer(0.01)).is_empty
    # Hollowed by 12 mm at its deepest, fading to nothing: a sliver of some twenty square cm.
    lost = before.difference(after)
    assert 500 < lost.area < 3000
    cut_off = {corner: Point(corner).distance(after) for corner in before.exterior.coords}
    peak = Point(max(cut_off, key=lambda corner: cut_off[corner]))
    # The cutting line lies 15 mm outside of the seam, where the same hollow is a little deeper.
    beside = max(by for corner, by in cut_off.items() if peak.distance(Point(corner)) > 25)
    assert 10 < beside < 14
    # It is deepest at the mouth of the bust dart, which is cut as it is folded: in a peak.
    assert 12 <= max(cut_off.values()) < 16
    for piece in ("back", "sleeve"):
        old, new = (outline(cut.folder / name, piece) for name in (CUT, ALTERED))
        assert old.symmetric_difference(new).area < 1


def test_an_altered_garment_is_as_its_pattern_wants_it(altered: Any) -> None:
    document = altered.made("alter", "blouse-1", "--json").document
    assert document["as_wanted"]
    assert document["altered_to"] == record(altered)["altered_to"]
    said = altered.made("garment", "blouse-1").out
    assert "as it was when the garment was altered" in said
    assert f"version {record(altered)['altered_to'][:10]}" in said
    assert "altered to blouse" in altered.made("history", "blouse-1").out


def test_cloth_that_was_cut_away_does_not_come_back(altered: Any) -> None:
    altered.made("drop", "village", altered.step_of("village"), "--why", "it was the bra")
    front = edges(altered.made("alter", "blouse-1", "--json"))["front.armhole"]
    assert front["possible"] == "partly"
    assert front["lacking_mm"] > 1
    assert 0 < front["from_mm"] < front["to_mm"] < 228
    # Of the cloth as it was cut there would have been enough.
    altered.made("undo")
    altered.made("garment", "blouse-1", "--status", "cut", "--why", "it was not done")
    assert not (altered.folder / ALTERED).exists()
    assert "altered_to" not in record(altered)
    altered.made("drop", "village", altered.step_of("village"), "--why", "it was the bra")
    assert altered.made("alter", "blouse-1", "--json").document["as_wanted"]


def test_what_lacked_when_it_was_altered_lacks_still(altered: Any) -> None:
    altered.made("drop", "village", altered.step_of("village"), "--why", "it was the bra")
    lacked = edges(altered.made("alter", "blouse-1", "--json"))["front.armhole"]["lacking_mm"]
    altered.made("garment", "blouse-1", "--status", "altered")
    assert record(altered)["lacking"] == {"front.armhole": pytest.approx(lacked, abs=0.1)}
    document = altered.made("alter", "blouse-1", "--json")
    assert not document.document["as_wanted"]
    front = edges(document)["front.armhole"]
    assert front["possible"] == "cannot"
    assert front["lacking_mm"] == pytest.approx(lacked, abs=0.15)
    assert "front.armhole" in altered.made("garment", "blouse-1").out
    # Hollowed again where it lacks, there is cloth enough.
    altered.made(*SCOOP)
    assert edges(altered.made("alter", "blouse-1", "--json"))["front.armhole"]["possible"] == "can"


def test_it_is_altered_again_only_when_its_pattern_was_corrected_since(altered: Any) -> None:
    sentence = refused(altered, "garment", "blouse-1", "--status", "altered")
    assert "altered already" in sentence
    altered.made("correct", "village", "lengthen", "--by", "10mm")
    altered.made("garment", "blouse-1", "--status", "altered")
    assert "now" not in altered.made("alter", "blouse-1").out


def test_an_open_conflict_of_the_pattern_is_told_before_the_scissors(trueup: Any) -> None:
    trueup.made("cut", "blouse")
    trueup.made("correct", "village", "scoop-armhole", "--piece", "front", "--by", "20mm")
    (conflict,) = trueup("conflicts", "blouse", "--json").document["inherits"]
    said = trueup.made("alter", "blouse-1").out
    assert said.index(conflict) < said.index("front.armhole  ")
    document = trueup.made("alter", "blouse-1", "--json").document
    assert document["open_conflicts"] == [conflict]
    trueup.made("decide", conflict, "refit-cap")
    assert trueup.made("alter", "blouse-1", "--json").document["open_conflicts"] == []


def test_a_garment_whose_version_is_gone_is_told_with_all_else(cut: Any, tmp_path: Path) -> None:
    cut.made("note", "blouse-1", "armhole-gapes", "--place", "front.armhole")
    shallow = tmp_path / "shallow"
    git = shutil.which("git") or "git"
    source = f"file://{cut.folder}"
    subprocess.run([git, "clone", "-q", "--depth", "1", source, str(shallow)], check=True)
    answer = Trueup(shallow)("garment", "blouse-1")
    assert answer.code == 3
    assert "front armhole gapes" in answer.out
    assert "allowances" in answer.out
    assert len(re.findall(r"fetch the whole history", answer.out + answer.err)) == 1


def test_the_altered_outline_is_a_fact_as_the_cut_one_is(altered: Any) -> None:
    (altered.folder / ALTERED).unlink()
    sentence = refused(altered, "style", "vest", "lengthen", "--by", "10mm")
    assert ALTERED in sentence
    altered.made("restore", ALTERED)
    assert altered.made("alter", "blouse-1", "--json").document["as_wanted"]
    altered.made("garment", "blouse-1", "--forget", "--why", "a toile")
    assert not list((altered.folder / "garments").glob("blouse-1*"))
