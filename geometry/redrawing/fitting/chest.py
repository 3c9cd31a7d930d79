"""Fold a wedge out of a chest, from the centre to nothing at the armhole."""

from dataclasses import replace

from trueup.geometry.errors import DoesNotFit
from trueup.geometry.lines.bisection import root_between
from trueup.geometry.lines.chain import Chain
from trueup.geometry.lines.points import Motion, Point, cross, turn_between, unit
from trueup.geometry.measuring.tape import ARMHOLE, CENTRE
from trueup.geometry.pieces.edge import Edge
from trueup.geometry.pieces.piece import Piece
from trueup.geometry.redrawing.between_ends import is_straight
from trueup.geometry.redrawing.fitting.marks import with_marks_kept
from trueup.geometry.redrawing.move_corner import start_carried
from trueup.geometry.redrawing.turning.wedge import folded
from trueup.geometry.said import said
from trueup.geometry.tolerance import SAME_LENGTH, SHORTEST_LEFT

_ASLANT = 0.5


def chest_folded(piece: Piece, at: float, ends_at: float, by: float) -> Piece:
    """Return a piece shorter at its centre by so much, mm, above the bust; longer when negative.

    The wedge lies at a sewn length along the centre, and ends at one along the armhole, about which
    the chest above it is turned. The centre is straight on again from what stays on the table: the
    neck is cut off, or drawn on, where it comes to lie beside it, and meets it at the angle it had.
    Raises DoesNotFit for a centre that is not straight, or a wedge in its lower half.
    """
    centre = piece.edge(CENTRE)
    if centre.darts or not is_straight(centre):
        raise DoesNotFit(said("centre-not-straight"), said("fold-wedge-instead"), edge=CENTRE)
    if at < centre.length / 2:
        raise DoesNotFit(said("fold-too-low"), said("another-place"), edge=CENTRE)
    loose = replace(piece, fold=None)

    def drawn(width: float) -> Piece:
        turned = folded(loose, CENTRE, at, ARMHOLE, ends_at, width)
        return replace(_straightened(piece, turned), fold=piece.fold)

    def longer(width: float) -> float:
        return drawn(width).edge(CENTRE).length - (centre.length - by)

    width = root_between(longer, by * (1 - _ASLANT), by * (1 + _ASLANT), SAME_LENGTH)
    if width is None:
        raise DoesNotFit(said("fold-aslant"), said("another-place"), edge=CENTRE)
    return drawn(width)


def _straightened(old: Piece, turned: Piece) -> Piece:
    """Return a turned piece with its centre straight on from its hem, and the neck up to it."""
    was, name = old.edge(CENTRE), old.neighbours(CENTRE)[1].name
    hem, along = was.start, unit(was.end - was.start)
    neck = _up_to(turned.edge(name), hem, along)
    away = turn_between(neck.parts[0].start_tangent, old.edge(name).parts[0].start_tangent)
    neck = start_carried(neck, Motion.turn(neck.start, away), neck.start)
    centre = replace(was, parts=(Chain.line(was.start, neck.start),))
    return with_marks_kept(turned.with_edges(centre, neck), was, at_start=False)


def _up_to(neck: Edge, origin: Point, along: complex) -> Edge:
    """Return an edge cut where its start passes a line, or drawn on straight up to it."""
    first = neck.parts[0]
    met = [at for at in first.crossings(origin, along) if at < first.length - SHORTEST_LEFT]
    if met and met[0] > 0:
        part = first.between(met[0], first.length)
    else:
        slant = cross(first.start_tangent, along)
        back = cross(first.start - origin, along) / slant
        start = first.start - first.start_tangent * back
        part = Chain.joining([Chain.line(start, first.start), first]) if back > 0 else first
    return replace(neck, parts=(part, *neck.parts[1:]))
