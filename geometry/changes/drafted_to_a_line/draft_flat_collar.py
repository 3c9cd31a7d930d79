"""draft-flat-collar: draft a collar that lies on front and back, flat or half standing."""

from trueup.geometry.changes.base import kind
from trueup.geometry.changes.declaring import flag, free_text, length
from trueup.geometry.changes.sewn_on import SewnOn
from trueup.geometry.errors import BadParameter
from trueup.geometry.following.collar import OUTER
from trueup.geometry.following.sewn_line import lines_named
from trueup.geometry.pieces.draft import Draft
from trueup.geometry.pieces.drafted import FlatCollarTo
from trueup.geometry.said import said
from trueup.geometry.units import Unit, format_length

_MOST_LEAN = 0.8


@kind("draft-flat-collar")
class DraftFlatCollar(SewnOn):
    """Draft a collar that lies on front and back: a Peter Pan collar, a Bertha, a sailor's collar.

    Front and back are laid together at the neck point, and their shoulders overlap by an amount at
    the shoulder end: so the collar's neck edge is the neck line itself, straightened a little. Its
    outer edge then is shorter than the garment beneath, and the more it is, the higher the collar
    stands: without an overlap it lies quite flat. It is exactly as long as the neck and runs beside
    it, and square to the centre back. At the front it ends in a point, or is rounded. It follows
    neck and shoulders: where they change, here or above, the collar is drawn anew, unless its own
    lines were drawn otherwise.

    An overlap of 10 mm to 15 mm is usual for a collar that lies flat, 70 mm to 80 mm for one that
    stands up; it is 60 mm wide, its neck edge 7 mm lower at the front than that of the garment.
    """

    phrases = ("draft a flat collar",)

    to: str = free_text(
        "the neck, as the line of the back from its centre and then that of the front",
        "back.neck front.neck",
    )
    name: str = free_text("what the piece is called", "collar")
    width: float = length("how wide the collar is", low=10, high=400)
    overlap: float = length("how far front and back overlap at the shoulder end", low=0, high=200)
    lowered: float = length(
        "how far the neck edge ends below that of the garment at the front", 0.0, low=0, high=40
    )
    point: float | None = length(
        "how long its front edge is; as long as the collar is wide unless given",
        None,
        low=10,
        high=400,
    )
    lean: float = length("how far its point lies beyond the end", 0.0, low=-300, high=300)
    rounded: float = length(
        "how far to either side of its front corner it is drawn round; a point unless given",
        0.0,
        low=0,
        high=300,
    )
    fold: bool = flag("its beginning lies on the fold of the cloth")

    def __post_init__(self) -> None:
        super().__post_init__()
        if len(lines_named(self.to)) != 2:
            raise BadParameter("to", self.to, said("name-two-lines"))
        if abs(self.lean) > _MOST_LEAN * self._point:
            allowed = said("lean-at-most", most=_MOST_LEAN * self._point)
            raise BadParameter("lean", f"{self.lean:g} mm", allowed)

    @property
    def _point(self) -> float:
        return self.width if self.point is None else self.point

    def carried_out(self, draft: Draft) -> Draft:
        to = FlatCollarTo(
            self.name,
            lines_named(self.to),
            self.width,
            self.overlap,
            self._point,
            self.lean,
            self.lowered,
            self.rounded,
            self.fold,
        )
        return self.sewn_on(draft, to, 0.0)

    def meant(self, draft: Draft) -> tuple[str, ...]:
        return (*super().meant(draft), f"{self.name}.{OUTER}")

    def in_words(self, unit: Unit) -> str:
        lines = " and ".join(self.to.split())
        wide, over = format_length(self.width, unit), format_length(self.overlap, unit)
        side = f" on the {self.side}" if self.side else ""
        return f"draft the flat {self.name} to {lines}, {wide} wide, overlapping by {over}{side}"
