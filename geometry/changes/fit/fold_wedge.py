"""fold-wedge: fold a wedge out of a piece, or let one in."""

from typing import ClassVar

from trueup.geometry.changes.base import kind
from trueup.geometry.changes.by_amount import ByAmount
from trueup.geometry.changes.declaring import Most, length, name, position
from trueup.geometry.errors import BadParameter, NoSuchName
from trueup.geometry.pieces.draft import Draft
from trueup.geometry.pieces.piece import Piece
from trueup.geometry.pieces.position import Position
from trueup.geometry.redrawing.turning.wedge import wedged
from trueup.geometry.said import said
from trueup.geometry.units import Unit, format_length


@kind("fold-wedge")
class FoldWedge(ByAmount):
    """Fold a wedge out of a piece, from a place on one edge to nothing on another; or let one in.

    It is what a cross fold pinned on the body says: a sway back (from the centre back at the waist
    to the side), a hollow chest (from the centre front to the armhole), a neck that gapes; a
    negative amount lets in what a round back or a full abdomen lacks. The paper on the one side is
    turned about the point at which the wedge ends, with all that lies on it; what holds the centre
    stays. The first edge grows shorter by exactly the amount, and no other but for the drawing
    fair: both lines are drawn fair where they are folded. 6 mm to 15 mm are usual, and more than
    25 mm want a dart or a seam (common practice, no source).
    """

    about = "fold"
    finished: ClassVar[bool] = True
    phrases = ("fold a wedge out", "let a wedge in")
    edge: str = name("edge on which it is widest, such as back.centre", of="edge")
    at: Position = position("where along that edge its middle lies", on="edge")
    ends: str = name("edge on which it comes to nothing, such as back.side", of="edge")
    ends_at: Position = position("where along that edge it ends", on="ends")
    by: float = length(
        "how wide it is on the first edge", low=-60, high=60, zero=False, most=Most(25)
    )

    def __post_init__(self) -> None:
        if self.edge == self.ends:
            raise BadParameter("ends", self.ends, said("two-edges"))

    def pieces(self, draft: Draft) -> tuple[Piece, ...]:
        piece, _ = draft.split_edge_name(self.edge)
        other, _ = draft.split_edge_name(self.ends)
        if other != piece:
            there = tuple(f"{piece}.{edge}" for edge in draft.piece(piece).edge_names)
            raise NoSuchName("edge", self.ends, piece, there)
        return (draft.piece(piece),)

    def on(self, piece: Piece, by: float) -> Piece:
        edge, to = (each.partition(".")[2] for each in (self.edge, self.ends))
        along = self.at.along(piece.edge(edge)), self.ends_at.along(piece.edge(to))
        return wedged(piece, edge, along[0], to, along[1], by)

    def in_words(self, unit: Unit) -> str:
        way = "fold a wedge out" if self.by > 0 else "let a wedge in"
        wide = format_length(abs(self.by), unit)
        side = f" on the {self.side}" if self.side else ""
        return (
            f"{way}, {wide} wide on {self.edge} ({self.at.in_words(unit)}), to nothing on "
            f"{self.ends} ({self.ends_at.in_words(unit)}){side}"
        )

    def place(self, draft: Draft) -> tuple[str, str]:  # noqa: ARG002
        piece, _, edge = self.edge.partition(".")
        return piece, edge

    def meant(self, draft: Draft) -> tuple[str, ...]:  # noqa: ARG002
        return (self.edge,)

    def knock_on(self, draft: Draft) -> tuple[str, ...]:  # noqa: ARG002
        return (self.ends,)
