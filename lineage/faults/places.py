"""Which lines of a draft a place stands for, as a fit note names it: an edge, a dart or a level."""

from dataclasses import dataclass

from trueup.geometry.calling.own_names import by_own_names, own_name
from trueup.geometry.errors import NoSuchName
from trueup.geometry.pieces.dart import InnerDart
from trueup.geometry.pieces.draft import Draft
from trueup.geometry.pieces.piece import Level, Piece

_EDGES_AT = {
    "chest": ("armhole",),
    "bust": ("armhole", "side"),
    "biceps": ("cap",),
    "elbow": ("back-seam", "front-seam"),
    "wrist": ("back-seam", "front-seam"),
}
"""Which edges end the width of a piece at a level (common practice, no source)."""

_BELOW_THE_ARM = ("side",)


@dataclass(frozen=True, order=True)
class PlaceLine:
    """One line of a piece: an edge with the darts on it, or a double-pointed dart inside."""

    piece: str
    name: str
    is_inner_dart: bool = False

    def __str__(self) -> str:
        return f"{self.piece}.{self.name}"


def lines_of(draft: Draft, place: str, where: str) -> tuple[PlaceLine, ...]:
    """Return the lines that make a place, in a fixed order.

    A place is an edge (`front.armhole`), a dart (`front.bust`: the edge it opens on), a level of
    all pieces that know it (`bust`) or of one (`back.bust`). `where` is what a message calls the
    draft. The lines are told by the own names of pieces, whatever these are called. Raises
    NoSuchName with the places there are.
    """
    piece_name, dot, name = own_name(draft, place).partition(".")
    draft = by_own_names(draft)
    if not dot:
        pieces = [piece for piece in draft.pieces if piece.has_level(place)]
        found = [line for piece in pieces for line in _at_level(piece, piece.level(place))]
    else:
        # A place of both sides is made of the lines of each.
        pieces = [p for p in draft.told_of if piece_name in (p.name, p.shared_name)]
        found = [line for piece in pieces for line in _in_piece(piece, name)]
    if not found:
        raise NoSuchName("place", place, where, _places(draft))
    return tuple(sorted(set(found)))


def _in_piece(piece: Piece, name: str) -> list[PlaceLine]:
    if name in piece.edge_names:
        return [PlaceLine(piece.name, name)]
    if any(dart.name == name for dart in piece.inner_darts):
        return [PlaceLine(piece.name, name, is_inner_dart=True)]
    if name in piece.dart_names:
        return [PlaceLine(piece.name, piece.edge_of_dart(name).name)]
    return _at_level(piece, piece.level(name)) if piece.has_level(name) else []


def _at_level(piece: Piece, level: Level) -> list[PlaceLine]:
    """Return the edges that bound a piece at a level, and the darts that take in there."""
    edges = [*_EDGES_AT.get(level.name, _BELOW_THE_ARM), *([level.along] if level.along else [])]
    found = [PlaceLine(piece.name, edge) for edge in edges if edge in piece.edge_names]
    crossed = (dart for dart in piece.inner_darts if not level.along and _crosses(dart, level))
    return [*found, *(PlaceLine(piece.name, dart.name, is_inner_dart=True) for dart in crossed)]


def _crosses(dart: InnerDart, level: Level) -> bool:
    return dart.upper.imag < level.y < dart.lower.imag


def _places(draft: Draft) -> tuple[str, ...]:
    levels = dict.fromkeys(level.name for piece in draft.pieces for level in piece.levels)
    return (*draft.edge_names, *draft.dart_names, *levels)
