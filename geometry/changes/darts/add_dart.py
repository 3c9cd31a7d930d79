"""add-dart: open a new dart on an edge."""

from typing import ClassVar

from trueup.geometry.changes.base import kind
from trueup.geometry.changes.by_amount import ByAmount
from trueup.geometry.changes.declaring import length, name, position, require_new_name
from trueup.geometry.changes.declaring import name as named
from trueup.geometry.errors import DoesNotFit, NoSuchName
from trueup.geometry.pieces.draft import Draft
from trueup.geometry.pieces.piece import Piece
from trueup.geometry.pieces.position import Position
from trueup.geometry.redrawing.darts import edge_measures
from trueup.geometry.redrawing.turning.new_dart import let_out_at, with_dart_opened
from trueup.geometry.said import said
from trueup.geometry.units import Unit, format_length


@kind("add-dart")
class AddDart(ByAmount):
    """Open a new dart on an edge: at a place, so wide at its mouth and so deep.

    It stands square to the edge; `aside` moves its point along the edge, away from the start of
    it. The edge is trued across the closed dart, its ends stay, and the dart's legs are equal. The
    sewn edge loses the intake. With `let_out` it keeps its length: it is drawn on as much at the
    edge that is named, such as the side at a waist or the armhole at a shoulder, which is redrawn
    up to the new corner and fades to nothing at its other end. Cloth that another dart holds
    already is turned or split to a place with `rotate-dart` and `split-dart` instead.

    At the waist of half a bodice 20 mm to 45 mm are usual, of a skirt 15 mm to 25 mm, at the back
    shoulder 10 mm to 13 mm, 50 mm to 80 mm deep (from memory).
    """

    about = "edge"
    fair: ClassVar[bool] = True
    leaves_cloth: ClassVar[bool] = True
    phrases = ("add a dart",)

    edge: str = name("edge it opens on, as front.hem", of="edge")
    at: Position = position("where along that edge the middle of its mouth lies", on="edge")
    by: float = length("how much it takes in at its mouth", low=0, high=150, zero=False)
    deep: float = length("how deep it is, square to the edge", low=10, high=600)
    name: str = named("what the dart is called")
    aside: float = length("how far its point lies aside along the edge", 0.0, low=-200, high=200)
    let_out: str | None = named(
        "edge beside it at which the intake is let out; it is not let out unless given",
        None,
        of="edge",
    )

    def __post_init__(self) -> None:
        require_new_name("name", self.name)

    def pieces(self, draft: Draft) -> tuple[Piece, ...]:
        piece, _ = draft.split_edge_name(self.edge)
        return (draft.piece(piece),)

    def wanted(self, draft: Draft) -> float:
        (piece,) = self.pieces(draft)
        edge = piece.edge(self.edge.partition(".")[2])
        if edge.name == piece.fold:
            raise DoesNotFit(said("no-dart-on-fold", edge=edge.name), said("another-edge"))
        if self.name in (*piece.dart_names, *piece.edge_names):
            raise DoesNotFit(said("name-is-taken", name=self.name), said("another-name"))
        beside = {each.name for each in piece.neighbours(edge.name)} - {piece.fold}
        if self.let_out and self._beside(piece) not in beside:
            reason = said("does-not-meet", edge=self.let_out, other=self.edge)
            raise DoesNotFit(reason, said("another-edge"))
        return self.by

    def on(self, piece: Piece, by: float) -> Piece:
        edge = piece.edge(self.edge.partition(".")[2])
        along = self.at.along(edge)
        place, way = edge.place_at(along)
        aims = place + way * piece.inward * self.deep + way * self.aside
        if self.let_out:
            piece, farther = let_out_at(piece, edge, self._beside(piece), by)
            along += farther
        return with_dart_opened(piece, self.name, edge.name, along, aims, by)

    def _beside(self, piece: Piece) -> str:
        there = tuple(f"{piece.name}.{each}" for each in piece.edge_names)
        if self.let_out not in there:
            raise NoSuchName("edge", str(self.let_out), piece.name, there)
        return str(self.let_out).partition(".")[2]

    def place(self, draft: Draft) -> tuple[str, str]:  # noqa: ARG002
        piece, _, edge = self.edge.partition(".")
        return piece, edge

    @property
    def dart(self) -> str:
        """Return the full name of the dart."""
        return f"{self.edge.partition('.')[0]}.{self.name}"

    def in_words(self, unit: Unit) -> str:
        by, deep = format_length(self.by, unit), format_length(self.deep, unit)
        out = f", let out at {self.let_out}" if self.let_out else ""
        side = f" on the {self.side}" if self.side else ""
        where = f"on {self.edge} ({self.at.in_words(unit)})"
        return f"add a dart {self.dart} {where}, {by} wide and {deep} deep{out}{side}"

    def meant(self, draft: Draft) -> tuple[str, ...]:  # noqa: ARG002
        intake = f"{self.dart}.intake"
        return (intake,) if self.let_out else (intake, self.edge)

    def knock_on(self, draft: Draft) -> tuple[str, ...]:
        (piece,) = self.pieces(draft)
        _, edge = draft.split_edge_name(self.edge)
        beside = (self.let_out,) if self.let_out else ()
        return (*edge_measures(draft, piece, edge), *beside)
