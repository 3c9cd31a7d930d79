"""How the allowances are cut at a corner of a piece, where it is said."""

from dataclasses import dataclass
from enum import StrEnum


class Treatment(StrEnum):
    """How the allowances of two edges are cut where they meet."""

    MITRED = "mitred"
    """Both drawn on until they meet, as long as that is not far out: as unless said."""

    MIRRORED = "mirrored"
    """Beyond the edge as the mirror image of what lies above it, so that it turns up flat."""

    SQUARED = "squared"
    """Square to the edge that is sewn first, where its seam line meets the other allowance."""

    BLUNTED = "blunted"
    """Straight across the point, so far beyond it."""

    FOLDED = "folded"
    """Along the mitre of two hems that meet, with an allowance to sew it."""


@dataclass(frozen=True)
class CutCorner:
    """A corner, how it is cut, and the edge that this is told of.

    `by` is how far beyond the point it is cut across, or the allowance of a mitre, mm; nought for
    the others.
    """

    corner: str
    treatment: Treatment
    edge: str
    by: float = 0.0
