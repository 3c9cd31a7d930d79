"""draft-hood: draft a hood of two halves to the neck."""

from trueup.geometry.changes.base import kind
from trueup.geometry.changes.declaring import free_text, length
from trueup.geometry.changes.sewn_on import SewnOn
from trueup.geometry.errors import BadParameter
from trueup.geometry.following.hood import CROWN, FACE
from trueup.geometry.following.sewn_line import lines_named
from trueup.geometry.pieces.draft import Draft, Run, Seam
from trueup.geometry.pieces.drafted import HoodTo
from trueup.geometry.said import said
from trueup.geometry.units import Unit, format_length


@kind("draft-hood")
class DraftHood(SewnOn):
    """Draft a hood of two halves to the neck, sewn together over the head.

    Its neck edge is exactly as long as the neck, which may run over several pieces, and begins at
    the centre back; the end of the neck may stay free of it. A dart at the neck, where back and
    front meet, takes in what the hood is wider there: with it closed the neck edge is as long as
    the neck. The face edge stands square on the neck edge; from its top the seam over the head runs
    level, rounds the head, and comes down to the neck. It follows the neck: where that changes,
    here or above, the hood is drawn anew, unless its own lines were drawn otherwise.

    A hood is 330 mm to 360 mm high at the face and 230 mm to 260 mm deep; the more its depth goes
    beyond the length of the neck, the more a dart takes in there, 20 mm to 30 mm being usual
    (common practice, no source). A child's garment has no cord or drawstring at hood and neck: it
    can strangle.
    """

    phrases = ("draft a hood",)

    to: str = free_text(
        "the neck, as edges that follow one another from the centre back",
        "back.neck front.neck",
    )
    name: str = free_text("what the piece is called", "hood")
    height: float = length("how long its face edge is", low=10, high=600)
    depth: float = length("how far it reaches back from the face", low=10, high=500)
    drop: float = length(
        "how much lower its neck edge ends than it begins", 20.0, low=-60, high=120
    )
    dart: float = length("how much a dart at the neck takes in", 0.0, low=0, high=60)
    dart_length: float = length("how long that dart is", 90.0, low=30, high=200)
    free: float = length("how much of the end of the neck stays free", 0.0, low=0, high=200)

    def __post_init__(self) -> None:
        super().__post_init__()
        if self.dart > self.dart_length / 2:
            allowed = said("at-most", most=self.dart_length / 2)
            raise BadParameter("dart", said("length", mm=self.dart), allowed)

    def carried_out(self, draft: Draft) -> Draft:
        to = HoodTo(
            self.name,
            lines_named(self.to),
            self.height,
            self.depth,
            self.drop,
            self.dart,
            self.dart_length,
            self.free,
        )
        crown = (Run(self.name, CROWN),)
        return self.sewn_on(draft, to, self.free, Seam(f"{self.name}-crown-seam", crown, crown))

    def meant(self, draft: Draft) -> tuple[str, ...]:
        return (*super().meant(draft), f"{self.name}.{FACE}", f"{self.name}.{CROWN}")

    def in_words(self, unit: Unit) -> str:
        lines = " and ".join(self.to.split())
        high, deep = format_length(self.height, unit), format_length(self.depth, unit)
        side = f" on the {self.side}" if self.side else ""
        return f"draft the {self.name} to {lines}, {high} high and {deep} deep{side}"
