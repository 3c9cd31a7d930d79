"""What a block calls otherwise than the pattern whose style is made on it.

A name of the one stands by that of the other: `front` by `panel` for a piece (or a seam),
`front.side` by `panel.flank` for an edge, `front.dart.bust` by `panel.dart.chest`, and
`front.corner.underarm` by `panel.corner.top` for a corner. What is not named otherwise is called
alike, but for its piece.
"""

from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from trueup.geometry.pieces.draft import Draft
    from trueup.geometry.pieces.edge import Edge
    from trueup.geometry.pieces.piece import Piece

DART, CORNER = "dart", "corner"

_OF_A_DART = ("intake", "leg", "angle")


@dataclass(frozen=True)
class OtherNames:
    """Names of one draft, and by what another calls the same (see the module)."""

    names: Mapping[str, str]

    def piece(self, name: str) -> str:
        """Return how a piece, or a seam, is called there."""
        return self.names.get(name, name)

    def edge(self, name: str) -> str:
        """Return how an edge is called there, told with its piece."""
        piece, dot, word = name.partition(".")
        return self.names.get(name, f"{self.piece(piece)}{dot}{word}")

    def dart(self, name: str) -> str:
        """Return how a dart is called there, told with its piece as `front.bust`."""
        piece, dot, word = name.partition(".")
        return f"{self.piece(piece)}{dot}{self.word(piece, DART, word)}"

    def corner(self, piece: str, word: str) -> str:
        """Return how a corner of a piece is called there."""
        return self.word(piece, CORNER, word)

    def word(self, piece: str, what: str, word: str) -> str:
        """Return how a dart or a corner of a piece is called there, without its piece."""
        there = self.names.get(f"{piece}.{what}.{word}")
        return there.rpartition(".")[2] if there else word

    def measure(self, name: str) -> str:
        """Return how a measure is called there, such as `front.bust.intake` or `side-seam.ease`."""
        piece, dot, rest = name.partition(".")
        word, more, tail = rest.partition(".")
        if more and tail in _OF_A_DART:
            return f"{self.dart(f'{piece}.{word}')}.{tail}"
        if f"{piece}.{word}" in self.names:
            return f"{self.names[f'{piece}.{word}']}{more}{tail}"
        return f"{self.piece(piece)}{dot}{rest}"


def with_corners(
    names: Mapping[str, str], theirs: "Iterable[Draft]", ours: "Draft"
) -> dict[str, str]:
    """Return names with those of the corners between edges that are known by both names.

    A corner that is named already keeps what is said of it.
    """
    found = dict(names)
    told = OtherNames(names)
    pieces = {name.partition(".")[0] for name in names}
    for draft in theirs:
        for piece in draft.pieces:
            there = told.piece(piece.name)
            if piece.name in pieces and ours.has_piece(there):
                for corner, other in _corners(piece, ours.piece(there), told):
                    found.setdefault(f"{piece.name}.{CORNER}.{corner}", f"{there}.{CORNER}.{other}")
    return found


def _corners(theirs: "Piece", ours: "Piece", told: OtherNames) -> Iterable[tuple[str, str]]:
    edges = {edge.name: edge for edge in ours.edges}
    for before, after in zip((theirs.edges[-1], *theirs.edges[:-1]), theirs.edges, strict=True):
        named = [told.edge(f"{theirs.name}.{e.name}").partition(".")[2] for e in (before, after)]
        if all(name in edges for name in named):
            met = _ends(edges[named[0]]) & _ends(edges[named[1]])
            if len(met) == 1 and met != {after.starts_at}:
                yield after.starts_at, next(iter(met))


def _ends(edge: "Edge") -> set[str]:
    return {edge.starts_at, edge.ends_at}
