"""full-abdomen: lengthen a front at the centre for a full abdomen, and let out its dart."""

from typing import ClassVar

from trueup.geometry.changes.base import kind
from trueup.geometry.changes.by_amount import ByAmount
from trueup.geometry.changes.declaring import Most, length, name
from trueup.geometry.errors import BadParameter, NoSuchName
from trueup.geometry.pieces.bodice import FRONT
from trueup.geometry.pieces.draft import Draft
from trueup.geometry.pieces.piece import Piece
from trueup.geometry.redrawing.darts import edge_measures
from trueup.geometry.redrawing.fitting.centre_length import (
    half_named,
    line_at_waist,
    with_centre_longer,
)
from trueup.geometry.redrawing.turning.dart_intake import taken_in
from trueup.geometry.said import said
from trueup.geometry.units import Unit, format_length


@kind("full-abdomen")
class FullAbdomen(ByAmount):
    """Lengthen the front at the centre over a full abdomen, to nothing at the side.

    Of a skirt the waist rises at the centre, of a bodice the hem drops there: the centre grows by
    exactly the amount, drawn evenly from square at the centre to where the line met the side. The
    side and the waist keep their length: the waist dart nearest the centre takes in the millimetre
    or two by which a line is longer that runs aslant.

    A dart that is named takes in so much `less` besides: a flat dart lies better over what is
    round, and the waist gains the width that it lacked. What is still too narrow is let out with
    `taper-side` or `add-ease`.

    6 mm to 19 mm are usual (common practice, no source). A negative amount is for an abdomen that
    is flat, or held in.
    """

    about = "centre"
    fair: ClassVar[bool] = True
    leaves_cloth: ClassVar[bool] = True
    phrases = ("lengthen the front for the abdomen", "shorten the front for the abdomen")

    by: float = length(
        "how much longer the centre becomes", low=-40, high=50, zero=False, most=Most(25)
    )
    dart: str | None = name(
        "dart over the abdomen that takes in less, as skirt-front.waist", None, of="dart"
    )
    less: float = length("how much less that dart takes in", 0.0, low=0, high=60)

    def __post_init__(self) -> None:
        if (self.dart is None) != (self.less == 0):
            given, missing = ("less", "dart") if self.dart is None else ("dart", "less")
            raise BadParameter(missing, "left out", said("goes-with", other=given))

    def pieces(self, draft: Draft) -> tuple[Piece, ...]:
        return (half_named(draft, FRONT),)

    def wanted(self, draft: Draft) -> float:
        (piece,) = self.pieces(draft)
        known = tuple(f"{piece.name}.{each}" for each in piece.dart_names)
        if self.dart and self.dart not in known:
            raise NoSuchName("dart", self.dart, piece.name, known)
        return self.by

    def on(self, piece: Piece, by: float) -> Piece:
        if self.dart:
            piece = taken_in(piece, self.dart.partition(".")[2], -self.less)
        return with_centre_longer(piece, by)

    def place(self, draft: Draft) -> tuple[str, str]:
        return self.pieces(draft)[0].name, self.about

    def in_words(self, unit: Unit) -> str:
        by, less = format_length(abs(self.by), unit), format_length(self.less, unit)
        way = "lengthen" if self.by > 0 else "shorten"
        dart = f", {self.dart} taking in {less} less" if self.dart else ""
        side = f" on the {self.side}" if self.side else ""
        return f"{way} the centre front for the abdomen by {by}{dart}{side}"

    def meant(self, draft: Draft) -> tuple[str, ...]:
        (piece,) = self.pieces(draft)
        return (f"{piece.name}.centre", *((f"{self.dart}.intake",) if self.dart else ()))

    def knock_on(self, draft: Draft) -> tuple[str, ...]:
        (piece,) = self.pieces(draft)
        return edge_measures(draft, piece, line_at_waist(piece))
