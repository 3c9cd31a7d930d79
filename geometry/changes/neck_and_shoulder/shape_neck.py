"""shape-neck: draw the neck line round, as a V or square, between the ends it has."""

import cmath
import math

from trueup.geometry.changes.base import Change, kind
from trueup.geometry.changes.declaring import name
from trueup.geometry.errors import DoesNotFit
from trueup.geometry.lines.chain import Chain
from trueup.geometry.lines.points import degrees_between, dot
from trueup.geometry.measuring.forms import line_of
from trueup.geometry.pieces.bodice import BACK, FRONT
from trueup.geometry.pieces.closed_line import closed
from trueup.geometry.pieces.draft import Draft
from trueup.geometry.pieces.piece import Piece
from trueup.geometry.redrawing.move_corner import meeting, quarter_curve
from trueup.geometry.said import said
from trueup.geometry.tolerance import SHORTEST_LEFT

ROUND, V, SQUARE = "round", "v", "square"


@kind("shape-neck")
class ShapeNeck(Change):
    """Draw the neck line of the front or the back anew between its present ends.

    `round` is a quarter curve, square to the centre. It meets the shoulder at the angle the line
    had there if it was curved; if it was straight, so that it runs on smoothly into the other
    piece's neck line, or square to the shoulder where that is straight too or not there. `v` is one
    straight line. `square` goes straight across from the centre, and then up beside it to the neck
    point. The ends stay; the shape is drawn between whatever ends the pattern's parent gives it. A
    `v` or `square` neck is meant to have its corner at the shoulder, so it is no longer asked to
    run on smoothly into the other piece's neck line there.
    """

    phrases = ("shape the neck line",)
    sound = False

    piece: str = name("piece whose neck line is drawn", choices=("front", "back"), of="piece")
    shape: str = name(
        "the shape of the neck line",
        choices=(ROUND, V, SQUARE),
        says={ROUND: "as a round neck", V: "as a V neck", SQUARE: "as a square neck"},
    )

    def carried_out(self, draft: Draft) -> Draft:
        piece = draft.piece(self.piece)
        line = closed(piece.edge("neck"))
        square = cmath.rect(1.0, piece.inward.imag * math.radians(_angle_left(draft, piece)))
        into = -piece.edge("shoulder").parts[0].start_tangent * square
        chain = self._drawn(piece, line.chain, into * line.motions[-1].rotation)
        neck = meeting(line.opened(chain), start=line.edge.start, end=line.edge.end)
        changed = piece.with_edges(neck)
        if not changed.is_simple:
            reason = said("shape-crosses", shape=self.shape)
            raise DoesNotFit(reason, said("shape-or-ends"))
        shaped = draft.with_pieces(changed)
        return shaped if self.shape == ROUND else shaped.without_joins(self.piece, "neck")

    def place(self, draft: Draft) -> tuple[str, str]:  # noqa: ARG002
        return self.piece, "neck"

    def _drawn(self, piece: Piece, old: Chain, smooth: complex) -> Chain:
        """Return the new line beside the old; `smooth` is how it arrives after a straight one."""
        if self.shape == V:
            return Chain.line(old.start, old.end)
        down = -piece.edge("centre").parts[-1].end_tangent
        across = down * 1j
        width = dot(old.end - old.start, across)
        if abs(width) < SHORTEST_LEFT or abs(dot(old.end - old.start, down)) < SHORTEST_LEFT:
            raise DoesNotFit(said("ends-in-line"), said("neck-first"))
        if self.shape == SQUARE:
            return Chain.line(old.start, old.start + across * width, old.end)
        leaving = across if width > 0 else -across
        arriving = smooth if old.cubics[-1].is_straight else old.end_tangent
        return quarter_curve(old.start, leaving, old.end, arriving)

    def drawn(self, draft: Draft) -> tuple[str, ...]:  # noqa: ARG002
        return (line_of(f"{self.piece}.neck"),)

    def meant(self, draft: Draft) -> tuple[str, ...]:  # noqa: ARG002
        return (f"{self.piece}.neck",)


def _angle_left(draft: Draft, piece: Piece) -> float:
    """Return the corner, in degrees, that lets the neck run on smoothly across the shoulder."""
    other = BACK if piece.name == FRONT else FRONT
    if not draft.has_piece(other):
        return 90.0
    neck, shoulder = draft.edge(other, "neck").parts[-1], draft.edge(other, "shoulder").parts[0]
    if neck.cubics[-1].is_straight:
        return 90.0
    return 180.0 - degrees_between(-neck.end_tangent, shoulder.start_tangent)
