"""spread-apart: let fullness into a piece from one edge to another, to be gathered."""

from typing import ClassVar

from trueup.geometry.changes.base import kind
from trueup.geometry.changes.by_amount import ByAmount
from trueup.geometry.changes.declaring import length, name
from trueup.geometry.changes.gathering import (
    gathers_asked,
    least_gathered,
    most_gathered,
    require_whole,
    slash_count,
)
from trueup.geometry.following.redrafting import require_none_that_grows
from trueup.geometry.measuring.gathers import asked_for, held_gathered
from trueup.geometry.measuring.measures import seams_sewing
from trueup.geometry.pieces.draft import Draft
from trueup.geometry.pieces.piece import Piece
from trueup.geometry.redrawing.turning.apart import strips_between
from trueup.geometry.units import Unit, format_length

_MOST_SLASHES = 24
_MOST_GATHERED = 4000.0


@kind("spread-apart")
class SpreadApart(ByAmount):
    """Slash a piece from an edge to another one and move the strips apart, to be gathered.

    The slashes part the first edge evenly and run down the grain; the strips stay parallel and all
    move apart by as much, across the grain, so that both edges become wider alike. The first edge
    becomes longer by exactly the amount, the other by as much but for how it lies; both are drawn
    fair and keep their shape and their corners, every other edge moves along as it is. The strip at
    the fold or the centre stays on the table.

    The seam that sews the edge then asks for the gathers: from the `least` that has still to be
    gathered to the `most`, a tenth to either side of the amount unless given; so does one that sews
    the other edge. A band that was drafted to the edge keeps its length, and takes up the gathers;
    one that is drafted to it afterwards is given them. Of a piece on the fold, the amount is that
    of its half. Darts that open on either edge are turned or released first. Cloth is gathered to
    between two thirds and a third of its length (from memory, no source).
    """

    about = "spread"
    fair: ClassVar[bool] = True
    leaves_cloth: ClassVar[bool] = True
    phrases = ("spread apart",)

    edge: str = name("edge that is gathered, such as skirt-front.waist", of="edge")
    by: float = length("how much longer that edge becomes", low=1, high=4000, zero=False)
    ends: str = name("edge of the piece to which the slashes run", "hem")
    slashes: float = slash_count(4, _MOST_SLASHES)
    least: float | None = least_gathered(_MOST_GATHERED)
    most: float | None = most_gathered(_MOST_GATHERED)

    def __post_init__(self) -> None:
        require_whole(self.slashes)
        gathers_asked(self.by, self.least, self.most)

    def pieces(self, draft: Draft) -> tuple[Piece, ...]:
        piece, _ = draft.split_edge_name(self.edge)
        return (draft.piece(piece),)

    def place(self, draft: Draft) -> tuple[str, str]:  # noqa: ARG002
        piece, _, edge = self.edge.partition(".")
        return piece, edge

    def wanted(self, draft: Draft) -> float:
        (piece,) = self.pieces(draft)
        strips_between(piece, self._upper, self.ends, int(self.slashes))
        return self.by

    @property
    def _upper(self) -> str:
        return self.edge.partition(".")[2]

    def on(self, piece: Piece, by: float) -> Piece:
        return strips_between(piece, self._upper, self.ends, int(self.slashes)).apart(by)

    def carried_out(self, draft: Draft) -> Draft:
        piece, _ = draft.split_edge_name(self.edge)
        for edge in (self.edge, f"{piece}.{self.ends}"):
            require_none_that_grows(draft, edge)
        return super().carried_out(draft)

    def made(self, draft: Draft, by: float) -> Draft:
        after = super().made(draft, by)
        (piece,) = self.pieces(draft)
        below = f"{piece.name}.{self.ends}"
        gain = after.edge(piece.name, self.ends).length - piece.edge(self.ends).length
        asked = gathers_asked(self.by, self.least, self.most)
        after = held_gathered(draft, after, self.edge, by, asked)
        return held_gathered(draft, after, below, gain, asked_for(gain))

    def in_words(self, unit: Unit) -> str:
        where = f" on the {self.side}" if self.side else ""
        over = f"over {self.slashes:g} slash{'es' if self.slashes > 1 else ''}"
        by = format_length(self.by, unit)
        return f"spread {self.edge} apart by {by} down to the {self.ends}, {over}{where}"

    def meant(self, draft: Draft) -> tuple[str, ...]:
        piece, _ = draft.split_edge_name(self.edge)
        return (self.edge, f"{piece}.{self.ends}")

    def knock_on(self, draft: Draft) -> tuple[str, ...]:
        return seams_sewing(draft, self.edge)
