"""How a piece is cut, in words: how often, from which cloth, on the fold, which way up."""

from trueup.geometry.cloth.facing import drawn_for
from trueup.geometry.pieces.marks.label import CLOTHS, SHELL
from trueup.geometry.pieces.piece import Piece
from trueup.geometry.pieces.side import Side, sided


def cut_count(piece: Piece, cloth: str = SHELL) -> int:
    """Return how many times a piece is cut from a cloth.

    As its label says; without one from the shell alone, once on the fold or for a side, else twice.
    """
    if piece.label and piece.label.cut_from:
        return dict(piece.label.cut_from).get(cloth, 0)
    if cloth != SHELL:
        return 0
    return 1 if piece.fold or piece.worn else 2


def whole_count(piece: Piece) -> int:
    """Return how many times a piece is cut, from all cloths together."""
    return sum(cut_count(piece, cloth) for cloth in CLOTHS)


def cut_words(piece: Piece) -> str:
    """Return how a piece is cut."""
    counts = piece.label.cut_from if piece.label else ()
    many = ", ".join(f"{count} {cloth}" for cloth, count in counts if count) or "none"
    if piece.worn is None and not counts:
        return "cut 1 on the fold" if piece.fold else "cut 2, a pair"
    if piece.worn is None:
        return f"cut {many}" + (", on the fold" if piece.fold else "")
    up = drawn_for(piece)
    print_lies = "" if up is None else f", print {'up' if up is piece.worn else 'down'}"
    other = sided(piece.shared_name, Side.RIGHT if piece.worn is Side.LEFT else Side.LEFT)
    in_one = f", in one with {other}" if piece.fold else ""
    return f"cut {many if counts else 1}{print_lies}{in_one}"


def note_of(piece: Piece) -> str:
    """Return the note on a piece, empty for none."""
    return piece.label.note if piece.label else ""
