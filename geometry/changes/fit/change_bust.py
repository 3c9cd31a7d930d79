"""change-bust: make a front wider and longer for a fuller bust, or less so for a smaller one."""

from typing import ClassVar

from trueup.geometry.changes.base import kind
from trueup.geometry.changes.by_amount import ByAmount
from trueup.geometry.changes.declaring import Most, length, name, position
from trueup.geometry.errors import NoSuchName
from trueup.geometry.pieces.draft import Draft
from trueup.geometry.pieces.piece import Piece
from trueup.geometry.pieces.position import Position
from trueup.geometry.redrawing.darts import edge_measures, find_edge_dart, find_inner_dart
from trueup.geometry.redrawing.turning.bust_spread import bust_spread
from trueup.geometry.units import Unit, format_length

_ARMHOLE = "armhole"
_ABOVE_UNDERARM = Position("underarm", share=0.33)


@kind("change-bust")
class ChangeBust(ByAmount):
    """Make a front wider at the bust by an amount, for a fuller bust; a negative one narrower.

    The front is slashed from a place on the armhole (a third of it above the underarm unless said)
    or on the shoulder to the bust point, at which the bust dart aims, on straight down to the hem,
    and along the dart. The paper under the arm is turned about the place on the armhole until the
    slash stands open by the amount, and so the dart opens by as much more; the rest at the side
    moves out square to the centre, and below the bust the front is lowered at the centre as far as
    the side came down. It comes out the same wherever the bust dart opens.

    Neck, shoulder, armhole and side keep their sewn length; the edge the slash ran to is drawn fair
    there, at the cost of a few tenths of a millimetre. The centre grows by what the side came down:
    little with a slash to the shoulder, more the lower it ends on the armhole. At the waist the
    front gains the amount, or the dart `into` takes it in. The bust dart then aims at the outer
    edge of what was let in, half the amount outside the new bust point.

    The amount is for half the front: 13 mm a cup are usual; for much more, or much less, the front
    is divided by a seam over the bust instead (common practice, no source).
    """

    about = _ARMHOLE
    fair: ClassVar[bool] = True
    leaves_cloth: ClassVar[bool] = True
    phrases = ("widen the front at the bust", "narrow the front at the bust")

    dart: str = name("bust dart, as front.bust; it aims at the bust point", of="dart")
    by: float = length(
        "how much wider half the front becomes there",
        low=-40,
        high=80,
        zero=False,
        most=Most(38, less=25),
    )
    edge: str | None = name(
        "edge the slash runs to, above the bust point; the armhole unless given", None, of="edge"
    )
    at: Position | None = position(
        "where on that edge it ends; 33% from underarm unless given", None, on="edge"
    )
    into: str | None = name(
        "dart at the waist that takes in what the waist gains; the waist gains it unless given",
        None,
        of="dart",
    )

    def pieces(self, draft: Draft) -> tuple[Piece, ...]:
        piece, _, _ = find_edge_dart(draft, self.dart)
        return (piece,)

    def made(self, draft: Draft, by: float) -> Draft:
        (piece,) = self.pieces(draft)
        edge = piece.edge(self._edge_of(piece))
        along = (self.at or _ABOVE_UNDERARM).along(edge)
        into = self._into(draft, piece)
        dart = self.dart.partition(".")[2]
        return draft.with_pieces(bust_spread(piece, dart, edge.name, along, by, into))

    def _edge_of(self, piece: Piece) -> str:
        if self.edge is None:
            return _ARMHOLE
        there = tuple(f"{piece.name}.{each}" for each in piece.edge_names)
        if self.edge not in there:
            raise NoSuchName("edge", self.edge, piece.name, there)
        return self.edge.partition(".")[2]

    def _into(self, draft: Draft, piece: Piece) -> str | None:
        if self.into is None:
            return None
        if find_inner_dart(draft, self.into) is None:
            draft.find_dart(self.into)
        known = tuple(f"{piece.name}.{each}" for each in piece.dart_names)
        if self.into not in known or self.into == self.dart:
            others = tuple(each for each in known if each != self.dart)
            raise NoSuchName("dart", self.into, piece.name, others)
        return self.into.partition(".")[2]

    def in_words(self, unit: Unit) -> str:
        way = "widen" if self.by > 0 else "narrow"
        piece, by = self.dart.partition(".")[0], format_length(abs(self.by), unit)
        slashed = f", slashed to {self.edge or 'the armhole'}"
        at = f" ({self.at.in_words(unit)})" if self.at else ""
        into = f", taken in by {self.into} at the waist" if self.into else ""
        side = f" on the {self.side}" if self.side else ""
        return f"{way} the {piece} at the bust by {by} with {self.dart}{slashed}{at}{into}{side}"

    def meant(self, draft: Draft) -> tuple[str, ...]:
        (piece,) = self.pieces(draft)
        at_waist = f"{self.into}.intake" if self.into else f"{piece.name}.hem"
        return (f"{self.dart}.intake", f"{piece.name}.centre", at_waist)

    def knock_on(self, draft: Draft) -> tuple[str, ...]:
        (piece,) = self.pieces(draft)
        bust = (f"{piece.name}.bust-width",) if piece.has_level("bust") else ()
        return (*bust, *edge_measures(draft, piece, "hem"))
