"""mark-notch: mark a place on an edge for matching."""

from trueup.geometry.changes.base import Change, kind
from trueup.geometry.changes.declaring import flag, free_text, name, position, require_new_name
from trueup.geometry.errors import DoesNotFit
from trueup.geometry.pieces.draft import Draft
from trueup.geometry.pieces.piece import Notch
from trueup.geometry.pieces.position import Position
from trueup.geometry.said import said
from trueup.geometry.units import Unit

_APART = 10.0


@kind("mark-notch")
class MarkNotch(Change):
    """Mark a place on an edge with a notch, so that it is laid to its mate when it is sewn.

    One notch stands in front and two, 10 mm apart, behind (common practice, no source). The place
    is measured along the sewn edge, darts skipped, and moves with it.
    """

    phrases = ("mark a notch",)

    edge: str = name("edge that is notched, as piece.edge", of="edge")
    at: Position = position("where along that edge", on="edge")
    name: str = free_text("what the notch is called", "notch")
    double: bool = flag("two notches, as behind")

    def __post_init__(self) -> None:
        require_new_name("name", self.name)

    def carried_out(self, draft: Draft) -> Draft:
        piece_name, edge_name = draft.split_edge_name(self.edge)
        piece = draft.piece(piece_name)
        marked = piece.with_notches(*self._notches(draft))
        taken = {notch.name for notch in piece.notches if notch.edge == edge_name}
        if taken & {notch.name for notch in self._notches(draft)}:
            raise DoesNotFit(said("name-is-taken", name=self.name), said("another-name"))
        return draft.with_pieces(marked)

    def _notches(self, draft: Draft) -> tuple[Notch, ...]:
        piece_name, edge_name = draft.split_edge_name(self.edge)
        edge = draft.edge(piece_name, edge_name)
        along = self.at.along(edge)
        if not self.double:
            return (Notch(self.name, edge_name, self.at),)
        from_start = self.at.corner == edge.starts_at
        near, far = (along if from_start else edge.length - along), _APART
        if near + far > edge.length:
            reason = said("edge-only", edge=edge_name, length=edge.length)
            raise DoesNotFit(reason, said("another-place"))
        return (
            Notch(self.name, edge_name, self.at),
            Notch(f"{self.name}-2", edge_name, Position(self.at.corner, distance=near + far)),
        )

    def meant(self, draft: Draft) -> tuple[str, ...]:  # noqa: ARG002
        return ()

    def in_words(self, unit: Unit) -> str:
        side = f" on the {self.side}" if self.side else ""
        how = " twice" if self.double else ""
        return f"notch {self.edge}{how}, {self.at.in_words(unit)} ({self.name}){side}"
