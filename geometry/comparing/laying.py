"""Lay a corrected piece on the old one: fold on fold, grain parallel, then slid along the grain."""

from collections.abc import Callable, Iterable
from dataclasses import replace

from trueup.geometry.lines.points import Motion, dot, turn_between, unit
from trueup.geometry.pieces.dart import InnerDart
from trueup.geometry.pieces.edge import Edge
from trueup.geometry.pieces.piece import Grainline, Piece
from trueup.geometry.tolerance import UNCHANGED

FARTHEST = 80.0
"""A piece is slid at most this far along the grain, mm: no fit correction moves one farther."""

WORTH = 0.5
"""Sliding a piece moves all its seams; it is done for at least this much less lacking, mm."""

_STEP = 2.0
_FINEST = 0.01


def laid(new: Piece, old: Piece) -> Piece:
    """Return the new piece laid on the old: grain parallel, and fold line upon fold line.

    A piece without a fold keeps its place across the grain.
    """
    motion = laying(new, old)
    return new if motion == Motion() else moved(new, motion)


def laying(new: Piece, old: Piece) -> Motion:
    """Return the motion by which a new piece is laid on the old one (`laid`)."""
    motion = Motion()
    if new.grainline and old.grainline:
        turn = turn_between(
            new.grainline.end - new.grainline.start, old.grainline.end - old.grainline.start
        )
        if abs(turn) > 1e-12:
            motion = Motion.turn(new.grainline.start, turn)
    if new.fold and old.fold:
        fold = old.edge(old.fold)
        across = unit(fold.end - fold.start) * 1j
        middle = motion((new.edge(new.fold).start + new.edge(new.fold).end) / 2)
        motion = Motion(shift=across * dot(fold.start - middle, across)).after(motion)
    return motion


def grain(piece: Piece) -> complex:
    """Return the direction in which a piece may be slid: along its fold, else its grain."""
    if piece.fold:
        fold = piece.edge(piece.fold)
        along = unit(fold.end - fold.start)
    elif piece.grainline:
        along = unit(piece.grainline.end - piece.grainline.start)
    else:
        return 1j
    return along if along.imag >= 0 else -along


def best_slide(lacking: Callable[[float], float], enough: float) -> float:
    """Return by how much to slide a piece down its grain, mm, so that the least is lacking.

    `lacking(slide)` is what lacks at worst. It stays where `enough` or no worthwhile gain is had;
    of slides that serve alike, the shortest is taken.
    """
    here = lacking(0.0)
    if here <= enough:
        return 0.0
    count = round(FARTHEST / _STEP)
    coarse = {k * _STEP: lacking(k * _STEP) for k in range(-count, count + 1)}
    best = min(coarse, key=lambda slide: (coarse[slide], abs(slide)))
    best = _refined(lacking, best, _STEP)
    if lacking(best) > here - WORTH:
        return 0.0
    return _shortest(lacking, best, lacking(best) + UNCHANGED)


def _refined(lacking: Callable[[float], float], best: float, step: float) -> float:
    while step > _FINEST:
        step /= 2
        best = min((best, best - step, best + step), key=lacking)
    return best


def _shortest(lacking: Callable[[float], float], best: float, most: float) -> float:
    """Return the slide nearest to nought, on the way to the best, that leaves as little lacking."""
    low, high = 0.0, 1.0
    while (high - low) * abs(best) > _FINEST / 2:
        middle = (low + high) / 2
        low, high = (low, middle) if lacking(best * middle) <= most + 1e-9 else (middle, high)
    return best * high


def moved(piece: Piece, motion: Motion) -> Piece:
    """Return a piece after a rigid motion: its edges, darts and grainline; levels stay as said."""
    edges = [_moved_edge(edge, motion) for edge in piece.edges]
    edges = [
        replace(edge, parts=(*edge.parts[:-1], edge.parts[-1].ending_at(after.start)))
        for edge, after in zip(edges, (*edges[1:], edges[0]), strict=True)
    ]
    line = piece.grainline
    return replace(
        piece,
        edges=tuple(edges),
        inner_darts=tuple(_moved_dart(dart, motion) for dart in piece.inner_darts),
        grainline=Grainline(motion(line.start), motion(line.end)) if line else None,
    )


def _moved_edge(edge: Edge, motion: Motion) -> Edge:
    return replace(
        edge,
        parts=tuple(part.moved(motion) for part in edge.parts),
        darts=tuple(replace(dart, apex=motion(dart.apex)) for dart in edge.darts),
    )


def _moved_dart(dart: InnerDart, motion: Motion) -> InnerDart:
    points: Iterable[complex] = (dart.upper, dart.lower, dart.left, dart.right)
    return InnerDart(dart.name, *(motion(point) for point in points))
