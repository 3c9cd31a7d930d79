"""On which sheets lines are drawn, by what shapely cuts off them."""

import shapely
from hypothesis import given, settings
from hypothesis import strategies as st

from trueup.cli.sheet.ink.drawn import InkPen, Stroke
from trueup.cli.sheet.laying.drawn_on import drawn_on
from trueup.cli.sheet.laying.paper import A4
from trueup.cli.sheet.laying.tiles import tiles_over

TILES = tiles_over(700.0, 900.0, A4.window)

points = st.builds(complex, st.integers(-50, 750), st.integers(-50, 950))
lines = st.lists(points, min_size=2, max_size=6, unique=True)


@given(st.lists(lines, max_size=4))
@settings(max_examples=80)
def test_a_sheet_shows_lines_where_shapely_finds_some_of_them_within_it(drawn):
    shown = drawn_on(TILES, [Stroke(tuple(line), InkPen.SEAM) for line in drawn])
    whole = shapely.MultiLineString([[(p.real, p.imag) for p in line] for line in drawn])
    for tile in TILES:
        within = shapely.intersection(whole, tile.window.polygon).length
        if within > 1e-3:
            assert tile in shown
        elif whole.distance(tile.window.polygon) > 1e-3:
            assert tile not in shown


def test_a_sheet_that_lies_within_a_ring_of_lines_shows_none():
    tiles = tiles_over(900.0, 1200.0, A4.window)
    ring = Stroke((10 + 10j, 790 + 10j, 790 + 1090j, 10 + 1090j, 10 + 10j), InkPen.CUT)
    shown = drawn_on(tiles, [ring])
    assert shown
    assert {*tiles} - {*shown}
    assert all(tile in tiles for tile in shown)
    assert drawn_on(tiles, []) == ()
