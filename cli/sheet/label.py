"""The label of a piece, and a free spot for it that one sheet shows whole. Lengths in mm."""

from collections.abc import Iterator, Sequence

import numpy as np
import shapely
from shapely.geometry import LineString

from trueup.cli.drawing.piece.mark_lines import mark_lines
from trueup.cli.sheet.facts import Facts, allowance_words
from trueup.cli.sheet.ink.drawn import Drawing, InkWords
from trueup.cli.sheet.laying.layout import Laid
from trueup.cli.sheet.laying.tiles import OVERLAP, Tile
from trueup.cli.wording.cutting import cut_words, note_of
from trueup.geometry.lines.points import Point
from trueup.geometry.lines.polygons import polyline

LETTERS = 4.0
_LINE = 1.45
"""From one line to the next, in sizes of the letters."""
_CLEAR = 3.0
"""The label stays this far from seams, darts and grainline."""
_RIM = OVERLAP + 1.0
"""... and this far from the sides of a sheet, where crosses stand and sheets are glued."""
_STEP = 6.0
_SIZES = (1.0, 0.8, 0.6, 0.45)


def label_lines(laid: Laid, facts: Facts, number: int, count: int) -> list[str]:
    """Return what the label of a piece says, line by line; the first is its name."""
    lines = [
        f"{facts.node}: {laid.piece.name}",
        f"piece {number} of {count}",
        *([facts.kind] if laid.nested else []),
        cut_words(laid.piece),
        f"block {facts.block}",
        f"version {facts.version}",
        *facts.fitted,
        allowance_words(laid.piece),
    ]
    lines += [note] if (note := note_of(laid.piece)) else []
    lines += [f"fabric {facts.fabric}"] if facts.fabric else []
    return lines + (["OPEN CONFLICTS"] if facts.conflicts else [])


def label(laid: Laid, lines: Sequence[str], tiles: Sequence[Tile]) -> Drawing:
    """Return the label of a piece where one sheet shows it whole, as large as there is room.

    Where even small letters find no free spot, they stand over the lines in the middle of the piece
    on the sheet that shows most of it.
    """
    free = _free(laid)
    for share in _SIZES:
        words = _words(lines, LETTERS * share)
        width, height = _size(words)
        spot = next(_spots(free, laid, tiles, width, height), None)
        if spot is not None:
            return Drawing((), tuple(_placed(words, spot)))
    return Drawing((), tuple(_placed(words, _over(laid, tiles, width, height))))


def _words(lines: Sequence[str], size: float) -> list[InkWords]:
    return [
        InkWords(line, 1j * size * (1 + _LINE * n), size, bold=n == 0 or line.isupper())
        for n, line in enumerate(lines)
    ]


def _size(words: Sequence[InkWords]) -> tuple[float, float]:
    return max(each.width for each in words), words[-1].at.imag + 0.3 * words[-1].size


def _placed(words: Sequence[InkWords], spot: Point) -> Iterator[InkWords]:
    for each in words:
        yield InkWords(each.text, each.at + spot, each.size, each.bold)


def _free(laid: Laid) -> shapely.Geometry:
    """Return the cloth of a piece away from all its lines."""
    cloth = laid.cloth.buffer(-_CLEAR)
    for mark in laid.piece.marks:
        for run in mark_lines(laid.piece, mark):
            cloth = cloth.difference(polyline(map(laid.motion, run)).buffer(_CLEAR))
    grain = laid.piece.grainline
    if grain is None:
        return cloth
    line = [laid.motion(grain.start), laid.motion(grain.end)]
    drawn = LineString([(p.real, p.imag) for p in line])
    return cloth.difference(drawn.buffer(_CLEAR))


def _spots(
    free: shapely.Geometry, laid: Laid, tiles: Sequence[Tile], width: float, height: float
) -> Iterator[Point]:
    """Yield corners of free rectangles, for each sheet the one nearest to the piece's middle.

    Sheets that show more of the piece come first.
    """
    middle = laid.cloth.centroid
    for tile in _by_share(laid, tiles):
        window = tile.window.polygon.buffer(-_RIM, join_style="mitre")
        there = free.intersection(window)
        if there.is_empty:
            continue
        left, top, right, bottom = there.bounds
        across = np.arange(left, right - width, _STEP)
        down = np.arange(top, bottom - height, _STEP)
        if not len(across) or not len(down):
            continue
        x, y = (each.ravel() for each in np.meshgrid(across, down))
        shapely.prepare(there)
        fits = shapely.contains(there, shapely.box(x, y, x + width, y + height))
        if fits.any():
            far = np.hypot(x + width / 2 - middle.x, y + height / 2 - middle.y)
            best = int(np.argmin(np.where(fits, far, np.inf)))
            yield complex(x[best], y[best])


def _by_share(laid: Laid, tiles: Sequence[Tile]) -> list[Tile]:
    shown = [float(tile.window.polygon.intersection(laid.cloth).area) for tile in tiles]
    order = sorted(range(len(tiles)), key=lambda n: -shown[n])
    return [tiles[n] for n in order if shown[n] > 0]


def _over(laid: Laid, tiles: Sequence[Tile], width: float, height: float) -> Point:
    window = (_by_share(laid, tiles) or list(tiles))[0].window
    seen = laid.cloth.intersection(window.polygon)
    middle = (laid.cloth if seen.is_empty else seen).representative_point()
    left = min(max(middle.x - width / 2, window.left), max(window.left, window.right - width))
    top = min(max(middle.y - height / 2, window.top), max(window.top, window.bottom - height))
    return complex(left, top)
