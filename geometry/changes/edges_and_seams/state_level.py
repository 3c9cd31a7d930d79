"""state-level: say where a level of the body lies on a piece."""

from dataclasses import replace

from trueup.geometry.changes.base import Change, kind
from trueup.geometry.changes.declaring import flag, free_text, name, require_new_name
from trueup.geometry.errors import BadParameter, DoesNotFit
from trueup.geometry.marking.level_places import level_at, level_in_words
from trueup.geometry.pieces.draft import Draft
from trueup.geometry.pieces.piece import Level, Piece
from trueup.geometry.said import said
from trueup.geometry.units import Unit


@kind("state-level")
class StateLevel(Change):
    """Say where a level of the body lies on a piece: its bust, waist or hip.

    It runs along an edge, or level through a corner, through the point a dart aims at, or so far
    below or above a corner or another level. From then on the width there is measured, and what is
    made at that level finds it. A level that is there already is moved; with `none` it is taken
    off. No line moves.
    """

    phrases = ("state the level",)

    piece: str = name("piece it is stated of", of="piece")
    name: str = free_text("what the level is called, such as hip")
    at: str | None = free_text(
        "where it lies: 'along hem', 'at underarm', 'at dart bust', '200mm below waist'", None
    )
    none: bool = flag("say the opposite: take the level of this name off the piece")

    def __post_init__(self) -> None:
        require_new_name("name", self.name)
        if (self.at is None) is not self.none:
            reason = "left out" if self.at is None else "given beside none"
            raise BadParameter("at", reason, said("write-level"))

    def carried_out(self, draft: Draft) -> Draft:
        piece = draft.piece(self.piece)
        others = tuple(level for level in piece.levels if level.name != self.name)
        if self.none:
            piece.level(self.name)
            return draft.with_pieces(replace(piece, levels=others))
        level = self._level(piece)
        return draft.with_pieces(replace(piece, levels=(*others, level)))

    def _level(self, piece: Piece) -> Level:
        level = level_at(piece, self.name, self.at or "")
        if level is None:
            raise BadParameter("at", self.at or "", said("write-level"))
        ys = [point.imag for point in piece.outline_points]
        if not min(ys) <= level.y <= max(ys):
            beyond = max(min(ys) - level.y, level.y - max(ys))
            raise DoesNotFit(said("leaves-piece", beyond=beyond), said("another-place"))
        return level

    def same_place(self, other: Change) -> bool:
        return super().same_place(other) and self.name == getattr(other, "name", None)

    def meant(self, draft: Draft) -> tuple[str, ...]:  # noqa: ARG002
        return ()

    def in_words(self, unit: Unit) -> str:
        side = f" on the {self.side}" if self.side else ""
        if self.none:
            return f"take the level {self.name} off the {self.piece}{side}"
        where = level_in_words(self.at or "", unit)
        return f"state the {self.name} of the {self.piece}, {where}{side}"
