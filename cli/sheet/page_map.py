"""A small picture of how the pages lie beside each other, with the pieces on them. In mm."""

from trueup.cli.sheet.ink.blocks import Block
from trueup.cli.sheet.ink.drawn import Drawing, InkPen, Stroke, centred, rectangle
from trueup.cli.sheet.laying.sheets import Sheets

HIGH = 75.0
"""The map is so high, unless its numbers came out too small to read."""

HIGHEST = 200.0
LEGIBLE = 2.0
_NUMBER = 0.3
"""The letters of a number, as a share of the width of its page."""


def page_map(sheets: Sheets, width: float) -> Block:
    """Return the map: each page a rectangle with its number, the pieces in outline."""
    windows = [tile.window for tile in sheets.layout.tiles]
    right = max((window.right for window in windows), default=1.0)
    bottom = max((window.bottom for window in windows), default=1.0)
    narrowest = min((window.width for window in windows), default=1.0)
    high = max(HIGH, min(HIGHEST, LEGIBLE / (_NUMBER * narrowest) * bottom))
    scale = min(width / right, high / bottom)
    strokes = [
        rectangle(
            window.left * scale,
            2.0 + window.top * scale,
            window.width * scale,
            window.height * scale,
            InkPen.FRAME,
        )
        for window in windows
    ]
    for laid in sheets.layout.pieces:
        outline = laid.cut.simplify(1.0).exterior.coords
        points = tuple(complex(x, y) * scale + 2j for x, y in outline)
        strokes.append(Stroke(points, InkPen.MATCH))
    size = min(4.0, _NUMBER * scale * narrowest)
    words = tuple(
        centred(
            str(sheets.page_of(tile)),
            complex(tile.window.left + tile.window.right, tile.window.top + tile.window.bottom)
            * (scale / 2)
            + 2j,
            size,
            bold=True,
        )
        for tile in sheets.layout.tiles
    )
    return Block(bottom * scale + 4.0, Drawing(tuple(strokes), words))
