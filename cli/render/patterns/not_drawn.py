"""Which marks of a draft are drawn nowhere, in words."""

from trueup.geometry.pieces.draft import Draft
from trueup.geometry.pieces.marks.beyond import marks_beyond


def not_drawn(draft: Draft) -> str:
    """Return which marks lie beyond the ends of their lines; empty where all are drawn."""
    lost = [
        f"{each.purpose} {each.name} of {piece.name}.{each.edge}"
        for piece in draft.pieces
        for each in marks_beyond(piece)
    ]
    return f"Not drawn, for its line is too short: the {', the '.join(lost)}." if lost else ""
