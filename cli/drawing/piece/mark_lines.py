"""How a mark inside a piece is drawn: its lines, a ring for a hole, a cross for a button.

Lengths in mm.
"""

import math
from collections.abc import Iterator

from trueup.geometry.lines.points import Point, unit
from trueup.geometry.marking.places import frame_of, runs_of
from trueup.geometry.pieces.marks.mark import InnerMark, Purpose
from trueup.geometry.pieces.piece import Piece

RADIUS = 2.0
"""Half the width of the sign of a hole or a button."""

NOTCH = 5.0
_BAR = 2.0
_CORNERS = 24


def mark_lines(piece: Piece, mark: InnerMark) -> Iterator[tuple[Point, ...]]:
    """Yield the polylines of a mark where it lies on its piece."""
    if mark.purpose is Purpose.NOTCH:
        frame = frame_of(piece, mark.place)
        yield frame.origin, frame(1j * NOTCH)
        return
    for run in runs_of(piece, mark):
        if len(run) > 1:
            yield run
            if mark.purpose is Purpose.BUTTONHOLE:
                yield from _ends(run)
        elif mark.purpose is Purpose.BUTTON:
            yield from _cross(run[0], RADIUS * complex(1, 1) / math.sqrt(2))
        else:
            yield _ring(run[0])
            yield from _cross(run[0], RADIUS + 0j)


def _ring(middle: Point) -> tuple[Point, ...]:
    turns = (2 * math.pi * k / _CORNERS for k in range(_CORNERS + 1))
    return tuple(middle + RADIUS * complex(math.cos(t), math.sin(t)) for t in turns)


def _cross(middle: Point, arm: complex) -> Iterator[tuple[Point, ...]]:
    for way in (arm, arm * 1j):
        yield middle - way, middle + way


def _ends(run: tuple[Point, ...]) -> Iterator[tuple[Point, ...]]:
    """Yield a bar across either end of a line."""
    across = unit(run[-1] - run[0]) * 1j * _BAR
    for end in (run[0], run[-1]):
        yield end - across, end + across
