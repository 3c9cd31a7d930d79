"""draft-collar: draft a collar to the line it is sewn to."""

from trueup.geometry.changes.base import kind
from trueup.geometry.changes.declaring import flag, free_text, length
from trueup.geometry.changes.sewn_on import SewnOn
from trueup.geometry.errors import BadParameter
from trueup.geometry.following.sewn_line import lines_named
from trueup.geometry.pieces.draft import Draft
from trueup.geometry.pieces.drafted import CollarTo
from trueup.geometry.said import said
from trueup.geometry.units import Unit, format_length

_MOST_LEAN = 0.8


@kind("draft-collar")
class DraftCollar(SewnOn):
    """Draft a collar with points to the line it is sewn to: a neck, or the upper edge of a stand.

    The collar is a piece of its own, exactly as long as the line, which may run over several pieces
    (`back.neck front.neck`, from the centre back on): after the first of them it bends, where its
    end is to rise. The end of the line may stay free of it, as the button extension of a stand
    does; the seam says so. Its front edge has the length given and leans forward by an amount; the
    outer edge runs beside the sewn one at the back and in one fair curve to the point. It follows
    the line: where that changes, here or above, the collar is drawn anew, unless its own lines were
    drawn otherwise.

    A shirt collar is 40 mm to 50 mm at the centre back, more than its stand, its front edge 60 mm
    to 80 mm (common practice, no source).
    """

    phrases = ("draft a collar",)

    to: str = free_text(
        "the line, as edges that follow one another, such as 'back.neck front.neck'"
    )
    name: str = free_text("what the piece is called", "collar")
    height: float = length("how wide the collar is at its beginning", low=5, high=400)
    point: float = length("how long its front edge is", low=5, high=400)
    lean: float = length("how far its point lies beyond the end", 0.0, low=-300, high=300)
    rise: float = length("how far its end comes up", 0.0, low=-100, high=200)
    free: float = length("how much of the end of the line stays free", 0.0, low=0, high=200)
    fold: bool = flag("its beginning lies on the fold of the cloth")

    def __post_init__(self) -> None:
        super().__post_init__()
        if abs(self.lean) > _MOST_LEAN * self.point:
            allowed = said("lean-at-most", most=_MOST_LEAN * self.point)
            raise BadParameter("lean", f"{self.lean:g} mm", allowed)

    def carried_out(self, draft: Draft) -> Draft:
        lines = lines_named(self.to)
        to = CollarTo(
            self.name,
            lines,
            self.height,
            self.point,
            self.lean,
            self.rise,
            self.free,
            self.fold,
        )
        return self.sewn_on(draft, to, self.free)

    def in_words(self, unit: Unit) -> str:
        lines = " and ".join(self.to.split())
        wide, point = format_length(self.height, unit), format_length(self.point, unit)
        side = f" on the {self.side}" if self.side else ""
        return f"draft the {self.name} to {lines}, {wide} wide, its point {point}{side}"
