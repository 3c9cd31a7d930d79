"""The words on pieces as another library (pdfium) finds them, beside all lines that are drawn."""

import datetime
from dataclasses import dataclass
from functools import cached_property

import shapely
from shapely.affinity import translate

from tests.cli.sheet.page_words import PageWords, words_of
from tests.cli.sheet.pdf import ReadPage, read
from trueup.cli.sheet.document import Composed, Sheet, composed, written
from trueup.cli.sheet.facts import Facts, PrintedVersion
from trueup.cli.sheet.ink.drawn import InkPen
from trueup.cli.sheet.laying.layout import Laid, to_print
from trueup.cli.sheet.laying.paper import FOOTER, MARGIN, Paper
from trueup.cli.sheet.naming.seam_letters import lettered
from trueup.cli.sheet.piece_lines import Layer
from trueup.geometry.pieces.draft import Draft
from trueup.geometry.pieces.edge import Edge
from trueup.geometry.pleats.laid_open import as_cut
from trueup.geometry.units import Unit

NEVER_MET = (InkPen.CHANGED, InkPen.FRAME, InkPen.BORDER)
"""Pens of what is no line of a piece: a hatch, and the frames of pages."""


@dataclass(frozen=True)
class SeenPage:
    """A page: what another library reads of it, and where on the area it lies."""

    lines: ReadPage
    words: list[PageWords]
    shift: complex

    def on_area(self, shape: shapely.Geometry) -> shapely.Geometry:
        return translate(shape, self.shift.real, self.shift.imag)


@dataclass(frozen=True)
class Seen:
    """A sheet in one file, and the layout that its pieces have."""

    content: bytes
    found: Composed

    @cached_property
    def pages(self) -> list[SeenPage]:
        tiles = (*self.found.layout.tiles, *self.found.layout.added)
        apart = len(self.found.pages) - len(tiles)
        corners = [complex(t.window.left - MARGIN, t.window.top - MARGIN) for t in tiles]
        pages = zip(read(self.content)[apart:], words_of(self.content)[apart:], strict=True)
        return [SeenPage(*page, at) for page, at in zip(pages, corners, strict=True)]

    def on(self, laid: Laid) -> list[tuple[SeenPage, PageWords, shapely.Polygon]]:
        """Return the words that stand within the cut of a piece, with their room on the area.

        The strip below the pattern and the numbers of the crosses are of the page.
        """
        rooms = (
            (page, words, page.on_area(words.room))
            for page in self.pages
            for words in page.words
            if words.room.bounds[3] < page.lines.height - MARGIN - FOOTER
            and not words.text.strip().isdigit()
        )
        return [each for each in rooms if laid.cut.contains(each[2].centroid)]


def seen(draft: Draft, paper: Paper, *layers: Layer) -> Seen:
    """Return a draft on paper, read back."""
    version = PrintedVersion("1234567890abcdef", datetime.date(2025, 3, 31))
    facts = Facts("garment", "pattern", "village", version, Unit.CENTIMETRE, {})
    lines = layers or (Layer.SEAM, Layer.CUTTING)
    sheet = Sheet(facts, to_print(draft), paper, lines, seams=lettered(as_cut(draft)))
    found = composed(sheet)
    return Seen(written(facts, found.pages), found)


def edge_on_area(laid: Laid, edge: Edge) -> shapely.Geometry:
    """Return an edge as it lies on the area, its darts left out."""
    parts = [[laid.motion(p) for p in part.flattened()] for part in edge.parts]
    return shapely.MultiLineString([[(p.real, p.imag) for p in part] for part in parts])


def met(page: SeenPage, room: shapely.Polygon) -> list[str]:
    """Return what a room on a page overlaps: lines and other words, but for the frames of pages."""
    found = [
        f"a line of {line.width:.2f} mm"
        for line in page.lines.lines
        if not any(line.is_in(pen) for pen in NEVER_MET) and line.line.intersects(room)
    ]
    others = [each for each in page.words if each.room.intersects(room) and each.room is not room]
    return found + [f"the words {each.text}" for each in others]
