"""drop-mark: take a notch, or another mark that is measured along an edge, off a piece."""

from dataclasses import replace
from typing import ClassVar

from trueup.geometry.changes.base import Change, kind
from trueup.geometry.changes.declaring import free_text, name
from trueup.geometry.errors import DoesNotFit, NoSuchName
from trueup.geometry.marking.kept_on import marks_kept_on
from trueup.geometry.measuring.sections import sections_of
from trueup.geometry.pieces.draft import Draft
from trueup.geometry.pieces.marks.mark import InnerMark, OnEdge
from trueup.geometry.said import said
from trueup.geometry.units import Unit


@kind("drop-mark")
class DropMark(Change):
    """Take a notch, or a hole, a button or the place of a pocket, off the piece it is marked on.

    A mark is told by the edge that it is measured along; one of a dart goes with its dart. A notch
    to which a seam is sewn, as the crown of a cap or the end of a slit, stays.
    """

    sees_beyond: ClassVar[bool] = True
    phrases = ("take off the mark",)

    edge: str = name("edge that the mark is measured along, as piece.edge", of="edge")
    name: str = free_text("what the mark is called, such as notch")

    def carried_out(self, draft: Draft) -> Draft:
        piece_name, edge = draft.split_edge_name(self.edge)
        piece = draft.piece(piece_name)
        known = marks_kept_on(piece, edge)
        if self.name not in known:
            raise NoSuchName("mark", self.name, self.edge, known)
        for seam in draft.seams:
            sewn = [part.ends_at for part in sections_of(draft, seam)] + [seam.open_from or ()]
            if self.edge in map(str, seam.runs) and any(self.name in ends for ends in sewn):
                raise DoesNotFit(said("seam-ends-there", seam=seam.name), said("move-it-instead"))
        left = replace(
            piece,
            notches=tuple(n for n in piece.notches if (n.edge, n.name) != (edge, self.name)),
            marks=tuple(mark for mark in piece.marks if not self._is_it(mark, edge)),
        )
        return draft.with_pieces(left)

    def _is_it(self, mark: InnerMark, edge: str) -> bool:
        place = mark.place
        return isinstance(place, OnEdge) and (place.edge, mark.name) == (edge, self.name)

    def same_place(self, other: Change) -> bool:
        return super().same_place(other) and self.name == getattr(other, "name", None)

    def meant(self, draft: Draft) -> tuple[str, ...]:  # noqa: ARG002
        return ()

    def in_words(self, unit: Unit) -> str:  # noqa: ARG002
        side = f" on the {self.side}" if self.side else ""
        return f"take the mark {self.name} off {self.edge}{side}"
