"""The lines of a piece that are not where they were, the old and the new. Lengths in mm."""

from collections.abc import Collection, Iterator, Mapping, Sequence
from itertools import chain

import numpy as np
import shapely
from shapely.geometry import LineString, MultiLineString

from trueup.cli.sheet.ink.drawn import NOTHING_MOVED, InkPen, MovedLines, SizePen, Stroke
from trueup.cli.sheet.piece_lines import Layer, lines_of
from trueup.geometry.comparing.laying import laying
from trueup.geometry.lines.points import Motion
from trueup.geometry.pieces.piece import Piece
from trueup.geometry.tolerance import UNCHANGED

_ROUND = 2
"""The strip about a line is rounded to so many stretches a quarter: less than 0.01 mm is lost."""


def moved_lines(
    old: Piece,
    new: Piece,
    layers: Collection[Layer],
    hems: tuple[Collection[str], Collection[str]] = ((), ()),
) -> MovedLines:
    """Return what moved between two versions of a piece, among the lines that a maker wants.

    The old is laid on the new with fold on fold and grain parallel. What lies nearer to a line of
    the other version in the same pen than twice `tolerance.UNCHANGED` did not move. `hems` are
    those of the old and of the new.
    """
    if old == new and hems[0] == hems[1]:
        return NOTHING_MOVED
    motion = laying(old, new)
    former = lines_of(old, layers, hems[0])
    before = _by_pen(former if motion == Motion() else [line.moved(motion) for line in former])
    after = _by_pen(lines_of(new, layers, hems[1]))
    return MovedLines(tuple(_away(before, after)), tuple(_away(after, before)))


Lines = Mapping[InkPen | SizePen, MultiLineString]


def _by_pen(strokes: Sequence[Stroke]) -> Lines:
    points = np.fromiter(chain.from_iterable(stroke.points for stroke in strokes), complex)
    whose = np.repeat(np.arange(len(strokes)), [len(stroke.points) for stroke in strokes])
    lines = shapely.linestrings(points.real, points.imag, indices=whose)
    places: dict[InkPen | SizePen, list[int]] = {}
    for place, stroke in enumerate(strokes):
        places.setdefault(stroke.pen, []).append(place)
    return {pen: shapely.multilinestrings(lines[drawn]) for pen, drawn in places.items()}


def _away(lines: Lines, others: Lines) -> Iterator[Stroke]:
    """Yield the parts of lines that lie away from all others in the same pen."""
    for pen, drawn in lines.items():
        if pen in others and shapely.equals_exact(drawn, others[pen], UNCHANGED):
            continue
        # Edges that meet are laid into one line, about which a strip is drawn in half the time.
        there = shapely.line_merge(others.get(pen, MultiLineString()))
        near = there.buffer(2 * UNCHANGED, quad_segs=_ROUND)
        for part in shapely.get_parts(drawn.difference(near)):
            if isinstance(part, LineString) and part.length > 0:
                yield Stroke(tuple(complex(x, y) for x, y in part.coords), pen)
