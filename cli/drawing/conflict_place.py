"""Where on a piece a conflict lies, and the warning sign that points there."""

from collections.abc import Iterator, Sequence

import shapely

from trueup.cli.drawing.piece.naming import drawn_lines
from trueup.cli.drawing.scene.placing import places
from trueup.cli.drawing.scene.rectangle import Rectangle
from trueup.cli.drawing.scene.scene import Mark, Sign
from trueup.geometry.comparing.comparison import EdgeMove
from trueup.geometry.lines.points import Point
from trueup.geometry.pieces.corner import corner_degrees
from trueup.geometry.pieces.draft import Draft, Join
from trueup.geometry.pieces.piece import Piece
from trueup.lineage.files.records import ConflictRecord

_KINK = "kink"
_SIGN = 0.85  # letters high is half a sign
_AROUND = 1.5  # half signs of room are around the middle of one


def place_of(
    conflict: ConflictRecord, draft: Draft, moves: Sequence[EdgeMove] = ()
) -> Point | None:
    """Return the point of a draft at which a conflict lies; None where the draft has no such place.

    On an edge it is where that moved most, by `moves`, else its middle; on a dart its tip.
    """
    if not draft.has_piece(conflict.piece):
        return None
    piece = draft.piece(conflict.piece)
    if conflict.code == _KINK and (corner := _kinked(conflict, draft)):
        return piece.corner(corner)
    if conflict.edge in piece.edge_names:
        name = f"{conflict.piece}.{conflict.edge}"
        edge = piece.edge(conflict.edge)
        places = (move.new_place for move in moves if move.name == name)
        return next(places, edge.point_at(edge.length / 2))
    for dart in piece.inner_darts:
        if dart.name == conflict.edge:
            return (dart.upper + dart.lower) / 2
    if conflict.edge in piece.dart_names:
        return piece.mouth(conflict.edge).tip
    return None


def signs(
    found: Sequence[tuple[int, Point | None]], pieces: Sequence[Piece], size: float
) -> Iterator[Mark]:
    """Yield the signs of conflicts on one piece, by number and place, clear of what is drawn of it.

    `pieces` are the versions of it that are drawn; letters are `size` high. What has no place of
    its own stands somewhere on the cloth.
    """
    if not found:
        return
    radius = _SIGN * size
    drawn = shapely.GeometryCollection([drawn_lines(piece, size) for piece in pieces])
    inside = pieces[0].cloth.representative_point()
    targets = [complex(inside.x, inside.y) if place is None else place for _, place in found]
    room = shapely.box(*drawn.bounds).buffer(2.0 * size)
    stands = places(targets, _AROUND * radius, drawn, room)
    for (number, place), at in zip(found, stands, strict=True):
        yield Mark(number, at, radius, place, Sign.WARNING, f"conflict.{number}")


def with_signs(box: Rectangle, marks: Sequence[Mark]) -> Rectangle:
    """Return a box around a piece with the room of the signs beside it."""
    for mark in marks:
        around = _AROUND * mark.radius
        left, top = mark.at.real - around, mark.at.imag - around
        box = box.joined(Rectangle(left, top, left + 2 * around, top + 2 * around))
    return box


def _kinked(conflict: ConflictRecord, draft: Draft) -> str | None:
    """Return the corner at which an edge turns most from how it should run on across a seam."""
    place = (conflict.piece, conflict.edge)
    found = [
        (_turned(draft, join), end[2])
        for join in draft.joins
        for end in (join.first, join.second)
        if end[:2] == place
    ]
    return max(found)[1] if found else None


def _turned(draft: Draft, join: Join) -> float:
    ends = (join.first, join.second)
    total = sum(corner_degrees(draft.piece(piece), corner) for piece, _, corner in ends)
    return abs(total - join.degrees)
