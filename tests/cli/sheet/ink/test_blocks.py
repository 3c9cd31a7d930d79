"""Words broken into lines, and blocks flowed into columns."""

from hypothesis import given, settings
from hypothesis import strategies as st

from trueup.cli.sheet.ink.blocks import Block, flowed, heading, paragraph, table
from trueup.cli.sheet.ink.drawn import Drawing, InkWords
from trueup.cli.sheet.ink.letters import lacking, width_of, wrapped, writable


@settings(max_examples=100)
@given(st.text(max_size=120), st.floats(20, 200))
def test_no_line_is_wider_than_the_column_and_no_letter_is_lost(text: str, width: float) -> None:
    lines = wrapped(text, width, 3.2)
    assert all(width_of(line, 3.2) <= width for line in lines)
    assert "".join(lines).replace(" ", "") == writable(text).replace(" ", "")


def test_letters_the_typeface_lacks_are_told() -> None:
    assert writable("café 漢") == "café ?"
    assert lacking("café 漢 漢") == "漢"


def test_columns_are_no_higher_than_the_page() -> None:
    blocks = [Block(30.0) for _ in range(10)]
    assert [column.height for column in flowed(blocks, 100)] == [90, 90, 90, 30]


def test_a_heading_is_not_left_alone_at_the_foot() -> None:
    words = Block(10.0, Drawing((), (InkWords("below", 3j, 3.0),)))
    first, second = flowed([Block(85.0), heading("Pieces"), words], 100)
    assert first.height == 85
    assert [each.text for each in second.drawing.words] == ["Pieces", "below"]


def test_the_last_cell_of_a_row_takes_as_many_lines_as_it_needs() -> None:
    (row,) = table([("front", "word " * 60)], 100)
    assert row.height > 4 * 3.2
    assert all(words.at.real + words.width <= 100 for words in row.drawing.words)


def test_lines_after_the_first_are_moved_in() -> None:
    first, second, *_ = paragraph("word " * 60, 100, indent=4)
    assert first.drawing.words[0].at.real == 0
    assert second.drawing.words[0].at.real == 4
