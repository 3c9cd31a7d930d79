"""gather-edge: spread a piece from one of its edges, to be gathered where that edge is sewn."""

from trueup.geometry.changes.base import kind
from trueup.geometry.changes.by_amount import ByAmount
from trueup.geometry.changes.declaring import length, name, position
from trueup.geometry.changes.gathering import (
    gathers_asked,
    least_gathered,
    most_gathered,
    require_whole,
    slash_count,
)
from trueup.geometry.errors import BadParameter, DoesNotFit
from trueup.geometry.following.redrafting import require_none_that_grows
from trueup.geometry.measuring.gathered_stretch import marked_stretch
from trueup.geometry.measuring.gathers import held_gathered
from trueup.geometry.measuring.measures import seams_sewing
from trueup.geometry.pieces.draft import Draft
from trueup.geometry.pieces.piece import Piece
from trueup.geometry.pieces.position import Position
from trueup.geometry.redrawing.turning.strips import Strips, strips_from
from trueup.geometry.said import said
from trueup.geometry.units import Unit, format_length

_SHORTEST = 20.0
"""A shorter stretch is not gathered, mm."""


@kind("gather-edge")
class GatherEdge(ByAmount):
    """Spread a piece from one of its edges, so that it becomes longer by what is to be gathered.

    The piece is slashed from the edge to the one across from it, where the cloth stays whole, and
    the strips are turned about those points, all opened alike: the edge becomes longer by exactly
    the amount, drawn evenly from strip to strip, and every other edge keeps its sewn length, to a
    fifth of a millimetre. The slashes run square to the edge, or `to` an edge that is named, as
    from a neck down to the hem. With `begins` and `stops` only that stretch of the edge is spread,
    the rest goes along, and both sides of the seam are notched there. Notches of the edge go along
    with the cloth. The strip at the centre or on the fold stays on the table; a piece that has
    none, as a sleeve, is laid so that the ends of the edge lie level as they did.

    The seam that sews the edge then asks for the gathers: from the `least` that has still to be
    gathered to the `most`, a tenth to either side of the amount unless given. So a correction that
    eats them up is a conflict. A band that was drafted to the edge keeps its length, and takes up
    the gathers. Cloth is gathered to between two thirds and a third of its length (from memory).
    """

    about = "edge"
    fair = True
    leaves_cloth = True
    phrases = ("gather the edge",)

    edge: str = name("edge that is gathered, such as sleeve.cap or back-lower.yoke", of="edge")
    by: float = length("how much is gathered, by which the edge becomes longer", low=1, high=2000)
    slashes: float = slash_count(5)
    begins: Position | None = position(
        "where along the edge the gathers begin; all of it is gathered unless given",
        None,
        on="edge",
    )
    stops: Position | None = position(
        "where along the edge they stop; given with the place where they begin", None, on="edge"
    )
    to: str | None = name("edge of the piece that stays whole, such as hem; the one across", None)
    least: float | None = least_gathered()
    most: float | None = most_gathered()

    def __post_init__(self) -> None:
        require_whole(self.slashes)
        gathers_asked(self.by, self.least, self.most)
        if (self.begins is None) != (self.stops is None):
            lacking = "stops" if self.stops is None else "begins"
            raise BadParameter(lacking, "left out", said("give-both-places"))

    def pieces(self, draft: Draft) -> tuple[Piece, ...]:
        piece, _ = draft.split_edge_name(self.edge)
        return (draft.piece(piece),)

    def place(self, draft: Draft) -> tuple[str, str]:  # noqa: ARG002
        piece, _, edge = self.edge.partition(".")
        return piece, edge

    def wanted(self, draft: Draft) -> float:
        for piece in self.pieces(draft):
            self._slashed(piece)
        return self.by

    def carried_out(self, draft: Draft) -> Draft:
        require_none_that_grows(draft, self.edge)
        if self.begins:
            low, high = self._stretch(self.pieces(draft)[0])
            draft = marked_stretch(draft, self.edge, low, high)
        spread = super().carried_out(draft)
        asked = gathers_asked(self.by, self.least, self.most)
        return held_gathered(draft, spread, self.edge, self.by, asked)

    def on(self, piece: Piece, by: float) -> Piece:
        return self._slashed(piece).spread_with_marks(by)

    def _slashed(self, piece: Piece) -> Strips:
        _, _, edge = self.edge.partition(".")
        return strips_from(piece, edge, int(self.slashes), self._stretch(piece), self.to)

    def _stretch(self, piece: Piece) -> tuple[float, float]:
        """Return between which lengths along the edge it is gathered, mm."""
        edge = piece.edge(self.edge.partition(".")[2])
        if self.begins is None or self.stops is None:
            return 0.0, edge.length
        low, high = sorted((self.begins.along(edge), self.stops.along(edge)))
        if high - low < _SHORTEST:
            reason = said("stretch-too-short", line=edge.name, length=high - low)
            raise DoesNotFit(reason, said("places-apart", apart=_SHORTEST), edge=edge.name)
        return low, high

    def in_words(self, unit: Unit) -> str:
        by = format_length(self.by, unit)
        ends = [each.in_words(unit) for each in (self.begins, self.stops) if each]
        between = f" between {' and '.join(ends)}" if ends else ""
        to = f" towards the {self.to}" if self.to else ""
        side = f" on the {self.side}" if self.side else ""
        return f"gather {self.edge} by {by}{between}{to}{side}"

    def meant(self, draft: Draft) -> tuple[str, ...]:  # noqa: ARG002
        return (self.edge,)

    def knock_on(self, draft: Draft) -> tuple[str, ...]:
        return seams_sewing(draft, self.edge)
