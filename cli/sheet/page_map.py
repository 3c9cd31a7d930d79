"""A small picture of how the pages lie beside each other, with the pieces on them. In mm."""

from cli.sheet.blocks import Block
from cli.sheet.ink import Drawing, Pen, Stroke, centred, rectangle
from cli.sheet.sheets import Sheets

HIGHEST = 75.0


def page_map(sheets: Sheets, width: float) -> Block:
    """Return the map: each page a rectangle with its number, the pieces in outline."""
    windows = [tile.window for tile in sheets.layout.tiles]
    right = max((window.right for window in windows), default=1.0)
    bottom = max((window.bottom for window in windows), default=1.0)
    scale = min(width / right, HIGHEST / bottom)
    strokes = [
        rectangle(
            window.left * scale,
            2.0 + window.top * scale,
            window.width * scale,
            window.height * scale,
            Pen.FRAME,
        )
        for window in windows
    ]
    for laid in sheets.layout.pieces:
        outline = laid.cut.simplify(1.0).exterior.coords
        points = tuple(complex(x, y) * scale + 2j for x, y in outline)
        strokes.append(Stroke(points, Pen.MATCH))
    size = min(4.0, 0.3 * scale * min((window.width for window in windows), default=1.0))
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
