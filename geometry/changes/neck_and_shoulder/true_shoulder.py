"""true-shoulder: move the shoulder point of one piece so that the shoulder seams walk equal."""

from trueup.geometry.changes.base import kind
from trueup.geometry.changes.by_amount import ByAmount
from trueup.geometry.changes.declaring import length, name
from trueup.geometry.errors import DoesNotFit
from trueup.geometry.measuring.measures import CAP_EASE, seam_measure
from trueup.geometry.measuring.walk import walk
from trueup.geometry.pieces.bodice import BACK, FRONT
from trueup.geometry.pieces.draft import Draft
from trueup.geometry.pieces.piece import Piece
from trueup.geometry.redrawing.move_corner import end_cut, end_motion, start_carried
from trueup.geometry.said import said

SHOULDER_SEAM = "shoulder-seam"


@kind("true-shoulder")
class TrueShoulder(ByAmount):
    """Move the shoulder point of one piece along its seam, so that front and back shoulder match.

    Without an amount, the shoulder of the piece becomes as long as the one it is sewn to, or as
    near as the seam allows; with one it becomes longer by exactly that, or shorter by a negative
    amount. The armhole is redrawn up to the new shoulder point, fading to nothing at the underarm,
    and meets the shoulder at the angle it had. The neck point and the underarm stay. Use it after
    a dart that opens on one shoulder was changed (common practice, no source).
    """

    about = "shoulder"
    finished = False
    phrases = ("true the shoulder",)

    piece: str = name("piece whose shoulder is trued", choices=(FRONT, BACK), of="piece")
    by: float | None = length(
        "how much longer the shoulder becomes; what is missing unless given",
        None,
        low=-150,
        high=150,
    )

    def wanted(self, draft: Draft) -> float:
        draft.piece(self.piece)
        return true_shoulder_amount(draft, self.piece) if self.by is None else self.by

    def on(self, piece: Piece, by: float) -> Piece:
        old = piece.edge("shoulder")
        shoulder = end_cut(old, -by)
        armhole = start_carried(piece.edge("armhole"), end_motion(old, shoulder), shoulder.end)
        return piece.with_edges(shoulder, armhole)

    @property
    def trues(self) -> bool:
        return self.by is None

    def meant(self, draft: Draft) -> tuple[str, ...]:  # noqa: ARG002
        return (f"{self.piece}.shoulder",)

    def knock_on(self, draft: Draft) -> tuple[str, ...]:  # noqa: ARG002
        return (seam_measure(SHOULDER_SEAM), f"{self.piece}.armhole", CAP_EASE)


def true_shoulder_amount(draft: Draft, piece: str) -> float:
    """Return how much longer the shoulder of a piece must become for the seam to be allowed, mm.

    Raises NoSuchName when the draft lacks the piece or the seam, DoesNotFit when the seam does
    not sew this piece.
    """
    seam = draft.seam(SHOULDER_SEAM)
    draft.piece(piece)
    ease = walk(draft, seam).ease
    missing = -seam.allowed.excess(ease)
    if piece in {run.piece for run in seam.side}:
        return missing
    if piece in {run.piece for run in seam.mate}:
        return -missing
    reason, possible = said("not-sewn-by", seam=seam.name), said("give-amount")
    raise DoesNotFit(reason, possible, piece=piece, edge="shoulder")
