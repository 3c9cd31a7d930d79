"""A sheet from its pattern to the bytes of its PDF."""

from collections.abc import Collection, Iterator, Sequence
from dataclasses import dataclass, replace

from trueup.cli.drawing.scene.rectangle import Rectangle
from trueup.cli.sheet.cover import WIDTH, cover_blocks
from trueup.cli.sheet.covering import Covered, column_width, covered_with
from trueup.cli.sheet.facts import Facts
from trueup.cli.sheet.footer import footer
from trueup.cli.sheet.ink.blocks import NOTHING, Block, flowed
from trueup.cli.sheet.ink.canvas import Pages
from trueup.cli.sheet.ink.drawn import Drawing, InkPen, InkWords, Stroke, rectangle
from trueup.cli.sheet.laying.drawn_on import drawn_on
from trueup.cli.sheet.laying.layout import Layout, ToPrint, lay_out
from trueup.cli.sheet.laying.paper import MARGIN, Paper
from trueup.cli.sheet.laying.sheets import Moved, Sheets
from trueup.cli.sheet.laying.tiles import OVERLAP, MatchingCross, Tile, marks_between
from trueup.cli.sheet.naming.label import label, label_lines
from trueup.cli.sheet.naming.named_lines import named
from trueup.cli.sheet.naming.seam_letters import LetteredSeam, by_piece
from trueup.cli.sheet.nested import SizeLine, size_names
from trueup.cli.sheet.piece_lines import Layer, piece_strokes
from trueup.geometry.lines.points import Motion

_COLUMN = 420.0
"""Columns of the cover beside the pieces are at most this high, mm."""
_ARM = 3.0


@dataclass(frozen=True)
class Sheet:
    """What is to be printed."""

    facts: Facts
    pieces: tuple[ToPrint, ...]
    paper: Paper
    layers: tuple[Layer, ...]
    moved: Moved | None = None
    sizes: tuple[SizeLine, ...] = ()
    seams: tuple[LetteredSeam, ...] = ()


@dataclass(frozen=True)
class Page:
    """One page: its paper, what is drawn on it, from the corner of its margin, and its name.

    Its `number` counts all pages of the sheet; `place` says by column and row where it lies.
    """

    width: float
    height: float
    drawing: Drawing
    name: str
    number: int = 1
    place: str = ""


@dataclass(frozen=True)
class Composed:
    """The pages of a sheet, and the layout that its pieces have on them."""

    pages: tuple[Page, ...]
    layout: Layout


def composed(sheet: Sheet) -> Composed:
    """Return the pages of a sheet; raises Misused for a paper that is too small."""
    if sheet.paper.is_tiled:
        return _over_pages(sheet, covered_sheet(sheet))
    columns = flowed(_cover(sheet, None, WIDTH), min(_COLUMN, sheet.paper.drawn_height))
    windows = [Rectangle(0.0, 0.0, WIDTH, column.height) for column in columns]
    layout = lay_out(sheet.pieces, sheet.paper, windows)
    area = on_area(layout, sheet.facts, sheet.layers, sheet.seams) + _in_place(columns, layout)
    several = len(layout.tiles) > 1
    pages = [
        Page(
            layout.paper.width,
            layout.paper.height or 0.0,
            _seen(area, tile),
            ", ".join(layout.shown_on(tile)) if several else "",
            number,
        )
        for number, tile in enumerate(layout.tiles, start=1)
    ]
    return Composed(tuple(pages), layout)


def covered_sheet(sheet: Sheet) -> Covered:
    """Return where the pieces and the cover of a sheet lie on pages; pages without a line are out.

    Raises Misused for a paper that is too small.
    """
    width = column_width(sheet.paper)
    plain = replace(sheet, facts=replace(sheet.facts, conflicts=()), moved=None)
    found = covered_with(
        sheet.pieces,
        sheet.paper,
        lambda sheets: _cover(sheet, sheets, width),
        lambda sheets: _cover(plain, sheets, width, is_draft=True),
    )
    kept = tuple(_with_lines(found, sheet.layers))
    if kept == found.layout.tiles:
        return found
    layout = replace(found.layout, tiles=kept)
    sheets = Sheets(layout, found.first_page)
    height = max(column.height for column in found.columns)
    columns = flowed(_cover(sheet, sheets, width), height)
    return Covered(layout, tuple(columns), found.apart)


def _with_lines(found: Covered, layers: Collection[Layer]) -> Iterator[Tile]:
    """Yield the pages on which a line of a piece is, or the cover: none from within a piece."""
    layout = found.layout
    lines = [
        stroke for laid in layout.pieces for stroke in piece_strokes(laid, layers, only_needed=True)
    ]
    covers = () if found.apart else layout.columns
    shown = {*drawn_on(layout.tiles, lines)}
    for tile in layout.tiles:
        if tile in shown or any(tile.window.holds((place + OVERLAP * 1j,)) for place in covers):
            yield tile


def _over_pages(sheet: Sheet, found: Covered) -> Composed:
    """Return the pages of a sheet that is spread over several, pieces and cover in their places."""
    layout, paper = found.layout, sheet.paper
    if not found.apart:
        among = _in_place(found.columns, layout)
        return Composed(pages_of(sheet, layout, found.first_page, among), layout)
    covers = (
        Page(paper.width, paper.height or 0.0, each.drawing, "cover", number)
        for number, each in enumerate(found.columns, start=1)
    )
    return Composed((*covers, *pages_of(sheet, layout, found.first_page)), layout)


def pages_of(
    sheet: Sheet, layout: Layout, first_page: int, among: Drawing = NOTHING
) -> tuple[Page, ...]:
    """Return the pages that show the pieces in their places, and what is drawn among them."""
    paper, tiles = sheet.paper, (*layout.tiles, *layout.added)
    area = on_area(layout, sheet.facts, sheet.layers, sheet.seams) + among
    marks = marks_between(layout.tiles, layout.added)
    return tuple(
        Page(
            paper.width,
            paper.height or 0.0,
            _seen(area, tile) + _borders(tile, tiles) + _marks(marks, tile),
            f"row {tile.row}, column {tile.column}: {', '.join(layout.shown_on(tile))}",
            number,
            tile.place,
        )
        for number, tile in enumerate(tiles, start=first_page)
    )


def _in_place(columns: Sequence[Block], layout: Layout) -> Drawing:
    drawn = Drawing()
    for column, place in zip(columns, layout.columns, strict=False):
        drawn += column.drawing.moved(Motion(shift=place))
    return drawn


def written(facts: Facts, pages: Sequence[Page], of: int | None = None) -> bytes:
    """Return pages as a PDF: all there are, or without the cover some `of` so many.

    The same pages give the same bytes.
    """
    pdf = Pages(facts.title, str(facts.version), facts.version.date)
    for page in pages:
        pdf.start(page.width, page.height)
        drawn = page.drawing.moved(Motion(shift=complex(MARGIN, MARGIN)))
        number = f"page {page.number} of {of or len(pages)}"
        said = (f"{number}, {page.place}" if page.place else number, page.name)
        drawn += footer(facts, page.width, page.height, said, has_cover=of is None)
        for stroke in drawn.strokes:
            pdf.line(stroke.points, stroke.pen)
        for words in drawn.words:
            pdf.words(words)
        pdf.end()
    return pdf.content()


def _cover(
    sheet: Sheet, sheets: Sheets | None, width: float, *, is_draft: bool = False
) -> list[Block]:
    pieces = [each.piece for each in sheet.pieces]
    of = (sheet.facts, pieces, sheet.layers, sheet.moved, sheets, sheet.sizes, width)
    hems = any(each.hems for each in sheet.pieces)
    return list(cover_blocks(*of, seams=sheet.seams, has_hems=hems, is_draft=is_draft))


def on_area(
    layout: Layout,
    facts: Facts,
    layers: Collection[Layer],
    seams: Sequence[LetteredSeam] = (),
) -> Drawing:
    """Return every piece with the names of its lines and its label, in its place on the area."""
    drawing = Drawing()
    count, tiles = len(layout.pieces), (*layout.tiles, *layout.added)
    letters = by_piece(seams)
    for number, laid in enumerate(layout.pieces, start=1):
        strokes = tuple(piece_strokes(laid, layers))
        sizes = size_names(laid, tiles)
        of = letters.get(laid.piece.name, ())
        names, room = named(laid, strokes, tiles, of, facts.unit, sizes.words)
        lines = label_lines(laid, facts, number, count)
        drawing += Drawing(strokes) + sizes + names + label(laid, lines, room)
    return drawing


def _seen(area: Drawing, tile: Tile) -> Drawing:
    """Return what a sheet shows: lines cut off at its sides, words that stand on it whole."""
    window = tile.window
    strokes = tuple(
        Stroke(part, stroke.pen)
        for stroke in area.strokes
        for part in window.cut_off(stroke.points)
    )
    words = tuple(words for words in area.words if window.holds(words.corners))
    return Drawing(strokes, words).moved(Motion(shift=-complex(window.left, window.top)))


def _borders(tile: Tile, tiles: Sequence[Tile]) -> Drawing:
    """Return the frame of a sheet, and how far each neighbour's frame reaches into it."""
    width, height = tile.window.width, tile.window.height
    strokes = [rectangle(0.0, 0.0, width, height, InkPen.FRAME)]
    there = {(each.row, each.column) for each in tiles}
    for (row, column), (start, end) in {
        (0, -1): (complex(OVERLAP, 0), complex(OVERLAP, height)),
        (0, 1): (complex(width - OVERLAP, 0), complex(width - OVERLAP, height)),
        (-1, 0): (complex(0, OVERLAP), complex(width, OVERLAP)),
        (1, 0): (complex(0, height - OVERLAP), complex(width, height - OVERLAP)),
    }.items():
        if (tile.row + row, tile.column + column) in there:
            strokes.append(Stroke((start, end), InkPen.BORDER))
    return Drawing(tuple(strokes))


def _marks(marks: Sequence[MatchingCross], tile: Tile) -> Drawing:
    shift = -complex(tile.window.left, tile.window.top)
    strokes: list[Stroke] = []
    words: list[InkWords] = []
    for mark in marks:
        arms = (_ARM + 0j, _ARM * 1j)
        if not tile.window.holds([mark.at + sign * arm for arm in arms for sign in (1, -1)]):
            continue
        at = mark.at + shift
        strokes += [Stroke((at - arm, at + arm), InkPen.MATCH) for arm in arms]
        words.append(InkWords(str(mark.number), at + complex(0.6, -0.8), 2.4))
    return Drawing(tuple(strokes), tuple(words))
