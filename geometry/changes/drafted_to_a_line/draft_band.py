"""draft-band: draft a band to the line it is sewn to."""

from trueup.geometry.changes.base import kind
from trueup.geometry.changes.declaring import flag, free_text, length
from trueup.geometry.changes.sewn_on import SewnOn
from trueup.geometry.following.sewn_line import lines_named
from trueup.geometry.pieces.draft import Draft
from trueup.geometry.pieces.drafted import BandTo
from trueup.geometry.units import Unit, format_length


@kind("draft-band")
class DraftBand(SewnOn):
    """Draft a band to the line it is sewn to: a stand, a cuff, a waistband, a binding.

    The band is a piece of its own, exactly as long as the line, which may run over several pieces
    (`back.neck front.neck`, from the centre back on): after the first of them the band bends, where
    its end is to rise, as a stand does towards the front. It follows the line: where that changes,
    here or above, the band is drawn anew, unless its own lines were drawn otherwise. A line that is
    gathered into the band is longer by what it gathers, and the seam says so.

    A stand for a shirt is 25 mm to 40 mm high and rises 10 mm to 20 mm; one that does not rise
    stands away from the neck (common practice, no source).
    """

    phrases = ("draft a band",)

    to: str = free_text(
        "the line, as edges that follow one another, such as 'back.neck front.neck'"
    )
    name: str = free_text("what the piece is called, such as stand or cuff", "band")
    height: float = length("how wide the band is", low=5, high=400)
    rise: float = length("how far its end comes up", 0.0, low=-100, high=200)
    extension: float = length(
        "how far it goes on beyond the line, for a button", 0.0, low=0, high=200
    )
    gathers: float = length("how much of the line is gathered into it", 0.0, low=0, high=1000)
    fold: bool = flag("its beginning lies on the fold of the cloth")

    def carried_out(self, draft: Draft) -> Draft:
        lines = lines_named(self.to)
        to = BandTo(
            self.name, lines, self.height, self.rise, self.extension, self.gathers, self.fold
        )
        return self.sewn_on(draft, to, self.gathers)

    def in_words(self, unit: Unit) -> str:
        lines = " and ".join(self.to.split())
        wide = format_length(self.height, unit)
        side = f" on the {self.side}" if self.side else ""
        return f"draft the {self.name} to {lines}, {wide} wide{side}"
