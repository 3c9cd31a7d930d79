"""A draft: a set of pieces and the seams that join them; what a node of a wardrobe evaluates to."""

from collections.abc import Iterable, Mapping
from dataclasses import dataclass, replace
from typing import Self

from trueup.geometry.errors import NoSuchName
from trueup.geometry.kept import hashed_once, kept
from trueup.geometry.pieces.cut import Cut
from trueup.geometry.pieces.dart import Dart, Mouth
from trueup.geometry.pieces.drafted import DraftedTo
from trueup.geometry.pieces.edge import Edge
from trueup.geometry.pieces.piece import Piece, by_other_names
from trueup.geometry.pieces.seams.joined import Joined
from trueup.geometry.pieces.seams.seam import EVEN, Join, Run, Seam, Section, worn_name
from trueup.geometry.pieces.side import called_on_sides, unsided

__all__ = ["EVEN", "Draft", "Join", "Run", "Seam", "Section", "worn_name"]


@hashed_once
@dataclass(frozen=True)
class Draft:
    """An immutable set of pieces, their seams and their joins, each found by name.

    A piece that was cut in two (`geometry/cuts`) is told of by its name, too, as its parts lie
    together; `pieces` are only what lies on the table. Where left and right differ
    (`geometry/sides`), a piece that is alike on both is found by its name on either side, too:
    `left-back` is the back. `called` are own names of pieces with what a maker calls them
    (`geometry/calling`): such a piece is told of by both. What was `joined` to another along a seam
    (`geometry/cuts/joined`) is told of by name, too; on the table is only the piece they make.
    """

    pieces: tuple[Piece, ...]
    seams: tuple[Seam, ...] = ()
    joins: tuple[Join, ...] = ()
    cuts: tuple[Cut, ...] = ()
    drafted: tuple[DraftedTo, ...] = ()
    called: tuple[tuple[str, str], ...] = ()
    joined: tuple[Joined, ...] = ()

    @property
    def wholes(self) -> tuple[Piece, ...]:
        """Return the pieces that were cut, each as its parts lie together."""
        return tuple(cut.whole for cut in self.cuts)

    @kept
    def told_of(self) -> tuple[Piece, ...]:
        """Return all that is told of by name: the pieces, and what some of them were cut from."""
        if not (self.cuts or self.called or self.joined):
            return self.pieces
        joined = (part for each in self.joined for part in each.parts)
        standing = (*self.pieces, *self.wholes, *joined)
        return (*standing, *by_other_names(standing, self.called_names))

    @kept
    def called_names(self) -> Mapping[str, str]:
        """Return what pieces are called, by own names; left and right apart where they are."""
        worn = {(p.shared_name, p.worn) for p in (*self.pieces, *self.wholes) if p.worn}
        return called_on_sides(self.called, worn)

    @property
    def piece_names(self) -> tuple[str, ...]:
        """Return the names of the pieces in their order."""
        return tuple(piece.name for piece in self.pieces)

    @kept
    def is_parted(self) -> bool:
        """Return whether left and right differ anywhere."""
        parts: tuple[tuple[Piece | Seam | Join | Cut | Joined, ...], ...] = (
            self.pieces, self.seams, self.joins, self.cuts, self.joined,
        )  # fmt: skip
        return any(each.worn for part in parts for each in part)

    def has_piece(self, name: str) -> bool:
        """Return whether the draft has a piece of this name."""
        return any(piece.name == name for piece in self.told_of) or self._alike(name) is not None

    def _alike(self, name: str) -> Piece | None:
        """Return the piece worn on both sides that is named as the one of a side."""
        if not self.is_parted or unsided(name) == name:
            return None
        return next((piece for piece in self.told_of if piece.name == unsided(name)), None)

    def piece(self, name: str) -> Piece:
        """Return a piece by name; raises NoSuchName with the pieces there are."""
        for piece in self.told_of:
            if piece.name == name:
                return piece
        if alike := self._alike(name):
            return alike
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
        return tuple(f"{p.name}.{d}" for p in self.told_of for d in p.dart_names)

    @property
    def edge_names(self) -> tuple[str, ...]:
        """Return the full names, `piece.edge`, of all edges."""
        return tuple(f"{p.name}.{e}" for p in self.told_of for e in p.edge_names)

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

    def seam_at(self, piece: str, edge: str) -> Seam | None:
        """Return the seam that is told by a piece and an edge, if there is one."""
        return next((seam for seam in self.seams if seam.place == (piece, edge)), None)

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

        One that was cut stands for its parts. Raises NoSuchName for a piece that is not there.
        """
        kept = tuple(dict.fromkeys(part for name in pieces for part in self.parts_of(name)))
        names = {piece.name for piece in kept}
        return replace(
            self,
            pieces=kept,
            seams=tuple(s for s in self.seams if s.pieces <= names),
            joins=tuple(j for j in self.joins if j.pieces <= names),
            drafted=tuple(to for to in self.drafted if to.piece in names),
            cuts=tuple(
                c for c in self.cuts if {p.name for p in self.parts_of(c.whole.name)} <= names
            ),
            joined=tuple(each for each in self.joined if self._holds(each.name) & names),
        )

    def _holds(self, name: str) -> frozenset[str]:
        """Return the pieces on the table that a piece is, was cut into, or was joined into."""
        return frozenset(piece.name for piece in self.parts_of(name))

    def parts_of(self, name: str) -> tuple[Piece, ...]:
        """Return a piece by name, or those it was cut or joined into; raises NoSuchName."""
        both = {name, *(one for pair in self.called_names.items() if name in pair for one in pair)}
        cut = next((cut for cut in self.cuts if cut.whole.name in both), None)
        if cut is None:
            one = next((j for j in self.joined if both & {*j.part_names}), None)
            if one is not None:
                return self.parts_of(one.name)
            return (next((p for p in self.pieces if p.name in both), None) or self.piece(name),)
        return tuple(piece for part in cut.parts for piece in self.parts_of(part))

    def cut_from(self, name: str) -> frozenset[str]:
        """Return the name of a piece with those of all that it was cut from or joined of."""
        above = [cut.whole.name for cut in self.cuts if name in cut.parts][:1]
        above += [part for each in self.joined if each.name == name for part in each.part_names]
        return frozenset({name}).union(*map(self.cut_from, above))
