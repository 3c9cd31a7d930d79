"""A draft as DXF: one block a piece, each kind of line on the layer ASTM D6673 gives it, in mm.

The boundary is the cutting line of a piece that has allowances, otherwise its seam line; darts are
not cut out of it. Curves are polylines that nowhere stray from them by more than STRAY. In DXF y
goes up, so a piece lies as it does on the page.
The layers are those of ASTM D6673 (their numbers from memory); the labels of the texts are common
practice, no source. Only entities that DXF had from early on are used, written as release 2000, the
first that states its unit, for the standard's own (release 13) does not. A record of its own says
what no line can, so that the file can be traced to the same draft.
"""

import io
from collections.abc import Iterator, Sequence
from enum import StrEnum
from itertools import pairwise

from ezdxf.document import Drawing
from ezdxf.enums import InsertUnits
from ezdxf.filemanagement import new
from ezdxf.graphicsfactory import CreatorInterface
from ezdxf.layouts.blocklayout import BlockLayout
from shapely.geometry import LineString
from shapely.geometry import Point as Place

from trueup.cli.wording.cutting import cut_words, note_of
from trueup.geometry.cloth.cutting_line import cutting_edges, cutting_line
from trueup.geometry.cloth.dart_peak import cut_across
from trueup.geometry.cloth.notched import mouth_on_cut
from trueup.geometry.lines.points import Point, degrees_between
from trueup.geometry.marking.places import runs_of
from trueup.geometry.pieces.draft import Draft
from trueup.geometry.pieces.edge import Edge
from trueup.geometry.pieces.marks.mark import AtMouth
from trueup.geometry.pieces.piece import Piece
from trueup.geometry.pleats.creases import creases_of
from trueup.geometry.pleats.laid_open import as_cut
from trueup.geometry.tolerance import SAME_POINT
from trueup.lineage.drawings.shapes.dxf.description import describe
from trueup.lineage.drawings.tracing.drawing import description_of

STRAY = 0.005
"""No polyline strays farther from its curve, mm: its length then is true to a few hundredths."""

TURNS_BY = 20.0
"""A line that turns by more degrees in one point has a turn point there, others curve points."""

GAP = 50.0
LETTERS = 8.0


class DxfLayer(StrEnum):
    """The layers of ASTM D6673 that a pattern uses."""

    BOUNDARY = "1"
    TURN_POINTS = "2"
    CURVE_POINTS = "3"
    NOTCHES = "4"
    MIRROR = "6"
    GRAIN = "7"
    INTERNAL = "8"
    DRILL_HOLES = "13"
    SEW = "14"
    TEXT = "15"


def draft_dxf(draft: Draft, title: str) -> bytes:
    """Return a draft as the content of a DXF file; its blocks are named as its pieces."""
    document = new("R2000", units=InsertUnits.Millimeters)
    for layer in DxfLayer:
        document.layers.add(layer.value)
    page = document.modelspace()
    right = 0.0
    for piece in as_cut(draft).pieces:
        left, _, far, bottom = cutting_line(piece).bounds
        _draw_piece(document.blocks.new(_plain(piece.name)), piece, title)
        page.add_blockref(
            _plain(piece.name),
            (right - left, bottom),
            dxfattribs={"layer": DxfLayer.BOUNDARY.value},
        )
        right += far - left + GAP
    for line, text in enumerate((f"Style Name: {title}", "Units: METRIC")):
        _write(page, text, complex(0, (line + 2) * 1.5 * LETTERS))
    describe(document, description_of(draft))
    return _content(document)


def _content(document: Drawing) -> bytes:
    text = io.StringIO(newline="")
    document.write(text)
    return document.encode(text.getvalue())


def _draw_piece(block: BlockLayout, piece: Piece, title: str) -> None:
    ring = _boundary(piece)
    _line(block, DxfLayer.BOUNDARY, ring, closed=True)
    turns = _turn_points(piece, ring)
    for point in ring:
        _point(block, DxfLayer.TURN_POINTS if point in turns else DxfLayer.CURVE_POINTS, point)
    for notch in piece.notches:
        edge = piece.edge(notch.edge)
        _point(
            block, DxfLayer.NOTCHES, _at_the_cut(piece, edge, edge.point_at(notch.at.along(edge)))
        )
    if piece.fold and not piece.worn:
        fold = cutting_edges(piece)[piece.fold]
        _line(block, DxfLayer.MIRROR, (fold[0], fold[-1]))
    if piece.grainline:
        _line(block, DxfLayer.GRAIN, (piece.grainline.start, piece.grainline.end))
    for points, is_closed in _darts(piece):
        _line(block, DxfLayer.INTERNAL, points, closed=is_closed)
    for crease in creases_of(piece):
        _line(block, DxfLayer.INTERNAL, (crease.start, crease.end))
    _draw_marks(block, piece)
    for line in _sew_lines(piece):
        _line(block, DxfLayer.SEW, line)
    inside = piece.cloth.representative_point()
    place = complex(inside.x, inside.y)
    texts = [f"Piece Name: {piece.name}", f"Annotation: {title}"]
    if piece.label:
        texts += [f"Annotation: {text}" for text in (cut_words(piece), note_of(piece)) if text]
    for number, text in enumerate(texts):
        _write(block, text, place + complex(0, number * 1.5 * LETTERS))


def _draw_marks(block: BlockLayout, piece: Piece) -> None:
    """Draw the marks inside: points as drill holes, lines, and notches at the mouths of darts."""
    for mark in piece.marks:
        if isinstance(mark.place, AtMouth):
            _point(block, DxfLayer.NOTCHES, mouth_on_cut(piece, mark.place)[0])
            continue
        for run in runs_of(piece, mark):
            if len(run) > 1:
                _line(block, DxfLayer.INTERNAL, run)
            else:
                _point(block, DxfLayer.DRILL_HOLES, run[0])


def _boundary(piece: Piece) -> list[Point]:
    """Return the ring of the line to cut, its last point not its first again."""
    if _is_cut_wider(piece):
        return [complex(x, y) for x, y in cutting_line(piece).exterior.coords[:-1]]
    ring = [point for edge in piece.edges for point in _bridged(piece, edge)[1:]]
    return [point for before, point in pairwise((ring[-1], *ring)) if point != before]


def _is_cut_wider(piece: Piece) -> bool:
    return any(piece.allowance(name) > 0 for name in piece.edge_names)


def _bridged(piece: Piece, edge: Edge) -> list[Point]:
    """Return the seam line of an edge, led over its dart mouths as it is cut."""
    points = edge.parts[0].flattened(STRAY)
    for peak, part in zip(cut_across(piece, edge), edge.parts[1:], strict=True):
        points += [*peak, *part.flattened(STRAY)]
    return points


def _turn_points(piece: Piece, ring: list[Point]) -> frozenset[Point]:
    """Return the points of a ring that are corners of the piece, or where the line turns."""
    corners = [end for line in cutting_edges(piece).values() for end in (line[0], line[-1])]
    return frozenset(
        point
        for before, point, after in zip((ring[-1], *ring), ring, (*ring[1:], ring[0]), strict=False)
        if degrees_between(point - before, after - point) > TURNS_BY
        or any(abs(point - corner) < SAME_POINT for corner in corners)
    )


def _at_the_cut(piece: Piece, edge: Edge, seam_point: Point) -> Point:
    """Return the place on the boundary nearest to a point of an edge's seam line."""
    if piece.allowance(edge.name) == 0:
        return seam_point
    cut = LineString([(p.real, p.imag) for p in cutting_edges(piece)[edge.name]])
    found = cut.interpolate(cut.project(Place(seam_point.real, seam_point.imag)))
    return complex(found.x, found.y)


def _darts(piece: Piece) -> Iterator[tuple[tuple[Point, ...], bool]]:
    """Yield the sewing line of each dart, and whether it goes all round."""
    for edge in piece.edges:
        for mouth in edge.mouths:
            yield (mouth.first, mouth.tip, mouth.second), False
    for dart in piece.inner_darts:
        yield (dart.upper, dart.right, dart.lower, dart.left), True


def _sew_lines(piece: Piece) -> Iterator[list[Point]]:
    """Yield the seam lines of a piece that is cut wider, each edge by itself, from dart to dart."""
    if _is_cut_wider(piece):
        for edge in piece.edges:
            if edge.name != piece.fold:
                yield from (part.flattened(STRAY) for part in edge.parts)


def _line(
    block: BlockLayout, layer: DxfLayer, points: Sequence[Point], *, closed: bool = False
) -> None:
    drawn, attributes = [_up(point) for point in points], {"layer": layer.value}
    if len(drawn) == 2:
        block.add_line(drawn[0], drawn[1], dxfattribs=attributes)
    else:
        block.add_polyline2d(drawn, close=closed, dxfattribs=attributes)


def _point(block: BlockLayout, layer: DxfLayer, point: Point) -> None:
    block.add_point(_up(point), dxfattribs={"layer": layer.value})


def _write(layout: CreatorInterface, text: str, place: Point) -> None:
    written = layout.add_text(
        _plain(text), height=LETTERS, dxfattribs={"layer": DxfLayer.TEXT.value}
    )
    written.set_placement(_up(place))


def _up(point: Point) -> tuple[float, float]:
    return point.real + 0.0, 0.0 - point.imag


def _plain(text: str) -> str:
    """Return a text with what would end or garble a line of DXF replaced."""
    return "".join(letter if letter.isprintable() else "?" for letter in text)
