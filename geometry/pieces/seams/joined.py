"""Two pieces joined along a seam into one: the reverse of a cut.

What was joined goes on being told of: what is written for either piece is made on it, and comes to
the one they make; what is written for that comes to both. So the one is kept as if it had been cut
apart along the seam (`Cut`), its lines interrupted there, beside the two pieces as they are.
"""

from collections.abc import Mapping
from dataclasses import dataclass, replace
from typing import Self

from trueup.geometry.pieces.cut import Cut
from trueup.geometry.pieces.piece import Piece
from trueup.geometry.pieces.seams.seam import Join, Seam
from trueup.geometry.pieces.side import Side

Pairs = tuple[tuple[str, str], ...]
"""Own names of edges, corners and darts of a part, each with that in the joined piece."""


@dataclass(frozen=True)
class Joined:
    """A piece that two were joined into.

    `cut` has it as its whole, laid where the first of the `parts` lies, and interrupted where the
    seam ends; its parts are they, by name. Each is kept by its own lines and in its own place;
    `names` says which of its lines are called otherwise in the whole. `seam` and `joins` are what
    sewed them together.
    """

    cut: Cut
    parts: tuple[Piece, Piece]
    names: tuple[Pairs, Pairs]
    seam: Seam
    joins: tuple[Join, ...] = ()

    @property
    def name(self) -> str:
        """Return the name of the piece that they make."""
        return self.cut.whole.name

    @property
    def shared_name(self) -> str:
        """Return the name it has where both sides of the body are alike."""
        return self.cut.whole.shared_name

    @property
    def worn(self) -> Side | None:
        """Return the side of the body that it is worn on; None where both are alike."""
        return self.cut.worn

    @property
    def part_names(self) -> tuple[str, str]:
        """Return the names of the two pieces."""
        return self.cut.parts

    @property
    def pieces(self) -> frozenset[str]:
        """Return the name of what is of it on the table."""
        return frozenset({self.name})

    def for_side(self, side: Side | None, renamed: Mapping[str, str]) -> Self:  # noqa: ARG002
        """Return it as that of a side of the body, or of both; its parts are so, too."""
        first, second = (part.for_side(side) for part in self.parts)
        names = {old.name: new.name for old, new in zip(self.parts, (first, second), strict=True)}
        return replace(
            self,
            cut=self.cut.for_side(side, names),
            parts=(first, second),
            seam=self.seam.for_side(side, names),
            joins=tuple(join.for_side(side, names) for join in self.joins),
        )
