"""trueup sheet --only-moved: exactly the pages that differ, judged by what is seen on paper."""

import shutil
from itertools import pairwise
from pathlib import Path
from typing import Any

import numpy as np
import pytest
import shapely

from tests.cli.sheet.page_objects import inked
from tests.cli.sheet.pdf import ReadPage, read
from trueup.cli.sheet.ink.drawn import InkPen

PENS = (
    *(InkPen.SEAM, InkPen.CUT, InkPen.DART, InkPen.NOTCH, InkPen.FOLD, InkPen.GRAIN),
    *(InkPen.TURNED, InkPen.TURNED_UP, InkPen.LEVEL),
)
SEEN = 0.12
"""A line that lies farther from where it lay, mm, has moved for who looks closely."""

CORRECTIONS = {
    "armhole": ("scoop-armhole", "--piece", "front", "--by", "12mm"),
    "shoulder": ("shorten-shoulder", "--by", "6mm"),
    "dart": ("deepen-dart", "--dart", "back.waist", "--by", "6mm"),
}


def differing(old: bytes, new: bytes) -> list[int]:
    """Return the numbers of the pages on which a line of a piece lies elsewhere."""
    pairs = zip(read(old), read(new), strict=True)
    return [n for n, pair in enumerate(pairs, start=1) if any(_moved(*pair, p) for p in PENS)]


def _moved(one: ReadPage, other: ReadPage, pen: InkPen) -> bool:
    before, after = (shapely.union_all([e.line for e in p.in_pen(pen)]) for p in (one, other))
    away = (
        a.difference(b.buffer(SEEN)).length if not a.is_empty else 0.0
        for a, b in ((before, after), (after, before))
    )
    return max(away) > SEEN


def whole(trueup: Any, file: Path, *more: str) -> bytes:
    trueup.made("sheet", "blouse", str(file), "--force", *more)
    return file.read_bytes()


@pytest.mark.parametrize("paper", ["a4", "letter", "a3"])
@pytest.mark.parametrize("what", CORRECTIONS)
def test_the_pages_that_differ_are_exactly_those_named(
    trueup: Any, tmp_path: Path, paper: str, what: str
) -> None:
    trueup("correct", "village", *CORRECTIONS[what])
    asked = ("sheet", "blouse", str(tmp_path / "moved.pdf"), "--paper", paper, "--only-moved")
    document = trueup.made(*asked, "--json").document
    since = document["since"]["commit"]
    old = whole(trueup, tmp_path / "old.pdf", "--as-of", since, "--paper", paper)
    new = whole(trueup, tmp_path / "new.pdf", "--paper", paper)
    assert document["laid_out_alike"]
    named = [page["number"] for page in document["pages"]]
    assert named
    assert named == differing(old, new)
    places = {page["number"]: page["place"] for page in document["pages"]}
    texts = [page.text for page in read(old)]
    for number, place in places.items():
        assert f"page {number} of {len(texts)}, {place}" in texts[number - 1]


def test_its_pages_show_what_the_whole_sheet_shows_and_the_old_line_dotted(
    trueup: Any, tmp_path: Path
) -> None:
    trueup.made("correct", "village", *CORRECTIONS["armhole"])
    file = tmp_path / "moved.pdf"
    document = trueup.made("sheet", "blouse", str(file), "--only-moved", "--json").document
    old = read(whole(trueup, tmp_path / "old.pdf", "--as-of", document["since"]["commit"]))
    new = read(whole(trueup, tmp_path / "new.pdf"))
    moved = read(file.read_bytes())
    assert len(moved) == len(document["pages"]) < len(new)
    for page, told in zip(moved, document["pages"], strict=True):
        whole_page, old_page = new[told["number"] - 1], old[told["number"] - 1]
        for pen in (InkPen.SEAM, InkPen.CUT):
            here, there = (
                shapely.union_all([line.line for line in each.in_pen(pen)])
                for each in (page, whole_page)
            )
            assert here.difference(there.buffer(0.05)).length < 0.05
        dotted = [line.line for line in page.in_pen(InkPen.FORMER)]
        before = shapely.union_all([line.line for pen in PENS for line in old_page.in_pen(pen)])
        assert shapely.union_all(dotted).difference(before.buffer(0.1)).length < 0.1
    assert any(page.in_pen(InkPen.FORMER) for page in moved)


def test_laid_over_the_old_page_all_that_did_not_move_lies_on_itself(
    trueup: Any, tmp_path: Path
) -> None:
    """Seen as ink on paper, a page that is not named is the same; one that is, is not."""
    trueup.made("correct", "village", *CORRECTIONS["armhole"])
    document = trueup.made(
        "sheet", "blouse", str(tmp_path / "moved.pdf"), "--only-moved", "--json"
    ).document
    since = document["since"]["commit"]
    named = {page["number"] for page in document["pages"]}
    old = inked(whole(trueup, tmp_path / "old.pdf", "--as-of", since))
    new = inked(whole(trueup, tmp_path / "new.pdf"))
    covers = {n for n, page in enumerate(read((tmp_path / "new.pdf").read_bytes()), start=1)
              if "row 1," in page.text}  # fmt: skip
    for number, (before, after) in enumerate(zip(old, new, strict=True), start=1):
        if number in covers:
            continue  # the map on it shows the pieces small
        changed = int(np.count_nonzero(before != after))
        assert (changed > 0) == (number in named), number


def test_without_a_version_it_is_that_before_the_last_step_that_moved_a_line(
    trueup: Any, tmp_path: Path
) -> None:
    before = (trueup.folder / ".git/refs/heads/main").read_text().strip()
    trueup.made("correct", "village", *CORRECTIONS["armhole"])
    trueup.made("style", "vest", "lower-neck", "--piece", "front", "--by", "5mm")
    file = tmp_path / "moved.pdf"
    document = trueup.made("sheet", "blouse", str(file), "--only-moved", "--json").document
    assert document["since"]["commit"] == before
    assert "scoop-armhole" in document["since_before"]
    said = trueup.made("sheet", "blouse", str(file), "--only-moved", "--force").out
    names = [f"{page['number']} ({page['place']})" for page in document["pages"]]
    assert f"pages {', '.join(names[:-1])} and {names[-1]}" in said


def test_where_a_garment_was_cut_its_paper_is_that_at_hand(trueup: Any, tmp_path: Path) -> None:
    trueup.made("cut", "blouse", "--wearer", "Cora", "--date", "2025-03-08")
    trueup.made("correct", "village", *CORRECTIONS["armhole"])
    trueup.made("correct", "village", *CORRECTIONS["shoulder"])
    file = tmp_path / "moved.pdf"
    document = trueup.made("sheet", "blouse", str(file), "--only-moved", "--json").document
    assert document["since_cut"] == "blouse-1"
    asked = ("sheet", "blouse", str(file), "--only-moved", "--force", "--json")
    alone = trueup.made(*asked, "--since", "HEAD~1").document
    assert {p["place"] for p in alone["pages"]} <= {p["place"] for p in document["pages"]}


def test_nothing_is_written_where_nothing_moved(trueup: Any, tmp_path: Path) -> None:
    file = tmp_path / "moved.pdf"
    said = trueup.made("sheet", "blouse", str(file), "--only-moved", "--since", "HEAD").out
    assert "is as good as a new one, and nothing was written" in said
    assert not file.exists()
    document = trueup.made(
        "sheet", "blouse", str(file), "--only-moved", "--since", "HEAD", "--json"
    ).document
    assert (document["pages"], document["file"]) == ([], None)


def test_a_piece_with_no_room_in_its_place_is_printed_whole_on_pages_of_its_own(
    trueup: Any, tmp_path: Path
) -> None:
    trueup.made("style", "blouse", "widen-sleeve", "--by", "90mm")
    file = tmp_path / "moved.pdf"
    document = trueup.made("sheet", "blouse", str(file), "--only-moved", "--json").document
    assert document["printed_anew"] == ["sleeve"]
    there = document["pages_of_the_earlier_sheet"]
    added = [page for page in document["pages"] if page["added"]]
    assert [page["number"] for page in added] == list(range(there + 1, there + 1 + len(added)))
    said = trueup.made("sheet", "blouse", str(file), "--only-moved", "--force").out
    assert "sleeve has no room where the earlier sheet has it: all of it is on pages" in said
    assert "--only-moved --since" in said
    pages = read(file.read_bytes())[-len(added) :]
    seams = sum(line.length for page in pages for line in page.in_pen(InkPen.SEAM))
    known = trueup.made("measure", "blouse", "--json").document["measures"]
    around = sum(
        each["mm"] if isinstance(each, dict) else each
        for name, each in known.items()
        if name in {"sleeve.cap", "sleeve.hem", "sleeve.back-seam", "sleeve.front-seam"}
    )
    assert seams > 0.95 * around


@pytest.mark.parametrize(
    ("words", "says"),
    [
        (("--paper", "a0"), "print --only-moved on a4, letter or a3"),
        (("--sizes",), "--only-moved prints what moved in one size"),
        (("--since", "nowhere"), "nowhere"),
    ],
)
def test_what_cannot_be_is_refused(
    trueup: Any, tmp_path: Path, words: tuple[str, ...], says: str
) -> None:
    trueup.made("correct", "village", *CORRECTIONS["armhole"])
    answer = trueup("sheet", "blouse", str(tmp_path / "x.pdf"), "--only-moved", *words)
    assert answer.code == 2
    assert says in answer.err
    assert "Traceback" not in answer.err


def test_a_pattern_that_never_moved_is_told_to_be_printed_whole(
    trueup: Any, tmp_path: Path
) -> None:
    trueup.made("derive", "other", "--from", "village")
    answer = trueup("sheet", "other", str(tmp_path / "x.pdf"), "--only-moved")
    assert answer.code == 2
    assert "No line of other has moved since it was made or cut" in answer.err


def test_the_wardrobe_is_left_as_it_is(trueup: Any, tmp_path: Path) -> None:
    trueup.made("correct", "village", *CORRECTIONS["armhole"])
    before = trueup.contents()
    trueup.made("sheet", "blouse", str(tmp_path / "x.pdf"), "--only-moved")
    assert trueup.contents() == before


def test_the_judge_sees_a_line_that_moved_by_a_quarter_of_a_millimetre(
    trueup: Any, tmp_path: Path
) -> None:
    old = whole(trueup, tmp_path / "old.pdf")
    shutil.copy(tmp_path / "old.pdf", tmp_path / "same.pdf")
    assert differing(old, (tmp_path / "same.pdf").read_bytes()) == []
    trueup.made("style", "blouse", "lower-neck", "--piece", "front", "--by", "0.25mm")
    new = whole(trueup, tmp_path / "new.pdf")
    assert differing(old, new)
    assert all(a < b for a, b in pairwise(differing(old, new)))
