"""A cut: a piece that was cut in two along a style line, and is sewn together along it again.

What a dart is to a line, a style line is too: the line that it interrupts goes on beyond it, and
is one as sewn. So the piece as a whole goes on being told by its name, its lines interrupted where
the style line meets them, as by a dart; its parts are pieces of their own.
"""

from collections.abc import Mapping
from dataclasses import dataclass, replace
from typing import Self

from trueup.geometry.pieces.piece import Piece
from trueup.geometry.pieces.side import Side


@dataclass(frozen=True)
class LineEnd:
    """Where a style line meets the outline: the edge, and the dart of the whole that stands there.

    It is the dart the line was cut along, or one of no intake, named after line and edge. `setback`
    is how far its tip stopped short of its apex before, mm: the line goes all the way.
    """

    edge: str
    dart: str
    setback: float = 0.0


@dataclass(frozen=True)
class SecondLine:
    """A second line of a cut: what lies beyond both is one part, laid together along a seam.

    So the upper and the under sleeve of a coat are cut: the seam that the sleeve had is none any
    more, and what lay to both sides of it is one piece of cloth. The line begins and ends on the
    edges of the first one, and comes before it where both begin, in the order of the outline.
    """

    line: str
    begins: LineEnd
    ends: LineEnd


@dataclass(frozen=True)
class Cut:
    """A piece cut in two along a line, from a place on one edge to a place on another.

    `whole` is the piece as its parts lie together now. In the order of its outline the first of
    the `parts` lies between the beginning of the line and its end, the second between its end and
    its beginning; both have the line as an edge of its name.
    """

    line: str
    whole: Piece
    parts: tuple[str, str]
    begins: LineEnd
    ends: LineEnd
    worn: Side | None = None
    second: SecondLine | None = None

    @property
    def name(self) -> str:
        """Return the name of the seam along which the parts are sewn together."""
        return f"{self.whole.name}-{self.line}"

    @property
    def seam_names(self) -> tuple[str, ...]:
        """Return the names of the seams along its lines."""
        return (self.name, *([f"{self.whole.name}-{self.second.line}"] if self.second else []))

    @property
    def join_names(self) -> tuple[str, ...]:
        """Return the names of the joins across its lines, where each begins and where it ends."""
        edges = (self.begins.edge, self.ends.edge)
        return tuple(f"{seam}-{edge}" for seam in self.seam_names for edge in edges)

    def edge_of_whole(self, edge: str) -> str:
        """Return the edge of the whole that an edge of a part is some of."""
        return self.begins.edge if self.second and edge in self.beside else edge

    @property
    def beside(self) -> tuple[str, str]:
        """Return what the edge on which two lines begin is called beyond them, front and back."""
        return f"{self.begins.edge}-front", f"{self.begins.edge}-back"

    @property
    def shared_name(self) -> str:
        """Return the name it has where both sides of the body are alike."""
        return f"{self.whole.shared_name}-{self.line}"

    @property
    def pieces(self) -> frozenset[str]:
        """Return the names of the parts."""
        return frozenset(self.parts)

    @property
    def seam_corners(self) -> tuple[str, str]:
        """Return the corners of both parts at which the line begins and ends."""
        begin, end = (f"{self.line}-{end.edge}" for end in (self.begins, self.ends))
        return begin, end

    def with_parts(self, first: str, second: str) -> Self:
        """Return the cut with its parts by these names."""
        return self if self.parts == (first, second) else replace(self, parts=(first, second))

    def for_side(self, side: Side | None, renamed: Mapping[str, str]) -> Self:
        """Return the cut as that of a side of the body, or of both, its parts renamed."""
        first, second = (renamed.get(part, part) for part in self.parts)
        return replace(self, whole=self.whole.for_side(side), parts=(first, second), worn=side)
