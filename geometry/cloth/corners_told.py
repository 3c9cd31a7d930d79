"""What is to be told of corners whose allowances cannot be cut as a maker asked."""

from collections.abc import Iterator

from trueup.geometry.cloth.cutting_line import corners_cut_otherwise
from trueup.geometry.measuring.finding import Finding, Severity
from trueup.geometry.pieces.draft import Draft
from trueup.geometry.pieces.marks.cut_corner import CutCorner
from trueup.geometry.pieces.piece import Piece
from trueup.geometry.pleats.laid_open import laid_open
from trueup.geometry.said import said


def check_corners(draft: Draft) -> tuple[Finding, ...]:
    """Return a note for each corner that cannot be cut as is said of it, as its allowances are.

    It is cut as any other corner is then: nothing of the seams depends on it.
    """
    return tuple(note for piece in draft.pieces if piece.corners for note in _notes(piece))


def _notes(piece: Piece) -> Iterator[Finding]:
    for how in corners_cut_otherwise(laid_open(piece)):
        yield _note(piece, how)


def _note(piece: Piece, how: CutCorner) -> Finding:
    facts = {"piece": piece.name, "corner": how.corner, "how": how.treatment.value}
    place = ((piece.name, how.edge),)
    says = said("corner-cut-otherwise", **facts)
    return Finding("corner", Severity.NOTE, piece.name, how.edge, 0.0, 0.0, 0.0, says, place)
