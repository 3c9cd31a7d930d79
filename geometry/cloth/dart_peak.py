"""How an edge runs across a dart's mouth when it is cut with the dart folded: a small peak.

Fold the dart to its pressing side and cut along the edge: opened again, the edge runs over the
mouth as the edge beside it does, turned over about the leg, up to the fold in the dart's middle.
Horizontal darts are pressed down, vertical ones towards the centre (from memory, no source).
"""

from trueup.geometry.lines.chain import Chain
from trueup.geometry.lines.points import Point, cross, dot, unit
from trueup.geometry.pieces.dart import Mouth
from trueup.geometry.pieces.edge import Edge
from trueup.geometry.pieces.piece import Piece

CENTRE = "centre"


def cut_across(piece: Piece, edge: Edge) -> tuple[tuple[Point, ...], ...]:
    """Return, for each dart of an edge, the points of the edge strictly between its mouth points.

    They are the peak the edge gets when it is cut with the dart folded. Where the fold would leave
    less cloth than a straight line across the mouth, or a spike, there are none: it is straight.
    """
    return tuple(
        _peak(mouth, _beside(mouth, edge.parts[k], edge.parts[k + 1], _pressed_back(piece, mouth)))
        for k, mouth in enumerate(edge.mouths)
    )


def bridged(piece: Piece, edge: Edge) -> list[Point]:
    """Return the flattened seam line of an edge, led over its dart mouths by their peaks."""
    points = edge.parts[0].flattened()
    for peak, part in zip(cut_across(piece, edge), edge.parts[1:], strict=True):
        points += [*peak, *part.flattened()]
    return points


def _pressed_back(piece: Piece, mouth: Mouth) -> bool:
    """Return whether a dart is pressed towards the part of the edge before it in ring order."""
    depth = (mouth.first + mouth.second) / 2 - mouth.dart.apex
    if abs(depth.real) > abs(depth.imag):
        return mouth.first.imag > mouth.second.imag
    if CENTRE not in piece.edge_names:
        return True
    centre = piece.edge(CENTRE)
    x = (centre.start.real + centre.end.real) / 2
    return abs(mouth.first.real - x) < abs(mouth.second.real - x)


def _beside(mouth: Mouth, before: Chain, after: Chain, back: bool) -> tuple[Point, list[Point]]:
    """Return the mouth point on the pressing side, and the edge from there on away from it."""
    if back:
        return mouth.first, before.flattened()[::-1]
    return mouth.second, after.flattened()


def _peak(mouth: Mouth, beside: tuple[Point, list[Point]]) -> tuple[Point, ...]:
    at, line = beside
    apex = mouth.dart.apex
    middle = (mouth.first + mouth.second) / 2
    if mouth.intake == 0 or middle == apex:
        return ()
    leg, fold = unit(at - apex), unit(middle - apex)
    turned = [apex + leg * ((point - apex) / leg).conjugate() for point in line]
    half = _up_to(turned, apex, fold)
    # What dips below the straight line across the mouth would leave too little cloth.
    rising = [point for point in half[1:] if dot(point - middle, fold) > 0]
    if not half or half[-1] not in rising or dot(half[-1] - middle, fold) > mouth.intake:
        return ()
    over = [apex + fold * ((point - apex) / fold).conjugate() for point in rising]
    if at == mouth.first:
        return (*rising, *over[-2::-1])
    return (*over, *rising[-2::-1])


def _up_to(line: list[Point], apex: Point, fold: complex) -> list[Point]:
    """Return a line as far as it meets the fold of a dart; nothing where it does not meet it."""
    sides = [cross(fold, point - apex) for point in line]
    for k in range(1, len(line)):
        if sides[k] * sides[0] <= 0:
            share = sides[k - 1] / (sides[k - 1] - sides[k])
            return [*line[:k], line[k - 1] + share * (line[k] - line[k - 1])]
    return []
