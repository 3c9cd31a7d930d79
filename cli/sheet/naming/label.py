"""The label of a piece, and a free spot for it that one sheet shows whole. Lengths in mm."""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace

import numpy as np
import shapely

from trueup.cli.drawing.scene.rectangle import Rectangle
from trueup.cli.sheet.facts import Facts, allowance_words
from trueup.cli.sheet.ink.drawn import Drawing, InkWords
from trueup.cli.sheet.laying.layout import Laid
from trueup.cli.sheet.naming.placing import Room
from trueup.cli.wording.cutting import cut_words, note_of
from trueup.geometry.lines.points import Point

LETTERS = 4.0
_LINE = 1.45
"""From one line to the next, in sizes of the letters."""
_CLEAR = 1.8
"""The label stays this much farther from lines and names than these from each other."""
_STEP = 6.0
_SIZES = (1.0, 0.8, 0.6, 0.45)
_FEWER = (5, 3, 2)
"""A narrow piece has its label in so many lines."""
_ACROSS, _UPWARDS = 1 + 0j, -1j


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


def label(laid: Laid, lines: Sequence[str], room: Room) -> Drawing:
    """Return the label of a piece where one sheet shows it whole, as large as there is room.

    It stands in what `room` is left on the piece, upwards beside the grain where it has none across
    the page, and in fewer lines where the piece is narrow. Where even small letters find no free
    spot, they stand over the lines in the middle of the piece on the sheet that shows most of it.
    """
    free = room.free.buffer(-_CLEAR).difference(room.taken.buffer(_CLEAR))
    for told, way, share in _ways(lines):
        block = _block(told, LETTERS * share, way)
        spot = next(_spots(free, laid, room, block), None)
        if spot is not None:
            return Drawing((), tuple(_placed(block, spot)))
    block = _block(lines, LETTERS * _SIZES[-1], _ACROSS)
    return Drawing((), tuple(_placed(block, _over(laid, room, block))))


def _ways(lines: Sequence[str]) -> Iterator[tuple[Sequence[str], complex, float]]:
    """Yield how a label may be written, the best way first: its lines, direction and size."""
    few = [_in_fewer(lines, count) for count in _FEWER if count < len(lines)]
    for share in _SIZES:
        for told in (lines, *few):
            for way in (_ACROSS, _UPWARDS):
                yield told, way, share


def _in_fewer(lines: Sequence[str], count: int) -> list[str]:
    """Return lines put behind each other in so many; the first keeps its name alone in front."""
    each = -(-len(lines) // count)
    return ["; ".join(lines[n : n + each]) for n in range(0, len(lines), each)]


@dataclass(frozen=True)
class _Block:
    """Lines of words from nought to the right and down, and how much room they take."""

    words: tuple[InkWords, ...]
    width: float
    height: float


def _block(lines: Sequence[str], size: float, way: complex) -> _Block:
    down = way * 1j
    words = [
        InkWords(line, down * size * (1 + _LINE * n), size, n == 0 or line.isupper(), way)
        for n, line in enumerate(lines)
    ]
    along = max(each.width for each in words)
    high = abs(words[-1].at) + 0.3 * size
    if way == _ACROSS:
        return _Block(tuple(words), along, high)
    shifted = (replace(each, at=each.at + 1j * along) for each in words)
    return _Block(tuple(shifted), high, along)


def _placed(block: _Block, spot: Point) -> Iterator[InkWords]:
    for each in block.words:
        yield replace(each, at=each.at + spot)


def _spots(free: shapely.Geometry, laid: Laid, room: Room, block: _Block) -> Iterator[Point]:
    """Yield corners of free rectangles, for each sheet the one nearest to the piece's middle.

    Sheets that show more of the piece come first.
    """
    middle, width, height = laid.cloth.centroid, block.width, block.height
    for sheet in sorted(room.sheets, key=lambda sheet: -_share(sheet, laid)):
        there = free.intersection(sheet.polygon)
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


def _share(sheet: Rectangle, laid: Laid) -> float:
    return float(sheet.polygon.intersection(laid.cloth).area)


def _over(laid: Laid, room: Room, block: _Block) -> Point:
    width, height = block.width, block.height
    sheet = max(room.sheets, key=lambda sheet: _share(sheet, laid))
    seen = laid.cloth.intersection(sheet.polygon)
    middle = (laid.cloth if seen.is_empty else seen).representative_point()
    left = min(max(middle.x - width / 2, sheet.left), max(sheet.left, sheet.right - width))
    top = min(max(middle.y - height / 2, sheet.top), max(sheet.top, sheet.bottom - height))
    return complex(left, top)
