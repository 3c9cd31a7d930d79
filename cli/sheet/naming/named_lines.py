"""What lines of a piece are called on paper: fold, grain, centre, hems, levels, seam letters."""

from collections.abc import Iterator, Sequence

from trueup.cli.sheet.ink.drawn import Drawing, InkWords, Stroke
from trueup.cli.sheet.laying.layout import Laid
from trueup.cli.sheet.laying.tiles import Tile
from trueup.cli.sheet.level_ticks import level_line
from trueup.cli.sheet.naming.placing import Room, Wording
from trueup.cli.sheet.naming.seam_letters import SewnStretch
from trueup.geometry.lines.points import Point
from trueup.geometry.marking.places import runs_of
from trueup.geometry.pieces.edge import Edge
from trueup.geometry.pieces.piece import Piece
from trueup.geometry.tolerance import SAME_POINT
from trueup.geometry.units import Unit, format_length

FOLD, GRAIN = "FOLD", "GRAIN"

_LETTERS = (5.0, 4.0, 3.2, 2.4, 2.0)
_NAMES = (3.2, 2.6, 2.0)
_LEVELS = (2.8, 2.2)
_BOTH = (1j, -1j)
_CENTRE, _CENTRE_LINE = "centre", "centre-line"
_HALVES = ("front", "back")
_NAMED_WITHIN = 80.0
"""The name of a level stands so near to an end of it, mm."""


def named(
    laid: Laid,
    strokes: Sequence[Stroke],
    tiles: Sequence[Tile],
    letters: Sequence[tuple[str, SewnStretch]],
    unit: Unit,
    standing: Sequence[InkWords] = (),
) -> tuple[Drawing, Room]:
    """Return the names of the lines of a piece in its place, and the room that is left on it.

    Nothing overlaps a line of the `strokes`, words that stand already, or another name; what has no
    room is left out. Of sizes nested the names are those of the largest, inside all of them.
    """
    room = Room(laid, strokes, tiles)
    for each in standing:
        room.take(each)
    found: list[InkWords] = []
    for ways in _wordings(laid, letters, unit):
        found += next((words for way in ways if (words := [*room.written(way)])), [])
    return Drawing((), tuple(found)), room


Ways = tuple[Wording, ...]
"""Ways to say one thing, the best first."""


def _wordings(laid: Laid, letters: Sequence[tuple[str, SewnStretch]], unit: Unit) -> Iterator[Ways]:
    piece = laid.nested[0].piece if laid.nested else laid.piece
    inwards = (piece.inward,)
    for letter, stretch in letters:
        if stretch.edge in piece.edge_names:
            line = _placed(laid, _stretch(piece.edge(stretch.edge), stretch))
            yield (Wording(letter, line, inwards, _LETTERS, is_along=False),)
    if piece.fold and piece.worn is None:
        line = _placed(laid, _drawn(piece.edge(piece.fold)))
        yield (Wording(FOLD, line, inwards, (4.0, *_NAMES), on_each_sheet=True),)
    grain = piece.grainline
    if grain is not None and grain.start != grain.end:
        line = _placed(laid, (grain.start, grain.end))
        yield (Wording(GRAIN, line, _BOTH, _NAMES),)
    yield from _centre(laid, piece)
    for hem in laid.hems:
        if hem in piece.edge_names:
            says = f"HEM, turn {format_length(piece.allowance(hem), unit)}"
            yield (Wording(says, _placed(laid, _drawn(piece.edge(hem))), inwards, _NAMES),)
    yield from _levels(laid, piece)


def _centre(laid: Laid, piece: Piece) -> Iterator[Ways]:
    """Yield which centre of the body a piece has; beyond it an overlap has a line of its own."""
    halves = [half for half in _HALVES if half in piece.name.split("-")]
    if len(halves) != 1:
        return
    says = f"CENTRE {halves[0].upper()}"
    marked = next((mark for mark in piece.marks if mark.name == _CENTRE_LINE), None)
    if marked is not None:
        run = max(runs_of(piece, marked), key=len)
        yield (Wording(says, _placed(laid, run), _BOTH, _NAMES, at=0.3),)
    elif _CENTRE in piece.edge_names:
        line = _placed(laid, _drawn(piece.edge(_CENTRE)))
        yield (Wording(says, line, (piece.inward,), _NAMES, at=0.3),)


def _levels(laid: Laid, piece: Piece) -> Iterator[Ways]:
    for level in piece.levels:
        if level.along is not None:
            if level.along in piece.edge_names and level.along != level.name:
                line = _placed(laid, _drawn(piece.edge(level.along)))
                yield (Wording(level.name, line, (piece.inward,), _LEVELS, at=0.3),)
            continue
        found = level_line(piece, level)
        if found is not None:
            yield tuple(
                Wording(level.name, _beginning(laid, ends), (0j,), _LEVELS, at=0.0)
                for ends in (found, found[::-1])
            )


def _beginning(laid: Laid, ends: Sequence[Point]) -> tuple[Point, Point]:
    start, end = _placed(laid, ends)
    share = min(1.0, _NAMED_WITHIN / abs(end - start))
    return start, start + share * (end - start)


def _drawn(edge: Edge) -> tuple[Point, ...]:
    return tuple(point for part in edge.parts for point in part.flattened())


def _stretch(edge: Edge, stretch: SewnStretch) -> tuple[Point, ...]:
    """Return what of an edge is sewn, straight across the mouths of its darts."""
    done, found = 0.0, list[Point]()
    for part in edge.parts:
        low, high = max(stretch.low - done, 0.0), min(stretch.high - done, part.length)
        if high - low > SAME_POINT:
            found += part.between(low, high).flattened()
        done += part.length
    return tuple(found)


def _placed(laid: Laid, points: Sequence[Point]) -> tuple[Point, ...]:
    return tuple(laid.motion(point) for point in points)
