"""Seams and joins: which lines of which pieces are sewn to each other, and run on across that."""

from collections.abc import Mapping
from dataclasses import dataclass, replace
from typing import Self

from trueup.geometry.pieces.band import Band
from trueup.geometry.pieces.side import Side, sided, unsided
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

    `allowed` is how much longer `side` may be than `mate`, mm, in all; `sections` say where. Where
    it is not sewn to its end, but left open from a notch of the side and one of the mate, those are
    `open_from`: then all that is said of it is said of what is sewn.
    `worn` is the side of the body it is sewn on, None where both are alike.
    """

    name: str
    side: tuple[Run, ...]
    mate: tuple[Run, ...]
    allowed: Band = EVEN
    sections: tuple[Section, ...] = ()
    worn: Side | None = None
    open_from: tuple[str, str] | None = None

    @property
    def shared_name(self) -> str:
        """Return the name it has where both sides are alike."""
        return unsided(self.name) if self.worn else self.name

    @property
    def place(self) -> tuple[str, str]:
        """Return the piece and the edge it is told by; the piece as worn on its side."""
        first = self.side[0]
        return worn_name(first.piece, self.worn), first.edge

    def for_side(self, side: Side | None, renamed: Mapping[str, str]) -> Self:
        """Return the seam as that of a side of the body, or of both, its pieces renamed."""
        runs = (
            tuple(replace(run, piece=renamed.get(run.piece, run.piece)) for run in each)
            for each in (self.side, self.mate)
        )
        first, second = runs
        name = sided(self.shared_name, side)
        return replace(self, name=name, side=first, mate=second, worn=side)

    def moved(self, low: float, high: float) -> Self:
        """Return the seam with the ends of what is allowed in all moved by so much, mm."""
        return replace(self, allowed=self.allowed.moved(low, high))

    @property
    def meets_its_mirror(self) -> bool:
        """Return whether it sews a line to the same line on the other side of the body."""
        return self.side == self.mate

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
    worn: Side | None = None

    @property
    def shared_name(self) -> str:
        """Return the name it has where both sides of the body are alike."""
        return unsided(self.name) if self.worn else self.name

    @property
    def pieces(self) -> frozenset[str]:
        """Return the names of the pieces it joins."""
        return frozenset((self.first[0], self.second[0]))

    @property
    def places(self) -> tuple[tuple[str, str], tuple[str, str]]:
        """Return piece and edge of both ends; the pieces as worn on its side of the body."""
        first, second = ((worn_name(e[0], self.worn), e[1]) for e in (self.first, self.second))
        return first, second

    def for_side(self, side: Side | None, renamed: Mapping[str, str]) -> Self:
        """Return the join as that of a side of the body, or of both, its pieces renamed."""
        first, second = ((renamed.get(e[0], e[0]), *e[1:]) for e in (self.first, self.second))
        name = sided(self.shared_name, side)
        return replace(self, name=name, first=first, second=second, worn=side)


def worn_name(piece: str, side: Side | None) -> str:
    """Return the name of a piece as it is worn on a side, whether it has another there or not."""
    return sided(unsided(piece), side) if side else piece
