"""A change by an amount: carried out and held to be sound, or refused with the largest it takes.

What every such kind needs stands here, so that none can forget it.
"""

from abc import abstractmethod
from typing import ClassVar

from trueup.geometry.changes.base import Change
from trueup.geometry.changes.sound import require_cloth, require_fair, require_simple
from trueup.geometry.pieces.bodice import bodice_pieces
from trueup.geometry.pieces.draft import Draft
from trueup.geometry.pieces.piece import Piece
from trueup.geometry.redrawing.largest_amount import or_furthest
from trueup.geometry.redrawing.refit import refitted
from trueup.geometry.tolerance import SAME_POINT


class ByAmount(Change):
    """A change whose `made` draws the draft anew by an amount, mm.

    It is refused where an outline would cross itself or a dart. What a `finished` version drew is
    drawn with as few curves as show it; a `fair` one is refused, too, where a redrawn edge would
    wave or bend tightly, and one that `leaves_cloth` where too little would be left between lines.
    """

    about: ClassVar[str]
    """The edge that a refusal names, where nothing nearer is known."""

    finished: ClassVar[bool] = True
    fair: ClassVar[bool] = False
    leaves_cloth: ClassVar[bool] = False

    @abstractmethod
    def made(self, draft: Draft, by: float) -> Draft:
        """Return the draft changed by an amount, mm; raises CannotChange where it does not fit."""

    def wanted(self, draft: Draft) -> float:  # noqa: ARG002
        """Return the amount on this draft, mm; next to nothing leaves it as it is."""
        amount: float = getattr(self, "by")  # noqa: B009
        return amount

    def place(self, draft: Draft) -> tuple[str, str]:
        """Return piece and edge that it is about."""
        named = getattr(self, "piece", None)
        return named or bodice_pieces(draft)[0].name, self.about

    def apply(self, draft: Draft) -> Draft:
        amount = self.wanted(draft)
        if abs(amount) < SAME_POINT:
            return draft

        def attempt(by: float) -> Draft:
            return self._held(draft, self.made(draft, by), by)

        return or_furthest(self.kind, draft, attempt, amount, self.place(draft))

    def _held(self, before: Draft, after: Draft, by: float) -> Draft:
        redrawn = [
            (before.piece(new.name), new)
            for new in after.pieces
            if before.has_piece(new.name) and new is not before.piece(new.name)
        ]
        return after.with_pieces(*(self._held_piece(old, new, by) for old, new in redrawn))

    def _held_piece(self, old: Piece, new: Piece, by: float) -> Piece:
        edges = [e.name for e in new.edges if e is not old.edge(e.name)]
        if not edges:
            return new
        at = self.about if self.about in new.edge_names else edges[0]
        require_simple(self, new, at, by)
        if self.leaves_cloth:
            require_cloth(self, old, new, at)
        if self.fair:
            for edge in edges:
                require_fair(self, old, new, edge)
        return refitted(new, *edges) if self.finished else new
