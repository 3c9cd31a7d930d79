"""Why a correction stays where it is.

BadInput                      asked for something that cannot be done        (exit 2)
├── CannotPromote             the step, or the way up, does not allow it
├── AmountAsked               how much belongs above is the maker's to say
└── ComesOutDifferent         the pattern would not come out as it was
"""

from dataclasses import dataclass

from trueup.geometry.said import Said, parts, said
from trueup.lineage.errors import BadInput, quoted
from trueup.lineage.errors.root import told


@dataclass(eq=False)
class CannotPromote(BadInput):
    """A step that cannot be moved up from its node; `reason` ends the sentence with what to do."""

    node: str
    reason: Said | str

    @property
    def says(self) -> Said:
        """Return node and reason."""
        return parts(f"Nothing of {quoted(self.node)} was moved up: ", told(self.reason))

    def __str__(self) -> str:
        return f"{self.says}."


@dataclass(eq=False)
class AmountAsked(BadInput):
    """What a pattern does with one dart is not one dart of the ancestor: the maker says how much.

    `shared_with` are the ancestor's darts that take in what the pattern's one dart does; empty
    where the ancestor has no dart of the name.
    """

    node: str
    ancestor: str
    dart: str
    shared_with: tuple[str, ...]
    known: tuple[str, ...]

    def __str__(self) -> str:
        answers = "as it is, scaled to what it does here, or another amount"
        if not self.shared_with:
            darts = ", ".join(self.known) or "none"
            return (
                f"{self.ancestor} has no dart {self.dart} (it has {darts}), so say which takes the "
                f"correction, and how much of it: {answers}."
            )
        darts = " and ".join((self.dart, *self.shared_with))
        return (
            f"In {self.ancestor} {darts} share what {self.dart} takes in alone in {self.node}, so "
            f"say how much of the correction belongs there: {answers}."
        )


@dataclass(eq=False)
class ComesOutDifferent(BadInput):
    """The pattern would come out different, and nobody said that it may.

    `edge` is the one that moves farthest, by `moved_mm`; `count` how many edges differ.
    """

    node: str
    ancestor: str
    edge: str
    moved_mm: float | None
    count: int

    @property
    def says(self) -> Said:
        """Return what differs, and by how much."""
        far = self.moved_mm is not None
        edge, more = self.edge, self.count - 1
        moved = said("moves-by", edge=edge, by=self.moved_mm or 0.0) if far else f"{edge} moves"
        return parts(
            f"With the correction at {self.ancestor}, {self.node} does not come out as it was",
            *((": ", moved) if edge else ()),
            f", and {more} more differ" if more > 0 else "",
            "; nothing was recorded; accept the difference, and it is",
        )

    def __str__(self) -> str:
        return f"{self.says}."
