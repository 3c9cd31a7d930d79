"""Make a piece longer or shorter at the centre, to nothing at the side."""

from dataclasses import replace

from trueup.geometry.errors import DoesNotFit
from trueup.geometry.lines.points import Point
from trueup.geometry.measuring.tape import CENTRE
from trueup.geometry.pieces.bodice import bodice_names
from trueup.geometry.pieces.dart import InnerDart
from trueup.geometry.pieces.draft import Draft
from trueup.geometry.pieces.edge import Edge
from trueup.geometry.pieces.piece import Piece
from trueup.geometry.redrawing.drawn_on import reversed_edge
from trueup.geometry.redrawing.fitting.marks import with_marks_kept
from trueup.geometry.redrawing.hems.hem import WAIST, at_hem, ends_at_waist
from trueup.geometry.redrawing.move_corner import (
    end_cut,
    end_motion,
    evenly,
    start_carried,
    start_cut,
    start_motion,
)
from trueup.geometry.redrawing.turning.dart_intake import taken_in
from trueup.geometry.said import said

HEM = "hem"


def half_named(draft: Draft, name: str) -> Piece:
    """Return the front or the back of a draft, of a bodice or of a skirt; raises NoSuchName."""
    found = [each for each in bodice_names(draft) if each == name or each.endswith(f"-{name}")]
    return draft.piece(found[0] if found else name)


def line_at_waist(piece: Piece) -> str:
    """Return the name of the edge that follows what is done at the waist: it, or the hem below."""
    return WAIST if WAIST in piece.edge_names else HEM


def with_centre_longer(piece: Piece, by: float) -> Piece:
    """Return a piece longer at the centre by so much, mm, and at the side as long as it was.

    A skirt grows at its waist, whose darts are closed meanwhile, a bodice at its hem. Where darts
    open on that line it keeps its sewn length: the one nearest the centre takes in what it gained.
    Below the waist of a longer bodice all that lies inside goes along, by as much as the line there
    does. Raises DoesNotFit where the line meets no centre, or a dart no longer meets it.
    """
    name = line_at_waist(piece)
    edge = piece.edge(name)
    before, after = piece.neighbours(name)
    if after.name == CENTRE:
        centre = start_cut(after, -by)
        back = reversed_edge(edge)
        moved = start_carried(back, start_motion(after, centre), centre.start, evenly)
        line = reversed_edge(moved)
    elif before.name == CENTRE:
        centre = end_cut(before, -by)
        line = start_carried(edge, end_motion(before, centre), centre.end, evenly)
    else:
        raise DoesNotFit(said("does-not-meet", edge=CENTRE, other=name), edge=name)
    drawn = with_marks_kept(
        piece.with_edges(centre, line), piece.edge(CENTRE), at_start=after.name == CENTRE
    )
    changed = as_long_as(drawn, name, edge.length)
    if name == WAIST or ends_at_waist(piece):
        return at_hem(changed) if HEM in piece.edge_names else changed
    return at_hem(_below_the_waist(changed, edge, by))


def as_long_as(piece: Piece, name: str, length: float) -> Piece:
    """Return the piece whose waist is as long as it was, by its dart that is nearest the centre.

    A line that runs aslant is longer, and its darts are cut off where they are less wide.
    """
    edge = piece.edge(name)
    if not edge.darts:
        return piece
    at_centre = piece.edge(CENTRE)
    middle = (at_centre.start + at_centre.end) / 2
    nearest = min(edge.mouths, key=lambda mouth: abs((mouth.first - middle).real))
    return taken_in(piece, nearest.dart.name, edge.length - length)


def _below_the_waist(piece: Piece, hem: Edge, by: float) -> Piece:
    """Return a longer piece whose darts and levels below the waist went along with its hem."""
    waist = next((level.y for level in piece.levels if level.name == WAIST), None)
    if waist is None:
        return piece
    wide = abs(hem.end.real - hem.start.real)
    share = evenly(wide)

    def carried(point: Point) -> Point:
        if point.imag <= waist:
            return point
        return point + 1j * by * share(abs(point.real - hem.end.real))[0]

    def dart(inner: InnerDart) -> InnerDart:
        if inner.left.imag > waist and inner.right.imag > waist and inner.upper.imag > waist:
            step = carried((inner.left + inner.right) / 2) - (inner.left + inner.right) / 2
            points = (inner.upper, inner.lower, inner.left, inner.right)
            return InnerDart(inner.name, *(point + step for point in points))
        return replace(inner, lower=carried(inner.lower))

    levels = tuple(
        replace(level, y=level.y + by / 2) if level.y > waist and not level.along else level
        for level in piece.levels
    )
    return replace(piece, inner_darts=tuple(map(dart, piece.inner_darts)), levels=levels)
