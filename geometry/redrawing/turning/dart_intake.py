"""Let any dart of a piece take in more or less, on an edge or inside."""

from dataclasses import replace

from trueup.geometry.errors import DoesNotFit
from trueup.geometry.lines.points import unit
from trueup.geometry.pieces.piece import Piece
from trueup.geometry.redrawing.darts import SMALLEST_INTAKE
from trueup.geometry.redrawing.trued_dart import with_intake
from trueup.geometry.said import said


def taken_in(piece: Piece, dart: str, by: float) -> Piece:
    """Return the piece with a dart that takes in so much more, mm; negative lets out.

    Its edge is trued across it. Raises NoSuchName for a dart that is not there, DoesNotFit where it
    cannot take so much, or nothing would be left of it.
    """
    inner = next((each for each in piece.inner_darts if each.name == dart), None)
    if inner:
        intake, across = inner.intake + by, unit(inner.right - inner.left) * by / 2
        if intake < SMALLEST_INTAKE:
            raise DoesNotFit(said("nothing-left-of-dart", dart=dart), dart=dart)
        wider = replace(inner, left=inner.left - across, right=inner.right + across)
        darts = tuple(wider if each is inner else each for each in piece.inner_darts)
        return replace(piece, inner_darts=darts)
    mouth = piece.mouth(dart)
    if mouth.intake + by < SMALLEST_INTAKE:
        raise DoesNotFit(said("nothing-left-of-dart", dart=dart), dart=dart)
    edge = with_intake(piece.edge_of_dart(dart), dart, mouth.intake + by)
    if edge is None:
        leg = abs(mouth.first - mouth.dart.apex)
        raise DoesNotFit(said("legs-open-no-wider", leg=leg), dart=dart)
    return piece.with_edges(edge)
