"""A piece as it is drawn: seam lines by name, darts, notches, grainline, its name, its cut.

Every edge is one line with the id `piece.edge`; where darts part it, `piece.edge.1`, `.2` and so
on in ring order. Darts are `piece.dart.NAME`: leg, tip, leg; a double-pointed one all round. Marks
inside are `piece.mark.NAME`. The cutting line, where a piece has allowances, is
`piece.cutting-line`.
"""

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import replace
from types import MappingProxyType

import shapely
from shapely.geometry.base import BaseGeometry

from trueup.cli.drawing.piece.mark_lines import mark_lines
from trueup.cli.drawing.piece.naming import LINE, SMALL, name_place, written_below
from trueup.cli.drawing.piece.pleats import pleat_lines
from trueup.cli.drawing.scene.rectangle import Rectangle
from trueup.cli.drawing.scene.scene import (
    CUT,
    FINE,
    FOLD,
    MOVED,
    OFFENDING,
    PLACED,
    SEAM,
    Emphasis,
    Item,
    Line,
    Pen,
    Words,
)
from trueup.geometry.cloth.cutting_line import cutting_line
from trueup.geometry.lines.points import Point, coordinates, unit
from trueup.geometry.pieces.beyond.marks import only_drawable
from trueup.geometry.pieces.edge import Edge
from trueup.geometry.pieces.marks.mark import Purpose
from trueup.geometry.pieces.piece import Piece

NOTCH = 5.0
ARROW = 4.0
LETTERS = 8.0
_MARK_PENS = {Purpose.PLACEMENT: PLACED, Purpose.STITCH: PLACED, Purpose.FOLD: FOLD}
_WEIGHTS = {Emphasis.MOVED: MOVED.width, Emphasis.OFFENDING: OFFENDING.width}
_NONE: Mapping[str, Emphasis] = MappingProxyType({})


def piece_box(piece: Piece) -> Rectangle:
    """Return the box around all that is sewn or marked on a piece; its allowances lie outside."""
    points = list(piece.outline_points)
    for dart in piece.inner_darts:
        points += [dart.upper, dart.lower, dart.left, dart.right]
    if piece.grainline:
        points += [piece.grainline.start, piece.grainline.end]
    return Rectangle.around(points)


def cut_box(piece: Piece) -> Rectangle:
    """Return the box around a piece with its allowances."""
    if not piece.allowances:
        return piece_box(piece)
    box = piece_box(piece)
    corners = [complex(box.left, box.top), complex(box.right, box.bottom)]
    return Rectangle.around([*corners, *_ring(piece)])


def piece_items(
    piece: Piece,
    letters: float = LETTERS,
    others: Sequence[Piece] = (),
    shown: Mapping[str, Emphasis] = _NONE,
) -> Iterator[Item]:
    """Yield all that is drawn of a piece but its cutting line; `letters` is the height of these.

    Its name keeps clear of what is drawn of `others` in the same place. `shown` are its edges and
    darts that are drawn to show something, by their full names, `front.armhole`, `front.bust`.
    """
    yield from seam_lines(piece, shown)
    yield from pleat_lines(piece)
    yield from notch_lines(piece)
    yield from _marks(piece)
    yield from _grainline(piece)
    place = name_place(piece, letters, others)
    yield Words(piece.name, place, letters)
    for number, text in enumerate(written_below(piece), start=1):
        yield Words(text, place + 1j * number * LINE * letters, letters * SMALL)


def inner_lines(piece: Piece) -> Iterator[Line]:
    """Yield the lines inside a piece: darts that open on no edge, pleats, marks, the grainline."""
    yield from _double_darts(piece)
    yield from pleat_lines(piece)
    yield from _marks(piece)
    yield from _grainline(piece)


def seam_lines(piece: Piece, shown: Mapping[str, Emphasis] = _NONE) -> Iterator[Line]:
    """Yield the seam lines and darts of a piece, heavier where they are drawn to show something."""
    for edge in piece.edges:
        for line in edge_lines(piece, edge):
            yield _heavier(line, shown.get(f"{piece.name}.{edge.name}"))
        for mouth, line in zip(edge.mouths, dart_lines(piece, edge), strict=True):
            yield _heavier(line, shown.get(f"{piece.name}.{mouth.dart.name}"))
    for dart, line in zip(piece.inner_darts, _double_darts(piece), strict=True):
        yield _heavier(line, shown.get(f"{piece.name}.{dart.name}"))


def _double_darts(piece: Piece) -> Iterator[Line]:
    for dart in piece.inner_darts:
        points = (dart.upper, dart.right, dart.lower, dart.left)
        yield Line((points,), id=f"{piece.name}.dart.{dart.name}", closed=True)


def _heavier(line: Line, shown: Emphasis | None) -> Line:
    if shown is None:
        return line
    return replace(line, pen=replace(line.pen, width=_WEIGHTS[shown]), emphasis=shown)


def edge_lines(
    piece: Piece, edge: Edge, pen: Pen | None = None, suffix: str = ""
) -> Iterator[Line]:
    """Yield the seam line of an edge, a line for each part; `suffix` follows on every id."""
    name = f"{piece.name}.{edge.name}"
    chosen = pen or (FOLD if piece.fold == edge.name else SEAM)
    for number, part in enumerate(edge.parts, start=1):
        yield Line((part,), chosen, f"{name}.{number}{suffix}" if edge.darts else f"{name}{suffix}")


def cutting_item(piece: Piece) -> Iterator[Item]:
    """Yield the cutting line of a piece, where it has allowances; along a fold nothing is cut."""
    if piece.allowances:
        runs = runs_but_fold(cutting_line(piece).exterior, piece)
        yield Line(runs, CUT, f"{piece.name}.cutting-line")


def runs_but_fold(line: BaseGeometry, piece: Piece) -> tuple[tuple[Point, ...], ...]:
    """Return the runs of a line of cloth, without those along the fold of a piece."""
    if piece.fold:
        fold = shapely.LineString(coordinates(piece.edge(piece.fold).outline.flattened()))
        line = shapely.line_merge(shapely.difference(shapely.LineString(line), fold.buffer(0.1)))
    return runs_of(line)


def runs_of(line: BaseGeometry) -> tuple[tuple[Point, ...], ...]:
    """Return the runs that a line of shapely consists of."""
    return tuple(
        tuple(complex(x, y) for x, y in shapely.get_coordinates(part))
        for part in shapely.get_parts(line)
    )


def _ring(piece: Piece) -> tuple[Point, ...]:
    return tuple(complex(x, y) for x, y in cutting_line(piece).exterior.coords)


def dart_lines(piece: Piece, edge: Edge, pen: Pen = SEAM, suffix: str = "") -> Iterator[Line]:
    """Yield the darts that open on an edge, leg, tip, leg; `suffix` follows on every id."""
    for mouth in edge.mouths:
        points = (mouth.first, mouth.tip, mouth.second)
        yield Line((points,), pen, f"{piece.name}.dart.{mouth.dart.name}{suffix}")


def notch_lines(piece: Piece) -> Iterator[Line]:
    """Yield the notches of a piece, each a line from its edge inwards."""
    for notch in only_drawable(piece).notches:
        edge = piece.edge(notch.edge)
        place, travel = edge.place_at(notch.at.along(edge))
        points = (place, place + travel * piece.inward * NOTCH)
        yield Line((points,), id=f"{piece.name}.notch.{notch.name}")


def _marks(piece: Piece) -> Iterator[Line]:
    for mark in only_drawable(piece).marks:
        runs = tuple(mark_lines(piece, mark))
        yield Line(runs, _MARK_PENS.get(mark.purpose, FINE), f"{piece.name}.mark.{mark.name}")


def _grainline(piece: Piece) -> Iterator[Line]:
    if piece.grainline is None:
        return
    start, end = piece.grainline.start, piece.grainline.end
    runs: list[tuple[Point, ...]] = [(start, end)]
    if start != end:
        back = unit(start - end) * ARROW
        for tip, into in ((start, -back), (end, back)):
            barbs = [tip + into * complex(1, side) for side in (0.4, -0.4)]
            runs.append((barbs[0], tip, barbs[1]))
    yield Line(tuple(runs), id=f"{piece.name}.grainline")
