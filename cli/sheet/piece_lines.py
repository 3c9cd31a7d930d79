"""The lines of a piece in its place on the area. Lengths in mm, y down."""

from collections.abc import Collection, Iterator, Sequence
from enum import StrEnum
from functools import lru_cache

import shapely
from shapely.geometry import LineString

from trueup.cli.drawing.piece.mark_lines import mark_lines
from trueup.cli.drawing.piece.pleats import crease_runs
from trueup.cli.sheet.ink.drawn import InkPen, Stroke
from trueup.cli.sheet.ink.hatch import hatched
from trueup.cli.sheet.laying.layout import Laid
from trueup.cli.sheet.level_ticks import level_ticks
from trueup.cli.sheet.nested import in_size_pens
from trueup.geometry.cloth.cutting_line import cutting_line
from trueup.geometry.cloth.notched import mouth_on_cut
from trueup.geometry.cloth.turned_hem import turned
from trueup.geometry.lines.points import Point, unit
from trueup.geometry.pieces.dart import InnerDart, Mouth
from trueup.geometry.pieces.edge import Edge
from trueup.geometry.pieces.marks.mark import AtMouth, Purpose
from trueup.geometry.pieces.piece import Piece
from trueup.geometry.pleats.creases import CreaseKind, creases_of

NOTCH = 5.0
ARROW = 5.0
CROSS = 1.5
ON_FOLD = 0.05
"""A cut this near to a fold, mm, is the fold, and is not drawn as a cut."""
_BEYOND = 500.0
"""A fold is drawn on by this at both ends: no allowance is wider."""


_CREASES = {
    CreaseKind.FOLD: InkPen.PLEAT,
    CreaseKind.PLACEMENT: InkPen.LAID,
    CreaseKind.STITCHED: InkPen.STITCHED,
    CreaseKind.ARROW: InkPen.GRAIN,
}
MARK_PENS = {
    Purpose.NOTCH: InkPen.NOTCH,
    Purpose.PLACEMENT: InkPen.PLACED,
    Purpose.STITCH: InkPen.PLACED,
    Purpose.FOLD: InkPen.TURNED,
}
"""How marks are drawn; all others in InkPen.MARK."""

_SPARED = {InkPen.LEVEL, InkPen.TURNED_UP}
"""What helps where it is drawn; no page is printed for it."""


class Layer(StrEnum):
    """The lines that a maker may choose to have on paper."""

    SEAM = "seam"
    CUTTING = "cutting"
    CHANGES = "changes"


def piece_strokes(
    laid: Laid, layers: Collection[Layer], *, only_needed: bool = False
) -> Iterator[Stroke]:
    """Yield every line of a piece; those of darts, pleats, marks, fold and grain always.

    Those `only_needed` are all that is cut or sewn by, for which a page has to be printed: no
    levels, nor where a hem comes to lie.
    """
    if Layer.CHANGES in layers:
        yield from hatched(laid.changed, InkPen.CHANGED)
        for stroke in laid.lines.former:
            yield Stroke(stroke.points, InkPen.FORMER).moved(laid.motion)
    for each in laid.nested:
        strokes = lines_of(each.piece, layers, laid.hems, only_needed=only_needed)
        for stroke in in_size_pens(strokes, each.place, is_base=each.piece is laid.piece):
            yield stroke.moved(laid.motion)
    if laid.nested:
        return
    for stroke in lines_of(laid.piece, layers, laid.hems, only_needed=only_needed):
        yield stroke.moved(laid.motion)


def lines_of(
    piece: Piece,
    layers: Collection[Layer],
    hems: Collection[str] = (),
    *,
    only_needed: bool = False,
) -> tuple[Stroke, ...]:
    """Return the lines of a piece in its own frame; those asked for, and what goes with each.

    With a seam line that is one of the `hems` goes where its cut edge lies once it is turned up.
    """
    found = _lines(piece, frozenset(layers), frozenset(hems))
    return tuple(line for line in found if line.pen not in _SPARED) if only_needed else found


@lru_cache(maxsize=64)
def _lines(piece: Piece, layers: frozenset[Layer], hems: frozenset[str]) -> tuple[Stroke, ...]:
    return tuple(_drawn(piece, layers, hems))


def _drawn(piece: Piece, layers: Collection[Layer], hems: Collection[str]) -> Iterator[Stroke]:
    if Layer.CUTTING in layers:
        yield from _cutting(piece)
    for edge in piece.edges:
        if edge.name == piece.fold:
            yield from _fold(piece, edge, layers)
        elif Layer.SEAM in layers:
            pen = InkPen.TURNED if edge.name in hems else InkPen.SEAM
            yield from (Stroke(tuple(part.flattened()), pen) for part in edge.parts)
            if edge.name in hems:
                yield from (Stroke(run, InkPen.TURNED_UP) for run in turned(piece, edge.name))
        for mouth in edge.mouths:
            yield from _dart(mouth)
    for dart in piece.inner_darts:
        yield from _inner_dart(dart)
    for crease in creases_of(piece):
        pen = _CREASES[crease.what]
        yield from (Stroke(run, pen) for run in crease_runs(crease, ARROW))
    yield from _notches(piece, layers)
    yield from _marks(piece, layers)
    yield from (Stroke(ends, InkPen.LEVEL) for ends in level_ticks(piece))
    if piece.grainline:
        yield from _arrow_line(piece.grainline.start, piece.grainline.end, both=True)


def _cutting(piece: Piece) -> Iterator[Stroke]:
    """Yield the cutting line; where it runs along the fold, drawn on, nothing is cut."""
    line = LineString(cutting_line(piece).exterior.coords)
    if piece.fold:
        near = _drawn_on(piece.edge(piece.fold)).buffer(ON_FOLD, cap_style="flat")
        for part in shapely.get_parts(shapely.line_merge(line.intersection(near))):
            if part.length > 2 * ON_FOLD:
                yield _stroke(part, _fold_pen(piece))
        line = shapely.line_merge(line.difference(near))
    for part in shapely.get_parts(line):
        yield _stroke(part, InkPen.CUT)


def _fold_pen(piece: Piece) -> InkPen:
    """Return how a fold is drawn: where left and right differ the two halves are laid together."""
    return InkPen.MEETS if piece.worn else InkPen.FOLD


def _drawn_on(fold: Edge) -> LineString:
    """Return a fold drawn on at both ends, over the allowances of the edges it meets."""
    first, last = fold.parts[0], fold.parts[-1]
    points = [
        first.start - first.start_tangent * _BEYOND,
        *(p for part in fold.parts for p in part.flattened()),
        last.end + last.end_tangent * _BEYOND,
    ]
    return LineString([(p.real, p.imag) for p in points])


def _stroke(line: LineString, pen: InkPen) -> Stroke:
    return Stroke(tuple(complex(x, y) for x, y in line.coords), pen)


def _fold(piece: Piece, edge: Edge, layers: Collection[Layer]) -> Iterator[Stroke]:
    """Yield arrows from inside the piece that point at a fold, and its line unless that is cut."""
    if Layer.CUTTING not in layers:
        pen = _fold_pen(piece)
        yield from (Stroke(tuple(part.flattened()), pen) for part in edge.parts)
    for share in (0.2, 0.8):
        at, travel = edge.place_at(edge.length * share)
        inwards = travel * piece.inward
        yield from _arrow_line(at + inwards * 3 * ARROW, at, both=False)


def _dart(mouth: Mouth) -> Iterator[Stroke]:
    yield Stroke((mouth.first, mouth.tip, mouth.second), InkPen.DART)
    yield from _cross(mouth.tip)


def _inner_dart(dart: InnerDart) -> Iterator[Stroke]:
    ring = (dart.upper, dart.right, dart.lower, dart.left, dart.upper)
    yield Stroke(ring, InkPen.DART)
    for tip in (dart.upper, dart.lower):
        yield from _cross(tip)


def _cross(at: Point) -> Iterator[Stroke]:
    for arm in (CROSS + 0j, CROSS * 1j):
        yield Stroke((at - arm, at + arm), InkPen.NOTCH)


def _notches(piece: Piece, layers: Collection[Layer]) -> Iterator[Stroke]:
    """Yield notches: across the seam line, and in from the cut, at most half way to the seam."""
    for notch in piece.notches:
        edge = piece.edge(notch.edge)
        place, travel = edge.place_at(notch.at.along(edge))
        inwards = travel * piece.inward
        allowance = piece.allowance(notch.edge)
        if Layer.CUTTING in layers and allowance > 0:
            rim = place - inwards * allowance
            yield Stroke((rim, rim + inwards * min(NOTCH, allowance / 2)), InkPen.NOTCH)
            yield Stroke((place - travel * NOTCH / 2, place + travel * NOTCH / 2), InkPen.NOTCH)
        else:
            yield Stroke((place, place + inwards * NOTCH), InkPen.NOTCH)


def _marks(piece: Piece, layers: Collection[Layer]) -> Iterator[Stroke]:
    """Yield the marks inside; a notch at a dart's mouth in from the cut, as other notches."""
    for mark in piece.marks:
        pen = MARK_PENS.get(mark.purpose, InkPen.MARK)
        if isinstance(mark.place, AtMouth) and Layer.CUTTING in layers:
            rim, seam = mouth_on_cut(piece, mark.place)
            if rim != seam:
                yield Stroke((rim, rim + (seam - rim) / 2), InkPen.NOTCH)
                continue
        for run in mark_lines(piece, mark):
            yield Stroke(run, pen)


def _arrow_line(start: Point, end: Point, *, both: bool) -> Iterator[Stroke]:
    yield Stroke((start, end), InkPen.GRAIN)
    if start == end:
        return
    back = unit(start - end) * ARROW
    ends: Sequence[tuple[Point, Point]] = ((end, back), (start, -back))
    for tip, into in ends if both else ends[:1]:
        barbs = [tip + into * complex(1, side) for side in (0.35, -0.35)]
        yield Stroke((barbs[0], tip, barbs[1]), InkPen.GRAIN)
