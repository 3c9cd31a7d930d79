"""move-mark: move a notch, or another mark that is measured along an edge, along it."""

from dataclasses import replace
from typing import ClassVar

from trueup.geometry.changes.base import Change, kind
from trueup.geometry.changes.declaring import free_text, name, position
from trueup.geometry.errors import NoSuchName
from trueup.geometry.marking.kept_on import marks_kept_on
from trueup.geometry.pieces.draft import Draft
from trueup.geometry.pieces.marks.mark import InnerMark, OnEdge
from trueup.geometry.pieces.piece import Notch
from trueup.geometry.pieces.position import Position
from trueup.geometry.units import Unit


@kind("move-mark")
class MoveMark(Change):
    """Move a notch, or a hole, a button or a pocket that is measured along an edge, along it.

    For a mark that was set in the wrong place, or whose line became too short for it: a mark that
    lies beyond the end of its line is told of by `check` and drawn nowhere. Given as a share of the
    line, it stays on the line however long that comes to be. How far it lies inside stays.
    """

    sees_beyond: ClassVar[bool] = True
    phrases = ("move the mark",)

    edge: str = name("edge that the mark is measured along, as piece.edge", of="edge")
    name: str = free_text("what the mark is called, such as notch")
    at: Position = position("where along that edge it lies then", on="edge")

    def carried_out(self, draft: Draft) -> Draft:
        piece_name, edge = draft.split_edge_name(self.edge)
        piece = draft.piece(piece_name)
        known = marks_kept_on(piece, edge)
        if self.name not in known:
            raise NoSuchName("mark", self.name, self.edge, known)
        self.at.along(piece.edge(edge))
        moved = replace(
            piece,
            notches=tuple(self._notch(notch, edge) for notch in piece.notches),
            marks=tuple(self._mark(mark, edge) for mark in piece.marks),
        )
        return draft.with_pieces(moved)

    def _notch(self, notch: Notch, edge: str) -> Notch:
        is_it = (notch.edge, notch.name) == (edge, self.name)
        return replace(notch, at=self.at) if is_it else notch

    def _mark(self, mark: InnerMark, edge: str) -> InnerMark:
        if isinstance(mark.place, OnEdge) and (mark.place.edge, mark.name) == (edge, self.name):
            return replace(mark, place=OnEdge(edge, self.at))
        return mark

    def same_place(self, other: Change) -> bool:
        return super().same_place(other) and self.name == getattr(other, "name", None)

    def meant(self, draft: Draft) -> tuple[str, ...]:  # noqa: ARG002
        return ()

    def in_words(self, unit: Unit) -> str:
        side = f" on the {self.side}" if self.side else ""
        return f"move the mark {self.name} of {self.edge} to {self.at.in_words(unit)}{side}"
