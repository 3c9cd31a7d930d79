"""From the bytes of a photograph to the outlines of the pieces in it, in mm on a page."""

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np

from trueup.geometry.lines.chain import Chain
from trueup.geometry.lines.points import Motion, Point
from trueup.geometry.said import said
from trueup.lineage.drawings.photographs.errors import CannotMeasure
from trueup.lineage.drawings.photographs.frame.accuracy import (
    pixel_of,
    require_sharp,
    require_true,
    scale_errors,
)
from trueup.lineage.drawings.photographs.frame.framing import framing
from trueup.lineage.drawings.photographs.frame.solving import solved
from trueup.lineage.drawings.photographs.frame.strips import REACH
from trueup.lineage.drawings.photographs.one_thread import one_thread
from trueup.lineage.drawings.photographs.outlines.edge import edge_of
from trueup.lineage.drawings.photographs.outlines.fairing import fair
from trueup.lineage.drawings.photographs.outlines.ground import ground
from trueup.lineage.drawings.photographs.outlines.overlapping import overlap_at
from trueup.lineage.drawings.photographs.outlines.pieces import Rough, pieces_on
from trueup.lineage.drawings.photographs.outlines.turning import corners_of
from trueup.lineage.drawings.photographs.picture import Picture
from trueup.lineage.drawings.photographs.reading import read_picture
from trueup.lineage.drawings.photographs.unclear import Unclear
from trueup.lineage.drawings.photographs.view import TableView
from trueup.lineage.drawings.shapes.shape import Shape, ShapePage, Spot, Told

_MARGIN = 10.0


@dataclass(frozen=True)
class Photographed:
    """The outlines of the pieces in a photograph, and how true they are.

    `strips` are those of the frame it was measured by, `error` the largest share of its length by
    which one of them came out wrong, measured by the others; `pixel` is what one sees, mm.
    """

    page: ShapePage
    strips: int
    error: float
    pixel: float


def photographed(content: bytes, place: str, reach: float = REACH) -> Photographed:
    """Return what a photograph shows; `place` is what a message calls its file.

    `reach` is what the squares of a strip measure from end to end as it was printed, mm. Nothing
    but the picture is read. Raises CannotMeasure.
    """
    with one_thread():
        return _measured(read_picture(content, place), place, reach)


def _measured(picture: Picture, place: str, reach: float) -> Photographed:
    view: TableView | None = None
    try:
        frame = framing(picture)
        found = solved((picture.width, picture.height), frame.strips, reach / REACH)
        view = found.view
        require_sharp(found, frame)
        errors = scale_errors(found, frame, reach / REACH)
        require_true(found, frame, errors)
        rough = pieces_on(ground(picture, found, frame.strips, reach / REACH))
        pieces = [_piece(each, picture, view) for each in rough]
    except Unclear as error:
        raise CannotMeasure(place, error.placed(view), error.remedy) from None
    worst = max(abs(error) for error in errors.values())
    size = (
        f"measured by {len(frame.whole)} strips of the frame; each of them, told by the others, "
        f"came out right to {100 * worst:.2f} %"
    )
    page = _page(pieces, size)
    return Photographed(page, len(frame.whole), worst, pixel_of(found, frame))


@dataclass(frozen=True)
class _Piece:
    """The line of a piece on the table, its corners, and the mouths of its notches."""

    line: Chain
    corners: tuple[Point, ...]
    notches: tuple[Point, ...]


def _piece(rough: Rough, picture: Picture, view: TableView) -> _Piece:
    edge = edge_of(rough, picture, view)
    corners = corners_of(edge)
    parted = overlap_at(corners, picture, view)
    if parted is not None:
        raise Unclear(said("overlapping"), "lay the pieces apart", at=parted)
    return _Piece(
        fair(edge, corners),
        tuple(corner.at for corner in corners),
        tuple(complex(edge[np.abs(edge - notch.at).argmin()]) for notch in rough.notches),
    )


def _page(pieces: Sequence[_Piece], size: str) -> ShapePage:
    points = [point for piece in pieces for cubic in piece.line.cubics for point in cubic]
    corner = complex(min(p.real for p in points), min(p.imag for p in points))
    motion = Motion(shift=complex(_MARGIN, _MARGIN) - corner)
    shapes = tuple(
        Shape(
            f"outline-{number}",
            piece.line.moved(motion),
            is_closed=True,
            told=Told.BOUNDARY,
            corners=tuple(motion(each) for each in piece.corners),
        )
        for number, piece in enumerate(pieces, start=1)
    )
    notches = [motion(notch) for piece in pieces for notch in piece.notches]
    spots = tuple(
        Spot(f"notch-{number}", at, told=Told.NOTCH) for number, at in enumerate(notches, start=1)
    )
    return ShapePage(shapes, spots=spots, size=size)
