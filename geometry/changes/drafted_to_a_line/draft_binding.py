"""draft-binding: draft a bias strip that binds a line."""

from trueup.geometry.changes.base import kind
from trueup.geometry.changes.declaring import flag, free_text, length
from trueup.geometry.changes.sewn_on import SewnOn
from trueup.geometry.following.sewn_line import lines_named
from trueup.geometry.pieces.draft import Draft
from trueup.geometry.pieces.drafted import BindingTo
from trueup.geometry.units import Unit, format_length


@kind("draft-binding")
class DraftBinding(SewnOn):
    """Draft a strip of bias cloth that binds a line: a neck, an armhole, a hem.

    The strip is as long as the line, which may run over several pieces, its threads lie at 45
    degrees to it. It is drawn twice as wide as it shows, for it goes round the edge, and each of
    its long edges has as much again as an allowance, to be turned in: so it is cut four times as
    wide as it shows. Round a hollow line it may be cut a little shorter and stretched; the seam
    says so. Its ends are square, or slanted along the thread where they are joined: to each other
    where the line goes all round, or to the strip of the other side of the body. Strips that the
    cloth is too short for are joined where notches say. It follows the line: where that changes,
    here or above, the strip is drawn anew, unless its own lines were drawn otherwise.

    A binding shows 5 mm to 10 mm wide (common practice, no source).
    """

    phrases = ("draft a binding",)

    to: str = free_text(
        "the line, as edges that follow one another, such as 'back.neck front.neck'"
    )
    name: str = free_text("what the piece is called", "binding")
    width: float = length("how wide the binding shows", low=2, high=60)
    shorter: float = length("how much shorter it is than the line", 0.0, low=0, high=200)
    longest: float = length(
        "how long a strip the cloth gives at most; a longer one is joined", 0.0, low=0, high=5000
    )
    slanted: bool = flag("its ends are cut along the thread, to be joined")

    def carried_out(self, draft: Draft) -> Draft:
        to = BindingTo(
            self.name,
            lines_named(self.to),
            self.width,
            self.shorter,
            self.longest,
            self.slanted,
        )
        return self.sewn_on(draft, to, self.shorter)

    def in_words(self, unit: Unit) -> str:
        lines = " and ".join(self.to.split())
        wide = format_length(self.width, unit)
        side = f" on the {self.side}" if self.side else ""
        return f"draft the {self.name} of {lines}, {wide} wide{side}"
