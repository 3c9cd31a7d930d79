"""scoop-armhole: hollow an armhole at a level, leaving its ends where they are."""

from trueup.geometry.changes.base import kind
from trueup.geometry.changes.by_amount import ByAmount
from trueup.geometry.changes.declaring import length, name, position
from trueup.geometry.errors import DoesNotFit
from trueup.geometry.lines import fade
from trueup.geometry.lines.chain import Chain
from trueup.geometry.measuring.forms import line_of
from trueup.geometry.measuring.measures import CAP_EASE
from trueup.geometry.pieces.closed_line import reshaped
from trueup.geometry.pieces.draft import Draft
from trueup.geometry.pieces.piece import Piece
from trueup.geometry.pieces.position import Position
from trueup.geometry.said import said
from trueup.geometry.tolerance import SAME_POINT

_STEPS = 8


@kind("scoop-armhole", version=2, unfinished=1)
class ScoopArmhole(ByAmount):
    """Hollow the armhole by an amount at a level, fading to nothing at shoulder and underarm.

    The armhole grows longer, so a sleeve set into it loses cap ease by as much. A negative amount
    fills the armhole out instead. The nearer the level lies to an end, the less can be hollowed:
    an amount that could only fade in a wave or a tight bend is refused.
    """

    about = "armhole"
    fair = True
    leaves_cloth = True
    phrases = ("hollow the armhole", "fill out the armhole")

    piece: str = name("piece whose armhole is hollowed", choices=("front", "back"), of="piece")
    by: float = length("largest move inwards", low=-60, high=60, zero=False)
    at: Position = position(
        "where along the armhole the move is largest",
        Position("shoulder-point", share=0.55),
        on="armhole",
    )

    def wanted(self, draft: Draft) -> float:
        self._level(draft.piece(self.piece))
        return self.by

    def _level(self, piece: Piece) -> float:
        armhole = piece.edge("armhole")
        level = self.at.along(armhole)
        if not SAME_POINT < level < armhole.length - SAME_POINT:
            reason, possible = said("level-on-end"), said("between-ends")
            raise DoesNotFit(reason, possible, piece=self.piece, edge="armhole")
        return level

    def on(self, piece: Piece, by: float) -> Piece:
        level = self._level(piece)

        def hollowed(line: Chain) -> Chain:
            stations = [line.length * k / _STEPS for k in range(1, _STEPS)]
            inward = line.tangent_at(level) * piece.inward
            weight = fade.swelling(0.0, level, line.length)
            return fade.shifted(line.cut_at([*stations, level]), inward * by, weight)

        return piece.with_edges(reshaped(piece.edge("armhole"), hollowed))

    def meant(self, draft: Draft) -> tuple[str, ...]:  # noqa: ARG002
        return (f"{self.piece}.chest-width",)

    def drawn(self, draft: Draft) -> tuple[str, ...]:  # noqa: ARG002
        return (line_of(f"{self.piece}.armhole"),)

    def knock_on(self, draft: Draft) -> tuple[str, ...]:  # noqa: ARG002
        return (f"{self.piece}.armhole", CAP_EASE)
