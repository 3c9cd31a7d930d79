"""A draft: a set of pieces and the seams that join them; what a node of a wardrobe evaluates to."""

from collections.abc import Iterable
from dataclasses import dataclass, replace
from typing import Self

from trueup.geometry.errors import NoSuchName
from trueup.geometry.pieces.band import Band
from trueup.geometry.pieces.dart import Dart, Mouth
from trueup.geometry.pieces.edge import Edge
from trueup.geometry.pieces.piece import Piece
from trueup.geometry.tolerance import SEAM

EVEN = Band(tolerance=SEAM)
"""What two seam lines may differ by that should match."""


@dataclass(frozen=True)
class Run:
    """One edge in a seam line; `backwards` when it is walked against its ring order."""

    piece: str
    edge: str
    backwards: bool = False

    def __str__(self) -> str:
        return f"{self.piece}.{self.edge}"


@dataclass(frozen=True)
class Section:
    """A stretch of a seam, from where the one before it ends, and the ease `allowed` on it, mm.

    It ends where a mark of the side is sewn to a mark of the mate, `ends_at`: each is a notch, or
    a corner at which two of its edges meet. The last section of a seam ends with it.
    """

    name: str
    allowed: Band
    ends_at: tuple[str, str] = ("", "")


@dataclass(frozen=True)
class Seam:
    """Two seam lines sewn together, each a run of edges from one common point.

    `allowed` is how much longer `side` may be than `mate`, mm, in all; `sections` say where.
    """

    name: str
    side: tuple[Run, ...]
    mate: tuple[Run, ...]
    allowed: Band = EVEN
    sections: tuple[Section, ...] = ()

    def moved(self, low: float, high: float) -> Self:
        """Return the seam with the ends of what is allowed in all moved by so much, mm."""
        return replace(self, allowed=self.allowed.moved(low, high))

    @property
    def runs(self) -> tuple[Run, ...]:
        """Return the runs of both sides."""
        return (*self.side, *self.mate)

    @property
    def pieces(self) -> frozenset[str]:
        """Return the names of the pieces the seam joins."""
        return frozenset(run.piece for run in self.runs)


@dataclass(frozen=True)
class Join:
    """Two edges of different pieces that should run smoothly into each other across a seam.

    At the corner, edge `first` of one piece goes on as edge `second` of the other once the seam
    is sewn: armhole and neck across the shoulder, armhole and hem across the side. The two inner
    corner angles then add up to `degrees` (180 for a smooth run).
    """

    name: str
    first: tuple[str, str, str]
    second: tuple[str, str, str]
    degrees: float = 180.0


@dataclass(frozen=True)
class Draft:
    """An immutable set of pieces, their seams and their joins, each found by name."""

    pieces: tuple[Piece, ...]
    seams: tuple[Seam, ...] = ()
    joins: tuple[Join, ...] = ()

    @property
    def piece_names(self) -> tuple[str, ...]:
        """Return the names of the pieces in their order."""
        return tuple(piece.name for piece in self.pieces)

    def has_piece(self, name: str) -> bool:
        """Return whether the draft has a piece of this name."""
        return name in self.piece_names

    def piece(self, name: str) -> Piece:
        """Return a piece by name; raises NoSuchName with the pieces there are."""
        for piece in self.pieces:
            if piece.name == name:
                return piece
        raise NoSuchName("piece", name, "this draft", self.piece_names)

    def edge(self, piece: str, name: str) -> Edge:
        """Return an edge by the names of piece and edge; raises NoSuchName."""
        return self.piece(piece).edge(name)

    def find_dart(self, full_name: str) -> tuple[Piece, Edge, Dart]:
        """Return piece, edge and dart for a dart on an edge written `piece.dart`.

        Raises NoSuchName with the darts of the draft.
        """
        piece_name, _, dart_name = full_name.partition(".")
        if dart_name and self.has_piece(piece_name):
            piece = self.piece(piece_name)
            for edge in piece.edges:
                for dart in edge.darts:
                    if dart.name == dart_name:
                        return piece, edge, dart
        raise NoSuchName("dart", full_name, "this draft", self.dart_names)

    def mouth(self, full_name: str) -> Mouth:
        """Return the mouth of a dart written `piece.dart`; raises NoSuchName."""
        piece, _, dart = self.find_dart(full_name)
        return piece.mouth(dart.name)

    @property
    def dart_names(self) -> tuple[str, ...]:
        """Return the full names, `piece.dart`, of all darts."""
        return tuple(f"{p.name}.{d}" for p in self.pieces for d in p.dart_names)

    @property
    def edge_names(self) -> tuple[str, ...]:
        """Return the full names, `piece.edge`, of all edges."""
        return tuple(f"{p.name}.{e}" for p in self.pieces for e in p.edge_names)

    def split_edge_name(self, full_name: str) -> tuple[str, str]:
        """Return piece and edge of a name written `piece.edge`; raises NoSuchName."""
        if full_name not in self.edge_names:
            raise NoSuchName("edge", full_name, "this draft", self.edge_names)
        piece, _, edge = full_name.partition(".")
        return piece, edge

    def seam(self, name: str) -> Seam:
        """Return a seam by name; raises NoSuchName with the seams there are."""
        for seam in self.seams:
            if seam.name == name:
                return seam
        raise NoSuchName("seam", name, "this draft", tuple(s.name for s in self.seams))

    def has_seam(self, name: str) -> bool:
        """Return whether the draft has a seam of this name."""
        return any(seam.name == name for seam in self.seams)

    def with_pieces(self, *changed: Piece) -> Self:
        """Return the draft with pieces of the same names put in place."""
        by_name = {piece.name: piece for piece in changed}
        return replace(self, pieces=tuple(by_name.get(p.name, p) for p in self.pieces))

    def with_seam(self, changed: Seam) -> Self:
        """Return the draft with the seam of the same name put in place."""
        return replace(
            self, seams=tuple(changed if s.name == changed.name else s for s in self.seams)
        )

    def without_joins(self, piece: str, edge: str) -> Self:
        """Return the draft without the joins that ask an edge to run on smoothly."""
        place = (piece, edge)
        return replace(
            self, joins=tuple(j for j in self.joins if place not in (j.first[:2], j.second[:2]))
        )

    def only(self, pieces: Iterable[str]) -> Self:
        """Return the draft with only the named pieces, and the seams and joins they can sew.

        Raises NoSuchName for a piece that is not there.
        """
        kept = tuple(self.piece(name) for name in pieces)
        names = {piece.name for piece in kept}
        return replace(
            self,
            pieces=kept,
            seams=tuple(s for s in self.seams if s.pieces <= names),
            joins=tuple(j for j in self.joins if {j.first[0], j.second[0]} <= names),
        )


def assembled(parts: Iterable[tuple[Draft, Iterable[str]]]) -> Draft:
    """Return one draft made of named pieces of several drafts.

    A seam or join is kept when all its pieces are there; where several drafts state it, the one
    that gives the piece of its first run does, so a sleeve brings along the ease its cap wants.
    Raises NoSuchName for a piece a draft does not have.
    """
    parts = [(draft, tuple(names)) for draft, names in parts]
    pieces = tuple(draft.piece(name) for draft, names in parts for name in names)
    there = {piece.name for piece in pieces}
    seams: dict[str, Seam] = {}
    joins: dict[str, Join] = {}
    for draft, names in parts:
        for seam in draft.seams:
            if seam.pieces <= there and (seam.name not in seams or seam.side[0].piece in names):
                seams[seam.name] = seam
        for join in draft.joins:
            if {join.first[0], join.second[0]} <= there:
                joins.setdefault(join.name, join)
    return Draft(pieces, tuple(seams.values()), tuple(joins.values()))
