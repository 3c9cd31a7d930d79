"""What the parts of a cut piece are called, where a maker leaves it open."""

from trueup.geometry.cuts.laying import line_of_part
from trueup.geometry.pieces.cut import Cut
from trueup.geometry.pieces.piece import Piece

_BESIDE = (("centre", "side"), ("front-seam", "back-seam"), ("neck", "side"))
_SHORT = {"front-seam": "front", "back-seam": "back", "neck": "centre"}
_ABOVE = ("upper", "lower")


def names_offered(cut: Cut, parts: tuple[Piece, Piece], wanted: tuple[str, ...]) -> tuple[str, str]:
    """Return what the first and second part of a cut piece are called.

    `wanted` are the names a maker gave, the part at the centre or above first; without them, the
    parts are called after where they lie.
    """
    (first, second), whole = parts, cut.whole.name
    line = line_of_part(cut, first)
    across = line.end - line.start
    if abs(across.real) > abs(across.imag):
        words, is_first = _ABOVE, _middle(first).imag < _middle(second).imag
    else:
        words, is_first = _beside(first, second)
    one, other = wanted or (f"{whole}-{words[0]}", f"{whole}-{words[1]}")
    return (one, other) if is_first else (other, one)


def _beside(first: Piece, second: Piece) -> tuple[tuple[str, str], bool]:
    for inner, outer in _BESIDE:
        words = _SHORT.get(inner, inner), _SHORT.get(outer, outer)
        if inner in first.edge_names and inner not in second.edge_names:
            return words, True
        if inner in second.edge_names and inner not in first.edge_names:
            return words, False
    return ("left", "right"), _middle(first).real < _middle(second).real


def _middle(piece: Piece) -> complex:
    points = piece.outline_points
    across, down = ([p.real for p in points], [p.imag for p in points])
    return complex(min(across) + max(across), min(down) + max(down)) / 2
