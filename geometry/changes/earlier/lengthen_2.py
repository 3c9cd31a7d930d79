"""lengthen, version 2: a side that comes down aslant was drawn on straight down, too."""

import math

from trueup.geometry.changes.base import kind
from trueup.geometry.changes.by_amount import ByAmount
from trueup.geometry.changes.declaring import length, name
from trueup.geometry.errors import BadParameter, DoesNotFit
from trueup.geometry.pieces.bodice import BACK, BODICE, FRONT
from trueup.geometry.pieces.draft import Draft
from trueup.geometry.pieces.piece import Piece
from trueup.geometry.redrawing.drawn_on import end_cut_at_level, end_drawn_to, reversed_edge
from trueup.geometry.redrawing.hems.hem import (
    at_hem,
    cut_off,
    drawn_between,
    ends_at_waist,
    let_down,
)
from trueup.geometry.redrawing.hems.leg import INSEAM
from trueup.geometry.redrawing.move_corner import end_motion, start_motion
from trueup.geometry.redrawing.sleeves.sleeve import SLEEVE, moved_seams
from trueup.geometry.redrawing.sound import require_cloth
from trueup.geometry.said import said
from trueup.geometry.tolerance import CLOTH_LEFT

_BELOW_DART = CLOTH_LEFT + 1.0
"""What a double-pointed dart leaves up to the hem, mm: that bends, and comes a little nearer."""


@kind("lengthen", version=2, unfinished=1)
class SecondLengthen(ByAmount):
    """Lower the hem of the bodice, of its front or back alone, or of the sleeve, straight down.

    Side and centre are drawn on; a bend at the old hem is rounded, so that a side seam keeps a
    natural waist. Waist darts that opened on the hem become double-pointed: they end 130 mm below
    the waist, or 6 mm short of the hem of a shorter piece. A hip level is added 200 mm below the
    waist (both common practice, no source). `flare` moves the hem out at the side besides.

    The seams of a trouser leg run straight on instead, and its hem keeps its shape.

    A negative amount shortens a sleeve, a trouser leg, or a piece lengthened before, by cutting the
    cloth off.
    """

    about = "hem"
    phrases = ("lengthen", "shorten")

    by: float = length("how much longer the piece becomes", low=-1000, high=1500, zero=False)
    piece: str = name(
        "what is lengthened", BODICE, choices=(BODICE, FRONT, BACK, SLEEVE), of="piece"
    )
    flare: float = length("how far the hem moves out at the side", 0.0, low=-200, high=500)

    def __post_init__(self) -> None:
        if self.by < 0 and self.flare:
            raise BadParameter("flare", said("length", mm=self.flare), said("only-longer-flares"))

    def on(self, piece: Piece, by: float) -> Piece:
        return self._sleeve(piece, by) if self.piece == SLEEVE else self.bodice(piece, by)

    def bodice(self, piece: Piece, by: float) -> Piece:
        """Return a piece of a bodice, a skirt or trousers with a lower hem, or a higher one."""
        if INSEAM in piece.edge_names:
            return self._leg(piece, by)
        if by < 0:
            self._require_below_waist(piece)
            return self._shortened(piece, by, "side", "centre")
        side, hem, centre = (piece.edge(n) for n in ("side", "hem", "centre"))
        outward = 1 if side.end.real > hem.end.real else -1
        new_side = end_drawn_to(side, side.end + complex(outward * self.flare, by))
        straight_on = -by * centre.parts[0].start_tangent
        below = centre.start + (straight_on if piece.fold == "centre" else complex(0.0, by))
        new_centre = reversed_edge(end_drawn_to(reversed_edge(centre), below))
        return let_down(piece, new_side, new_centre, _BELOW_DART if self.finished else 0.0)

    def _leg(self, leg: Piece, by: float) -> Piece:
        """Return a trouser leg whose seams run straight on to a lower hem, or end higher."""
        if by < 0:
            return self._shortened(leg, by, "side", INSEAM)
        side, hem, inseam = (leg.edge(name) for name in ("side", "hem", INSEAM))
        outward = math.copysign(self.flare, side.end.real - hem.end.real)
        down, up = side.parts[-1].end_tangent, inseam.parts[0].start_tangent
        longer = end_drawn_to(side, side.end + down * (by / down.imag) + outward)
        within = inseam.start - up * (by / -up.imag) - outward
        other = reversed_edge(end_drawn_to(reversed_edge(inseam), within))
        motions = end_motion(side, longer), start_motion(inseam, other)
        new_hem = drawn_between(hem, *motions, longer.end, other.start)
        return at_hem(leg.with_edges(longer, new_hem, other))

    def _sleeve(self, sleeve: Piece, by: float) -> Piece:
        if by < 0:
            return self._shortened(sleeve, by, "back-seam", "front-seam")
        cap, hem = sleeve.edge("cap"), sleeve.edge("hem")
        across = (hem.end - hem.start) / abs(hem.end - hem.start)
        down, out = complex(0.0, by), across * self.flare
        edges = moved_seams(sleeve, cap.start, cap.end, down + out, down - out)
        return at_hem(sleeve.with_edges(*edges))

    def _shortened(self, piece: Piece, by: float, before: str, after: str) -> Piece:
        """Return the piece cut off at a higher hem, which keeps its shape between its new ends."""
        old, hem, upwards = piece.edge(before), piece.edge("hem"), piece.edge(after)
        first = end_cut_at_level(old, old.end.imag + by)
        second = reversed_edge(end_cut_at_level(reversed_edge(upwards), upwards.start.imag + by))
        new_hem = drawn_between(
            hem, end_motion(old, first), start_motion(upwards, second), first.end, second.start
        )
        changed = cut_off(piece.with_edges(first, new_hem, second))
        if self.finished:
            require_cloth(piece, changed, "hem")
        return changed

    def _require_below_waist(self, piece: Piece) -> None:
        if piece.edge("hem").darts or ends_at_waist(piece):
            raise DoesNotFit(said("ends-at-waist"), said("shorten-lengthened"), edge="hem")

    def meant(self, draft: Draft) -> tuple[str, ...]:
        if self.piece == SLEEVE:
            return (f"{SLEEVE}.back-seam", f"{SLEEVE}.front-seam")
        return tuple(f"{piece.name}.{_within(piece)}" for piece in self.pieces(draft))

    def knock_on(self, draft: Draft) -> tuple[str, ...]:
        if self.piece == SLEEVE:
            return ()
        return tuple(f"{piece.name}.side" for piece in self.pieces(draft))


def _within(piece: Piece) -> str:
    """Return the edge across from the side: the inseam of a trouser leg, or the centre."""
    return INSEAM if INSEAM in piece.edge_names else "centre"
