"""label-piece: say from which cloth a piece is cut, how often, and what is noted on it."""

from dataclasses import replace

from trueup.geometry.changes.base import Change, kind
from trueup.geometry.changes.declaring import free_text, name, number
from trueup.geometry.errors import BadParameter, DoesNotFit
from trueup.geometry.pieces.draft import Draft
from trueup.geometry.pieces.marks.label import CLOTHS, SHELL, Label
from trueup.geometry.said import said
from trueup.geometry.units import Unit

_LONGEST = 40


@kind("label-piece")
class LabelPiece(Change):
    """Say from which cloth a piece is cut and how often, and what is noted on it.

    Without a label a piece is cut from the shell, once on the fold and otherwise as a pair. Made
    again for another cloth, the piece is cut from that, too; a count of nought takes a cloth off.
    A piece that is cut twice on the fold, as a yoke, counts 2. What is said of a piece that was cut
    apart is said of its parts. It stands on sheets, pictures and the cut list.
    """

    phrases = ("label the piece",)

    piece: str = name("piece that is labelled", of="piece")
    cloth: str = name("cloth it is cut from", SHELL, choices=CLOTHS)
    count: float | None = number("how often it is cut from that cloth", None, low=0, high=99)
    note: str | None = free_text("what is noted on it, of 40 letters at most", None)

    def __post_init__(self) -> None:
        if self.count is None and self.note is None:
            raise BadParameter(
                "count", "left out", said("give-either", first="count", second="note")
            )
        if self.count is not None and self.count != int(self.count):
            raise BadParameter("count", f"{self.count:g}", said("whole-number"))
        if self.note and (len(self.note) > _LONGEST or not self.note.isprintable()):
            raise BadParameter("note", self.note, said("short-note", most=str(_LONGEST)))

    def carried_out(self, draft: Draft) -> Draft:
        piece = draft.piece(self.piece)
        label = piece.label or Label()
        if self.count is not None:
            label = label.counted(self.cloth, int(self.count))
            if not any(count for _, count in label.cut_from):
                raise DoesNotFit(said("cut-from-nothing"), said("drop-it"))
        if self.note is not None:
            label = replace(label, note=self.note.strip())
        return draft.with_pieces(replace(piece, label=label))

    def meant(self, draft: Draft) -> tuple[str, ...]:  # noqa: ARG002
        return ()

    def in_words(self, unit: Unit) -> str:  # noqa: ARG002
        side = f" on the {self.side}" if self.side else ""
        cut = [f"cut {self.count:g} {self.cloth}"] if self.count is not None else []
        noted = [f'note "{self.note}"'] if self.note is not None else []
        return f"label the {self.piece}: {', '.join([*cut, *noted])}{side}"
