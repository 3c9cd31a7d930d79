"""draft-facing: draft a facing of a line."""

from trueup.geometry.changes.base import Change, kind
from trueup.geometry.changes.declaring import free_text, length, name, require_new_name
from trueup.geometry.following.new_piece import with_drafted
from trueup.geometry.pieces.draft import Draft, Run, Seam
from trueup.geometry.pieces.drafted import FacingTo
from trueup.geometry.units import Unit, format_length


@kind("draft-facing")
class DraftFacing(Change):
    """Draft a facing of a line: the piece along it, darts closed, turned to the inside.

    It is a piece of its own with the line exactly as the piece has it, both ends along the edges
    that meet the line there, and its inner edge beside the line. It follows the line: where that
    changes, here or above, the facing is drawn anew, unless its own lines were drawn otherwise.
    50 mm to 75 mm are usual (common practice, no source).
    """

    phrases = ("draft a facing",)

    edge: str = name("full name of the edge, such as front.neck", of="edge")
    name: str | None = free_text("what the piece is called; front-neck-facing unless given", None)
    width: float = length("how wide the facing is", low=10, high=300)

    def __post_init__(self) -> None:
        require_new_name("name", self._called)

    @property
    def _called(self) -> str:
        return self.name or f"{self.edge.replace('.', '-')}-facing"

    def carried_out(self, draft: Draft) -> Draft:
        piece, edge = draft.split_edge_name(self.edge)
        own = Run(self._called, edge)
        seam = Seam(f"{self._called}-seam", (Run(piece, edge),), (own,))
        return with_drafted(draft, FacingTo(self._called, self.edge, self.width), seam)

    def meant(self, draft: Draft) -> tuple[str, ...]:  # noqa: ARG002
        return (f"{self._called}.{self.edge.partition('.')[2]}",)

    def in_words(self, unit: Unit) -> str:
        wide = format_length(self.width, unit)
        side = f" on the {self.side}" if self.side else ""
        return f"draft the facing of {self.edge}, {wide} wide ({self._called}){side}"
