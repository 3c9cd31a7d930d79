"""What the kinds of change that work on darts have in common: finding, checking, what follows."""

import itertools
import math
from collections.abc import Callable
from dataclasses import replace
from functools import lru_cache

from trueup.geometry.errors import DoesNotFit, NoSuchName
from trueup.geometry.lines.chain import Chain
from trueup.geometry.lines.polygons import polyline
from trueup.geometry.measuring.measures import seams_sewing
from trueup.geometry.pieces.dart import InnerDart, Mouth
from trueup.geometry.pieces.draft import Draft
from trueup.geometry.pieces.edge import Edge
from trueup.geometry.pieces.piece import Piece
from trueup.geometry.said import Said, said
from trueup.geometry.tolerance import SAME_POINT

SHORTEST_LEG = 1.0
"""A dart keeps at least this much of its length, mm: below it there is nothing to sew."""

SMALLEST_INTAKE = 0.5
"""A dart takes in at least this, mm: below it the two legs are one pencil line."""

_HALVINGS = 16


def find_edge_dart(draft: Draft, full_name: str) -> tuple[Piece, Edge, Mouth]:
    """Return piece, edge and mouth of a dart written `piece.dart` that opens on an edge.

    Raises NoSuchName for a dart that is not there, DoesNotFit for one that lies inside the piece.
    """
    inner = find_inner_dart(draft, full_name)
    if inner:
        piece, dart = inner
        reason, possible = said("dart-inside"), said("name-edge-dart")
        raise DoesNotFit(reason, possible, piece=piece.name, edge=dart.name)
    piece, edge, opening = draft.find_dart(full_name)
    return piece, edge, piece.mouth(opening.name)


def find_inner_dart(draft: Draft, full_name: str) -> tuple[Piece, InnerDart] | None:
    """Return piece and dart for a double-pointed dart written `piece.dart`, None if it is none."""
    piece_name, _, dart_name = full_name.partition(".")
    if not draft.has_piece(piece_name):
        return None
    piece = draft.piece(piece_name)
    for dart in piece.inner_darts:
        if dart.name == dart_name:
            return piece, dart
    return None


def unsewn(edge: Edge, mouth: Mouth) -> Edge:
    """Return an edge with one of its darts left unsewn: a straight line joins its parts."""
    index = edge.darts.index(mouth.dart)
    across = Chain.line(mouth.first, mouth.second)
    whole = Chain.joining([edge.parts[index], across, edge.parts[index + 1]])
    return replace(
        edge,
        parts=(*edge.parts[:index], whole, *edge.parts[index + 2 :]),
        darts=(*edge.darts[:index], *edge.darts[index + 1 :]),
    )


def edge_measures(draft: Draft, piece: Piece, edge: str) -> tuple[str, ...]:
    """Return the names of the measures that follow an edge: itself, widths along it, seam eases."""
    widths = (f"{piece.name}.{level.name}-width" for level in piece.levels if level.along == edge)
    line = f"{piece.name}.{edge}"
    return (line, *widths, *seams_sewing(draft, line))


def dart_edge_measures(draft: Draft, dart: str) -> tuple[str, ...]:
    """Return the names of the measures that follow the edge a dart opens on; none without it."""
    try:
        piece, edge, _ = draft.find_dart(dart)
    except NoSuchName:
        return ()
    return edge_measures(draft, piece, edge.name)


def level_measures(piece: Piece, dart: InnerDart) -> tuple[str, ...]:
    """Return the name of the width at the level nearest to an inner dart's mouth, if any is."""
    mouth = (dart.left.imag + dart.right.imag) / 2
    reached = [
        level
        for level in piece.levels
        if level.along is None and dart.upper.imag < level.y < dart.lower.imag
    ]
    if not reached:
        return ()
    nearest = min(reached, key=lambda level: abs(level.y - mouth))
    return (f"{piece.name}.{nearest.name}-width",)


def room_for_tip(mouth: Mouth) -> float:
    """Return how far a dart's tip may be set back from its pivot and still be sewn to it, mm."""
    depth = abs((mouth.first + mouth.second) / 2 - mouth.dart.apex)
    return max(depth - SHORTEST_LEG, 0.0)


def require_no_dart(edge: Edge, possible: Said | None = None) -> None:
    """Raise DoesNotFit where a dart opens on an edge, or a style line that was cut meets it."""
    for mouth in edge.mouths:
        if mouth.intake < SAME_POINT:
            met = said("style-line-meets", line=edge.name)
            raise DoesNotFit(met, said("change-before-cut"), edge=edge.name)
        name = mouth.dart.name
        reason = said("dart-opens-on", dart=name, line=edge.name)
        raise DoesNotFit(reason, possible or said("dart-off-edge"), edge=edge.name, dart=name)


@lru_cache(512)
def inner_darts_lie_free(piece: Piece) -> bool:
    """Return whether every dart inside a piece lies in its cloth and runs into no other."""
    if not piece.inner_darts:
        return True
    outline = piece.outline_polygon
    diamonds = [d.diamond for d in piece.inner_darts]
    return all(outline.contains(diamond) for diamond in diamonds) and not any(
        one.overlaps(other) or one.contains(other) or other.contains(one)
        for one, other in itertools.combinations(diamonds, 2)
    )


def dart_in_the_way(piece: Piece) -> str | None:
    """Return the first dart of a piece that runs over an edge other than its own, or over another.

    None where there is none: then it is the edges that cross.
    """
    lines = {
        mouth.dart.name: polyline((mouth.first, mouth.tip, mouth.second))
        for edge in piece.edges
        for mouth in edge.mouths
    }
    lines |= {
        d.name: polyline((d.upper, d.right, d.lower, d.left, d.upper)) for d in piece.inner_darts
    }
    edges = {edge.name: [polyline(part.flattened()) for part in edge.parts] for edge in piece.edges}
    home = {dart.name: edge.name for edge in piece.edges for dart in edge.darts}
    for name, line in lines.items():
        others = [each for other, each in lines.items() if other != name]
        others += [
            part for edge, parts in edges.items() if edge != home.get(name) for part in parts
        ]
        if any(line.intersects(each) for each in others):
            return name
    return None


def largest_amount(attempt: Callable[[float], object], wanted: float) -> float | None:
    """Return the amount nearest to `wanted`, from nought towards it, that an attempt can take.

    `attempt(amount)` raises DoesNotFit for an amount it cannot take. The answer is a whole tenth
    of a millimetre where that leaves anything, and None where not even the least amount works.
    """

    def works(amount: float) -> bool:
        try:
            attempt(amount)
        except (DoesNotFit, NoSuchName):
            return False
        return True

    low, high = 0.0, wanted
    for _ in range(_HALVINGS):
        middle = (low + high) / 2
        low, high = (middle, high) if works(middle) else (low, middle)
    # The limit can be a whole tenth itself, which halving only comes near to.
    tenths = math.trunc(low * 10)
    for each in (tenths + int(math.copysign(1, wanted)), tenths):
        if each and abs(each / 10) <= abs(wanted) and works(each / 10):
            return each / 10
    return low or None
