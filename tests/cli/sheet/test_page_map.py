"""The map of the pages on a cover."""

import pytest

from tests.cli.sheet.test_cut_list import rectangle
from trueup.cli.sheet.laying.layout import ToPrint, lay_out
from trueup.cli.sheet.laying.paper import PAPERS, Paper
from trueup.cli.sheet.laying.sheets import Sheets
from trueup.cli.sheet.page_map import HIGHEST, LEGIBLE, page_map

A4, LETTER, *_ = PAPERS


@pytest.mark.parametrize("paper", [A4, LETTER], ids=str)
@pytest.mark.parametrize(("width", "height"), [(300, 300), (450, 1500), (400, 3600), (1500, 400)])
def test_every_page_has_a_number_that_can_be_read(paper: Paper, width: int, height: int) -> None:
    layout = lay_out([ToPrint(rectangle("train", width, height))], paper)
    block = page_map(Sheets(layout, 2), 190.0)
    told = [words.text for words in block.drawing.words]
    pages = len(layout.tiles)
    assert told[:pages] == [str(n) for n in range(2, pages + 2)]
    columns = sorted({tile.column for tile in layout.tiles})
    rows = sorted({tile.row for tile in layout.tiles})
    beside = ["ABCDEFGHIJKLMNOP"[column - 1] for column in columns] + [str(row) for row in rows]
    assert sorted(told[pages:]) == sorted(beside)
    assert min(words.size for words in block.drawing.words) >= LEGIBLE - 1e-9
    assert block.height <= HIGHEST + 4.0 + 1e-9
    for stroke in block.drawing.strokes:
        assert all(-1e-9 <= p.real <= 190 + 1e-9 and p.imag <= block.height for p in stroke.points)
