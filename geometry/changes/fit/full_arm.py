"""full-arm: widen a sleeve for a full upper arm, its cap line as long as it was."""

from typing import ClassVar

from trueup.geometry.changes.base import kind
from trueup.geometry.changes.by_amount import ByAmount
from trueup.geometry.changes.declaring import Most, length
from trueup.geometry.pieces.draft import Draft
from trueup.geometry.pieces.piece import Piece
from trueup.geometry.redrawing.fitting.arm import widened_at_arm
from trueup.geometry.redrawing.sleeves.sleeve import SLEEVE


@kind("full-arm")
class FullArm(ByAmount):
    """Widen the sleeve at the upper arm by an amount; its cap and its hem keep their length.

    It is what a slash from crown to hem and one across the arm do, opened until the sleeve is wide
    enough: the halves of the cap swing down, both underarm points move out by half the amount, and
    the crown sinks. So the cap still fits its armhole: its notches stay where they are along it,
    each half holds the ease that it held, and no more is to be gathered. The sleeve seams taper to
    nothing at the hem and match. A negative amount narrows it, and the cap becomes steeper.

    It differs from `widen-sleeve`, whose cap grows longer with it. An arm wants 50 mm more than its
    girth at the least (Threads, Set-in sleeve solutions); 13 mm to 25 mm are usual here
    (common practice, no source).
    """

    about = "cap"
    fair: ClassVar[bool] = True
    phrases = ("widen the sleeve at the arm", "narrow the sleeve at the arm")

    by: float = length(
        "how much wider it becomes at the biceps", low=-60, high=100, zero=False, most=Most(50)
    )

    def pieces(self, draft: Draft) -> tuple[Piece, ...]:
        return (draft.piece(SLEEVE),)

    def on(self, piece: Piece, by: float) -> Piece:
        return widened_at_arm(piece, by)

    def meant(self, draft: Draft) -> tuple[str, ...]:  # noqa: ARG002
        return (f"{SLEEVE}.biceps-width",)

    def knock_on(self, draft: Draft) -> tuple[str, ...]:  # noqa: ARG002
        return (f"{SLEEVE}.cap-height", f"{SLEEVE}.back-seam")
