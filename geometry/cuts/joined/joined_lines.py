"""A piece as it lies in the one it was joined into: moved there, its lines called as they are in
that, its ring in the same order; and back.
"""

from collections.abc import Mapping
from dataclasses import dataclass, replace

from trueup.geometry.lines.points import Motion
from trueup.geometry.pieces.dart import InnerDart
from trueup.geometry.pieces.edge import Edge
from trueup.geometry.pieces.marks.mark import (
    AtLevel,
    AtMouth,
    AtTip,
    BesideEdge,
    InnerMark,
    MarkPlace,
    OnEdge,
)
from trueup.geometry.pieces.piece import Grainline, Piece
from trueup.geometry.pieces.position import Position
from trueup.geometry.redrawing.drawn_on import reversed_edge

Names = Mapping[str, str]


@dataclass(frozen=True)
class LaidIn:
    """How a piece comes to lie in another: names of lines, a motion, and whether its ring turns."""

    names: Names
    motion: Motion = Motion()  # noqa: RUF009  (frozen)
    turned: bool = False

    def there(self, piece: Piece) -> Piece:
        """Return the piece as it lies in the other; its levels, which are its own, stay."""
        moved = _moved(piece, self.motion) if self.motion != Motion() else piece
        return _called(_turned(moved) if self.turned else moved, self.names)

    def back(self, piece: Piece) -> Piece:
        """Return a piece as it lies in the other as it is by itself."""
        own = _called(piece, {there: own for own, there in self.names.items()})
        own = _turned(own) if self.turned else own
        return _moved(own, self.motion.inverse()) if self.motion != Motion() else own


def _turned(piece: Piece) -> Piece:
    """Return the piece with its outline told the other way round."""
    marks = (
        replace(mark, place=AtMouth(mark.place.dart, not mark.place.second))
        if isinstance(mark.place, AtMouth)
        else mark
        for mark in piece.marks
    )
    edges = tuple(reversed_edge(edge) for edge in reversed(piece.edges))
    return replace(piece, edges=edges, marks=tuple(marks))


def _moved(piece: Piece, motion: Motion) -> Piece:
    """Return a piece after a rigid motion: its edges, darts and grainline; levels stay as said."""
    edges = [
        replace(
            edge,
            parts=tuple(part.moved(motion) for part in edge.parts),
            darts=tuple(replace(dart, apex=motion(dart.apex)) for dart in edge.darts),
        )
        for edge in piece.edges
    ]
    meeting = (
        replace(edge, parts=(*edge.parts[:-1], edge.parts[-1].ending_at(after.start)))
        for edge, after in zip(edges, (*edges[1:], edges[0]), strict=True)
    )
    grain = piece.grainline
    return replace(
        piece,
        edges=tuple(meeting),
        inner_darts=tuple(
            InnerDart(d.name, *map(motion, (d.upper, d.lower, d.left, d.right)))
            for d in piece.inner_darts
        ),
        grainline=Grainline(motion(grain.start), motion(grain.end)) if grain else None,
    )


def _called(piece: Piece, names: Names) -> Piece:
    """Return a piece with other names for its edges, corners and darts, whatever tells of them."""
    if not names:
        return piece

    def name(own: str) -> str:
        return names.get(own, own)

    def place(at: Position) -> Position:
        return replace(at, corner=name(at.corner))

    return replace(
        piece,
        edges=tuple(_edge(edge, names) for edge in piece.edges),
        inner_darts=tuple(replace(dart, name=name(dart.name)) for dart in piece.inner_darts),
        notches=tuple(replace(n, edge=name(n.edge), at=place(n.at)) for n in piece.notches),
        fold=name(piece.fold) if piece.fold else None,
        levels=tuple(
            replace(level, along=name(level.along)) if level.along else level
            for level in piece.levels
        ),
        allowances=tuple((name(edge), mm) for edge, mm in piece.allowances),
        marks=tuple(_mark(mark, names) for mark in piece.marks),
        corners=tuple(
            replace(each, corner=name(each.corner), edge=name(each.edge)) for each in piece.corners
        ),
    )


def _edge(edge: Edge, names: Names) -> Edge:
    return replace(
        edge,
        name=names.get(edge.name, edge.name),
        starts_at=names.get(edge.starts_at, edge.starts_at),
        ends_at=names.get(edge.ends_at, edge.ends_at),
        darts=tuple(replace(dart, name=names.get(dart.name, dart.name)) for dart in edge.darts),
    )


def _mark(mark: InnerMark, names: Names) -> InnerMark:
    return replace(mark, place=_place(mark.place, names))


def _place(place: MarkPlace, names: Names) -> MarkPlace:
    match place:
        case OnEdge():
            at = replace(place.at, corner=names.get(place.at.corner, place.at.corner))
            return OnEdge(names.get(place.edge, place.edge), at)
        case BesideEdge():
            return BesideEdge(names.get(place.edge, place.edge), place.inside)
        case AtLevel():
            return AtLevel(names.get(place.edge, place.edge), place.level, place.down)
        case AtMouth():
            return AtMouth(names.get(place.dart, place.dart), place.second)
        case AtTip():
            return AtTip(names.get(place.dart, place.dart), place.lower)
