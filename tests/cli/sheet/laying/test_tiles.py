"""Sheets that overlap, and the crosses where they meet."""

from collections import Counter

from hypothesis import given, settings
from hypothesis import strategies as st
from shapely.geometry import box
from shapely.ops import unary_union

from trueup.cli.drawing.scene.rectangle import Rectangle
from trueup.cli.sheet.laying.tiles import (
    OVERLAP,
    Tile,
    count_for,
    covered,
    marks_between,
    tiles_over,
)

A4 = Rectangle(0, 0, 190, 268)
lengths = st.floats(1, 3000)


@settings(max_examples=50)
@given(lengths, lengths)
def test_the_sheets_cover_the_area(width: float, height: float) -> None:
    tiles = tiles_over(width, height, A4)
    shown = unary_union([tile.window.polygon for tile in tiles])
    assert box(0, 0, width, height).difference(shown.buffer(1e-6)).is_empty


@settings(max_examples=50)
@given(lengths, lengths)
def test_every_sheet_overlaps_its_neighbours_by_as_much(width: float, height: float) -> None:
    by_place = {(tile.row, tile.column): tile for tile in tiles_over(width, height, A4)}
    for (row, column), tile in by_place.items():
        if right := by_place.get((row, column + 1)):
            assert abs(tile.window.shared(right.window).width - OVERLAP) < 1e-9
        if below := by_place.get((row + 1, column)):
            assert abs(tile.window.shared(below.window).height - OVERLAP) < 1e-9


@settings(max_examples=50)
@given(lengths)
def test_no_sheet_more_than_needed(length: float) -> None:
    count = count_for(length, 190)
    assert covered(count, 190) >= length - 1e-6
    assert count == 1 or covered(count - 1, 190) < length


def test_each_two_neighbours_share_two_crosses_of_one_number() -> None:
    tiles = tiles_over(500, 700, A4)
    marks = marks_between(tiles)
    counts = Counter(mark.number for mark in marks)
    assert set(counts.values()) == {2}
    for number in counts:
        arms = (3, -3, 3j, -3j)
        both = [mark for mark in marks if mark.number == number]
        showing = [
            tile
            for tile in tiles
            if all(tile.window.holds([mark.at + arm for arm in arms]) for mark in both)
        ]
        assert len(showing) == 2


def test_a_sheet_left_out_shares_no_cross() -> None:
    tiles = [tile for tile in tiles_over(500, 268, A4) if tile.column != 2]
    assert [tile.column for tile in tiles] == [1, 3]
    assert marks_between(tiles) == ()


def test_a_small_area_takes_one_sheet_and_no_cross() -> None:
    tiles = tiles_over(50, 60, A4)
    assert tiles == (Tile(1, 1, A4),)
    assert marks_between(tiles) == ()
