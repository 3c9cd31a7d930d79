"""A small picture of how the pages lie beside each other, with the pieces on them. In mm."""

from functools import partial

from trueup.cli.sheet.ink.blocks import Block
from trueup.cli.sheet.ink.drawn import Drawing, InkPen, Stroke, centred, rectangle
from trueup.cli.sheet.laying.sheets import Sheets
from trueup.cli.sheet.laying.tiles import column_letters
from trueup.geometry.lines.points import Motion

HIGH = 75.0
"""The map is so high, unless its numbers came out too small to read."""

HIGHEST = 200.0
LEGIBLE = 2.0
LETTERS = 2.8
"""The letters of columns and rows."""

BESIDE = 5.0
"""The room for them above and beside the map."""

_DOWN = 2.0
_NUMBER = 0.3
"""The letters of a number, as a share of the width of its page."""


def page_map(sheets: Sheets, width: float) -> Block:
    """Return the map: each page a rectangle with its number, the pieces in outline."""
    windows = [tile.window for tile in sheets.layout.tiles]
    width -= BESIDE
    right = max((window.right for window in windows), default=1.0)
    bottom = max((window.bottom for window in windows), default=1.0)
    narrowest = min((window.width for window in windows), default=1.0)
    high = max(HIGH, min(HIGHEST, LEGIBLE / (_NUMBER * narrowest) * bottom))
    scale = min(width / right, high / bottom)
    size = min(4.0, _NUMBER * scale * narrowest)
    return Block(bottom * scale + 4.0 + BESIDE, partial(_drawn, sheets, scale, size))


def _drawn(sheets: Sheets, scale: float, size: float) -> Drawing:
    """Return the map to a scale, the numbers of its pages so high."""
    windows = [tile.window for tile in sheets.layout.tiles]
    strokes = [
        rectangle(
            window.left * scale,
            _DOWN + window.top * scale,
            window.width * scale,
            window.height * scale,
            InkPen.FRAME,
        )
        for window in windows
    ]
    for laid in sheets.layout.pieces:
        outline = laid.cut.simplify(1.0).exterior.coords
        points = tuple(complex(x, y) * scale + 1j * _DOWN for x, y in outline)
        strokes.append(Stroke(points, InkPen.MATCH))
    words = tuple(
        centred(
            str(sheets.page_of(tile)),
            complex(tile.window.left + tile.window.right, tile.window.top + tile.window.bottom)
            * (scale / 2)
            + 1j * _DOWN,
            size,
            bold=True,
        )
        for tile in sheets.layout.tiles
    )
    drawn = Drawing(tuple(strokes), words).moved(Motion(shift=complex(BESIDE, BESIDE)))
    return drawn + _called(sheets, scale)


def _called(sheets: Sheets, scale: float) -> Drawing:
    """Return the letters of the columns above the map, and the figures of the rows beside it."""
    columns = {tile.column: tile.window for tile in sheets.layout.tiles}
    rows = {tile.row: tile.window for tile in sheets.layout.tiles}
    above = (
        (column_letters(n), complex((w.left + w.right) * scale / 2 + BESIDE, BESIDE - LEGIBLE / 2))
        for n, w in columns.items()
    )
    beside = (
        (f"{n}", complex(BESIDE / 2, (w.top + w.bottom) * scale / 2 + BESIDE + _DOWN))
        for n, w in rows.items()
    )
    return Drawing((), tuple(centred(text, at, LETTERS) for text, at in (*above, *beside)))
