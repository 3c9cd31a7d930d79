"""raise-cap, version 1: gathers asked for nothing."""

from typing import ClassVar

from trueup.geometry.changes.base import kind
from trueup.geometry.changes.by_amount import ByAmount
from trueup.geometry.changes.declaring import length
from trueup.geometry.errors import DoesNotFit
from trueup.geometry.measuring.gathers import may_be_gathered
from trueup.geometry.measuring.measures import CAP_EASE
from trueup.geometry.pieces.draft import Draft
from trueup.geometry.pieces.piece import Piece
from trueup.geometry.pieces.sleeve_cap import cap_height
from trueup.geometry.redrawing.sleeves.sleeve import SLEEVE, recut
from trueup.geometry.said import said

_LEAST_HEIGHT = 10.0


@kind("raise-cap")
class FirstRaiseCap(ByAmount):
    """Raise the crown of the sleeve by an amount; a negative amount lowers it.

    The cap is stretched upwards evenly from the cap line: underarm points, sleeve seams and hem
    stay. A higher cap is longer and holds more ease. Cloth that is to be gathered into the armhole
    is given as `gathers`: the armhole seam then takes as much more ease.
    """

    about = "cap"
    finished = False
    smooth: ClassVar[bool] = False
    phrases = ("raise the sleeve cap", "lower the sleeve cap")
    either_way = "change the height of the sleeve cap"

    by: float = length("how much higher the crown becomes", low=-200, high=300, zero=False)
    gathers: float = length("cloth to be gathered into the armhole", 0.0, low=0, high=600)

    def pieces(self, draft: Draft) -> tuple[Piece, ...]:
        return (draft.piece(SLEEVE),)

    def carried_out(self, draft: Draft) -> Draft:
        raised = super().carried_out(draft)
        return self.with_gathers(draft, raised)

    def with_gathers(self, before: Draft, after: Draft) -> Draft:  # noqa: ARG002
        """Return the raised draft with what the armhole seam may hold of gathers."""
        return may_be_gathered(after, self.gathers)

    def on(self, piece: Piece, by: float) -> Piece:
        height = cap_height(piece.edge("cap"))
        if height + by < _LEAST_HEIGHT:
            raise DoesNotFit(said("crown-too-low", height=height), edge="cap")
        return recut(piece, 0.0, by, smooth=self.smooth)

    def meant(self, draft: Draft) -> tuple[str, ...]:  # noqa: ARG002
        return (f"{SLEEVE}.cap-height",)

    def knock_on(self, draft: Draft) -> tuple[str, ...]:  # noqa: ARG002
        return (f"{SLEEVE}.cap", CAP_EASE)
