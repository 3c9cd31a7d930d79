"""contour-edge: close what a low neck or a cut-away armhole gapes into the bust dart."""

from typing import ClassVar

from trueup.geometry.changes.base import kind
from trueup.geometry.changes.by_amount import ByAmount
from trueup.geometry.changes.declaring import Most, length, name, position
from trueup.geometry.errors import NoSuchName
from trueup.geometry.measuring.measures import seams_sewing
from trueup.geometry.pieces.draft import Draft
from trueup.geometry.pieces.piece import Piece
from trueup.geometry.pieces.position import Position
from trueup.geometry.redrawing.darts import find_edge_dart
from trueup.geometry.redrawing.turning.contour import contoured
from trueup.geometry.units import Unit, format_length


@kind("contour-edge")
class ContourEdge(ByAmount):
    """Take out what a low neck or a cut-away armhole gapes, and give it to the bust dart.

    A wedge, so wide on the edge and nothing at the point the dart aims at, is closed by turning the
    paper between the edge and the dart about that point; the dart opens by the angle of the wedge.
    The edge grows shorter by exactly the amount and is drawn fair there; every other seam keeps its
    length, and the half of the piece that holds the centre stays on the table. Where the cloth is
    hollow above the body's roundest point, nothing but such a wedge lies close: shortening the line
    at its ends only moves the fold. It serves a back as well, towards the dart at the shoulder.

    On half a front 6 mm are usual for a low neck, read where it crosses the bust circle; as much as
    19 mm where it comes near or below the bust point, and 13 mm at the armhole of a dress without
    sleeves (dresspatternmaking.com, standard contouring amounts).
    """

    about = "neck"
    fair: ClassVar[bool] = True
    leaves_cloth: ClassVar[bool] = True
    phrases = ("close a gape",)

    dart: str = name("dart that takes it in, as front.bust", of="dart")
    edge: str = name("edge that gapes, as front.neck", of="edge")
    at: Position = position("where along that edge the middle of the wedge lies", on="edge")
    by: float = length(
        "how much shorter the edge becomes",
        low=0,
        high=40,
        zero=False,
        most=Most(19, source="dresspatternmaking.com, standard contouring amounts"),
    )

    def pieces(self, draft: Draft) -> tuple[Piece, ...]:
        piece, _, _ = find_edge_dart(draft, self.dart)
        there = tuple(f"{piece.name}.{each}" for each in piece.edge_names)
        if self.edge not in there:
            draft.split_edge_name(self.edge)
            raise NoSuchName("edge", self.edge, piece.name, there)
        return (piece,)

    def on(self, piece: Piece, by: float) -> Piece:
        edge, dart = (each.partition(".")[2] for each in (self.edge, self.dart))
        return contoured(piece, dart, edge, self.at.along(piece.edge(edge)), by)

    def place(self, draft: Draft) -> tuple[str, str]:  # noqa: ARG002
        piece, _, edge = self.edge.partition(".")
        return piece, edge

    def in_words(self, unit: Unit) -> str:
        by, side = format_length(self.by, unit), f" on the {self.side}" if self.side else ""
        where = f"{self.edge} ({self.at.in_words(unit)})"
        return f"close a gape of {by} on {where} into the dart {self.dart}{side}"

    def meant(self, draft: Draft) -> tuple[str, ...]:  # noqa: ARG002
        return (self.edge, f"{self.dart}.intake")

    def knock_on(self, draft: Draft) -> tuple[str, ...]:
        return seams_sewing(draft, self.edge)
