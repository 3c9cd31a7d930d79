"""widen-sleeve, version 1: the cap kinked at the sleeve seam, and gathers asked for nothing."""

from typing import ClassVar

from trueup.geometry.changes.base import kind
from trueup.geometry.changes.by_amount import ByAmount
from trueup.geometry.changes.declaring import length
from trueup.geometry.errors import BadParameter, DoesNotFit
from trueup.geometry.measuring.gathers import may_be_gathered
from trueup.geometry.measuring.measures import CAP_EASE
from trueup.geometry.pieces.draft import Draft
from trueup.geometry.pieces.piece import Piece
from trueup.geometry.redrawing.sleeves.sleeve import SLEEVE, recut
from trueup.geometry.said import said
from trueup.geometry.tolerance import SAME_POINT

_NARROWEST = 0.4
"""A sleeve keeps at least this share of its width: below it no arm goes in."""


@kind("widen-sleeve")
class FirstWidenSleeve(ByAmount):
    """Widen the sleeve by an amount at the biceps, both sides alike; a negative amount narrows it.

    The crown keeps its height, the hem its width unless `hem` says how much wider that becomes in
    all. The cap grows longer with the width and holds more ease; cloth that is to be gathered
    into the armhole is given as `gathers`, and the armhole seam then takes as much more ease.
    """

    about = "cap"
    finished = False
    smooth: ClassVar[bool] = False
    phrases = ("widen the sleeve", "narrow the sleeve")

    by: float = length("how much wider the sleeve becomes at the biceps", low=-200, high=600)
    hem: float = length("how much wider the hem becomes", 0.0, low=-300, high=1000)
    gathers: float = length("cloth to be gathered into the armhole", 0.0, low=0, high=600)

    def __post_init__(self) -> None:
        if self.by == 0 and self.hem == 0:
            raise BadParameter("by", "nothing", said("biceps-or-hem"))

    @property
    def _is_at_biceps(self) -> bool:
        return abs(self.by) >= SAME_POINT

    def wanted(self, draft: Draft) -> float:  # noqa: ARG002
        return self.by if self._is_at_biceps else self.hem

    def pieces(self, draft: Draft) -> tuple[Piece, ...]:
        return (draft.piece(SLEEVE),)

    def carried_out(self, draft: Draft) -> Draft:
        sleeve = draft.piece(SLEEVE)
        cap, hem = sleeve.edge("cap"), sleeve.edge("hem")
        require_width("cap", abs(cap.end - cap.start), self.by)
        require_width("hem", abs(hem.end - hem.start), self.hem)
        widened = super().carried_out(draft)
        return self.with_gathers(draft, widened)

    def with_gathers(self, before: Draft, after: Draft) -> Draft:  # noqa: ARG002
        """Return the widened draft with what the armhole seam may hold of gathers."""
        return may_be_gathered(after, self.gathers)

    def on(self, piece: Piece, by: float) -> Piece:
        at_biceps, at_hem = (by, self.hem) if self._is_at_biceps else (0.0, by)
        return recut(piece, at_biceps / 2, 0.0, at_hem / 2, smooth=self.smooth)

    def meant(self, draft: Draft) -> tuple[str, ...]:  # noqa: ARG002
        widened = ((f"{SLEEVE}.biceps-width", self.by), (f"{SLEEVE}.hem", self.hem))
        return tuple(measure for measure, by in widened if by)

    def knock_on(self, draft: Draft) -> tuple[str, ...]:  # noqa: ARG002
        return (f"{SLEEVE}.cap", CAP_EASE) if self.by else ()


def require_width(edge: str, width: float, by: float) -> None:
    """Raise DoesNotFit where a sleeve would lose more of its width at an edge than it can, mm."""
    if width + by < width * _NARROWEST:
        largest = width * (1 - _NARROWEST)
        reason = said("narrow-already", width=width, by=-by)
        raise DoesNotFit(
            reason, said("lose-at-most", by=largest), piece=SLEEVE, edge=edge, largest=-largest
        )
