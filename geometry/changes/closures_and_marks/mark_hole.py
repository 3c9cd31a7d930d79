"""mark-hole: mark a place inside a piece with a hole that is drilled through all layers."""

from collections.abc import Iterator

from trueup.geometry.changes.base import Change, kind
from trueup.geometry.changes.declaring import free_text, length, name, position, require_new_name
from trueup.geometry.changes.parameters import require_one_of
from trueup.geometry.errors import DoesNotFit, NoSuchName
from trueup.geometry.marking.adding import beyond_cloth, with_new_marks
from trueup.geometry.marking.places import inner_dart
from trueup.geometry.measuring.measures import mark_measures
from trueup.geometry.pieces.draft import Draft
from trueup.geometry.pieces.marks.mark import AtLevel, AtTip, InnerMark, OnEdge, Purpose
from trueup.geometry.pieces.piece import Piece
from trueup.geometry.pieces.position import Position
from trueup.geometry.said import said
from trueup.geometry.units import Unit, format_length


@kind("mark-hole")
class MarkHole(Change):
    """Mark a place inside a piece with a drill hole, to be found again on the cut cloth.

    In a dart it lies so far inside its tip that the stitches cover it, 10 mm unless said (common
    practice, no source), on the line in the dart's middle; a dart inside a piece has one at both
    its tips. Elsewhere it lies square to an edge, by a place along it or by the level it is on. The
    hole stays with its dart, edge or level whatever moves them, and goes with its dart.
    """

    phrases = ("mark a hole",)

    dart: str | None = name("dart inside whose tip it lies, such as front.bust", None, of="dart")
    edge: str | None = name("edge that it is measured from, as piece.edge", None, of="edge")
    at: Position | None = position("where along that edge", None, on="edge")
    level: str | None = name("level that meets that edge, instead of a place along it", None)
    by: float = length("how far inside the tip, or square to the edge", 10.0, low=0, high=1000)
    name: str | None = free_text("what the hole is called", None)

    def __post_init__(self) -> None:
        require_one_of(self, "dart", "edge")
        if self.edge:
            require_one_of(self, "at", "level")
        require_new_name("name", self._called)

    @property
    def _called(self) -> str:
        if self.name:
            return self.name
        return f"{self.dart.partition('.')[2]}-hole" if self.dart else "hole"

    def carried_out(self, draft: Draft) -> Draft:
        piece = self._piece(draft)
        marks = tuple(self._marks(piece))
        for mark in marks:
            beyond = beyond_cloth(piece, mark)
            if beyond > 0:
                raise DoesNotFit(said("leaves-piece", beyond=beyond), said("another-place"))
        return with_new_marks(draft, piece.name, *marks)

    def _piece(self, draft: Draft) -> Piece:
        if self.edge:
            return draft.piece(draft.split_edge_name(self.edge)[0])
        of, _, dart = (self.dart or "").partition(".")
        if not draft.has_piece(of) or dart not in draft.piece(of).dart_names:
            raise NoSuchName("dart", self.dart or "", "this draft", draft.dart_names)
        return draft.piece(of)

    def _marks(self, piece: Piece) -> Iterator[InnerMark]:
        if self.dart:
            yield from self._in_dart(piece, self.dart.partition(".")[2])
            return
        edge = (self.edge or "").partition(".")[2]
        place = OnEdge(edge, self.at) if self.at else AtLevel(edge, self.level or "")
        yield InnerMark(self._called, Purpose.HOLE, place, ((complex(0, self.by),),))

    def _in_dart(self, piece: Piece, dart: str) -> Iterator[InnerMark]:
        inner = inner_dart(piece, dart)
        if inner is None:
            mouth = piece.mouth(dart)
            middle = (mouth.first + mouth.second) / 2
            ends = {f"{self._called}": (AtTip(dart), abs(middle - mouth.tip))}
        else:
            middle = (inner.left + inner.right) / 2
            ends = {
                self._called: (AtTip(dart), abs(middle - inner.upper)),
                f"{self._called}-lower": (AtTip(dart, lower=True), abs(middle - inner.lower)),
            }
        for called, (place, length_of_dart) in ends.items():
            if self.by >= length_of_dart:
                reason = said("dart-only-long", length=length_of_dart)
                raise DoesNotFit(reason, said("nearer-the-tip"), edge=dart, dart=dart)
            yield InnerMark(called, Purpose.HOLE, place, ((complex(self.by, 0),),))

    def meant(self, draft: Draft) -> tuple[str, ...]:
        names = mark_measures(self._piece(draft).name, self._called)
        return names[:1] if self.dart else names

    def in_words(self, unit: Unit) -> str:
        side = f" on the {self.side}" if self.side else ""
        by = format_length(self.by, unit)
        if self.dart:
            return f"mark a hole {by} inside the tip of {self.dart}{side}"
        where = self.at.in_words(unit) if self.at else f"at the {self.level}"
        return f"mark a hole {by} inside {self.edge}, {where} ({self._called}){side}"
