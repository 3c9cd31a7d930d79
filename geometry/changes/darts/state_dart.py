"""state-dart: say that a V in an outline is a dart, or that a dart is none."""

from trueup.geometry.changes.base import Change, kind
from trueup.geometry.changes.declaring import (
    flag,
    free_text,
    length,
    name,
    position,
    require_new_name,
)
from trueup.geometry.errors import BadParameter, DoesNotFit
from trueup.geometry.marking.along import with_marks_moved
from trueup.geometry.pieces.draft import Draft
from trueup.geometry.pieces.edge import Edge
from trueup.geometry.pieces.piece import Piece
from trueup.geometry.pieces.position import Position
from trueup.geometry.redrawing.outlined_darts import (
    OutlinedDart,
    as_dart,
    as_lines,
    darts_outlined,
)
from trueup.geometry.said import said
from trueup.geometry.units import Unit


@kind("state-dart")
class StateDart(Change):
    """Say that a V in the outline of an edge is a dart: the edge goes on over it as it is sewn.

    For a dart that nobody named when a block was traced. Its legs are straight and alike, and it
    runs into the cloth. From then on the edge is as long as it is sewn, and the dart is turned,
    deepened and trued like any other. With `none` the opposite is said of a dart that is there: it
    is no dart, and its legs are lines of the edge, left open as they lie. No line moves.
    """

    phrases = ("state the dart",)

    edge: str = name("edge that the V lies in, as piece.edge", of="edge")
    name: str = free_text("what the dart is called, such as bust")
    at: Position | None = position("where it lies along the edge, where there are several", None,
                                   on="edge")  # fmt: skip
    setback: float = length("how far its tip stops short of what it aims at", 0.0, low=0, high=200)
    none: bool = flag(
        "say the opposite: the dart of this name is no dart, its legs are lines of the edge"
    )

    def __post_init__(self) -> None:
        require_new_name("name", self.name)
        if self.none and (self.at or self.setback):
            given = "at" if self.at else "setback"
            raise BadParameter(given, "given beside none", said("give-one"))

    def carried_out(self, draft: Draft) -> Draft:
        piece_name, edge_name = draft.split_edge_name(self.edge)
        piece = draft.piece(piece_name)
        edge = piece.edge(edge_name)
        if self.none:
            changed, (begins, by) = self._opened(edge)
        else:
            if self.name in piece.dart_names:
                raise DoesNotFit(said("name-is-taken", name=self.name), said("another-name"))
            found = self._found(piece, edge)
            changed = as_dart(edge, found, self.name, self.setback)
            begins, by = found.begins, found.begins - found.ends
        return draft.with_pieces(with_marks_moved(piece, changed, begins, by))

    def _opened(self, edge: Edge) -> tuple[Edge, tuple[float, float]]:
        changed = as_lines(edge, self.name)
        before = next(k for k, dart in enumerate(edge.darts) if dart.name == self.name)
        begins = sum(part.length for part in edge.parts[: before + 1])
        return changed, (begins, changed.length - edge.length)

    def _found(self, piece: Piece, edge: Edge) -> OutlinedDart:
        found = darts_outlined(piece, edge)
        if not found:
            raise DoesNotFit(said("no-v-there"), said("add-dart-instead"), edge=edge.name)
        if self.at is None:
            if len(found) > 1:
                many = said("several-vs", many=str(len(found)))
                raise DoesNotFit(many, said("say-which-by-at"), edge=edge.name)
            return found[0]
        at = self.at.along(edge)
        return min(found, key=lambda each: max(each.begins - at, at - each.ends))

    def same_place(self, other: Change) -> bool:
        return super().same_place(other) and self.name == getattr(other, "name", None)

    def meant(self, draft: Draft) -> tuple[str, ...]:
        piece, _ = draft.split_edge_name(self.edge)
        return (f"{piece}.{self.name}.intake",)

    def knock_on(self, draft: Draft) -> tuple[str, ...]:  # noqa: ARG002
        return (self.edge,)

    def in_words(self, unit: Unit) -> str:  # noqa: ARG002
        side = f" on the {self.side}" if self.side else ""
        piece = self.edge.partition(".")[0]
        if self.none:
            return f"leave the dart {piece}.{self.name} open as lines of {self.edge}{side}"
        return f"state the dart {piece}.{self.name} in {self.edge}{side}"
