"""What the id of a line in a drawing says: which edge, dart, notch or grainline of which piece.

front.side          an edge, or a part of it between darts: front.side.1, front.side.2
front.dart.bust     a dart: leg, tip, leg; one inside a piece all round
front.notch.crown   a notch, from its edge inwards
front.grainline     the grainline
front.mark.pocket   a mark inside; it is as the drawing describes it, or not taken over
"""

from dataclasses import dataclass
from enum import StrEnum

from trueup.lineage.files.reading import is_name


class What(StrEnum):
    """What a line of a drawing is."""

    EDGE = "edge"
    DART = "dart"
    NOTCH = "notch"
    GRAINLINE = "grainline"
    MARK = "mark"


@dataclass(frozen=True)
class Name:
    """A line's name taken apart; `part` is 0 for an edge that no dart parts."""

    piece: str
    what: What
    word: str
    part: int = 0


def name_of(text: str) -> Name | None:
    """Return what an id says, None for one that names no line of a piece."""
    found: Name | None = None
    match text.split("."):
        case [piece, "grainline"]:
            found = Name(piece, What.GRAINLINE, "grainline")
        case [piece, ("dart" | "notch" | "mark") as what, word]:
            found = Name(piece, What(what), word)
        case [piece, word] if word not in ("dart", "notch", "mark"):
            found = Name(piece, What.EDGE, word)
        case [piece, word, part] if part.isascii() and part.isdigit() and 0 < len(part) < 4:
            found = Name(piece, What.EDGE, word, int(part))
    return found if found and is_name(found.piece) and is_name(found.word) else None
