"""A change by an amount: carried out and held to be sound, or refused with the largest it takes.

What every such kind needs stands here, so that none can forget it.
"""

from typing import ClassVar

from trueup.geometry.changes.base import Change
from trueup.geometry.errors import DoesNotFit
from trueup.geometry.pieces.bodice import BODICE, bodice_pieces
from trueup.geometry.pieces.draft import Draft
from trueup.geometry.pieces.piece import Piece
from trueup.geometry.redrawing.largest_amount import or_furthest
from trueup.geometry.redrawing.sleeves.refit import refitted
from trueup.geometry.redrawing.sound import require_cloth, require_fair, require_sound
from trueup.geometry.tolerance import SAME_POINT


class ByAmount(Change):
    """A change of some pieces, each drawn anew by an amount, mm, in `on`.

    It is refused where an outline would cross itself or a dart. What a `finished` version drew is
    drawn with as few curves as show it; a `fair` one is refused, too, where a redrawn edge would
    wave or bend tightly, and one that `leaves_cloth` where too little would be left between lines.
    """

    about: ClassVar[str]
    """The edge that a refusal names, where nothing nearer is known."""

    finished: ClassVar[bool] = True
    fair: ClassVar[bool] = False
    leaves_cloth: ClassVar[bool] = False

    def on(self, piece: Piece, by: float) -> Piece:
        """Return a piece changed by an amount, mm; raises DoesNotFit where it does not fit."""
        raise NotImplementedError(f"{self.kind} changes neither {piece.name} nor a draft by {by}")

    def made(self, draft: Draft, by: float) -> Draft:
        """Return the draft changed by an amount, mm; raises DoesNotFit where it does not fit.

        What changes several pieces at once, or more than pieces, has its own.
        """
        return draft.with_pieces(*(self._on(piece, by) for piece in self.pieces(draft)))

    def pieces(self, draft: Draft) -> tuple[Piece, ...]:
        """Return the pieces that are changed: the one it names, or front and back alike."""
        named = getattr(self, "piece", None) or BODICE
        return bodice_pieces(draft) if named == BODICE else (draft.piece(named),)

    def wanted(self, draft: Draft) -> float:  # noqa: ARG002
        """Return the amount on this draft, mm; next to nothing leaves it as it is."""
        amount: float = getattr(self, "by")  # noqa: B009
        return amount

    def place(self, draft: Draft) -> tuple[str, str]:
        return self.pieces(draft)[0].name, self.about

    def carried_out(self, draft: Draft) -> Draft:
        amount = self.wanted(draft)
        if abs(amount) < SAME_POINT:
            return draft
        return or_furthest(lambda by: self._held(draft, self.made(draft, by)), amount)

    def _on(self, piece: Piece, by: float) -> Piece:
        try:
            return self.on(piece, by)
        except DoesNotFit as refusal:
            raise refusal.at(piece.name) from refusal

    def _held(self, before: Draft, after: Draft) -> Draft:
        redrawn = [
            (before.piece(new.name), new)
            for new in after.pieces
            if before.has_piece(new.name) and new is not before.piece(new.name)
        ]
        return after.with_pieces(*(self._held_piece(old, new) for old, new in redrawn))

    def _held_piece(self, old: Piece, new: Piece) -> Piece:
        edges = [e.name for e in new.edges if e is not old.edge(e.name)]
        if not edges:
            return new
        at = self.about if self.about in new.edge_names else edges[0]
        _require_as_sound(old, new, at)
        if self.leaves_cloth:
            require_cloth(old, new, at)
        if self.fair:
            for edge in edges:
                require_fair(old, new, edge)
        return self._simpler(old, new, edges, at)

    def _simpler(self, old: Piece, new: Piece, edges: list[str], at: str) -> Piece:
        """Return a piece drawn with fewer curves; as it is where that hair's breadth tips it."""
        if not self.finished:
            return new
        few = refitted(new, *edges)
        if few is new:
            return new
        try:
            _require_as_sound(old, few, at)
            for edge in edges if self.fair else ():
                require_fair(old, few, edge)
        except DoesNotFit:
            return new
        return few


def _require_as_sound(old: Piece, new: Piece, at: str) -> None:
    """Raise DoesNotFit when a changed piece is not sound, and was before.

    A whole whose parts were flared lies over itself where they are laid together; it is they that
    have to be sound.
    """
    try:
        require_sound(new, at)
    except DoesNotFit:
        if old.is_simple:
            raise
