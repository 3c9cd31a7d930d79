"""Sizes laid over each other: letters and names stand inside all of them, and on no line."""

from pathlib import Path
from typing import Any

import pytest
import shapely

from tests.cli.sheet.naming.seen import Seen, met
from trueup.cli.sheet.document import composed, written
from trueup.cli.sheet.planning import planned
from trueup.cli.sheet.wanted import Wanted
from trueup.lineage.wardrobe import Wardrobe

# Assumed sizes, in cm; their names are letters on purpose.
SIZES = """size,bust,waist,back-length,sleeve-length
a,84,64,37.5,53
b,88,68,38,54
c,94,74,38.5,55
m,100,80,39,56
"""


@pytest.mark.parametrize("lines", [None, "seam,cutting"])
@pytest.mark.parametrize("paper", ["a4", "a3", "120cm"])
def test_what_is_written_stands_inside_all_sizes_and_on_no_line(
    trueup: Any, tmp_path: Path, paper: str, lines: str | None
) -> None:
    (tmp_path / "sizes.csv").write_text(SIZES)
    trueup.made("sizes", "blouse", "--table", str(tmp_path / "sizes.csv"))
    with Wardrobe.open(trueup.folder) as wardrobe:
        sheet = planned(wardrobe, wardrobe.evaluator, Wanted("blouse", paper, lines, sizes=True))
    found = composed(sheet)
    seen = Seen(written(sheet.facts, found.pages), found)
    names = {each.name for each in sheet.sizes}
    letters = {each.letter for each in sheet.seams}
    assert not letters & {each.upper() for each in names}
    carried = set()
    for laid in found.layout.pieces:
        inner = shapely.intersection_all([each.piece.cloth for each in laid.nested])
        there = [each for each in seen.on(laid) if each[1].text.strip() not in names]
        for page, words, room in there:
            assert met(page, words.room) == [], words.text
            back = laid.motion.inverse()
            corners = [back(complex(x, y)) for x, y in room.exterior.coords]
            turned = shapely.Polygon([(p.real, p.imag) for p in corners])
            assert inner.buffer(0.01).covers(turned), words.text
            if words.text.strip() in letters:
                carried.add((words.text.strip(), laid.piece.name))
    expected = {(s.letter, each.piece) for s in sheet.seams for each in (*s.side, *s.mate)}
    assert carried == expected


def test_the_label_of_a_run_names_no_one_body(trueup: Any, tmp_path: Path) -> None:
    (tmp_path / "sizes.csv").write_text(SIZES)
    trueup.made("sizes", "blouse", "--table", str(tmp_path / "sizes.csv"))
    with Wardrobe.open(trueup.folder) as wardrobe:
        sheet = planned(wardrobe, wardrobe.evaluator, Wanted("blouse", "120cm", sizes=True))
    found = composed(sheet)
    texts = [w.text for _, w, _ in Seen(written(sheet.facts, found.pages), found).on(
        found.layout.pieces[0])]  # fmt: skip
    assert any("sizes a to m" in text for text in texts)
    assert not any("for bust" in text for text in texts)
