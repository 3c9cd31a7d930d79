"""A piece as its cloth is cut, with the lines along which that is folded."""

from dataclasses import dataclass
from enum import StrEnum

from trueup.geometry.lines.points import Point
from trueup.geometry.pieces.piece import Piece


class CreaseKind(StrEnum):
    """What a line on the cloth of a pleat says."""

    FOLD = "fold"
    PLACEMENT = "placement"
    STITCHED = "stitched"
    ARROW = "arrow"


@dataclass(frozen=True)
class Crease:
    """A line on the cloth of a pleat: a fold, where it is laid, how far they are sewn together.

    An arrow points from a fold to where it is laid.
    """

    pleat: str
    what: CreaseKind
    start: Point
    end: Point


@dataclass(frozen=True)
class LaidOpen(Piece):
    """A piece as its cloth is cut, its pleats open, and the lines along which they are laid."""

    creases: tuple[Crease, ...] = ()


def creases_of(piece: Piece) -> tuple[Crease, ...]:
    """Return the lines along which the pleats of a piece that is laid open are folded."""
    return piece.creases if isinstance(piece, LaidOpen) else ()
