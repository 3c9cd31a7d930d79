"""draft-cuff: draft a cuff or a waistband that laps over where it closes."""

from trueup.geometry.changes.base import kind
from trueup.geometry.changes.declaring import flag, free_text, length
from trueup.geometry.changes.sewn_on import SewnOn
from trueup.geometry.errors import BadParameter
from trueup.geometry.following.sewn_line import lines_named
from trueup.geometry.pieces.draft import Draft
from trueup.geometry.pieces.drafted import CuffTo
from trueup.geometry.said import said
from trueup.geometry.units import Unit, format_length


@kind("draft-cuff")
class DraftCuff(SewnOn):
    """Draft a cuff or a waistband to the line it is sewn to, with laps where it closes.

    The cuff is a straight piece of its own, exactly as long as the line, which may run over several
    pieces, less what of the line is gathered into it: the seam says so. Beyond the end of the line
    it goes on by an overlap for the button, and beyond its beginning by an underlap. Doubled, it is
    cut twice as wide and folded lengthwise; notches at its ends say where. It follows the line:
    where that changes, here or above, the cuff is drawn anew, unless its own lines were drawn
    otherwise.

    A cuff is 50 mm to 80 mm wide, a waistband 25 mm to 40 mm; both lap over by 20 mm to 40 mm
    (common practice, no source). The sleeve is made shorter by the width of its cuff with lengthen.
    """

    phrases = ("draft a cuff",)

    to: str = free_text("the line, as edges that follow one another, such as sleeve.hem")
    name: str = free_text("what the piece is called, such as waistband", "cuff")
    width: float = length("how wide the cuff is, folded where it is doubled", low=5, high=400)
    overlap: float = length("how far it goes on beyond the end of the line", 0.0, low=0, high=200)
    underlap: float = length("how far it goes on before its beginning", 0.0, low=0, high=200)
    gathers: float = length("how much of the line is gathered into it", 0.0, low=0, high=1000)
    doubled: bool = flag("it is cut twice as wide and folded lengthwise")
    fold: bool = flag("its beginning lies on the fold of the cloth")

    def __post_init__(self) -> None:
        super().__post_init__()
        if self.fold and self.underlap:
            raise BadParameter("underlap", said("length", mm=self.underlap), said("none-on-fold"))

    def carried_out(self, draft: Draft) -> Draft:
        to = CuffTo(
            self.name,
            lines_named(self.to),
            self.width,
            self.overlap,
            self.underlap,
            self.gathers,
            self.doubled,
            self.fold,
        )
        return self.sewn_on(draft, to, self.gathers)

    def in_words(self, unit: Unit) -> str:
        lines = " and ".join(self.to.split())
        doubled = "doubled " if self.doubled else ""
        wide = format_length(self.width, unit)
        side = f" on the {self.side}" if self.side else ""
        return f"draft the {doubled}{self.name} to {lines}, {wide} wide{side}"
