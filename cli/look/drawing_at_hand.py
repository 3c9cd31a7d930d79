"""The drawing that a page handed over to be traced, as it was read, to be looked at again."""

from dataclasses import dataclass

from trueup.lineage.drawings.shapes.shape import ShapePage
from trueup.lineage.drawings.tracing.drafting import DraftDrawn


@dataclass(frozen=True)
class DrawingAtHand:
    """A drawing with its lines; `known` is what it is known by, read as it was asked to be.

    `own` is its draft where it states by itself what all its lines are.
    """

    known: str
    page: ShapePage
    own: DraftDrawn | None
