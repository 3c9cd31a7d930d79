"""Where the name of a piece stands, with what its label says below it: clear of what is drawn."""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from functools import lru_cache
from itertools import chain

import numpy as np
import shapely
from shapely.geometry.base import BaseGeometry

from trueup.cli.drawing.piece.mark_lines import mark_lines
from trueup.cli.drawing.scene.layout import text_room, wrapped
from trueup.cli.drawing.scene.rectangle import Rectangle
from trueup.cli.wording.cutting import cut_words, note_of
from trueup.geometry.lines.points import Point, coordinates
from trueup.geometry.pieces.piece import Piece
from trueup.geometry.pleats.creases import creases_of

SMALL = 0.9
"""How large what a label says is written, in letters of the name."""

LINE = 1.0
"""From one line to the next, in letters of the name."""

_WIDEST = text_room("1 interfacing,", 1.0)
"""How much room a line of it takes, in letters of its own: no more than beside a grainline."""

_SHARES = (0.5, 0.4, 0.3, 0.2, 0.6, 0.7, 0.8)  # along the grainline, places for the name to try

_AT_ONCE = 64
"""So many places for the name are measured at once."""


def written_below(piece: Piece) -> list[str]:
    """Return what stands below the name of a piece: what its label says, if it has one."""
    if piece.label is None:
        return []
    texts = (*cut_words(piece).split(", "), note_of(piece))
    return [line for text in texts for line in wrapped(text, 1.0, _WIDEST)]


def name_place(piece: Piece, letters: float, others: Sequence[Piece] = ()) -> Point:
    """Return where the name starts: beside the grainline, or anywhere on the cloth without one.

    It keeps clear of the other lines, and of others' lines, and goes elsewhere on the cloth where
    there is no room for it beside the grainline.
    """
    return _name_place(piece, letters, tuple(others))


@lru_cache(maxsize=64)
def _name_place(piece: Piece, letters: float, others: tuple[Piece, ...]) -> Point:
    if piece.grainline is None:
        inside = piece.cloth.representative_point()
        return complex(inside.x, inside.y)
    start, end = piece.grainline.start, piece.grainline.end
    room = _name_room(piece, letters)
    options = [
        start + (end - start) * share + aside
        for share in _SHARES
        for aside in (letters / 2, -letters / 2 - room.wide)
    ]
    taken = shapely.GeometryCollection([p for each in (piece, *others) for p in _taken(each)])
    clear = (at for at in options if shapely.distance(room.box(at), taken) > letters / 5)
    elsewhere = (_clear_of_all(piece, room, taken, letters / tries) for tries in (1, 4))
    return next(chain(clear, *elsewhere), options[0])


def _clear_of_all(
    piece: Piece, room: "_NameRoom", taken: BaseGeometry, apart: float
) -> Iterator[Point]:
    """Yield places for the name on the cloth, clear of every line, nearest to the grainline first.

    They are tried so far `apart`, mm.
    """
    assert piece.grainline is not None
    grain = _string([piece.grainline.start, piece.grainline.end])
    left, top, right, bottom = piece.cloth.bounds
    across, down = np.arange(left, right, apart), np.arange(top + room.letters, bottom, apart)
    x, y = np.tile(across, down.size), np.repeat(down, across.size)
    rooms = shapely.box(x, y - room.letters, x + room.wide, y + room.below)
    lines = shapely.GeometryCollection([*shapely.get_parts(taken), grain])
    shapely.prepare(piece.cloth)
    nearest = np.argsort(shapely.distance(rooms, grain), kind="stable")
    # Mostly one of the nearest is free, and the others need not be measured.
    for some in (nearest[k : k + _AT_ONCE] for k in range(0, nearest.size, _AT_ONCE)):
        on_cloth = some[shapely.contains(piece.cloth, rooms[some])]
        free = on_cloth[shapely.distance(rooms[on_cloth], lines) > room.letters / 5]
        yield from (complex(x[index], y[index]) for index in free)


def named_box(piece: Piece, box: Rectangle, letters: float) -> Rectangle:
    """Return a box around a piece with the room of its name in it."""
    room, at = _name_room(piece, letters), name_place(piece, letters)
    return box.joined(
        Rectangle(at.real, at.imag - letters, at.real + room.wide, at.imag + room.below)
    )


def _taken(piece: Piece) -> Iterator[BaseGeometry]:
    """Yield the lines of a piece, and its darts as areas: no name is written into a dart."""
    yield _lines(piece)
    for edge in piece.edges:
        for mouth in edge.mouths:
            yield _string([mouth.first, mouth.tip, mouth.second]).convex_hull
    for dart in piece.inner_darts:
        yield _string([dart.upper, dart.right, dart.lower, dart.left]).convex_hull


def drawn_lines(piece: Piece, letters: float, others: Sequence[Piece] = ()) -> BaseGeometry:
    """Return the lines of a piece and the room of its name, for marks to keep clear of."""
    name = _name_room(piece, letters).box(name_place(piece, letters, others))
    found = [_lines(piece), name]
    if piece.grainline:
        found.append(_string([piece.grainline.start, piece.grainline.end]))
    return shapely.GeometryCollection(found)


def _lines(piece: Piece) -> BaseGeometry:
    runs: list[Sequence[Point]] = [(*piece.outline_points, piece.outline_points[0])]
    for edge in piece.edges:
        runs += [(mouth.first, mouth.tip, mouth.second) for mouth in edge.mouths]
    for dart in piece.inner_darts:
        runs.append((dart.upper, dart.right, dart.lower, dart.left, dart.upper))
    runs += [(crease.start, crease.end) for crease in creases_of(piece)]
    runs += [run for mark in piece.marks for run in mark_lines(piece, mark)]
    which = np.repeat(np.arange(len(runs)), [len(run) for run in runs])
    points = coordinates(chain.from_iterable(runs))
    return shapely.multilinestrings(shapely.linestrings(points, indices=which))


def _string(points: Sequence[Point]) -> BaseGeometry:
    return shapely.linestrings(coordinates(points))


@dataclass(frozen=True)
class _NameRoom:
    """How high and wide a name is, and how far down reaches what stands below it."""

    letters: float
    wide: float
    below: float

    def box(self, at: Point) -> BaseGeometry:
        """Return the room of the name that starts at a point."""
        return shapely.box(
            at.real, at.imag - self.letters, at.real + self.wide, at.imag + self.below
        )


def _name_room(piece: Piece, letters: float) -> _NameRoom:
    """Return the room of a name with what stands below it."""
    texts = written_below(piece)
    room = max(text_room(text, letters * SMALL) for text in texts) if texts else 0.0
    wide = max(text_room(piece.name, letters), room)
    return _NameRoom(letters, wide, len(texts) * LINE * letters)
