"""extend-crotch: lengthen or shorten the fork of trousers."""

from trueup.geometry.changes.base import kind
from trueup.geometry.changes.by_amount import ByAmount
from trueup.geometry.changes.declaring import length, name
from trueup.geometry.errors import DoesNotFit
from trueup.geometry.lines.bisection import root_between
from trueup.geometry.lines.points import Motion
from trueup.geometry.measuring.measures import sewn_span
from trueup.geometry.pieces.closed_line import closed
from trueup.geometry.pieces.draft import Draft
from trueup.geometry.pieces.edge import Edge
from trueup.geometry.pieces.piece import Piece
from trueup.geometry.redrawing.hems.leg import (
    CROTCH,
    INSEAM,
    KNEE_LEVEL,
    end_carried_from,
    leg_pieces,
    outward,
    station_at,
)
from trueup.geometry.redrawing.move_corner import carried, meeting, taper
from trueup.geometry.said import said
from trueup.geometry.tolerance import SAME_LENGTH

LEGS = "legs"
"""What front and back are called together."""

_MOST_SUNK = 60.0
_LEAST_FORK = 20.0


@kind("extend-crotch")
class ExtendCrotch(ByAmount):
    """Lengthen the fork of trousers: it reaches further between the legs by the amount.

    The fork moves out, square to the crease, on both front and back or on one of them; the crotch
    is redrawn up to it, and the inseam down to the knee. The fork sinks or rises by the little that
    keeps the inseam as long as it was, so inseams that matched still match, and keeps its angle, so
    the crotch runs on across the inseam. A negative amount shortens the fork.
    """

    about = CROTCH
    fair = True
    leaves_cloth = True
    phrases = ("lengthen the fork", "shorten the fork")

    by: float = length("how much further the fork reaches", low=-100, high=150, zero=False)
    piece: str = name(
        "what is lengthened, the front or the back alone or both legs", LEGS, of="piece"
    )

    def pieces(self, draft: Draft) -> tuple[Piece, ...]:
        return leg_pieces(draft) if self.piece == LEGS else (draft.piece(self.piece),)

    def on(self, piece: Piece, by: float) -> Piece:
        old, crotch = closed(piece.edge(INSEAM)), closed(piece.edge(CROTCH))
        reach = old.chain.length - station_at(piece, old, KNEE_LEVEL)
        out = -outward(piece) * by
        left = abs(sewn_span(crotch.edge).real) + by
        if left < _LEAST_FORK:
            raise DoesNotFit(said("little-fork", left=max(left, 0.0)), said("take-off-less"))

        def drawn(sunk: float) -> Edge:
            step = Motion(shift=out + complex(0.0, sunk))
            chain = end_carried_from(old.chain, step, reach)
            return meeting(old.opened(chain), start=old.edge.start)

        sunk = root_between(
            lambda sunk: drawn(sunk).length - old.edge.length, -_MOST_SUNK, _MOST_SUNK, SAME_LENGTH
        )
        inseam = drawn(sunk or 0.0)
        step = Motion(shift=inseam.end - old.edge.end)
        line = carried(crotch.chain, (step, taper(crotch.chain.length)))
        return piece.with_edges(inseam, meeting(crotch.opened(line), inseam.end, crotch.edge.end))

    def meant(self, draft: Draft) -> tuple[str, ...]:
        return tuple(f"{piece.name}.fork-width" for piece in self.pieces(draft))

    def knock_on(self, draft: Draft) -> tuple[str, ...]:
        legs = self.pieces(draft)
        return tuple(f"{leg.name}.{what}" for leg in legs for what in (CROTCH, "crotch-width"))
