"""Two drafts over each other: which edges moved, how far and where, and how long they were.

Lengths and distances are mm. An edge moved when its two lines lie farther apart than
`tolerance.UNCHANGED` anywhere; darts are left out of a line and told for themselves.
"""

from collections.abc import Iterator
from dataclasses import dataclass
from functools import cached_property

import shapely

from trueup.geometry.calling.own_names import called_as
from trueup.geometry.comparing.alignment import BY_CENTRE, Alignment, laid_under
from trueup.geometry.comparing.difference import DartDifference, dart_differences, same_line
from trueup.geometry.comparing.distance import farthest
from trueup.geometry.comparing.own_cloth import OwnCloth, own_cloth
from trueup.geometry.lines.points import Point
from trueup.geometry.pieces.draft import Draft
from trueup.geometry.pieces.edge import Edge
from trueup.geometry.sides.parting import parted_as
from trueup.geometry.tolerance import UNCHANGED


@dataclass(frozen=True)
class EdgeMove:
    """An edge that both drafts have: how far its two lines lie apart at most, and where.

    `old_place` and `new_place` are the two points, on the old and on the new line. The distance is
    found `along` sewn mm from the corner `corner`: of the old line where `on_old`, else of the new.
    """

    piece: str
    edge: str
    distance: float
    old_place: Point
    new_place: Point
    along: float
    corner: str
    on_old: bool
    before: float
    after: float

    @property
    def name(self) -> str:
        """Return the full name, `piece.edge`."""
        return f"{self.piece}.{self.edge}"

    @property
    def moved(self) -> bool:
        """Return whether the edge moved by what counts as a move."""
        return self.distance > UNCHANGED


@dataclass(frozen=True)
class Comparison:
    """Two drafts compared; `old` as it was laid under `new`."""

    old: Draft
    new: Draft
    by: Alignment
    edges: tuple[EdgeMove, ...]

    @property
    def moves(self) -> tuple[EdgeMove, ...]:
        """Return the edges that moved."""
        return tuple(edge for edge in self.edges if edge.moved)

    @property
    def only_old(self) -> tuple[str, ...]:
        """Return the edges that only the old draft has."""
        return _only_in(self.old, self.new)

    @property
    def only_new(self) -> tuple[str, ...]:
        """Return the edges that only the new draft has."""
        return _only_in(self.new, self.old)

    @cached_property
    def darts(self) -> tuple[DartDifference, ...]:
        """Return the darts that moved, or that only one draft has."""
        found = dart_differences(self.old, self.new)
        return tuple(d for d in found if d.moved is None or d.moved > UNCHANGED)

    @property
    def is_same(self) -> bool:
        """Return whether nothing moved, came or went."""
        return not (self.moves or self.only_old or self.only_new or self.darts)

    @property
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
                    yield _edge(piece.name, before.edge(edge.name), edge)


def _edge(piece: str, old: Edge, new: Edge) -> EdgeMove:
    if same_line(old, new):
        places = (new.start, new.start, 0.0, new.starts_at)
        return EdgeMove(piece, new.name, 0.0, *places, False, new.length, new.length)
    found = farthest(old, new)
    line = new if found.from_other else old
    is_nearer_start = found.along <= line.length / 2
    along = found.along if is_nearer_start else line.length - found.along
    corner = line.starts_at if is_nearer_start else line.ends_at
    return EdgeMove(
        piece,
        new.name,
        found.distance,
        found.on_one,
        found.on_other,
        along,
        corner,
        not found.from_other,
        old.length,
        new.length,
    )


def _cloth(draft: Draft, piece: str) -> shapely.Polygon:
    return draft.piece(piece).cloth if draft.has_piece(piece) else shapely.Polygon()
