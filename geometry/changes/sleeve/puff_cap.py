"""puff-cap: spread a sleeve at its cap and raise the crown, to be gathered into the armhole."""

from trueup.geometry.changes.base import kind
from trueup.geometry.changes.by_amount import ByAmount
from trueup.geometry.changes.declaring import length, position
from trueup.geometry.changes.gathering import require_whole, slash_count
from trueup.geometry.errors import DoesNotFit
from trueup.geometry.following.redrafting import require_none_that_grows
from trueup.geometry.measuring.gathers import asked_for, held_gathered
from trueup.geometry.measuring.measures import CAP_EASE
from trueup.geometry.measuring.sections import CROWN
from trueup.geometry.pieces.draft import Draft
from trueup.geometry.pieces.edge import Edge
from trueup.geometry.pieces.piece import Piece
from trueup.geometry.pieces.position import Position
from trueup.geometry.redrawing.sleeves.puffed import crown_lies_in, crown_raised
from trueup.geometry.redrawing.sleeves.sleeve import SLEEVE
from trueup.geometry.redrawing.turning.strips import strips_from
from trueup.geometry.said import said
from trueup.geometry.units import Unit, format_length

_FROM_END = 0.25
"""Where a cap has no notches, its lowest quarters are not gathered (common practice, no source)."""


@kind("puff-cap")
class PuffCap(ByAmount):
    """Puff a sleeve at its cap: slash it from there to the hem, spread it, and raise the crown.

    The slashes part the top of the cap evenly, from the front notch to the back one unless other
    places are given; there they open by so much in all, and the strips are turned about the hem,
    which keeps its length. The crown then rises by the `height`, fading to nothing at both places.
    Below them the cap is as it was, and matches its armhole. The sleeve is laid so that its
    underarm points lie level as they did.

    The armhole stays. What the cap gains is to be gathered into it: the armhole seam, and each half
    of it, asks for that, a tenth more or less, so that a correction that eats it up is a conflict.
    A puff is 50 mm to 100 mm wider and 20 mm to 40 mm higher (from memory); it is cut off short and
    gathered into a band, or runs smooth down the arm.
    """

    about = "cap"
    fair = True
    leaves_cloth = True
    phrases = ("puff the sleeve cap",)

    by: float = length("how much wider the cap is spread", low=1, high=600, zero=False)
    height: float = length("how much higher the crown rises besides", 0.0, low=0, high=200)
    slashes: float = slash_count(5)
    begins: Position | None = position(
        "where along the cap the gathers begin; at the notch before the crown unless given",
        None,
        on="cap",
    )
    stops: Position | None = position(
        "where along the cap they stop; at the notch behind the crown unless given",
        None,
        on="cap",
    )

    def __post_init__(self) -> None:
        require_whole(self.slashes)

    def pieces(self, draft: Draft) -> tuple[Piece, ...]:
        return (draft.piece(SLEEVE),)

    def carried_out(self, draft: Draft) -> Draft:
        require_none_that_grows(draft, f"{SLEEVE}.cap")
        puffed = super().carried_out(draft)
        cap, before = (each.edge(SLEEVE, "cap") for each in (puffed, draft))
        gained = cap.length - before.length
        return held_gathered(draft, puffed, f"{SLEEVE}.cap", gained, asked_for(gained))

    def wanted(self, draft: Draft) -> float:
        sleeve = draft.piece(SLEEVE)
        strips_from(sleeve, "cap", int(self.slashes), self._stretch(sleeve))
        return self.by

    def on(self, piece: Piece, by: float) -> Piece:
        stretch = self._stretch(piece)
        spread = strips_from(piece, "cap", int(self.slashes), stretch).opened_with_marks(by)
        cap = spread.edge("cap")
        low, high = stretch[0], cap.length - (piece.edge("cap").length - stretch[1])
        return crown_raised(spread, (low, high), self.height)

    def _stretch(self, sleeve: Piece) -> tuple[float, float]:
        """Return between which lengths along the cap it is puffed, mm."""
        cap = sleeve.edge("cap")
        low, high = _between_notches(sleeve, cap)
        given = [each.along(cap) for each in (self.begins, self.stops) if each]
        if len(given) == 2:
            low, high = sorted(given)
        elif self.begins:
            low = given[0]
        elif self.stops:
            high = given[0]
        if low >= high or not crown_lies_in(sleeve, (low, high)):
            raise DoesNotFit(said("crown-outside"), said("either-side-of-crown"), edge="cap")
        return low, high

    def in_words(self, unit: Unit) -> str:
        by, height = (format_length(each, unit) for each in (self.by, self.height))
        side = f" on the {self.side}" if self.side else ""
        higher = f" and {height} higher" if self.height else ""
        return f"puff the sleeve cap, {by} wider{higher}{side}"

    def meant(self, draft: Draft) -> tuple[str, ...]:  # noqa: ARG002
        return (f"{SLEEVE}.cap",)

    def knock_on(self, draft: Draft) -> tuple[str, ...]:  # noqa: ARG002
        return (f"{SLEEVE}.cap-height", f"{SLEEVE}.biceps-width", CAP_EASE)


def _between_notches(sleeve: Piece, cap: Edge) -> tuple[float, float]:
    """Return where the notches nearest to the crown lie on either side of it, mm along the cap."""
    at = {each.name: each.at.along(cap) for each in sleeve.notches if each.edge == cap.name}
    top = at.pop(CROWN, cap.length / 2)
    before, after = [x for x in at.values() if x < top], [x for x in at.values() if x > top]
    low = max(before, default=_FROM_END * cap.length)
    return low, min(after, default=(1 - _FROM_END) * cap.length)
