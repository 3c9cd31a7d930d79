"""A finding: one thing that does not hold in a draft, where, and how far it is off."""

from dataclasses import dataclass
from enum import StrEnum

from trueup.geometry.pieces.band import Band
from trueup.geometry.said import Said

Place = tuple[str, str]


class Severity(StrEnum):
    """How much a finding matters: an error does not sew, a warning does not lie well."""

    ERROR = "error"
    WARNING = "warning"
    NOTE = "note"


@dataclass(frozen=True)
class Finding:
    """One thing that does not hold.

    `piece` and `edge` name a place of the draft; for `legs`, `dart-kink` and `dart-outside`,
    `edge` is the name of the dart. `measured` and the allowed `low` to `high` are mm, or degrees
    for the two kinks. `edges` are all the edges, as (piece, edge), on which the finding hangs,
    `says` what there is to say of it. `section` names the stretch of a seam that is measured, empty
    for the whole.
    """

    code: str
    severity: Severity
    piece: str
    edge: str
    measured: float
    low: float
    high: float
    says: Said
    edges: tuple[Place, ...]
    section: str = ""

    @property
    def excess(self) -> float:
        """Return how far the measured value lies outside the allowed range; 0 at its limit."""
        return abs(Band(self.low, self.high).excess(self.measured))

    @property
    def key(self) -> tuple[str, str, str]:
        """Return code, piece and edge: the same for the same trouble, whatever its amount."""
        return self.code, self.piece, self.edge
