"""Where a dart can be opened on an edge anew: the edge, the place along it, the cut up to it."""

from trueup.geometry.errors import DoesNotFit, NoSuchName
from trueup.geometry.pieces.dart import Mouth
from trueup.geometry.pieces.draft import Draft
from trueup.geometry.pieces.edge import Edge
from trueup.geometry.pieces.piece import Piece
from trueup.geometry.pieces.position import Position
from trueup.geometry.redrawing.turning.ring import Halves, halves
from trueup.geometry.said import said

_ROOM = 1.0


def cut_to(draft: Draft, piece: Piece, mouth: Mouth, edge: str, at: Position) -> Halves:
    """Return a piece cut from a dart's mouth to its apex, and from there to a place on an edge.

    The edge is written `piece.edge`. Raises NoSuchName or BadPosition for a place that is not
    there, DoesNotFit where no mouth can be opened at it from that apex.
    """
    wanted = _edge_of(draft, piece, edge)
    part, length = _place(mouth, wanted, at, on_fold=wanted.name == piece.fold)
    cut = halves(piece, mouth.dart.name, wanted.name, part, length)
    _require_free(wanted, at, cut)
    return cut


def _edge_of(draft: Draft, piece: Piece, edge: str) -> Edge:
    there = tuple(f"{piece.name}.{each}" for each in piece.edge_names)
    if edge not in there:
        draft.split_edge_name(edge)
        raise NoSuchName("edge", edge, piece.name, there)
    return piece.edge(edge.removeprefix(f"{piece.name}."))


def _place(mouth: Mouth, edge: Edge, at: Position, *, on_fold: bool) -> tuple[int, float]:
    """Return the part of the edge, and the length along it, where the dart opens."""
    if on_fold:
        raise DoesNotFit(said("no-dart-on-fold", edge=edge.name), said("another-edge"))
    length, elsewhere = at.along(edge), said("another-place")
    for index, part in enumerate(edge.parts):
        if length < part.length - _ROOM or index == len(edge.parts) - 1:
            break
        if length < part.length + _ROOM:
            opens = edge.darts[index].name
            if opens == mouth.dart.name:
                raise DoesNotFit(said("opens-already", place=str(at)), elsewhere)
            other = said("other-opens", dart=opens, place=str(at))
            raise DoesNotFit(other, elsewhere, dart=opens)
        length -= part.length
    if not _ROOM < length < part.length - _ROOM:
        reason = said("on-corner", place=str(at), edge=edge.name)
        raise DoesNotFit(reason, said("away-from-ends", room=_ROOM, length=edge.length))
    return index, length


def _require_free(edge: Edge, at: Position, cut: Halves) -> None:
    line = {"place": str(at), "edge": edge.name}
    if cut.darts_crossed:
        crossed = " and ".join(cut.darts_crossed)
        reason = said("line-crosses-dart", dart=crossed, **line)
        raise DoesNotFit(reason, said("place-or-shorten"), dart=cut.darts_crossed[0])
    if not cut.cut_lies_in_cloth:
        raise DoesNotFit(said("line-leaves-cloth", **line), said("place-in-sight"))
