"""A piece as it is drawn: seam lines by name, darts, notches, grainline, its name, its cut.

Every edge is one line with the id `piece.edge`; where darts part it, `piece.edge.1`, `.2` and so
on in ring order. Darts are `piece.dart.NAME`: leg, tip, leg; a double-pointed one all round. The
cutting line, where a piece has allowances, is `piece.cutting-line`.
"""

from collections.abc import Iterator

import shapely

from cli.drawing.scene import CUT, FOLD, SEAM, Item, Line, Pen, Words
from cli.rectangle import Rectangle
from geometry.cutting_line import cutting_line
from geometry.piece import Edge, Piece
from geometry.points import Point, coordinates, unit

NOTCH = 5.0
ARROW = 4.0
LETTERS = 8.0


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


def piece_items(piece: Piece, letters: float = LETTERS) -> Iterator[Item]:
    """Yield all that is drawn of a piece but its cutting line; `letters` is the height of these."""
    for edge in piece.edges:
        yield from edge_lines(piece, edge)
        yield from dart_lines(piece, edge)
    for dart in piece.inner_darts:
        points = (dart.upper, dart.right, dart.lower, dart.left)
        yield Line((points,), id=f"{piece.name}.dart.{dart.name}", closed=True)
    yield from _notches(piece)
    yield from _grainline(piece)
    yield Words(piece.name, name_place(piece, letters), letters)


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
    if not piece.allowances:
        return
    ring: shapely.Geometry = shapely.LinearRing(coordinates(_ring(piece)))
    if piece.fold:
        fold = shapely.LineString(coordinates(piece.edge(piece.fold).outline.flattened()))
        ring = shapely.line_merge(shapely.difference(shapely.LineString(ring), fold.buffer(0.1)))
    runs = tuple(
        tuple(complex(x, y) for x, y in shapely.get_coordinates(part))
        for part in shapely.get_parts(ring)
    )
    yield Line(runs, CUT, f"{piece.name}.cutting-line")


def _ring(piece: Piece) -> tuple[Point, ...]:
    return tuple(complex(x, y) for x, y in cutting_line(piece).exterior.coords)


def dart_lines(piece: Piece, edge: Edge, pen: Pen = SEAM, suffix: str = "") -> Iterator[Line]:
    """Yield the darts that open on an edge, leg, tip, leg; `suffix` follows on every id."""
    for mouth in edge.mouths:
        points = (mouth.first, mouth.tip, mouth.second)
        yield Line((points,), pen, f"{piece.name}.dart.{mouth.dart.name}{suffix}")


def _notches(piece: Piece) -> Iterator[Line]:
    for notch in piece.notches:
        edge = piece.edge(notch.edge)
        place, travel = edge.place_at(notch.at.along(edge))
        points = (place, place + travel * piece.inward * NOTCH)
        yield Line((points,), id=f"{piece.name}.notch.{notch.name}")


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


def name_place(piece: Piece, letters: float) -> Point:
    """Return where the name starts: beside the grainline, or anywhere on the cloth without one."""
    if piece.grainline:
        return (piece.grainline.start + piece.grainline.end) / 2 + letters / 2
    inside = piece.cloth.representative_point()
    return complex(inside.x, inside.y)
