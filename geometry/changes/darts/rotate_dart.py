"""rotate-dart: close a dart and open it at another place, by turning the paper between the two."""

from trueup.geometry.changes.base import Change, kind
from trueup.geometry.changes.parameters import name, position
from trueup.geometry.errors import BrokenOutline, CannotChange, NoSuchName
from trueup.geometry.pieces.dart import Mouth
from trueup.geometry.pieces.draft import Draft
from trueup.geometry.pieces.edge import Edge
from trueup.geometry.pieces.piece import Piece
from trueup.geometry.pieces.position import Position
from trueup.geometry.redrawing.darts import find_edge_dart, require_sound, room_for_tip
from trueup.geometry.redrawing.ring import Halves, halves

_ROOM = 1.0


@kind("rotate-dart")
class RotateDart(Change):
    """Close a dart and open it at a place on another edge, or elsewhere on its own.

    The paper between the old mouth and the new one is turned about the apex by the dart's angle,
    with all that lies on it; the half that holds the centre stays on the table. The angle at the
    apex, the sewn length of every edge and the cloth stay as they are; the intake changes with the
    length of the legs. The dart keeps its name. The place is measured along the sewn edge.
    """

    phrases = ("turn the dart",)

    dart: str = name("dart that is moved, as piece.dart", of="dart")
    edge: str = name("edge it is opened on, as piece.edge", of="edge")
    at: Position = position("where along that edge it opens", on="edge")

    def apply(self, draft: Draft) -> Draft:
        piece, _, mouth = find_edge_dart(self.kind, draft, self.dart)
        edge = self._new_edge(draft, piece)
        part, length = self._place(piece, mouth, edge)
        cut = halves(piece, mouth.dart.name, edge.name, part, length)
        self._require_free(piece, mouth, edge, cut)
        try:
            changed = cut.pivoted()
        except BrokenOutline as broken:
            raise self._refused(piece, mouth, str(broken), "choose another place") from broken
        opened = changed.mouth(mouth.dart.name)
        if opened.dart.setback > room_for_tip(opened):
            raise self._refused(
                piece,
                mouth,
                f"its tip stops {opened.dart.setback:.1f} mm short of its pivot, farther than the "
                "new place lies from it",
                "bring the tip back with move-apex first",
            )
        require_sound(self.kind, changed, mouth.dart.name, "choose another place")
        return draft.with_pieces(changed)

    def _require_free(self, piece: Piece, mouth: Mouth, edge: Edge, cut: Halves) -> None:
        line = f"the line from its apex to {self.at} on {edge.name}"
        if cut.darts_crossed:
            crossed = " and ".join(cut.darts_crossed)
            raise self._refused(
                piece,
                mouth,
                f"{line} crosses the dart {crossed}",
                "choose another place, or first shorten that dart with move-apex",
            )
        if not cut.cut_lies_in_cloth:
            raise self._refused(
                piece, mouth, f"{line} leaves the cloth", "choose a place the apex looks at freely"
            )

    def _new_edge(self, draft: Draft, piece: Piece) -> Edge:
        there = tuple(f"{piece.name}.{edge}" for edge in piece.edge_names)
        if self.edge not in there:
            draft.split_edge_name(self.edge)
            raise NoSuchName("edge", self.edge, piece.name, there)
        return piece.edge(self.edge.removeprefix(f"{piece.name}."))

    def _place(self, piece: Piece, mouth: Mouth, edge: Edge) -> tuple[int, float]:
        """Return the part of the new edge, and the length along it, where the dart opens."""
        if edge.name == piece.fold:
            raise self._refused(
                piece,
                mouth,
                f"{edge.name} lies on the fold of the cloth, where no dart can open",
                "choose another edge",
            )
        length = self.at.along(edge)
        for index, part in enumerate(edge.parts):
            if length < part.length - _ROOM or index == len(edge.parts) - 1:
                break
            if length < part.length + _ROOM:
                opens = edge.darts[index].name
                if opens == mouth.dart.name:
                    raise self._refused(
                        piece, mouth, f"it opens at {self.at} already", "choose another place"
                    )
                raise self._refused(
                    piece, mouth, f"the dart {opens} opens at {self.at}", "choose another place"
                )
            length -= part.length
        if not _ROOM < length < part.length - _ROOM:
            raise self._refused(
                piece,
                mouth,
                f"{self.at} lies on a corner of {edge.name}",
                f"choose a place at least {_ROOM:g} mm from the ends of an edge of "
                f"{edge.length:.1f} mm",
            )
        return index, length

    def _refused(self, piece: Piece, mouth: Mouth, reason: str, possible: str) -> CannotChange:
        return CannotChange(self.kind, piece.name, mouth.dart.name, reason, possible)

    def meant(self, draft: Draft) -> tuple[str, ...]:  # noqa: ARG002
        return (f"{self.dart}.intake", f"{self.dart}.leg")
