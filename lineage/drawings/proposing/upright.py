"""Turn the pieces of a drawing so that each stands as it is worn: its centre up, its hem below.

Levels of the body lie across a piece, so one that was drawn lying on its side, or upside down to
save paper, is turned before anything is read from it. A piece that leans a little is turned only by
its grainline: a centre may be meant to slant.
"""

import cmath
import math
from dataclasses import dataclass, replace

from trueup.geometry.lines.points import STILL, Motion, degrees_between, turn_between
from trueup.lineage.drawings.proposing.forms import form_of
from trueup.lineage.drawings.proposing.sewn_edges import sewn_edges
from trueup.lineage.drawings.seen.found import Found, FoundPiece, Looks, Notched
from trueup.lineage.drawings.seen.looking import looks_like

_LEANS = 20.0
"""Degrees off a quarter turn by which a piece leans: a dart or a shaped centre slants by less."""

_STRAIGHT_UP = 0.05
"""Degrees; a piece that is turned by less lies as it was drawn."""

_UP = -1j
_GAP = 40.0


@dataclass(frozen=True)
class Upright:
    """Pieces that stand upright, and by how many degrees each was turned, clockwise on paper."""

    found: Found
    turns: tuple[float, ...]


def upright(found: Found) -> Upright:
    """Return the pieces of a drawing upright; those of no known form stay as they were drawn.

    Where any was turned, all are laid in a row, so that none lies over another.
    """
    turns = tuple(_turn(piece) for piece in found.pieces)
    if not any(turns):
        return Upright(found, turns)
    laid: list[FoundPiece] = []
    right = 0.0
    for piece, degrees in zip(found.pieces, turns, strict=True):
        motion = Motion(_rotation(degrees)) if degrees else STILL
        turned = _moved(piece, motion)
        left, top, far, _ = turned.outline.bounds
        laid.append(_moved(turned, Motion(shift=complex(right - left, -top))))
        right += far - left + _GAP
    return Upright(replace(found, pieces=tuple(map(_looked_at, laid, turns))), turns)


def _rotation(degrees: float) -> complex:
    """Return the turn by an angle; that by quarters is exact."""
    quarters = {0.0: 1 + 0j, 90.0: 1j, 180.0: -1 + 0j, -90.0: -1j}
    return quarters.get(degrees, cmath.rect(1.0, math.radians(degrees)))


def _turn(piece: FoundPiece) -> float:
    """Return by how many degrees a piece is to be turned, clockwise, from -180 to 180."""
    known = form_of(sewn_edges(piece))
    if known is None:
        return 0.0
    form, ring = known
    by_form = form.up(ring)
    grain = _along_grain(piece, by_form)
    if grain is not None:
        lean = degrees_between(grain, _UP)
        return 0.0 if lean < _STRAIGHT_UP else math.degrees(turn_between(grain, _UP))
    turn = math.degrees(turn_between(by_form, _UP))
    quarter = 90.0 * round(turn / 90.0)
    if abs(turn - quarter) > _LEANS:
        return turn
    return -quarter if quarter == -180.0 else quarter


def _along_grain(piece: FoundPiece, up: complex) -> complex | None:
    """Return the way up the only grainline that is told, where it runs about up the piece."""
    grains = [inner for inner in piece.inner if inner.looks is Looks.GRAIN and not inner.by_form]
    if len(grains) != 1:
        return None
    way = grains[0].chain.end - grains[0].chain.start
    if not way:
        return None
    if degrees_between(way, up) > 90.0:
        way = -way
    return way if degrees_between(way, up) <= _LEANS else None


def _moved(piece: FoundPiece, motion: Motion) -> FoundPiece:
    ring = tuple(
        replace(line, first=motion(line.first), tip=motion(line.tip), second=motion(line.second))
        if isinstance(line, Notched)
        else replace(line, chain=line.chain.moved(motion))
        for line in piece.ring
    )
    inner = tuple(replace(each, chain=each.chain.moved(motion)) for each in piece.inner)
    texts = tuple((text, motion(at)) for text, at in piece.texts)
    return replace(piece, ring=ring, inner=inner, texts=texts)


def _looked_at(piece: FoundPiece, turned: float) -> FoundPiece:
    """Return a piece that was turned with what its lines look like as it lies now."""
    if not turned:
        return piece
    outline = piece.outline
    inner = tuple(
        replace(each, looks=looks_like(each.chain, outline, is_closed=each.is_closed))
        if each.by_form
        else each
        for each in piece.inner
    )
    return replace(piece, inner=inner)
