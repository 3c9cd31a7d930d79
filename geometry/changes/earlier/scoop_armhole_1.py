"""scoop-armhole, version 1: drawn however steeply it must fade beside the level."""

from trueup.geometry.changes.base import Change, kind, length, name, position, require_simple
from trueup.geometry.errors import CannotChange
from trueup.geometry.lines import fade
from trueup.geometry.lines.chain import Chain
from trueup.geometry.measuring.forms import line_of
from trueup.geometry.measuring.measures import CAP_EASE
from trueup.geometry.pieces.closed_line import reshaped
from trueup.geometry.pieces.draft import Draft
from trueup.geometry.pieces.piece import Piece
from trueup.geometry.pieces.position import Position
from trueup.geometry.redrawing.largest_amount import or_furthest
from trueup.geometry.tolerance import SAME_POINT

_STEPS = 8


@kind("scoop-armhole")
class FirstScoopArmhole(Change):
    """Hollow the armhole by an amount at a level, fading to nothing at shoulder and underarm.

    The armhole grows longer, so a sleeve set into it loses cap ease by as much. A negative amount
    fills the armhole out instead.
    """

    phrases = ("hollow the armhole", "fill out the armhole")

    piece: str = name("piece whose armhole is hollowed", choices=("front", "back"))
    by: float = length("largest move inwards", low=-60, high=60, zero=False)
    at: Position = position(
        "where along the armhole the move is largest",
        Position("shoulder-point", share=0.55),
    )

    def apply(self, draft: Draft) -> Draft:
        piece = draft.piece(self.piece)
        armhole = piece.edge("armhole")
        level = self.at.along(armhole)
        if not SAME_POINT < level < armhole.length - SAME_POINT:
            raise CannotChange(
                self.kind,
                self.piece,
                "armhole",
                "its level lies on the end of the armhole",
                "choose a place between shoulder point and underarm",
            )

        def hollowed(line: Chain, by: float) -> Chain:
            stations = [line.length * k / _STEPS for k in range(1, _STEPS)]
            inward = line.tangent_at(level) * piece.inward
            weight = fade.swelling(0.0, level, line.length)
            return line.cut_at([*stations, level]).shifted(inward * by, weight)

        def attempt(by: float) -> Draft:
            changed = piece.with_edges(reshaped(armhole, lambda line: hollowed(line, by)))
            return draft.with_pieces(self.finished(piece, changed, by))

        return or_furthest(self.kind, draft, attempt, self.by, (self.piece, "armhole"))

    def finished(self, before: Piece, after: Piece, by: float) -> Piece:  # noqa: ARG002
        """Return the changed piece if it is sound; raises CannotChange."""
        require_simple(self, after, "armhole", by)
        return after

    def meant(self, draft: Draft) -> tuple[str, ...]:  # noqa: ARG002
        return (f"{self.piece}.chest-width",)

    def drawn(self, draft: Draft) -> tuple[str, ...]:  # noqa: ARG002
        return (line_of(f"{self.piece}.armhole"),)

    def knock_on(self, draft: Draft) -> tuple[str, ...]:  # noqa: ARG002
        return (f"{self.piece}.armhole", CAP_EASE)
