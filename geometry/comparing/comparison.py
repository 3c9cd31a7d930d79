"""Two drafts over each other: which edges moved, how far and where, and how long they were.

Lengths and distances are mm. An edge moved when its two lines lie farther apart than
`tolerance.UNCHANGED` anywhere; darts are left out of a line and told for themselves.
"""

from collections.abc import Iterator
from dataclasses import dataclass

import shapely

from trueup.geometry.calling.own_names import called_as
from trueup.geometry.comparing.alignment import BY_CENTRE, Alignment, laid_under
from trueup.geometry.comparing.difference import DartDifference, dart_differences, same_line
from trueup.geometry.comparing.distance import Farthest, farthest, lie_apart
from trueup.geometry.comparing.own_cloth import OwnCloth, own_cloth
from trueup.geometry.kept import kept
from trueup.geometry.lines.points import Point
from trueup.geometry.pieces.draft import Draft
from trueup.geometry.pieces.edge import Edge
from trueup.geometry.sides.parting import parted_as
from trueup.geometry.tolerance import UNCHANGED


@dataclass(frozen=True)
class EdgeMove:
    """An edge that both drafts have: how far its two lines lie apart at most, and where.

    It is worked out when it is asked for: a picture needs no more than which edges `moved`.
    """

    piece: str
    old: Edge
    new: Edge

    @property
    def edge(self) -> str:
        """Return the name of the edge."""
        return self.new.name

    @property
    def name(self) -> str:
        """Return the full name, `piece.edge`."""
        return f"{self.piece}.{self.edge}"

    @kept
    def moved(self) -> bool:
        """Return whether the edge moved by what counts as a move."""
        return not self._is_alike and lie_apart(self.old, self.new, UNCHANGED)

    @kept
    def _is_alike(self) -> bool:
        return same_line(self.old, self.new)

    @kept
    def _found(self) -> Farthest:
        if self._is_alike:
            at = self.new.start
            return Farthest(self.new, self.new, 0.0, at, at, from_other=True)
        return farthest(self.old, self.new)

    @property
    def distance(self) -> float:
        """Return the largest distance of the two lines, mm."""
        return self._found.distance

    @property
    def old_place(self) -> Point:
        """Return the point of the old line that lies so far apart."""
        return self._found.on_one

    @property
    def new_place(self) -> Point:
        """Return the point of the new line that lies so far apart."""
        return self._found.on_other

    @property
    def on_old(self) -> bool:
        """Return whether the distance is found at a point of the old line, else of the new."""
        return not self._found.from_other

    @property
    def along(self) -> float:
        """Return how many sewn mm from the nearer corner of that line the distance is found."""
        return self._found.along if self._is_nearer_start else self._line.length - self._found.along

    @property
    def corner(self) -> str:
        """Return that corner."""
        return self._line.starts_at if self._is_nearer_start else self._line.ends_at

    @property
    def _line(self) -> Edge:
        return self.old if self.on_old else self.new

    @property
    def _is_nearer_start(self) -> bool:
        return self._found.along <= self._line.length / 2

    @property
    def before(self) -> float:
        """Return how long the edge was, sewn, mm."""
        return (self.new if self._is_alike else self.old).length

    @property
    def after(self) -> float:
        """Return how long it is, sewn, mm."""
        return self.new.length


@dataclass(frozen=True)
class Comparison:
    """Two drafts compared; `old` as it was laid under `new`."""

    old: Draft
    new: Draft
    by: Alignment
    edges: tuple[EdgeMove, ...]

    @kept
    def moves(self) -> tuple[EdgeMove, ...]:
        """Return the edges that moved."""
        return tuple(edge for edge in self.edges if edge.moved)

    @kept
    def only_old(self) -> tuple[str, ...]:
        """Return the edges that only the old draft has."""
        return _only_in(self.old, self.new)

    @kept
    def only_new(self) -> tuple[str, ...]:
        """Return the edges that only the new draft has."""
        return _only_in(self.new, self.old)

    @kept
    def darts(self) -> tuple[DartDifference, ...]:
        """Return the darts that moved, or that only one draft has."""
        found = dart_differences(self.old, self.new)
        return tuple(d for d in found if d.moved is None or d.moved > UNCHANGED)

    @property
    def is_same(self) -> bool:
        """Return whether nothing moved, came or went."""
        return not (self.moves or self.only_old or self.only_new or self.darts)

    @kept
    def changed_pieces(self) -> tuple[str, ...]:
        """Return the names of the pieces on which something moved, came or went."""
        names = {move.piece for move in self.moves}
        others = (*self.only_old, *self.only_new, *(dart.dart for dart in self.darts))
        names |= {name.partition(".")[0] for name in others}
        every = dict.fromkeys((*self.old.piece_names, *self.new.piece_names))
        return tuple(name for name in every if name in names)

    def cloth_gained(self, piece: str) -> OwnCloth:
        """Return the cloth that only the new piece has."""
        return own_cloth(_cloth(self.new, piece), _cloth(self.old, piece))

    def cloth_lost(self, piece: str) -> OwnCloth:
        """Return the cloth that only the old piece has."""
        return own_cloth(_cloth(self.old, piece), _cloth(self.new, piece))


def _only_in(one: Draft, other: Draft) -> tuple[str, ...]:
    """Return the edges that only one draft has, each by what its piece is called."""
    known = {*other.edge_names}
    return tuple(
        name
        for name in one.edge_names
        if name not in known and name.partition(".")[0] not in one.called_names
    )


def compare(old: Draft, new: Draft, by: Alignment = BY_CENTRE) -> Comparison:
    """Return two drafts compared edge by edge, the old one laid under the new.

    Distances agree with the Hausdorff distance of the two lines. Raises BadParameter for an
    alignment by an edge that ends where it starts.
    """
    # A piece may have been renamed, or parted into left and right, between the two.
    old = called_as(old, new)
    new = parted_as(new, old)
    under = laid_under(parted_as(old, new), new, by)
    return Comparison(under, new, by, tuple(_edges(under, new)))


def _edges(old: Draft, new: Draft) -> Iterator[EdgeMove]:
    for piece in new.pieces:
        if old.has_piece(piece.name):
            before = old.piece(piece.name)
            for edge in piece.edges:
                if edge.name in before.edge_names:
                    yield EdgeMove(piece.name, before.edge(edge.name), edge)


def _cloth(draft: Draft, piece: str) -> shapely.Polygon:
    return draft.piece(piece).cloth if draft.has_piece(piece) else shapely.Polygon()
