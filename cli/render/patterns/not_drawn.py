"""Which marks of a draft are drawn nowhere, in words."""

from trueup.geometry.pieces.beyond.marks import marks_beyond
from trueup.geometry.pieces.draft import Draft


def not_drawn(draft: Draft) -> str:
    """Return which marks lie beyond the ends of their lines; empty where all are drawn."""
    lost = [
        f"{each.purpose} {each.name} of {piece.name}.{each.edge}"
        for piece in draft.pieces
        for each in marks_beyond(piece)
    ]
    return f"Not drawn, for its line is too short: the {', the '.join(lost)}." if lost else ""
