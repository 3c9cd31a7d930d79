"""The frame for photographs on paper: strips of markers at true scale, to be cut apart. In mm."""

import datetime
from collections.abc import Iterator
from dataclasses import dataclass

import shapely
from shapely.geometry import Polygon, box

from trueup.cli.failures import Misused
from trueup.cli.sheet.ink.blocks import LETTERS, LINE, paragraph, together
from trueup.cli.sheet.ink.canvas import Pages
from trueup.cli.sheet.ink.drawn import (
    Drawing,
    Filled,
    InkPen,
    InkWords,
    Stroke,
    centred,
    rectangle,
)
from trueup.cli.sheet.laying.paper import FOOTER, MARGIN, Paper, paper_named
from trueup.geometry.lines.points import Motion
from trueup.geometry.units import Unit
from trueup.lineage.drawings.photographs.frame.dictionary import cells
from trueup.lineage.drawings.photographs.frame.strips import (
    HEIGHT,
    LENGTH,
    REACH,
    SIDE,
    STRIPS,
    markers_of,
)

PER_PAGE = 4
"""Strips on one page: so many lie below each other on A4 and on Letter turned on its side."""

RULE = 50.0
_BARB = 1.5
_TITLE = 5.0
_NUMBER = 4.0

_PAPERS = ("a4", "letter")
_VERSION = "1"
_DATE = datetime.date(2025, 11, 30)
"""Of this layout of the frame; a sheet's own date is that of its pattern."""

HOW = (
    "Print at 100 %, so that the rule is 5 cm and the black squares of a strip reach "
    f"{REACH / 10:g} cm from end to end, and cut the strips apart along the thin lines. Lay the "
    "pattern flat on a table of another colour and the strips flat round it, 2 cm or more away, "
    "two at each corner like an L and more along what is long, and photograph all of it in even "
    "light from straight above."
)


@dataclass(frozen=True)
class PrintedFrame:
    """The frame as a PDF: its paper, which lies on its side, and how many pages it has."""

    paper: Paper
    pages: int
    content: bytes


def framed(paper: str) -> PrintedFrame:
    """Return the frame on a paper; the same paper gives the same bytes.

    Raises Misused for any paper but A4 and Letter, and LibraryMissing.
    """
    sheet = paper_named(paper, Unit.MILLIMETRE)
    if sheet.name not in _PAPERS:
        raise Misused("The frame is cut from sheets: print it on --paper a4 or letter.")
    turned = sheet.turned
    pdf = Pages("frame for photographs", _VERSION, _DATE)
    count = -(-STRIPS // PER_PAGE)
    for number in range(1, count + 1):
        strips = range((number - 1) * PER_PAGE + 1, min(number * PER_PAGE, STRIPS) + 1)
        pdf.start(turned.width, turned.height or 0.0)
        drawn = _page(strips).moved(Motion(shift=complex(MARGIN, MARGIN)))
        drawn += _footer(turned, f"page {number} of {count}", strips)
        for area in drawn.filled:
            pdf.area(area)
        for stroke in drawn.strokes:
            pdf.line(stroke.points, stroke.pen)
        for words in drawn.words:
            pdf.words(words)
        pdf.end()
    return PrintedFrame(turned, count, pdf.content())


def _page(strips: range) -> Drawing:
    """Return a page from the corner of its margin: what to do, and the strips below it."""
    title = InkWords("Frame for photographs", complex(0.0, _TITLE), _TITLE, bold=True)
    drawn = Drawing((), (title,)) + _rule(complex(LENGTH - RULE, _TITLE))
    how = together(paragraph(HOW, LENGTH))
    drawn += how.drawing.moved(Motion(shift=1j * LINE * _TITLE))
    top = LINE * _TITLE + how.height + LETTERS / 2
    for n, strip in enumerate(strips):
        drawn += _strip(strip).moved(Motion(shift=1j * (top + n * HEIGHT)))
    return drawn


def _rule(left: complex) -> Drawing:
    """Return a line of the length it says, with a bar at each end and at each centimetre."""
    strokes = [Stroke((left, left + RULE), InkPen.TEST)]
    for cm in range(6):
        bar = left + 10.0 * cm
        high = 1j * _BARB * (2 if cm in (0, 5) else 1)
        strokes.append(Stroke((bar - high, bar), InkPen.TEST))
    return Drawing(tuple(strokes), (InkWords("5 cm", left - 11.0, LETTERS),))


def _strip(strip: int) -> Drawing:
    margin = (LENGTH - REACH) / 2
    words = tuple(
        centred(str(strip), complex(x, HEIGHT / 2), _NUMBER, bold=True)
        for x in (margin / 2, LENGTH - margin / 2)
    )
    edge = rectangle(0.0, 0.0, LENGTH, HEIGHT, InkPen.FRAME)
    areas = tuple(
        area.moved(Motion(shift=marker.at))
        for marker in markers_of(strip)
        for area in _marker(marker.number)
    )
    return Drawing((edge,), words, areas)


def _marker(number: int) -> Iterator[Filled]:
    """Yield the black of a marker, cells that touch as one: no printer leaves a seam in it."""
    rows = cells(number)
    cell = SIDE / len(rows)
    black = [
        box(x * cell, y * cell, (x + 1) * cell, (y + 1) * cell)
        for y, row in enumerate(rows)
        for x, is_black in enumerate(row)
        if is_black
    ]
    for area in shapely.get_parts(shapely.union_all(black)):
        if isinstance(area, Polygon):
            rings = (area.exterior, *area.interiors)
            yield Filled(tuple(tuple(complex(x, y) for x, y in ring.coords[:-1]) for ring in rings))


def _footer(paper: Paper, number: str, strips: range) -> Drawing:
    top = (paper.height or 0.0) - MARGIN - FOOTER
    said = f"frame for photographs  |  {number}  |  strips {strips[0]} to {strips[-1]}"
    return Drawing((), (InkWords(said, complex(MARGIN, top + 3.8), 3.0),))
