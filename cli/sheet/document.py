"""A sheet from its pattern to the bytes of its PDF."""

from collections.abc import Collection, Sequence
from dataclasses import dataclass

from trueup.cli.drawing.scene.rectangle import Rectangle
from trueup.cli.sheet.cover import WIDTH, cover_blocks
from trueup.cli.sheet.facts import Facts
from trueup.cli.sheet.ink.blocks import Column, flowed
from trueup.cli.sheet.ink.canvas import Pages
from trueup.cli.sheet.ink.drawn import Drawing, InkPen, InkWords, Stroke, rectangle
from trueup.cli.sheet.ink.letters import width_of
from trueup.cli.sheet.label import label, label_lines
from trueup.cli.sheet.laying.layout import Layout, ToPrint, lay_out
from trueup.cli.sheet.laying.paper import FOOTER, MARGIN, Paper
from trueup.cli.sheet.laying.sheets import Moved, Sheets
from trueup.cli.sheet.laying.tiles import OVERLAP, MatchingCross, Tile, marks_between
from trueup.cli.sheet.nested import SizeLine, size_names
from trueup.cli.sheet.piece_lines import Layer, piece_strokes
from trueup.geometry.lines.points import Motion

_COLUMN = 420.0
"""Columns of the cover beside the pieces are at most this high, mm."""
_ARM = 3.0
_FOOTER_LETTERS = 3.0


@dataclass(frozen=True)
class Sheet:
    """What is to be printed."""

    facts: Facts
    pieces: tuple[ToPrint, ...]
    paper: Paper
    layers: tuple[Layer, ...]
    moved: Moved | None = None
    sizes: tuple[SizeLine, ...] = ()


@dataclass(frozen=True)
class Page:
    """One page: its paper, what is drawn on it, from the corner of its margin, and its name."""

    width: float
    height: float
    drawing: Drawing
    name: str


@dataclass(frozen=True)
class Composed:
    """The pages of a sheet, and the layout that its pieces have on them."""

    pages: tuple[Page, ...]
    layout: Layout


def composed(sheet: Sheet) -> Composed:
    """Return the pages of a sheet; raises Misused for a paper that is too small."""
    if sheet.paper.is_tiled:
        return _over_pages(sheet)
    columns = _cover(sheet, None, min(_COLUMN, sheet.paper.drawn_height))
    windows = [Rectangle(0.0, 0.0, WIDTH, column.height) for column in columns]
    layout = lay_out(sheet.pieces, sheet.paper, windows)
    area = on_area(layout, sheet.facts, sheet.layers)
    for column, place in zip(columns, layout.columns, strict=True):
        area += column.drawing.moved(Motion(shift=place))
    several = len(layout.tiles) > 1
    pages = [
        Page(
            layout.paper.width,
            layout.paper.height or 0.0,
            _seen(area, tile),
            ", ".join(layout.shown_on(tile)) if several else "",
        )
        for tile in layout.tiles
    ]
    return Composed(tuple(pages), layout)


def written(facts: Facts, pages: Sequence[Page]) -> bytes:
    """Return pages as a PDF; the same pages give the same bytes."""
    pdf = Pages(facts.title, str(facts.version), facts.version.date)
    for number, page in enumerate(pages, start=1):
        pdf.start(page.width, page.height)
        drawn = page.drawing.moved(Motion(shift=complex(MARGIN, MARGIN)))
        drawn += _footer(facts, page, f"page {number} of {len(pages)}")
        for stroke in drawn.strokes:
            pdf.line(stroke.points, stroke.pen)
        for words in drawn.words:
            pdf.words(words)
        pdf.end()
    return pdf.content()


def _over_pages(sheet: Sheet) -> Composed:
    layout = lay_out(sheet.pieces, sheet.paper)
    paper, height = sheet.paper, sheet.paper.drawn_height
    # The cover names pages, so it is flowed once to learn how many pages it takes itself.
    pages = len(_cover(sheet, Sheets(layout, 2), height))
    columns = _cover(sheet, Sheets(layout, pages + 1), height)
    area = on_area(layout, sheet.facts, sheet.layers)
    marks = marks_between(layout.tiles)
    covers = [Page(paper.width, paper.height or 0.0, each.drawing, "cover") for each in columns]
    sheets = [
        Page(
            paper.width,
            paper.height or 0.0,
            _seen(area, tile) + _borders(tile, layout) + _marks(marks, tile),
            f"row {tile.row}, column {tile.column}: {', '.join(layout.shown_on(tile))}",
        )
        for tile in layout.tiles
    ]
    return Composed((*covers, *sheets), layout)


def _cover(sheet: Sheet, sheets: Sheets | None, height: float) -> list[Column]:
    pieces = [each.piece for each in sheet.pieces]
    blocks = cover_blocks(sheet.facts, pieces, sheet.layers, sheet.moved, sheets, sheet.sizes)
    return flowed(blocks, height)


def on_area(layout: Layout, facts: Facts, layers: Collection[Layer]) -> Drawing:
    """Return every piece with its label, in its place on the area."""
    drawing = Drawing()
    count = len(layout.pieces)
    for number, laid in enumerate(layout.pieces, start=1):
        lines = label_lines(laid, facts, number, count)
        drawing += Drawing(tuple(piece_strokes(laid, layers)))
        drawing += label(laid, lines, layout.tiles) + size_names(laid, layout.tiles)
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


def _borders(tile: Tile, layout: Layout) -> Drawing:
    """Return the frame of a sheet, and how far each neighbour's frame reaches into it."""
    width, height = tile.window.width, tile.window.height
    strokes = [rectangle(0.0, 0.0, width, height, InkPen.FRAME)]
    there = {(each.row, each.column) for each in layout.tiles}
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


def _footer(facts: Facts, page: Page, number: str) -> Drawing:
    """Return the strip below the pattern: what the page belongs to, and what is open about it."""
    width, top = page.width - 2 * MARGIN, page.height - MARGIN - FOOTER
    said = [facts.node, f"block {facts.block}", f"version {facts.version}", number]
    said += [page.name] if page.name else []
    lines = ["  |  ".join(said), *([facts.warning] if facts.warning else [])]
    words = []
    for n, line in enumerate(lines):
        bold = n > 0
        size = _FOOTER_LETTERS * min(1.0, width / width_of(line, _FOOTER_LETTERS, bold))
        words.append(InkWords(line, complex(MARGIN, top + 3.8 + 4.2 * n), size, bold))
    return Drawing((), tuple(words))
