"""The lines along which the pleats of a piece are folded, drawn on its cloth as it is cut.

They are `piece.pleat.NAME`: its folds are dashed, where they are laid is dotted, and as far as
they are sewn together the line is whole; an arrow points from each fold to where it is laid.
"""

from collections.abc import Iterator, Sequence
from itertools import groupby

from trueup.cli.drawing.scene.scene import FINE, Line, Pen
from trueup.geometry.lines.points import Point, unit
from trueup.geometry.pieces.piece import Piece
from trueup.geometry.pleats.creases import Crease, CreaseKind, creases_of

ARROW = 4.0

_PENS = {
    CreaseKind.FOLD: Pen(0.6, (9.0, 5.0)),
    CreaseKind.PLACEMENT: Pen(0.6, (2.0, 5.0)),
    CreaseKind.STITCHED: FINE,
    CreaseKind.ARROW: FINE,
}


def pleat_lines(piece: Piece) -> Iterator[Line]:
    """Yield the lines of the pleats of a piece that is laid open; none for any other."""
    for crease, same in groupby(creases_of(piece), key=lambda each: (each.pleat, each.what)):
        name, what = crease
        runs = tuple(run for each in same for run in crease_runs(each, ARROW))
        yield Line(runs, _PENS[what], f"{piece.name}.pleat.{name}")


def crease_runs(crease: Crease, barb: float) -> Sequence[tuple[Point, ...]]:
    """Return the straight runs of a line of a pleat, an arrow with barbs so long, mm."""
    line = (crease.start, crease.end)
    if crease.what is not CreaseKind.ARROW or crease.start == crease.end:
        return (line,)
    back = unit(crease.start - crease.end) * barb
    one, other = (crease.end + back * complex(1, side) for side in (0.4, -0.4))
    return line, (one, crease.end, other)
