"""hollow-chest: take out what folds across a chest that is hollow, the centre kept straight."""

from typing import ClassVar

from trueup.geometry.changes.base import kind
from trueup.geometry.changes.by_amount import ByAmount
from trueup.geometry.changes.declaring import Most, length, position
from trueup.geometry.errors import DoesNotFit
from trueup.geometry.measuring.tape import ARMHOLE, CENTRE
from trueup.geometry.pieces.bodice import FRONT
from trueup.geometry.pieces.draft import Draft
from trueup.geometry.pieces.piece import Piece
from trueup.geometry.pieces.position import Position
from trueup.geometry.redrawing.fitting.chest import chest_folded
from trueup.geometry.said import said

_ABOVE = 20.0
_CHEST = "chest"
_ENDS = Position("shoulder-point", share=0.35)


@kind("hollow-chest")
class HollowChest(ByAmount):
    """Shorten the centre front above the bust, to nothing at the armhole; negative lengthens it.

    Where the chest is hollow a fold lies across it above the bust, and the neck stands off. It is
    pinned out as a wedge: the chest above it is turned about the place on the armhole where it
    ends, and the centre, which may lie on the fold of the cloth, is straight again from top to hem.
    The centre grows shorter by exactly the amount. What of the neck comes to lie beyond the centre
    is cut off, so it grows a little shorter, at most by a fifth of the amount; it meets the centre
    at the angle it had. Shoulder, side and waist keep their length, and the armhole but for the
    drawing fair.

    The wedge lies 20 mm above the chest level unless `at` says where. A dart that opens above it is
    turned away first. 6 mm to 13 mm are usual (common practice, no source).
    """

    about = CENTRE
    fair: ClassVar[bool] = True
    leaves_cloth: ClassVar[bool] = True
    phrases = ("shorten the front above the bust", "lengthen the front above the bust")

    by: float = length(
        "how much shorter the centre becomes", low=-30, high=30, zero=False, most=Most(19)
    )
    at: Position | None = position(
        "where on the centre the wedge lies; above the chest level unless given", None, on=CENTRE
    )
    ends_at: Position | None = position(
        "where on the armhole it ends; 35% from shoulder-point unless given", None, on=ARMHOLE
    )

    def pieces(self, draft: Draft) -> tuple[Piece, ...]:
        return (draft.piece(FRONT),)

    def on(self, piece: Piece, by: float) -> Piece:
        at = self.at.along(piece.edge(CENTRE)) if self.at else _at_chest(piece)
        return chest_folded(piece, at, (self.ends_at or _ENDS).along(piece.edge(ARMHOLE)), by)

    def meant(self, draft: Draft) -> tuple[str, ...]:  # noqa: ARG002
        return (f"{FRONT}.{CENTRE}",)

    def knock_on(self, draft: Draft) -> tuple[str, ...]:  # noqa: ARG002
        return (f"{FRONT}.neck", f"{FRONT}.{ARMHOLE}")


def _at_chest(piece: Piece) -> float:
    """Return how far along the centre the wedge lies unless it is said."""
    y = piece.level(_CHEST).y - _ABOVE
    met = piece.edge(CENTRE).parts[-1].crossings(complex(0.0, y), 1)
    if not met:
        raise DoesNotFit(
            said("centre-off-level", level=_CHEST), said("give-wedge-place"), edge=CENTRE
        )
    return met[0] + sum(part.length for part in piece.edge(CENTRE).parts[:-1])
