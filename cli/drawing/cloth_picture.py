"""The cloth of a garment that is cut, and on it what is sewn, what is wanted, what can be done."""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass

import shapely
from shapely.geometry import Polygon
from shapely.geometry.base import BaseGeometry

from trueup.cli.drawing.apart import AROUND, PageScale
from trueup.cli.drawing.key import KEY_LINE, KeyEntry, Sample, key_items, key_width
from trueup.cli.drawing.paragraphs import LINE, lines_of_text
from trueup.cli.drawing.piece.naming import drawn_lines, name_place
from trueup.cli.drawing.piece.pieces import (
    dart_lines,
    edge_lines,
    piece_box,
    piece_items,
    runs_but_fold,
    runs_of,
)
from trueup.cli.drawing.scene.layout import in_a_row, text_room, wrapped
from trueup.cli.drawing.scene.placing import places
from trueup.cli.drawing.scene.rectangle import Rectangle
from trueup.cli.drawing.scene.scene import (
    BEFORE,
    CUT,
    FINE,
    Group,
    Hatch,
    HatchedArea,
    Item,
    Line,
    Mark,
    Run,
    Scene,
    Sign,
    Words,
)
from trueup.geometry.cloth.cloth_areas import ClothAreas
from trueup.geometry.cloth.cutting_line import cutting_line
from trueup.geometry.lines.chain import Chain
from trueup.geometry.lines.points import Motion, Point, coordinates
from trueup.geometry.pieces.piece import Piece
from trueup.geometry.tolerance import FLATTEN, UNCHANGED

_MARGIN = 15.0
_LEAST = 70  # letters of a text have room in one line
_SIGN = 0.75  # letters high is half a sign
_APART = 2.0  # letters between two columns of the list
_ROW = 1.9  # letters high is a line of the list, with its sign
_AROUND = 3.2  # letters of room around a piece, for its signs


@dataclass(frozen=True)
class PieceOfCloth:
    """The cloth of one piece, with the piece it was sewn by, and what is wanted of it now.

    Without `sewn` only the cloth is known; without `wanted` the piece is not wanted any more.
    """

    name: str
    cloth: Polygon
    sewn: Piece | None = None
    wanted: ClothAreas | None = None

    @property
    def lines(self) -> tuple[Piece, ...]:
        """Return the pieces that are drawn on the cloth."""
        wanted = (self.wanted.lying,) if self.wanted else ()
        return (*wanted, *((self.sewn,) if self.sewn else ()))


@dataclass(frozen=True)
class EdgeLine:
    """One line of the list: what can be done on an edge, in columns, and whether all can."""

    edge: str
    can: bool
    cells: tuple[str, ...]


@dataclass(frozen=True)
class ClothWords:
    """What is written with the picture.

    `sewn` and `wanted` say what the dashed and the solid lines are; `heads` stand over the columns
    of `edges`, which are numbered in their order; `notes` follow below.
    """

    title: str
    sewn: str
    wanted: str
    heads: tuple[str, ...] = ()
    edges: tuple[EdgeLine, ...] = ()
    notes: tuple[str, ...] = ()


def cloth_picture(pieces: Sequence[PieceOfCloth], told: ClothWords) -> Scene:
    """Return the picture of the cloth of a garment, its pieces side by side."""
    boxes = [_box(piece) for piece in pieces]
    across, down = sum(box.width for box in boxes), max((box.height for box in boxes), default=1.0)
    # A tall narrow piece makes no picture whose letters are lost beside it.
    pen = max(1.2 * across + 2 * _MARGIN, 1.4 * down, 250.0) / 1000
    size = 14 * pen
    keys = [key for key in _keys(pieces, told) if key]
    top = _MARGIN + (2 + KEY_LINE * len(keys) + _AROUND) * size
    row = in_a_row(boxes, _MARGIN + _AROUND * size, top, 2.2 * _AROUND * size)
    widths = _columns(told, size)
    room = max(
        row.right + _AROUND * size - _MARGIN,
        text_room("n" * _LEAST, size),
        text_room(told.title, 1.1 * size),
        3 * size + sum(widths),
        *(key_width(key, size) for key in keys),
    )
    items: list[Item] = [
        Words(told.title, complex(_MARGIN, _MARGIN + size), 1.1 * size, bold=True),
    ]
    for line, key in enumerate(keys):
        items.extend(key_items(key, complex(_MARGIN, _MARGIN + (3 + KEY_LINE * line) * size), size))
    for piece, motion in zip(pieces, row.motions, strict=True):
        items.append(Group(tuple(_piece(piece, told, size)), piece.name, motion))
    bottom = row.bottom + _AROUND * size
    if told.edges:
        table = tuple(_table(told, widths, size))
        items.append(Group(table, motion=Motion(shift=complex(_MARGIN, bottom + LINE * size))))
        bottom += (_ROW * len(told.edges) + LINE + 0.6) * size
    for note in told.notes:
        lines = wrapped(note, size, room)
        items.extend(lines_of_text(lines, complex(_MARGIN, bottom + LINE * size), size))
        bottom += LINE * size * len(lines)
    return Scene(room + 2 * _MARGIN, bottom + size + _MARGIN, told.title, tuple(items), pen)


@dataclass(frozen=True)
class ClothOnPage:
    """The cloth of a garment as pictures of a page, one a piece, and their key."""

    pieces: tuple[Scene, ...]
    key: tuple[KeyEntry, ...]


def cloth_on_page(pieces: Sequence[PieceOfCloth], told: ClothWords) -> ClothOnPage:
    """Return the same as pictures of a page; the numbered list is written beside them."""
    boxes = [_box(piece) for piece in pieces]
    scale = PageScale.of(boxes)
    scenes = tuple(
        scale.scene(
            piece.name,
            scale.named(piece.lines[0], box) if piece.lines else box,
            tuple(_piece(piece, told, scale.letters, AROUND)),
            told.title,
        )
        for piece, box in zip(pieces, boxes, strict=True)
    )
    return ClothOnPage(scenes, tuple(entry for row in _keys(pieces, told) for entry in row))


def _box(piece: PieceOfCloth) -> Rectangle:
    box = Rectangle(*piece.cloth.bounds)
    for each in piece.lines:
        box = box.joined(piece_box(each))
    if piece.wanted and not piece.wanted.lacking.is_empty:
        box = box.joined(Rectangle(*piece.wanted.lacking.bounds))
    return box


def _keys(pieces: Sequence[PieceOfCloth], told: ClothWords) -> Iterator[tuple[KeyEntry, ...]]:
    """Yield what the lines mean, then what the hatches and signs mean, of those there are."""
    lines = [KeyEntry(Sample.CLOTH, "the cloth as it was cut")]
    if any(piece.sewn and _sewn_otherwise(piece) for piece in pieces):
        lines.append(KeyEntry(Sample.BEFORE, told.sewn))
    if any(piece.wanted for piece in pieces):
        lines.append(KeyEntry(Sample.AFTER, told.wanted))
    yield tuple(lines)
    wanted = [piece.wanted for piece in pieces if piece.wanted]
    signs = []
    if any(not areas.cut_off.is_empty for areas in wanted):
        signs.append(KeyEntry(Sample.LOST, "to be cut off"))
    if any(not areas.lacking.is_empty for areas in wanted):
        signs.append(KeyEntry(Sample.GAINED, "cloth lacks"))
    numbered = list(enumerate(told.edges, start=1))
    for sample, can, text in (
        (Sample.DONE, True, "can be done"),
        (Sample.CONFLICT, False, "can in part, or not at all"),
    ):
        number = next((number for number, edge in numbered if edge.can is can), None)
        if number is not None:
            signs.append(KeyEntry(sample, text, number))
    yield tuple(signs)


def _piece(
    piece: PieceOfCloth, told: ClothWords, size: float, around: float = _AROUND
) -> Iterator[Item]:
    outline = piece.cloth.exterior
    runs = runs_but_fold(outline, piece.sewn) if piece.sewn else runs_of(outline)
    if piece.wanted:
        yield from _areas(piece.name, piece.wanted)
    yield Line(runs, FINE, f"{piece.name}.cloth")
    yield from _sewn_otherwise(piece)
    if piece.wanted:
        yield from piece_items(piece.wanted.lying, size, piece.lines[1:])
        yield from _marks(piece, piece.wanted, told, size, around)
    elif piece.sewn:
        yield Words(piece.name, name_place(piece.sewn, size), size)
    else:
        inside = piece.cloth.representative_point()
        yield Words(piece.name, complex(inside.x, inside.y), size)


def _areas(name: str, areas: ClothAreas) -> Iterator[Item]:
    """Yield the cloth that lacks, and that to be cut off up to the new cutting line."""
    if not areas.lacking.is_empty:
        yield HatchedArea(areas.lacking, Hatch.RISING, f"{name}.lacking")
    if not areas.cut_off.is_empty:
        yield HatchedArea(areas.cut_off, Hatch.FALLING, f"{name}.cut-off")
        new = cutting_line(areas.lying).exterior.intersection(areas.cut_off.buffer(2 * FLATTEN))
        yield Line(runs_of(shapely.line_merge(new)), CUT, f"{name}.cutting-line")


def _sewn_otherwise(piece: PieceOfCloth) -> list[Line]:
    """Return the lines it was sewn by, but those that lie where the wanted ones do."""
    if piece.sewn is None:
        return []
    now = _sewing_lines(piece.wanted.lying) if piece.wanted else ()
    there = shapely.union_all([_geometry(line.runs) for line in now]).buffer(2 * UNCHANGED)
    before = _sewing_lines(piece.sewn)
    return [line for line in before if not there.covers(_geometry(line.runs))]


def _sewing_lines(piece: Piece) -> Iterator[Line]:
    """Yield the seam lines and darts of a piece, dashed."""
    for edge in piece.edges:
        yield from edge_lines(piece, edge, BEFORE, ".before")
        yield from dart_lines(piece, edge, BEFORE, ".before")


def _geometry(runs: tuple[Run, ...]) -> BaseGeometry:
    return shapely.union_all(
        [
            shapely.LineString(coordinates(run.flattened() if isinstance(run, Chain) else run))
            for run in runs
        ]
    )


def _marks(
    piece: PieceOfCloth, areas: ClothAreas, told: ClothWords, size: float, around: float
) -> Iterator[Item]:
    radius = _SIGN * size
    found = [
        (number, edge.can, areas.places[edge.edge.partition(".")[2]])
        for number, edge in enumerate(told.edges, start=1)
        if edge.edge.partition(".")[0] == piece.name
    ]
    drawn = [piece.cloth.exterior, *(drawn_lines(each, size, piece.lines) for each in piece.lines)]
    lines = shapely.union_all([*drawn, areas.lacking])
    room = shapely.box(*lines.bounds).buffer(around * size)
    stands = places([place for *_, place in found], 1.5 * radius, lines, room)
    for (number, can, place), at in zip(found, stands, strict=True):
        sign = Sign.DISC if can else Sign.WARNING
        yield Mark(number, at, radius, place, sign, f"mark.{number}")


def _columns(told: ClothWords, size: float) -> list[float]:
    """Return how wide each column of the list is."""
    rows = [told.heads, *(edge.cells for edge in told.edges)]
    return [
        max(text_room(text, size) for text in column) + _APART * size
        for column in zip(*rows, strict=True)
    ]


def _table(told: ClothWords, widths: Sequence[float], size: float) -> Iterator[Item]:
    """Yield the numbered list, the first line of it on the line through nought."""
    yield from _cells(told.heads, widths, 0j, size, is_bold=True)
    for number, edge in enumerate(told.edges, start=1):
        at = _ROW * number * size * 1j
        sign = Sign.DISC if edge.can else Sign.WARNING
        yield Mark(number, at + complex(1.0, -0.35) * size, 0.6 * size, sign=sign)
        yield from _cells(edge.cells, widths, at, size)


def _cells(
    texts: Sequence[str],
    widths: Sequence[float],
    at: Point,
    size: float,
    *,
    is_bold: bool = False,
) -> Iterator[Item]:
    across = 3.0 * size
    for text, width in zip(texts, widths, strict=True):
        if text:
            yield Words(text, at + across, size, bold=is_bold)
        across += width
