"""Put new marks on a piece, each under a name of its own, and hold them to lie in the cloth."""

import shapely
from shapely.geometry import Point as Spot

from trueup.geometry.errors import DoesNotFit
from trueup.geometry.lines.polygons import polygon, polyline
from trueup.geometry.marking.places import runs_of
from trueup.geometry.pieces.draft import Draft
from trueup.geometry.pieces.marks.mark import InnerMark
from trueup.geometry.pieces.piece import Piece
from trueup.geometry.said import said
from trueup.geometry.tolerance import SAME_POINT


def with_new_marks(draft: Draft, piece: str, *marks: InnerMark) -> Draft:
    """Return a draft with more marks on a piece; raises NoSuchName, DoesNotFit for a taken name."""
    of_one = draft.cut_from(piece)
    taken = {mark.name for p in draft.told_of if p.name in of_one for mark in p.marks}
    for mark in marks:
        if mark.name in taken:
            raise DoesNotFit(said("name-is-taken", name=mark.name), said("another-name"))
        taken.add(mark.name)
    return draft.with_pieces(draft.piece(piece).with_marks(*marks))


def beyond_cloth(piece: Piece, mark: InnerMark) -> float:
    """Return how far a mark reaches beyond the outline of its piece, darts closed over, mm.

    Nought where all of it lies inside. Raises NoSuchName, BadPosition, DoesNotFit.
    """
    ring = [p for edge in piece.edges for part in edge.parts for p in part.flattened()]
    ground = polygon(ring).buffer(SAME_POINT)
    reached = 0.0
    for run in runs_of(piece, mark):
        line = polyline(run) if len(run) > 1 else Spot(run[0].real, run[0].imag)
        for x, y in shapely.get_coordinates(line.difference(ground)):
            reached = max(reached, float(ground.distance(Spot(x, y))))
    return reached
