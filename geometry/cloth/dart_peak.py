"""How a line runs across a dart's mouth when it is cut with the dart folded: a small peak.

Fold the dart to its pressing side and cut along the line: opened again, it runs over the mouth as
it does beside it, turned over about the leg, up to the fold in the dart's middle. Horizontal darts
are pressed down, vertical ones towards the centre (from memory, no source).

What is cut so may dip in the mouth or rise to a spike, where the line meets the dart aslant. No
maker would cut either: a dip is filled up, and a peak is cut square where it is as high as the
mouth is wide.
"""

import math
from collections.abc import Sequence
from itertools import pairwise

from trueup.geometry.lines.points import Point, cross, dot, unit
from trueup.geometry.pieces.dart import Dart, Mouth
from trueup.geometry.pieces.edge import Edge
from trueup.geometry.pieces.piece import Piece
from trueup.geometry.tolerance import SAME_POINT

CENTRE = "centre"

Run = Sequence[Point]
"""A polyline along an edge from one dart, or corner, to the next."""


def cut_across(piece: Piece, edge: Edge) -> tuple[tuple[Point, ...], ...]:
    """Return, for each dart of an edge, the points of its seam line strictly between the legs.

    None where folding would leave no more cloth than a straight line across the mouth.
    """
    return _peaks(piece, edge, [part.flattened() for part in edge.parts])


def bridged(piece: Piece, edge: Edge) -> list[Point]:
    """Return the flattened seam line of an edge, led over its dart mouths by their peaks."""
    return led_over(piece, edge, [part.flattened() for part in edge.parts])


def led_over(piece: Piece, edge: Edge, runs: Sequence[Run]) -> list[Point]:
    """Return a line along an edge, one run beside each of its parts, led over the dart mouths.

    Each run ends on the leg where the next dart begins: on the seam line, or beyond it.
    """
    points = [*runs[0]]
    for peak, run in zip(_peaks(piece, edge, runs), runs[1:], strict=True):
        points += [*peak, *run]
    return points


def _peaks(piece: Piece, edge: Edge, runs: Sequence[Run]) -> tuple[tuple[Point, ...], ...]:
    seam = [part.flattened() for part in edge.parts]
    peaks = []
    for k, mouth in enumerate(edge.mouths):
        back = _pressed_back(piece, mouth)
        reaches = _half(mouth.dart, seam[k], seam[k + 1], back)
        peaks.append(_peak(mouth.dart, runs[k], runs[k + 1], back) if reaches else ())
    return tuple(peaks)


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


def _peak(dart: Dart, before: Run, after: Run, back: bool) -> tuple[Point, ...]:
    """Return the peak between the end of one run and the start of the next, both on the legs."""
    first, second = before[-1], after[0]
    middle, width = (first + second) / 2, abs(second - first)
    half = _half(dart, before, after, back)
    if width < SAME_POINT or not half:
        return ()
    fold = unit(middle - dart.apex)
    heights = [(abs(cross(fold, p - middle)), dot(p - middle, fold)) for p in half]
    rise = _cut_square(_without_dips(heights), width)[1:]
    across = fold * math.copysign(1, cross(fold, first - middle)) * 1j
    here = [middle + fold * height + across * aside for aside, height in rise]
    over = [middle + fold * height - across * aside for aside, height in reversed(rise)]
    return (*here, *over[1:])


def _half(dart: Dart, before: Run, after: Run, back: bool) -> list[Point]:
    """Return what the folded dart is cut by between leg and fold; nothing if that ends before."""
    apex, middle = dart.apex, (before[-1] + after[0]) / 2
    line = before[::-1] if back else after
    if apex in (middle, line[0]):
        return []
    leg = unit(line[0] - apex)
    turned = [apex + leg * ((point - apex) / leg).conjugate() for point in line]
    return _up_to(turned, apex, unit(middle - apex))


def _up_to(line: list[Point], apex: Point, fold: complex) -> list[Point]:
    """Return a line as far as it meets the fold of a dart; nothing where it does not meet it."""
    sides = [cross(fold, point - apex) for point in line]
    for k in range(1, len(line)):
        if sides[k] * sides[0] <= 0:
            share = sides[k - 1] / (sides[k - 1] - sides[k])
            return [*line[:k], line[k - 1] + share * (line[k] - line[k - 1])]
    return []


Height = tuple[float, float]
"""How far beside the fold of a dart a point lies, and how high above the line across its mouth."""


def _without_dips(half: list[Height]) -> list[Height]:
    """Return half a peak, from leg to fold, as it is where it rises all the way; else filled up.

    Filled up, both halves together bend one way. Nothing where it does not rise at all.
    """
    high = max((height for _, height in half), default=0.0)
    if high < SAME_POINT:
        return []
    if all(after[1] >= before[1] - SAME_POINT for before, after in pairwise(half)):
        return half
    filled: list[Height] = []
    for point in [*half, (0.0, high)]:
        while len(filled) > 1 and _lies_below(filled[-1], filled[-2], point):
            filled.pop()
        filled.append(point)
    return filled


def _lies_below(middle: Height, before: Height, after: Height) -> bool:
    (a, p), (b, q), (c, r) = before, middle, after
    return (a - b) * (r - p) >= (a - c) * (q - p)


def _cut_square(half: list[Height], level: float) -> list[Height]:
    """Return half a peak cut off straight where it passes a level, mm above the mouth."""
    for k, (aside, height) in enumerate(half):
        if height > level:
            before = half[k - 1]
            share = (level - before[1]) / (height - before[1])
            return [*half[:k], (before[0] + share * (aside - before[0]), level), (0.0, level)]
    return half
