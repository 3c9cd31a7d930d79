"""rotate-dart: close a dart and open it at another place, by turning the paper between the two."""

from trueup.geometry.changes.base import Change, kind
from trueup.geometry.changes.declaring import name, position
from trueup.geometry.errors import BrokenOutline, DoesNotFit, NoSuchName
from trueup.geometry.pieces.dart import Mouth
from trueup.geometry.pieces.draft import Draft
from trueup.geometry.pieces.edge import Edge
from trueup.geometry.pieces.piece import Piece
from trueup.geometry.pieces.position import Position
from trueup.geometry.redrawing.darts import find_edge_dart, room_for_tip
from trueup.geometry.redrawing.ring import Halves, halves
from trueup.geometry.redrawing.sound import require_sound
from trueup.geometry.said import said

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

    def carried_out(self, draft: Draft) -> Draft:
        piece, _, mouth = find_edge_dart(draft, self.dart)
        edge = self._new_edge(draft, piece)
        part, length = self._place(piece, mouth, edge)
        cut = halves(piece, mouth.dart.name, edge.name, part, length)
        self._require_free(edge, cut)
        try:
            changed = cut.pivoted()
        except BrokenOutline as broken:
            raise DoesNotFit(broken.reason, said("another-place")) from broken
        opened = changed.mouth(mouth.dart.name)
        if opened.dart.setback > room_for_tip(opened):
            reason = said("tip-short-of-pivot", setback=opened.dart.setback)
            raise DoesNotFit(reason, said("tip-back-first"))
        require_sound(changed, mouth.dart.name, said("another-place"))
        return draft.with_pieces(changed)

    def _require_free(self, edge: Edge, cut: Halves) -> None:
        line = {"place": str(self.at), "edge": edge.name}
        if cut.darts_crossed:
            crossed = " and ".join(cut.darts_crossed)
            reason = said("line-crosses-dart", dart=crossed, **line)
            raise DoesNotFit(reason, said("place-or-shorten"), dart=cut.darts_crossed[0])
        if not cut.cut_lies_in_cloth:
            raise DoesNotFit(said("line-leaves-cloth", **line), said("place-in-sight"))

    def _new_edge(self, draft: Draft, piece: Piece) -> Edge:
        there = tuple(f"{piece.name}.{edge}" for edge in piece.edge_names)
        if self.edge not in there:
            draft.split_edge_name(self.edge)
            raise NoSuchName("edge", self.edge, piece.name, there)
        return piece.edge(self.edge.removeprefix(f"{piece.name}."))

    def _place(self, piece: Piece, mouth: Mouth, edge: Edge) -> tuple[int, float]:
        """Return the part of the new edge, and the length along it, where the dart opens."""
        if edge.name == piece.fold:
            raise DoesNotFit(said("no-dart-on-fold", edge=edge.name), said("another-edge"))
        length, elsewhere = self.at.along(edge), said("another-place")
        for index, part in enumerate(edge.parts):
            if length < part.length - _ROOM or index == len(edge.parts) - 1:
                break
            if length < part.length + _ROOM:
                opens = edge.darts[index].name
                if opens == mouth.dart.name:
                    raise DoesNotFit(said("opens-already", place=str(self.at)), elsewhere)
                other = said("other-opens", dart=opens, place=str(self.at))
                raise DoesNotFit(other, elsewhere, dart=opens)
            length -= part.length
        if not _ROOM < length < part.length - _ROOM:
            reason = said("on-corner", place=str(self.at), edge=edge.name)
            raise DoesNotFit(reason, said("away-from-ends", room=_ROOM, length=edge.length))
        return index, length

    def meant(self, draft: Draft) -> tuple[str, ...]:  # noqa: ARG002
        return (f"{self.dart}.intake", f"{self.dart}.leg")
