"""The label of a piece, and a free spot for it that one sheet shows whole. Lengths in mm."""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace
from itertools import pairwise

import numpy as np
import shapely

from trueup.cli.drawing.scene.rectangle import Rectangle
from trueup.cli.sheet.facts import Facts, allowance_words
from trueup.cli.sheet.ink.drawn import Drawing, InkWords
from trueup.cli.sheet.laying.extents import moved
from trueup.cli.sheet.laying.layout import Laid
from trueup.cli.sheet.naming.placing import Room
from trueup.cli.wording.cutting import cut_words, note_of
from trueup.geometry.lines.points import Motion, Point, unit

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
_UPRIGHT = 1e-3
"""A piece that leans by less than this lies along the page or across it."""


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

    It stands in what `room` is left on the piece: across the page, else upwards, or along a piece
    that lies aslant, and in fewer lines where the piece is narrow. Where even small letters find no
    free spot, they stand over the lines in the middle of the piece on the sheet that shows most.
    """
    free = room.free.buffer(-_CLEAR, quad_segs=2).difference(room.taken.buffer(_CLEAR, quad_segs=2))
    sheets = sorted(room.sheets, key=lambda sheet: -_share(sheet, laid))
    there = [free.intersection(sheet.polygon) for sheet in sheets]
    for told, way, share in _ways(lines, laid):
        block = _block(told, LETTERS * share)
        spot = next(_spots(there, laid, block, way), None)
        if spot is not None:
            return Drawing((), tuple(_placed(block, spot, way)))
    block = _block(lines, LETTERS * _SIZES[-1])
    return Drawing((), tuple(_placed(block, _over(laid, sheets[0], block), _ACROSS)))


def _ways(lines: Sequence[str], laid: Laid) -> Iterator[tuple[Sequence[str], complex, float]]:
    """Yield how a label may be written, the best way first: its lines, direction and size."""
    few = [_in_fewer(lines, count) for count in _FEWER if count < len(lines)]
    ways = dict.fromkeys((_ACROSS, _UPWARDS, _lengthwise(laid)))
    for share in _SIZES:
        for told in (lines, *few):
            for way in ways:
                yield told, way, share


def _lengthwise(laid: Laid) -> complex:
    """Return the direction, from left to right, in which a piece is longest."""
    corners = shapely.get_coordinates(laid.cloth.minimum_rotated_rectangle)[:3]
    (first, second) = (complex(*(b - a)) for a, b in pairwise(corners))
    along = unit(max(first, second, key=abs))
    if min(abs(along.real), abs(along.imag)) < _UPRIGHT:
        return _ACROSS
    return along if along.real > 0 else -along


def _in_fewer(lines: Sequence[str], count: int) -> list[str]:
    """Return lines put behind each other in so many; the first begins with the name."""
    each = -(-len(lines) // count)
    return ["; ".join(lines[n : n + each]) for n in range(0, len(lines), each)]


@dataclass(frozen=True)
class _Block:
    """Lines of words from nought to the right and down, and how much room they take."""

    words: tuple[InkWords, ...]
    width: float
    height: float


def _block(lines: Sequence[str], size: float) -> _Block:
    words = tuple(
        InkWords(line, 1j * size * (1 + _LINE * n), size, bold=n == 0 or line.isupper())
        for n, line in enumerate(lines)
    )
    height = words[-1].at.imag + 0.3 * size
    return _Block(words, max(each.width for each in words), height)


def _placed(block: _Block, spot: Point, way: complex) -> Iterator[InkWords]:
    for each in block.words:
        yield replace(each, at=spot + each.at * way, way=way)


def _spots(
    free: Sequence[shapely.Geometry], laid: Laid, block: _Block, way: complex
) -> Iterator[Point]:
    """Yield where a block of words may begin: on each sheet nearest to the piece's middle."""
    width, height = block.width, block.height
    turned = Motion(rotation=way.conjugate())
    middle = turned(complex(laid.cloth.centroid.x, laid.cloth.centroid.y))
    for on_sheet in free:
        if on_sheet.is_empty:
            continue
        there = on_sheet if way == _ACROSS else moved(on_sheet, turned)
        left, top, right, bottom = there.bounds
        across = np.arange(left, right - width, _STEP)
        down = np.arange(top, bottom - height, _STEP)
        if not len(across) or not len(down):
            continue
        x, y = (each.ravel() for each in np.meshgrid(across, down))
        shapely.prepare(there)
        fits = shapely.contains(there, shapely.box(x, y, x + width, y + height))
        if fits.any():
            far = np.hypot(x + width / 2 - middle.real, y + height / 2 - middle.imag)
            best = int(np.argmin(np.where(fits, far, np.inf)))
            yield way * complex(x[best], y[best])


def _share(sheet: Rectangle, laid: Laid) -> float:
    return float(sheet.polygon.intersection(laid.cloth).area)


def _over(laid: Laid, sheet: Rectangle, block: _Block) -> Point:
    width, height = block.width, block.height
    seen = laid.cloth.intersection(sheet.polygon)
    middle = (laid.cloth if seen.is_empty else seen).representative_point()
    left = min(max(middle.x - width / 2, sheet.left), max(sheet.left, sheet.right - width))
    top = min(max(middle.y - height / 2, sheet.top), max(sheet.top, sheet.bottom - height))
    return complex(left, top)
